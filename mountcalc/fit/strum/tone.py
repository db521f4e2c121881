"""The tone of a plucked strand in a recording, or why there is none to be sure of.

A strand's harmonics stand at f_n = n f1 sqrt(1 + B n^2): a string that is a little stiff, pinned at
its ends (Fletcher, J. Acoust. Soc. Am. 36, 1964; from memory). With B = s / f1^2 that is f_n^2 =
n^2 f1^2 + s n^4, linear in f1^2 and in s, which hangs on the belt and the span alone. A telephone
holds only high harmonics of a low tone: their numbers have to be found with it.

The recording is made white by what of it is steady: hum, whines, the room. Each pluck is looked at
through windows of several lengths. A look tells a tone if one comb alone explains its peaks; looks
that do not agree tell nothing. A tone that is told is meant to be right to 1 %.

A ``level`` is that of a peak over the noise [dB], an ``error`` a standard error [Hz].
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from scipy import fft, ndimage, signal

from mountcalc.fit.strum.comb import (
    FEWEST,
    HEARD,
    Array,
    Bounds,
    Comb,
    Peaks,
    Spectrum,
    combs,
)
from mountcalc.record import Record

_RATE = 4000.0  # [1/s] that is looked at
_LOWEST, _HIGHEST = 25.0, 1900.0  # [Hz] that is looked at
_FRAME = 2048  # samples in which it is asked what is steady
_HOP = 40  # samples from one look for a start to the next
_DYING = 24  # hops, a quarter of a second
_AROUND = 8  # hops before and after a start that are compared
_BEGINS = 1.5  # times louder than before
_APART = 0.35  # [s] from one start to the next
_MOST_PLUCKS = 5
_WINDOWS = (0.25, 0.5, 1.0)  # [s]
_BINS = 16384
_OTHER = 0.4  # of all peaks, by weight, that no comb explains
_SURE = 5.0  # logarithm of how many times likelier than any other comb
_MOST_ERROR = 0.004  # of the tone
_MOST_TOLD = 0.0075  # of the tone, nine tenths: then few are off by 1 %
_LIKELY = 0.6  # of what makes one look sure is enough where two plucks agree
_SAME = 0.01  # of a tone
_VOICE = 70.0  # [Hz] below any
_DISSENT = 0.25  # of the score of looks that agree
_NINE_TENTHS = 1.645  # standard errors that hold nine tenths

FEW = "fewer than four harmonics stand out of the noise"
MANY = "many peaks belong to no single strand: something else sings along"
TWO = "other tones explain its peaks as well"
VAGUE = "the harmonics leave the tone open by more than 1 %"
NO_PLUCK = "nothing in it begins at once and dies away, as a plucked strand does"
APART = "its plucks tell different tones"
ALONE = "only one look at it tells a tone"
VOICE = "a voice has such tones, too: two plucks that agree are wanted above 70 Hz"
_FURTHEST = (FEW, MANY, VAGUE, TWO)  # that a look came


class Peak(Record):
    """A peak: where [Hz], how far over the noise [dB], its number if it is the strand's."""

    frequency: float
    level: float
    number: int | None

    @property
    def own_keys(self) -> dict[str, str]:
        """Keys outside the package: they end in the unit."""
        return {"frequency": "frequency_Hz", "level": "level_dB"}


class Heard(Record):
    """What was heard: ``tone`` and its ``error`` [Hz] (90 %), or None and ``why_not``.

    ``over_noise`` [dB] is by how much the plucks' first half second is over what is steady.
    """

    tone: float | None
    error: float | None
    over_noise: float | None
    plucks: int
    peaks: tuple[Peak, ...]
    spectrum: Spectrum
    why_not: str


class _Look(NamedTuple):
    """One pluck through one window; the best ``comb``, ``why_not`` it is sure, nor is likely."""

    pluck: int
    peaks: Peaks
    spectrum: Spectrum
    comb: Comb
    why_not: str
    unlikely: str


def hear(samples: Array, rate: float, bounds: Bounds) -> Heard:
    """The tone of the strand that was plucked in a recording."""
    white, lines = _whitened(_resampled(samples, rate))
    starts = _starts(white)
    looks = []
    for pluck, start in enumerate(starts):
        end = min((one for one in starts if one > start), default=white.size)
        for seconds in _WINDOWS:
            if end - start >= 0.7 * seconds * _RATE:
                piece = white[start : min(end, start + int(seconds * _RATE))]
                looks.append(_look(piece, lines, pluck, bounds))
    if not looks:
        empty = Spectrum(np.zeros(0), np.zeros(0), np.zeros(0, dtype=bool))
        return Heard(None, None, None, 0, (), empty, NO_PLUCK)
    likely = [one for one in looks if not one.unlikely]
    told = [one for one in looks if not one.why_not or _twice(one, likely)]
    if told:
        best = max(told, key=lambda one: one.comb.score).comb.tone
        same = [one for one in told if abs(one.comb.tone - best) < _SAME * best]
        shown = min(same, key=lambda one: one.comb.error)
        dissent = sum(one.comb.score for one in told) / sum(one.comb.score for one in same) - 1.0
    else:
        same, dissent = [], 0.0
        shown = max(looks, key=lambda one: (_FURTHEST.index(one.why_not), one.comb.score))
    tone, why_not = shown.comb.tone, "" if told else shown.why_not
    near = [one for one in looks if abs(one.comb.tone - tone) < _SAME * tone]
    agree = [one for one in near if one.why_not not in {FEW, MANY}]
    if dissent > _DISSENT:
        why_not = APART
    elif not why_not and len(agree) < 2:  # noqa: PLR2004
        why_not = ALONE
    tell = {look.pluck for look in same}
    deny = {look.pluck for look in looks if look.why_not == MANY}
    if not why_not and len(deny - tell) >= len(tell):
        why_not = MANY
    elif not why_not and tone > _VOICE and len({one.pluck for one in agree}) < 2:  # noqa: PLR2004
        why_not = VOICE
    first = white[starts[shown.pluck] :][: int(0.5 * _RATE)]
    error = max([_NINE_TENTHS * shown.comb.error, *(abs(one.comb.tone - tone) for one in same)])
    why_not = why_not or (VAGUE if error > _MOST_TOLD * tone else "")
    numbers = shown.comb.numbers * (not why_not)
    peaks = shown.peaks.frequency.tolist(), shown.peaks.level.tolist(), numbers.tolist()
    return Heard(
        tone=None if why_not else tone,
        error=None if why_not else error,
        over_noise=10.0 * math.log10(max(float(np.mean(first**2)) - 1.0, 1e-3)),
        plucks=len(starts) if why_not else len({one.pluck for one in agree}),
        peaks=tuple(Peak(at, level, n or None) for at, level, n in zip(*peaks, strict=True)),
        spectrum=shown.spectrum,
        why_not=why_not,
    )


def _twice(look: _Look, likely: list[_Look]) -> bool:
    """Whether a look is likely, and one at another pluck agrees."""
    tone = look.comb.tone
    near = [one.pluck for one in likely if abs(one.comb.tone - tone) < 0.5 * _SAME * tone]
    return not look.unlikely and len({look.pluck, *near}) > 1


def _resampled(samples: Array, rate: float) -> Array:
    """The recording at our rate, without what is too low or too high."""
    count = fft.next_fast_len(samples.size + int(rate), real=True)
    kept = round(count * _RATE / rate)
    spectrum = fft.rfft(samples - np.mean(samples), count)[: kept // 2 + 1]
    spectrum = np.pad(spectrum, (0, kept // 2 + 1 - spectrum.size))
    spectrum[: int(_LOWEST / _RATE * kept)] = 0.0
    sound: Array = fft.irfft(spectrum, kept)[: int(samples.size * _RATE / rate)]
    return np.asarray(sound * (kept / count))


def _whitened(sound: Array) -> tuple[Array, Array]:
    """The sound over what of it is steady, 1 a sample where only that is; steady tones [Hz]."""
    padded = np.pad(sound, (0, max(0, _FRAME - sound.size)))
    frames = np.lib.stride_tricks.sliding_window_view(padded, _FRAME)[:: _FRAME // 4]
    window = signal.windows.hann(_FRAME)
    power = np.abs(fft.rfft(frames * window, axis=1)) ** 2 / np.sum(window**2)
    # Of the powers of noise a quarter are below 0.288 times their mean.
    quiet, loud = np.percentile(power, (25, 80), axis=0) / 0.288
    quiet += 1e-9 * np.max(power)
    broad = ndimage.median_filter(quiet, 41, mode="nearest")
    is_line = (quiet > 5.0 * broad) & (loud < 5.0 * quiet)  # not what is left of a pluck
    floor = np.where(ndimage.binary_dilation(is_line), np.maximum(quiet, broad), broad)
    count = fft.next_fast_len(sound.size + _FRAME, real=True)
    at, bins = fft.rfftfreq(_FRAME, 1.0 / _RATE), fft.rfftfreq(count, 1.0 / _RATE)
    spectrum = fft.rfft(sound, count) / np.sqrt(np.interp(bins, at, floor))
    spectrum[(bins < _LOWEST) | (bins > _HIGHEST)] = 0.0
    return fft.irfft(spectrum, count)[: sound.size], at[is_line]


def _starts(white: Array) -> list[int]:
    """Samples at which something begins at once and does not swell, the loudest first."""
    power = np.add.reduceat(white**2, np.arange(0, white.size - _HOP + 1, _HOP)) / _HOP
    sums = np.cumsum(np.pad(power, (_AROUND + 1, _AROUND), constant_values=1.0))
    means = (sums[_AROUND:] - sums[:-_AROUND]) / _AROUND
    before, after = means[: power.size], means[_AROUND : _AROUND + power.size]
    ratio = after / np.maximum(before, 0.5)
    found: list[int] = []
    for at in np.argsort(before - after):
        if len(found) == _MOST_PLUCKS or ratio[at] < _BEGINS:
            break
        first = max(at - 3, 0)
        start = first + int(np.argmax(ratio[first : at + 4]))
        dies = _dies(power[start:])
        if dies and all(abs(start - one) * _HOP > _APART * _RATE for one in found):
            found.append(start)
    return [start * _HOP for start in found]


def _dies(power: Array) -> bool:
    """Whether what begins is loudest at once and dies away, as a voice is not and does not."""
    parts = np.pad(power[:_DYING], (0, max(0, _DYING - power.size))).reshape(-1, 4).mean(axis=1)
    first, then = np.mean(parts[:3]), np.mean(parts[3:])
    return bool(np.max(parts) < 1.25 * parts[0] and then < 0.85 * first)


def _look(piece: Array, lines: Array, pluck: int, bounds: Bounds) -> _Look:
    """The comb that one pluck shows through one window."""
    window = np.cos(0.5 * np.pi * np.arange(piece.size) / piece.size) ** 2
    window *= np.minimum(np.arange(1, piece.size + 1) / (0.006 * _RATE), 1.0)
    at = fft.rfftfreq(_BINS, 1.0 / _RATE)
    inside, step = (at > _LOWEST) & (at < _HIGHEST), at[1]
    at = at[inside]
    power = np.abs(fft.rfft(piece * window, _BINS)[inside]) ** 2 / np.sum(window**2)
    floor = max(1.0, float(np.percentile(power, 25)) / 0.288)
    level = 10.0 * np.log10(np.maximum(power / floor, 1e-3))
    steady = np.any(np.abs(at[:, None] - lines) < 4.0, axis=1)  # noqa: PLR2004  # Hz
    spectrum = Spectrum(at, level, steady)
    top, about = signal.find_peaks(level, height=HEARD, prominence=4.0)
    half = np.full(top.size, 3.0), about["left_bases"], about["right_bases"]
    width = signal.peak_widths(level, top, 1.0, half)[0] * step
    width, top = width[~steady[top]], top[~steady[top]]
    left, height, right = level[top - 1], level[top], level[top + 1]
    frequency = at[top] + 0.5 * step * (left - right) / (left - 2.0 * height + right)
    by_noise = 0.5 * width / np.sqrt(2.0 * 10.0 ** (height / 10.0))
    error = np.hypot(by_noise, 0.0008 * frequency)
    weight = np.clip((height - 6.0) / 12.0, 0.3, 2.0)
    peaks = Peaks(frequency, height, error, width, weight)
    found = combs(peaks, spectrum, bounds)
    return _Look(
        pluck, peaks, spectrum, found[0], _why_not(peaks, found), _why_not(peaks, found, _LIKELY)
    )  # fmt: skip


def _why_not(peaks: Peaks, found: list[Comb], share: float = 1.0) -> str:
    """Why the best of the combs tells no tone; nothing if it does."""
    score, tone, error, numbers = found[0]
    if np.count_nonzero(numbers) < FEWEST:
        return FEW
    if np.sum(peaks.weight[numbers == 0]) > _OTHER * np.sum(peaks.weight):
        return MANY
    rivals = (one.score for one in found if abs(one.tone - tone) > _SAME * tone)
    if score - max([0.0, *rivals]) < share * _SURE:
        return TWO
    return VAGUE if share * error > _MOST_ERROR * tone else ""
