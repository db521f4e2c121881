"""Recordings as files: every form that WAV has gives the same samples; what is none, one line."""

import struct
import sys

import numpy as np
import pytest
from plucks import wav_bytes
from scipy.io import wavfile
from sizes import size

from mountcalc.errors import InputError
from mountcalc.fit.strum.recording import read_recording

RATE = 8000
FORMS = {
    "uint8": 1 / 100,
    "int16": 1e-4,
    "int24": 1e-6,
    "int32": 1e-9,
    "float32": 1e-7,
    "float64": 0,
}


@pytest.fixture
def sound():
    t = np.arange(RATE) / RATE
    return 0.5 * np.sin(2 * np.pi * 100 * t) * np.exp(-3 * t)


@pytest.fixture
def file(tmp_path):
    def written(content, name="rec.wav"):
        path = tmp_path / name
        path.write_bytes(content)
        return path

    return written


@pytest.mark.parametrize("channels", [1, 2, 5])
@pytest.mark.parametrize("form", FORMS)
def test_all_forms_give_the_same_samples(file, sound, form, channels):
    path = file(wav_bytes(sound, RATE, form, channels))
    recording = read_recording(path)
    assert recording.rate == RATE
    np.testing.assert_allclose(recording.samples, sound, atol=FORMS[form] + 1e-12)


@pytest.mark.parametrize("kind", ["<u1", "<i2", "<i4", "<f4", "<f8"])
def test_files_of_another_library_are_read_as_it_reads_them(tmp_path, sound, kind):
    path, kind = tmp_path / "rec.wav", np.dtype(kind)
    full = 1.0 if kind.kind == "f" else float(np.iinfo(kind).max)
    shift = 128 if kind == np.uint8 else 0
    wavfile.write(path, RATE, (sound * (full - shift) + shift).astype(kind))
    _, theirs = wavfile.read(path)
    ours = read_recording(path).samples
    scale = 1.0 if kind.kind == "f" else 2.0 ** (8 * kind.itemsize - 1)
    np.testing.assert_allclose(ours, (theirs.astype(float) - shift) / scale, atol=1e-12)


def test_odd_orders_of_chunks_are_read(file, sound):
    whole = wav_bytes(sound, RATE)
    head, data = whole[12:36], whole[36:]
    more = b"LIST" + struct.pack("<I", 3) + b"abc\0"
    plain = read_recording(file(whole)).samples
    for parts in (data + head, more + head + more + data, head + data + more):
        content = b"RIFF" + struct.pack("<I", 4 + len(parts)) + b"WAVE" + parts
        np.testing.assert_array_equal(read_recording(file(content)).samples, plain)


def refused(path):
    with pytest.raises(InputError) as caught:
        read_recording(path)
    text = str(caught.value)
    assert "\n" not in text
    assert text.startswith(str(path))
    return text


def test_what_is_no_recording_is_told_in_a_line(file, sound, tmp_path):
    whole = wav_bytes(sound, RATE)
    assert "empty" in refused(file(b""))
    assert "no WAV file" in refused(file(b"date,turns,method\n"))
    assert "cut short" in refused(file(whole[:-100]))
    assert "cut short or spoilt" in refused(file(whole[:30]))
    assert "0 s of sound" in refused(file(wav_bytes(sound[:0], RATE)))
    assert "0.05 s of sound" in refused(file(wav_bytes(sound[:400], RATE)))
    assert "silent" in refused(file(wav_bytes(0 * sound, RATE)))
    assert "121 s of sound" in refused(file(wav_bytes(np.tile(sound, 121), RATE, "uint8")))
    assert "kind 7 with 8 bits" in refused(
        file(whole[:20] + b"\x07\0" + whole[22:34] + b"\x08\0" + whole[36:])
    )
    assert "no sound" in refused(file(wav_bytes(sound * np.nan, RATE, "float32")))
    assert "no ordinary file" in refused(tmp_path)
    assert "cannot be read" in refused(tmp_path / "none.wav")


def test_too_large_a_file_is_refused(file, monkeypatch, sound):
    monkeypatch.setattr(sys.modules[read_recording.__module__], "_LARGEST", 1000)
    assert "larger" in refused(file(wav_bytes(sound, RATE)))


def test_spoilt_files_are_read_or_refused_in_a_line(file, sound):
    rng = np.random.default_rng(5)
    whole = wav_bytes(sound, RATE, "int24", 2)
    answered = 0
    for _ in range(size(2000, 200)):
        content = bytearray(whole[: rng.integers(0, len(whole))] if rng.random() < 0.3 else whole)
        for _ in range(rng.integers(1, 5)):
            if content:
                content[rng.integers(0, min(len(content), 60))] = rng.integers(0, 256)
        path = file(bytes(content))
        try:
            recording = read_recording(path)
        except InputError as error:
            assert "\n" not in str(error)
        else:
            answered += 1
            assert np.all(np.isfinite(recording.samples))
    assert 0 < answered < size(2000, 200)
