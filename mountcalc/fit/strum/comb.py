"""Combs: harmonics of one stiff string, laid through the peaks of a spectrum.

``square`` is f1^2 and ``s`` what harmonics are stretched by [Hz^2]: f_n^2 = n^2 f1^2 + s n^4. A
``level`` is that of a peak over the noise [dB], an ``error`` a standard error [Hz].
"""

from __future__ import annotations

import math
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from mountcalc.record import Record

Array = NDArray[np.float64]
Whole = NDArray[np.int64]

FEWEST, _MOST_NUMBER = 4, 40  # harmonics
HEARD = 10.0  # [dB] over the noise: one look in ten has a peak of noise there
_TELLS = 6.0  # [dB] above that: there a harmonic that is missing tells
_MOST_STRETCH = 0.03  # s over f1^2: more is no string
_LOUDEST = 9  # peaks that combs are laid through
_COMBS = 30  # that are fitted
_OFF = 3.5  # errors
_SHARED, _OTHERS = 0.75, 3  # of harmonics whose numbers are even, or thirds; enough that are not
_ENDS = 0.35  # times B^1.5 (n^2 - 5): error of ends that do not turn (fitted to such strands)


class Bounds(NamedTuple):
    """What the mount knows beforehand: lowest and highest tone [Hz], most stretch s [Hz^2]."""

    low: float
    high: float
    stretch: float


class Spectrum(Record):
    """What a picture shows: [Hz], [dB] over the noise, and whether a steady tone drowns it."""

    frequency: Array
    level: Array
    steady: NDArray[np.bool_]


class Peaks(NamedTuple):
    """Peaks of a spectrum, each width [Hz], and what each counts for."""

    frequency: Array
    level: Array
    error: Array
    width: Array
    weight: Array


class Comb(NamedTuple):
    """A tone [Hz] that explains peaks: log of how much likelier than none, and their numbers."""

    score: float
    tone: float
    error: float
    numbers: Whole  # of each peak, 0 for one that is not the strand's


def combs(peaks: Peaks, spectrum: Spectrum, bounds: Bounds) -> list[Comb]:
    """The combs that explain the peaks, the likeliest first; if none does, one that is empty.

    They are laid through each two of the loudest peaks, whatever the numbers of these.
    """
    frequency = peaks.frequency
    none = Comb(0.0, bounds.low, math.inf, np.zeros(frequency.size, dtype=np.int64))
    if frequency.size < FEWEST:
        return [none]
    loud = np.sort(np.argsort(-peaks.level)[:_LOUDEST])
    one, two = (loud[index] for index in np.triu_indices(loud.size, 1))
    p, q = (index + 1.0 for index in np.triu_indices(_MOST_NUMBER, 1))
    first = (frequency[one, None] / p) ** 2
    s = ((frequency[two, None] / q) ** 2 - first) / (q**2 - p**2)
    square = first - s * p**2
    fits = (square > bounds.low**2) & (square < bounds.high**2) & (s > -2e-4 * square)
    fits &= s < np.minimum(bounds.stretch, _MOST_STRETCH * square)
    square, s = square[fits, None], np.maximum(s[fits, None], 0.0)
    spread = _spread(peaks, np.sqrt(square))
    n = _numbers(frequency, square, s)
    off = (frequency - _harmonic(n, square, s)) / np.hypot(spread, 0.0015 * frequency)
    gain = np.log(np.sqrt(square) / (2.5 * spread)) - 0.5 * off**2
    total = np.sum(peaks.weight * np.maximum(gain, -2.0), axis=1)
    order = np.argsort(-total)
    # Of combs with nearly one tone the best.
    _, unlike = np.unique(np.round(np.log(square[order, 0]) / 0.006), return_index=True)
    fitted = []
    for top in order[np.sort(unlike)[:_COMBS]]:
        for part in (1, 2, 3):  # a comb of even numbers is that of its double
            if part == 1 or np.mean(n[top] % part == 0) > _SHARED:
                numbers = np.rint(n[top] / part).astype(np.int64)
                fitted.append(_fitted(numbers, peaks, spread[top], spectrum, bounds))
    found = [one for one in fitted if one is not None]
    return sorted(found, key=lambda one: -one.score) or [none]


def _harmonic(n: Array | Whole, square: Array | float, s: Array | float) -> Array:
    return np.asarray(np.sqrt(square * n**2 + s * n**4.0))


def _numbers(frequency: Array, square: Array | float, s: Array | float) -> Array:
    """The numbers of the harmonics nearest to frequencies."""
    root = np.sqrt(square**2 + 4.0 * s * frequency**2)
    return np.maximum(np.rint(np.sqrt(2.0 * frequency**2 / (root + square))), 1.0)


def _spread(peaks: Peaks, spacing: Array) -> Array:
    """Errors of peaks, with what neighbours so far off pull them by (fitted to made plucks)."""
    pulled = peaks.width * np.minimum(0.03 + 0.3 * peaks.width / spacing, 0.15)
    return np.asarray(np.hypot(peaks.error, pulled))


def _fitted(
    numbers: Whole, peaks: Peaks, error: Array, spectrum: Spectrum, bounds: Bounds
) -> Comb | None:
    """A comb fitted to the peaks that it explains, by least squares."""
    frequency = peaks.frequency
    kept = np.ones(frequency.size, dtype=bool)
    off, square, s, variance, named = frequency, 0.0, 0.0, 0.0, numbers
    for _ in range(4):
        if np.unique(numbers[kept]).size < 3:  # noqa: PLR2004  # two would fit anything
            return None
        n = numbers[kept].astype(float)
        per = 2.0 * frequency[kept] * error[kept]
        design = np.stack([n**2, n**4], axis=1) / per[:, None]
        wanted = frequency[kept] ** 2 / per
        inverse = np.linalg.inv(design.T @ design)
        variance = float(inverse[0, 0])
        square, s = (inverse @ design.T @ wanted).tolist()
        most = min(bounds.stretch, _MOST_STRETCH * abs(square))
        if not 0.0 <= s <= most:
            s = min(max(s, 0.0), most)
            rest = design[:, 0] @ (wanted - design[:, 1] * s)
            square = float(rest / (design[:, 0] @ design[:, 0]))
        if not bounds.low**2 < square < bounds.high**2:
            return None
        numbers = _numbers(frequency, square, s).astype(np.int64)
        off = (frequency - _harmonic(numbers, square, s)) / error
        kept = np.abs(off) < _OFF
        order = np.argsort(-peaks.level)  # of two with one number the louder
        _, firsts = np.unique(np.where(kept, numbers, -1)[order], return_index=True)
        kept &= np.isin(np.arange(kept.size), order[firsts])
        last, named = named, np.where(kept, numbers, 0)
        if np.array_equal(last, named):
            break
    seen = numbers[kept]
    # Wherever it is plucked, a strand has other harmonics than even ones, or each third.
    others = min(np.count_nonzero(seen % 2), np.count_nonzero(seen % 3))
    if others < min(_OTHERS, (1.0 - _SHARED) * seen.size):
        return None
    n = numbers.astype(float)
    spacing = _harmonic(n + 0.5, square, s) - _harmonic(n - 0.5, square, s)
    gain = np.log(np.maximum(spacing / (2.5 * error), 1.0)) - 0.5 * off**2
    score = float(np.sum((peaks.weight * gain)[kept]) - 2.0 * np.sum(peaks.weight[~kept]))
    score -= _missed(seen, peaks.level[kept], (square, s), spectrum)
    misfit = float(np.sum(off[kept] ** 2)) / max(int(np.count_nonzero(kept)) - 2, 1)
    tone = math.sqrt(square)
    sigma = math.sqrt(variance * max(misfit, 1.0)) / (2.0 * tone)
    ends = _ENDS * (s / square) ** 1.5 * max(float(np.min(seen)) ** 2 - 5.0, 0.0) * tone
    return Comb(score, tone, math.hypot(sigma, ends), named)


def _missed(seen: Whole, level: Array, comb: tuple[float, float], spectrum: Spectrum) -> float:
    """What a comb loses for harmonics that should be heard and are not.

    Those between others, and those below that a telephone would hold: a pluck at a node leaves one
    out now and then.
    """
    order = np.argsort(seen)
    missing = np.setdiff1d(np.arange(1, seen[order[-1]]), seen)
    at = _harmonic(missing, *comb)
    counts = (missing > seen[order[0]]) | (at > 200.0)  # noqa: PLR2004  # Hz
    counts &= np.interp(at, spectrum.frequency, spectrum.steady.astype(float)) == 0.0
    tells = np.interp(missing, seen[order], level[order]) > HEARD + _TELLS
    # At a node of one there is one of its double, too.
    cost = np.where(tells, np.where(np.isin(2 * missing, seen), 5.0, 2.0), 0.7)
    return float(np.sum(cost[counts]))
