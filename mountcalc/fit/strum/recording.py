"""A WAV file as samples: RIFF chunks of PCM or floats (Multimedia Programming Interface, 1991)."""

from __future__ import annotations

import os
import struct
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from mountcalc.errors import InputError

Array = NDArray[np.float64]

_LARGEST = 100_000_000  # [bytes]
_SHORTEST, _LONGEST = 0.5, 120.0  # [s]
_SLOWEST, _FASTEST = 1_000, 1_000_000  # [samples/s]
_MOST_CHANNELS = 64
_SILENT, _LOUDEST = 1e-4, 1e9  # of full scale: three steps of 16 bits; of floats
_PCM, _FLOAT, _EXTENSIBLE = 1, 3, 0xFFFE
_FORMATS = {(_PCM, 8), (_PCM, 16), (_PCM, 24), (_PCM, 32), (_FLOAT, 32), (_FLOAT, 64)}


class _Unusable(Exception):  # noqa: N818  # told with the file's name
    """What is no recording."""


class Recording(NamedTuple):
    """Samples within -1 and 1 of the loudest channel, and how many a second."""

    samples: Array
    rate: float


def read_recording(path: str | os.PathLike[str]) -> Recording:
    """Read a recording; an InputError says in a line why one cannot be used."""
    try:
        sound, rate = _sound(_content(Path(path)))
    except (_Unusable, OSError, ValueError) as error:  # the last of names that no file can have
        reason = f"cannot be read: {error.strerror}" if isinstance(error, OSError) else error
        raise InputError(f"{os.fspath(path)}: {reason}") from error
    seconds = len(sound) / rate
    loudest = sound[:, int(np.argmax(np.std(sound, axis=0)))] if len(sound) else np.zeros(1)
    why_not = ""
    if not _SHORTEST <= seconds <= _LONGEST:
        why_not = f"{seconds:.3g} s of sound; {_SHORTEST:g} to {_LONGEST:g} s are wanted"
    elif not np.all(np.abs(sound) < _LOUDEST):  # nor is what is no number
        why_not = "spoilt: samples that are no sound"
    elif np.ptp(loudest) < _SILENT:
        why_not = "silent: nothing was recorded"
    if why_not:
        raise InputError(f"{os.fspath(path)}: {why_not}")
    return Recording(loudest, rate)


def _content(path: Path) -> bytes:
    if path.exists() and not path.is_file():
        raise _Unusable("a recording is wanted (WAV), this is no ordinary file")
    with path.open("rb") as stream:
        content = stream.read(_LARGEST + 1)
    if len(content) > _LARGEST:
        raise _Unusable(f"larger than a recording can be (at most {_LARGEST // 1_000_000} MB)")
    if not content:
        raise _Unusable("empty: a recording is wanted (WAV)")
    if content[:4] != b"RIFF" or content[8:12] != b"WAVE":
        raise _Unusable("no WAV file; sound programs save other recordings as WAV")
    return content


def _sound(content: bytes) -> tuple[Array, float]:
    """All samples, shape (samples, channels), and how many a second."""
    chunks = dict(reversed([*_chunks(content)]))  # the first of one name counts
    head, (body, promised) = chunks.get(b"fmt ", (b"", 0))[0], chunks.get(b"data", (b"", 0))
    if len(head) < 16 or b"data" not in chunks:  # noqa: PLR2004
        raise _Unusable("cut short or spoilt: a WAV file without its head or without sound")
    tag, channels, rate, _, frame, bits = struct.unpack_from("<HHIIHH", head)
    if tag == _EXTENSIBLE and len(head) >= 26:  # noqa: PLR2004
        tag = struct.unpack_from("<H", head, 24)[0]
    if (tag, bits) not in _FORMATS:
        raise _Unusable(
            f"sound of kind {tag} with {bits} bits; uncompressed PCM (8 to 32 bits) or floats are "
            "wanted"
        )
    if not 1 <= channels <= _MOST_CHANNELS or frame != channels * bits // 8:
        raise _Unusable(f"spoilt: {channels} channels of {bits} bits in {frame} bytes")
    if not _SLOWEST <= rate <= _FASTEST:
        raise _Unusable(f"{rate} samples a second; {_SLOWEST} to {_FASTEST} are wanted")
    if len(body) < promised:
        raise _Unusable(f"cut short: {len(body)} bytes of sound, its head says {promised}")
    sound = _decoded(body[: len(body) // frame * frame], tag == _FLOAT, bits)
    return sound.reshape(-1, channels), float(rate)


def _chunks(content: bytes) -> Iterator[tuple[bytes, tuple[bytes, int]]]:
    """Name of each chunk, what there is of it, how long it should be; an odd one is padded."""
    at = 12
    while at + 8 <= len(content):
        name, size = struct.unpack_from("<4sI", content, at)
        yield name, (content[at + 8 : at + 8 + size], size)
        at += 8 + size + size % 2


def _decoded(body: bytes, is_float: bool, bits: int) -> Array:  # noqa: FBT001
    if is_float:
        return np.frombuffer(body, f"<f{bits // 8}").astype(float)
    if bits == 8:  # noqa: PLR2004  # the one that has no sign
        return np.asarray(np.frombuffer(body, np.uint8) / 128.0 - 1.0)
    if bits == 24:  # noqa: PLR2004
        wide = np.zeros((len(body) // 3, 4), np.uint8)
        wide[:, 1:] = np.frombuffer(body, np.uint8).reshape(-1, 3)
        return np.asarray(wide.reshape(-1).view("<i4") / 2.0**31)
    return np.asarray(np.frombuffer(body, f"<i{bits // 8}") / 2.0 ** (bits - 1))
