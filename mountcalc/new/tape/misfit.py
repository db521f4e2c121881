"""Which of a tape's readings cannot be right beside the others.

Readings fit where there are places that each of them misses by no more than a tape may. Which one
is wrong is told by leaving each out in turn: the rest then fits. Where that is so of several, the
tape cannot tell which of them it is.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence
from itertools import combinations
from typing import TypeAlias

import numpy as np

from mountcalc.new.results import Contradiction
from mountcalc.new.tape.positions import Found, TapeReading, Tells, positions
from mountcalc.scenario.text.wording import listed
from mountcalc.scenario.text.writing import Vector

Show: TypeAlias = Callable[[float], str]
"""Writes a length [m]."""
Meant: TypeAlias = Callable[[Found], bool]
"""Whether places are where the words of who measured put them."""

# What the slopes' change over a tape's error may hide of it.
_CURVED = 1.02
# Further off, in errors of the tape, the slopes are others.
_FARTHEST = 10.0
_TWO = 2
_MOST_TOLD = 3
_STARTS = 4  # for two at once: the many pairs would take long


def fits(found: Found, error: float) -> bool:
    """Whether there are places near these that no reading misses by more than an error [m]."""
    most = error * _CURVED
    greatest = float(np.abs(found.misses).max(initial=0.0))
    if greatest <= most:
        return True
    if found.off > most * math.sqrt(len(found.misses)):  # nothing has less squares
        return False
    # The greatest miss is made the least that moving the points can do: a linear programme, its
    # lengths in units of that miss, since its tolerances are made for numbers about 1.
    from scipy.optimize import linprog  # noqa: PLC0415  # seldom needed, slow to load

    slopes, misses, far = found.slopes, found.misses / greatest, _FARTHEST * error / greatest
    least = linprog(
        [*[0.0] * slopes.shape[1], 1.0],
        A_ub=np.column_stack([np.vstack([slopes, -slopes]), -np.ones(2 * len(misses))]),
        b_ub=np.concatenate([misses, -misses]),
        bounds=[(-far, far)] * slopes.shape[1] + [(0.0, None)],
    )
    return bool(least.fun * greatest <= most)


def contradiction(
    readings: Sequence[TapeReading],
    names: Sequence[str],
    side: int,
    error: float,
    is_meant: Meant,
    show: Show,
) -> Contradiction:
    """Tell which of readings that do not fit may be wrong, the likeliest first.

    ``error`` [m] is what a tape may miss.
    """
    near: list[Mapping[str, Vector]] = []
    for count in (1, _TWO):
        found = []
        for out in combinations(range(len(readings)), count):
            rest = [one for n, one in enumerate(readings) if n not in out]
            every = positions(rest, names, side, near)
            fit = next((at for at in every if is_meant(at)), None)
            if fit is not None and fits(fit, error):
                off = [readings[n].value - fit.would_read(readings[n], side) for n in out]
                found.append((fit.off, out, off))
        if found:
            break
        near = [at.points for at in positions(readings, names, side)[:_STARTS]]
    else:
        keys = tuple(one.key for one in readings)
        return Contradiction(keys, (), "three measurements or more are off: measure them all again")
    # Fits as good as one another are ranked by how small a slip explains them.
    found.sort(key=lambda one: (round(one[0] / error, 1), sum(map(abs, one[2]))))
    told = []
    slips: dict[str, float] = {}
    for _, out, off in found:
        each = {readings[n].key: by for n, by in zip(out, off, strict=True)}
        told.append(" and ".join(f"{key} by {show(abs(by))}" for key, by in each.items()))
        slips |= {key: by for key, by in each.items() if key not in slips}
    if len(found) == 1 and count == 1:
        ((key, by),) = slips.items()
        sentence = (
            f"{key} does not fit the other measurements: it is {show(abs(by))} "
            f"{'more' if by > 0 else 'less'} than they say"
        )
    else:
        sentence = (
            f"{'one' if count == 1 else 'two'} of the measurements must be off, and the others "
            f"cannot tell which: {listed(told[:_MOST_TOLD])}"
        )
        keys, reason = _plain_reason(readings, error, show)
        if count == 1 and not slips.keys().isdisjoint(keys):
            slips, sentence = {key: slips[key] for key in slips if key in keys}, reason
    return Contradiction(tuple(slips), tuple(slips.values()), sentence)


def single_slips(
    readings: Sequence[TapeReading],
    names: Sequence[str],
    side: int,
    error: float,
    is_meant: Meant,
) -> dict[str, float]:
    """Readings without which all is told yet, and as it is meant; by how much each is off [m]."""
    slips = {}
    for one in readings:
        rest = [other for other in readings if other is not one]
        for at in positions(rest, names, side):
            if is_meant(at) and not at.is_open and fits(at, error):
                slips[one.key] = one.value - at.would_read(one, side)
                break
    return slips


def _plain_reason(
    readings: Sequence[TapeReading], error: float, show: Show
) -> tuple[tuple[str, ...], str]:
    """A reason that anybody sees, and more than errors: a side longer than the two others."""
    slack = 3 * error
    spans = [one for one in readings if one.tells is Tells.SPAN]
    for three in combinations(spans, 3):
        *short, long = sorted(three, key=lambda one: one.value)
        is_triangle = len({name for one in three for name in one.points}) == len(three)
        if is_triangle and (reach := sum(one.value for one in short)) + slack < long.value:
            return tuple(one.key for one in three), (
                f"{listed((one.key for one in short), 'and')} add up to {show(reach)}, less than "
                f"{long.key}, {show(long.value)}: one of the three is off"
            )
    for span in spans:
        for tells in (Tells.HEIGHT, Tells.WALL):
            ends = [one for one in readings if one.tells is tells and one.points[0] in span.points]
            apart = abs(ends[0].value - ends[-1].value) if len(ends) == _TWO else 0.0
            if apart > span.value + slack:
                return (span.key, *(one.key for one in ends)), (
                    f"{listed((one.key for one in ends), 'and')} differ by {show(apart)}, more "
                    f"than {span.key}, {show(span.value)}: one of the three is off"
                )
    return (), ""
