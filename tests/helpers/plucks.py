"""Made recordings: plucked strands in hum, noise and clicks; and what is no pluck."""

import io
import struct
from dataclasses import dataclass

import numpy as np
from scipy import signal


@dataclass
class Made:
    """A made recording, its truth [Hz] and signal over noise [dB], 30 Hz to 2 kHz."""

    samples: np.ndarray
    rate: int
    tone: float
    stretch: float
    ratio: float
    second: float
    told: str


def strand(rate, seconds, tone, stretch, place, quality, slow, phases):
    """Sound of one plucked strand: of each partial its bend, sin(n pi p)/n^2, times n^1.2 heard."""
    t = np.arange(int(rate * seconds)) / rate
    sound = np.zeros(t.size)
    for n in range(1, 60):
        at = np.sqrt((n * tone) ** 2 + stretch * n**4)
        if at > min(0.45 * rate, 4000):
            break
        decay = np.pi * at / quality + slow
        size = np.sin(np.pi * n * place) / n**0.8
        u = t[: int(18 / decay * rate)]  # then it is 1e-8 of what it was
        sound[: u.size] += size * np.exp(-decay * u) * np.sin(2 * np.pi * at * u + phases[n])
    return sound * np.minimum(t / 0.002, 1.0)


def coloured(rng, count, rate, slope, drift):
    """A motor's room: broadband noise that falls with frequency and swells slowly."""
    spectrum = np.fft.rfft(rng.standard_normal(count))
    f = np.fft.rfftfreq(count, 1 / rate)
    noise = np.fft.irfft(spectrum * np.maximum(f, 20.0) ** -slope, count)
    t = np.arange(count) / rate
    return noise * 10 ** (
        drift / 20 * np.sin(2 * np.pi * t * rng.uniform(0.05, 0.3) + rng.uniform(0, 6))
    )


def hum(rng, count, rate, mains):
    """Mains and its multiples, a hair off its frequency."""
    t, off = np.arange(count) / rate, rng.uniform(0.999, 1.001)
    return sum(
        rng.uniform(0.2, 1)
        / k ** rng.uniform(0.5, 1.5)
        * np.sin(2 * np.pi * k * mains * off * t + rng.uniform(0, 6))
        for k in range(1, 13)
        if k * mains < 0.45 * rate
    )


def phone(sound, rate, corner, order=2):
    """What a telephone's microphone holds: less below its corner."""
    return signal.sosfilt(signal.butter(order, corner, "high", fs=rate, output="sos"), sound)


def in_band(sound, rate):
    top = min(2000, 0.45 * rate)
    return signal.sosfilt(signal.butter(3, (30, top), "band", fs=rate, output="sos"), sound)


def pluck(seed, ratio, low=8.0, high=60.0, most_stretch=6.0):
    """A recording of a plucked strand, over the noise by a ratio [dB] in its first half second."""
    rng = np.random.default_rng(seed)
    rate = int(rng.choice([8000, 11025, 16000, 22050, 32000, 44100, 48000, 96000]))
    tone = float(np.exp(rng.uniform(np.log(low), np.log(high))))
    stretch = float(min(most_stretch * rng.uniform(0, 1) ** 2, 0.02 * tone**2))
    quality, slow = float(np.exp(rng.uniform(np.log(30), np.log(150)))), rng.uniform(0, 2)
    place, phases = rng.uniform(0.06, 0.5), rng.uniform(0, 0.8, 60)
    plucks = int(rng.integers(1, 4))
    gap = rng.uniform(1.2, 2.0)
    start = rng.uniform(0.3, 1.2)
    count = int(rate * (start + plucks * gap + rng.uniform(0.3, 1.5)))
    clean, other = np.zeros(count), np.zeros(count)
    second = 0.0 if rng.uniform() < 0.5 else float(rng.uniform(0.05, 0.32))  # -10 dB at most
    apart = 1.0 if rng.uniform() < 0.4 else float(1 + rng.choice([-1, 1]) * rng.uniform(0.03, 0.25))
    for index in range(plucks):
        begin = int(rate * (start + index * gap))
        one = strand(rate, gap + 1, tone, stretch, place, quality, slow, phases)[: count - begin]
        clean[begin : begin + one.size] += rng.uniform(0.7, 1) * one
        with_it = strand(rate, gap + 1, tone * apart, stretch, place, quality, slow, phases[::-1])
        other[begin : begin + with_it.size] += second * with_it[: count - begin]
    corner = rng.uniform(80, 150) if rng.uniform() < 0.7 else 30.0
    clean, other = phone(clean, rate, corner), phone(other, rate, corner)
    mains = int(rng.choice([50, 60]))
    noise = coloured(rng, count, rate, rng.uniform(0, 0.8), rng.uniform(0, 4))
    noise = phone(noise, rate, corner)
    humming = phone(hum(rng, count, rate, mains), rate, corner)
    begin = int(rate * start)
    first = slice(begin, begin + rate // 2)
    power = np.mean(in_band(clean, rate)[first] ** 2)
    noise *= np.sqrt(power / 10 ** (ratio / 10) / np.mean(in_band(noise, rate) ** 2))
    loud = rng.uniform(-15, 3)  # of the hum over the pluck, dB
    humming *= np.sqrt(power * 10 ** (loud / 10) / np.mean(in_band(humming, rate) ** 2))
    sound = clean + other + noise + humming
    if rng.uniform() < 0.3:
        for at in rng.integers(0, count, rng.integers(1, 4)):
            sound[at : at + 3] += rng.uniform(0.5, 2) * np.max(np.abs(clean))
    sound /= np.max(np.abs(sound))
    sound *= rng.uniform(0.1, 0.9) if rng.uniform() < 0.8 else 1.4  # the last is clipped
    sound = np.clip(sound + rng.uniform(-0.05, 0.05), -1, 1)
    told = (
        f"from {corner:.0f} Hz, Q {quality:.0f}, at {place:.2f}, {plucks} plucks, second "
        f"{second:.2f} at {apart:.2f}, mains {mains} Hz {loud:.0f} dB, {rate} samples/s"
    )
    return Made(sound, rate, tone, stretch, ratio, second, told)


KINDS = ("hum", "noise", "speech", "chords", "clicks", "whine", "knocks")


def no_pluck(seed):
    """What is no plucked strand, its sampling rate, and what it is."""
    rng = np.random.default_rng(seed)
    rate = int(rng.choice([8000, 16000, 22050, 44100, 48000]))
    t = np.arange(int(rate * rng.uniform(1.5, 6))) / rate
    kind = KINDS[seed % len(KINDS)]
    room = coloured(rng, t.size, rate, rng.uniform(0, 1), 3)
    sound = 0.02 * room / np.std(room) + globals()[f"_{kind}"](rng, t, rate)
    return kind, 0.7 * sound / np.max(np.abs(sound)), rate


def _hum(rng, t, rate):
    sound = hum(rng, t.size, rate, int(rng.choice([50, 60])))
    sound[: int(0.3 * rate)] *= rng.uniform(0, 1)  # switched on
    return sound


def _noise(rng, t, rate):
    return coloured(rng, t.size, rate, rng.uniform(0, 1), 12)


def _speech(rng, t, rate):
    """Syllables: pulses of a voice through two formants, most of them gliding."""
    sound, at = np.zeros(t.size), 0.2
    while at < t[-1] - 0.5:
        long, steady = rng.uniform(0.12, 0.35), rng.uniform() < 0.2
        u = np.arange(int(long * rate)) / rate
        glide = 0.0 if steady else rng.uniform(-0.2, 0.2)
        pitch = rng.uniform(90, 220) * (1 + glide * u / long)
        phase = 2 * np.pi * np.cumsum(pitch) / rate
        formants = rng.uniform((300, 900), (800, 2200))
        voice = sum(
            np.sin(k * phase) * sum(1 / (1 + ((k * pitch - f) / 120) ** 2) for f in formants)
            for k in range(1, 20)
            if k * 260 < 0.5 * rate
        )
        begin = int(at * rate)
        sound[begin : begin + u.size] += voice * np.minimum(
            1, np.minimum(u / 0.03, (long - u) / 0.06)
        )
        at += long + rng.uniform(0.0, 0.2)
    return sound


def _chords(rng, t, rate):
    """Four struck strings at a time, equally tempered, that ring on into the next chord."""
    sound, root = np.zeros(t.size), rng.uniform(80, 260)
    for begin in np.arange(0.2, t[-1] - 0.4, rng.uniform(0.5, 1.2)):
        u = np.maximum(t - begin, 0)
        for step in (0, rng.choice([3, 4]), 7, rng.choice([10, 11, 12])):
            note = root * 2 ** (step / 12)
            for k in range(1, 9):
                if k * note < 0.45 * rate:
                    sound += np.exp(-u * (1.5 + k)) / k * np.sin(2 * np.pi * k * note * u)
        root *= 2 ** (rng.integers(-5, 6) / 12)
    return sound


def _clicks(rng, t, _):
    sound = np.zeros(t.size)
    for at in rng.integers(0, t.size - 20, 12):
        sound[at : at + 8] += rng.standard_normal(8)
    return sound


def _whine(rng, t, _):
    return np.sin(2 * np.pi * (rng.uniform(100, 900) * t + 20 * np.sin(0.7 * t)))


def _knocks(rng, t, _):
    """Knocks on wood: modes that belong to no comb."""
    sound = np.zeros(t.size)
    for begin in np.arange(0.3, t[-1] - 0.3, 0.7):
        u = np.maximum(t - begin, 0)
        for mode in rng.uniform(90, 1200, 6):
            sound += np.exp(-u * mode / 8) * np.sin(2 * np.pi * mode * u)
    return sound


def wav_bytes(samples, rate, form="int16", channels=1):
    """A WAV file of samples within -1 to 1; the further channels are quieter copies."""
    data = np.stack([samples / (1 + index) for index in range(channels)], axis=1)
    bits = {"uint8": 8, "int16": 16, "int24": 24, "int32": 32, "float32": 32, "float64": 64}[form]
    if form.startswith("float"):
        body, tag = data.astype("<f4" if bits == 32 else "<f8").tobytes(), 3
    elif form == "uint8":
        body, tag = np.clip(np.round(data * 127 + 128), 0, 255).astype(np.uint8).tobytes(), 1
    else:
        whole = np.round(data * (2 ** (bits - 1) - 1)).astype("<i4")
        body = whole.astype("<i2").tobytes() if bits == 16 else whole.tobytes()
        if bits == 24:
            body = np.frombuffer(body, np.uint8).reshape(-1, 4)[:, :3].tobytes()
        tag = 1
    frame = channels * bits // 8
    head = struct.pack("<HHIIHH", tag, channels, rate, rate * frame, frame, bits)
    out = io.BytesIO()
    out.write(b"RIFF" + struct.pack("<I", 36 + len(body)) + b"WAVE")
    out.write(
        b"fmt " + struct.pack("<I", 16) + head + b"data" + struct.pack("<I", len(body)) + body
    )
    return out.getvalue()
