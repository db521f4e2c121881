"""Heights in the view along the shafts: shafts, hinge, base and floor, and where they are drawn."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import IntEnum
from itertools import pairwise

from mountcalc.drafting.baselines import SAME
from mountcalc.drafting.break_lines import zigzag
from mountcalc.drafting.height_scale import Break, HeightScale
from mountcalc.drafting.model import TEXT_HEIGHT, Ink, Item, Leader, Line
from mountcalc.draw.base.height import base_height
from mountcalc.draw.build import Build

__all__ = ["SHOWN", "Level", "Shortening", "break_marks", "level_lines", "levels_of", "lowered"]

SHOWN = 0.0025
"""How long a stretch is drawn that is left out [m], on paper: two break lines run across it."""

AIR = 0.004
"""What stays of it at either end [m], on paper."""

_BETWEEN = 0.009  # the same between hinge, base and floor: their dimensions stand in it
_PITCH = 1.8 * TEXT_HEIGHT  # from one name to the next on paper
_TO_NAME = 0.006  # [m] on paper from a line's end to its name
_LONG = 0.06  # [m] on paper of a break line for each of its zigzags


class Shortening(IntEnum):
    """Which stretches of height may be left out."""

    NONE = 0
    UNDER_DRIVE = 1
    ALL = 2


@dataclass(frozen=True, slots=True)
class Level:
    """A height that is named: ``height`` [m] is the true one."""

    height: float
    name: str
    ink: Ink


def levels_of(build: Build, drive: tuple[float, float]) -> tuple[Level, ...]:
    """Hinge, top of the base, and floor."""
    floor, top = build.scenario.parts.base.floor, base_height(build)
    pin = build.scenario.plate.hinge[1]
    found = [Level(pin, "hinge", Ink.CENTRE)]
    if floor is not None and top is not None:
        board = Level(floor + top, "top of base", Ink.VISIBLE)
        if abs(board.height - pin) <= SAME:
            found = [Level(board.height, "hinge, top of base", board.ink)]
        else:
            found.append(board)
    if floor is not None:
        found.append(Level(floor, "floor", Ink.VISIBLE))
    low, high = drive
    behind = [replace(one, ink=_thin(one.ink)) for one in found if low <= one.height <= high]
    below = [one for one in found if one.height < low]
    return tuple(sorted((*behind, *below), key=lambda one: -one.height))


def _thin(ink: Ink) -> Ink:
    return Ink.CENTRE if ink is Ink.CENTRE else Ink.EDGE


def lowered(
    scale: HeightScale,
    drive: float,
    below: float,
    levels: Sequence[Level],
    shortening: Shortening,
    reduction: float,
) -> HeightScale:
    """Make room under the drive for its dimensions, and leave out what is empty further down."""
    levels = [one for one in levels if one.height < drive]
    if not levels:
        return scale
    air, gap = AIR * reduction, SHOWN * reduction
    first = levels[0].height
    low = first + min(air, 0.5 * (drive - first))
    # Where nothing of the drive but its line is drawn down there, ``below`` lies above that.
    shown = scale.drawn(drive) - (min(below, scale.drawn(drive)) - air)
    if drive - low < shown or shortening >= Shortening.UNDER_DRIVE:
        scale = scale.below(Break(low, drive, shown))
    for upper, lower in pairwise(levels):
        empty, kept = upper.height - lower.height, _BETWEEN * reduction
        if shortening >= Shortening.UNDER_DRIVE and empty > 2 * (kept + gap):
            scale = scale.below(Break(lower.height + kept, upper.height - kept, gap))
    return scale


def break_marks(
    scale: HeightScale, across: tuple[float, float], reduction: float
) -> Iterator[Item]:
    """Two break lines across each stretch that is not drawn to scale."""
    left, right = across
    count = max(1, round((right - left) / (_LONG * reduction)))
    for one in scale.breaks:
        low = scale.drawn(one.low)
        for level in (low, low + SHOWN * reduction):
            yield zigzag((left, level), (right, level), reduction, count=count)


def level_lines(
    levels: Sequence[Level], scale: HeightScale, across: tuple[float, float], reduction: float
) -> Iterator[Item]:
    """The lines of heights, each with its name at the right."""
    left, right = across
    pitch, floor = _PITCH * reduction, float("inf")
    for one in sorted(levels, key=lambda level: -level.height):
        drawn = scale.drawn(one.height)
        yield Line((left, drawn), (right, drawn), one.ink)
        at = min(drawn, floor - pitch)
        floor = at
        yield Leader((right, drawn), (right + _TO_NAME * reduction, at), one.name)
