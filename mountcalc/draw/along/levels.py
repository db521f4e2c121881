"""Heights in the view along the shafts: shafts, hinge, base and floor, and where they are drawn."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from enum import IntEnum
from itertools import pairwise

from mountcalc.drafting.dimensions import SAME, Break, HeightScale, zigzag
from mountcalc.drafting.items import TEXT_HEIGHT, Item, Layer, Leader, Line
from mountcalc.draw.base.section import base_section
from mountcalc.draw.build import Build

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
    layer: Layer


def levels_of(build: Build, drive: tuple[float, float]) -> tuple[Level, ...]:
    """Hinge, top of the base, and floor, the highest first; thin where the drive is before them."""
    floor, top, pin = build.scenario.parts.base.floor, base_section(build).top, build.hinge[1]
    found = [Level(pin, "hinge", Layer.CENTRE)]
    if floor is not None:
        if abs(top - pin) <= SAME:
            found = [Level(top, "hinge, top of base", Layer.VISIBLE)]
        else:
            found.append(Level(top, "top of base", Layer.VISIBLE))
        found.append(Level(floor, "floor", Layer.VISIBLE))
    low, high = drive
    thin = {Layer.CENTRE: Layer.CENTRE, Layer.VISIBLE: Layer.EDGE}
    behind = [replace(one, layer=thin[one.layer]) for one in found if low <= one.height <= high]
    below = [one for one in found if one.height < low]
    return tuple(sorted((*behind, *below), key=lambda one: -one.height))


def lowered(
    heights: HeightScale,
    drive: float,
    below: float,
    levels: Sequence[Level],
    shortening: Shortening,
    scale: float,
) -> HeightScale:
    """Make room under the drive for its dimensions, and leave out what is empty further down."""
    levels = [one for one in levels if one.height < drive]
    if not levels:
        return heights
    air, gap = AIR * scale, SHOWN * scale
    first = levels[0].height
    low = first + min(air, 0.5 * (drive - first))
    # Where nothing of the drive but its line is drawn down there, ``below`` lies above that.
    shown = heights.drawn(drive) - (min(below, heights.drawn(drive)) - air)
    if drive - low < shown or shortening >= Shortening.UNDER_DRIVE:
        heights = heights.below(Break(low, drive, shown))
    for upper, lower in pairwise(levels):
        empty, kept = upper.height - lower.height, _BETWEEN * scale
        if shortening >= Shortening.UNDER_DRIVE and empty > 2 * (kept + gap):
            heights = heights.below(Break(lower.height + kept, upper.height - kept, gap))
    return heights


def break_marks(heights: HeightScale, across: tuple[float, float], scale: float) -> Iterator[Item]:
    """Two break lines across each stretch that is not drawn to scale."""
    left, right = across
    count = max(1, round((right - left) / (_LONG * scale)))
    for one in heights.breaks:
        low = heights.drawn(one.low)
        for level in (low, low + SHOWN * scale):
            yield zigzag((left, level), (right, level), scale, count=count)


def level_lines(
    levels: Sequence[Level], heights: HeightScale, across: tuple[float, float], scale: float
) -> Iterator[Item]:
    """The lines of heights, each with its name at the right."""
    left, right = across
    pitch, floor = _PITCH * scale, float("inf")
    for one in sorted(levels, key=lambda level: -level.height):
        drawn = heights.drawn(one.height)
        yield Line((left, drawn), (right, drawn), one.layer)
        at = min(drawn, floor - pitch)
        floor = at
        yield Leader((right, drawn), (right + _TO_NAME * scale, at), one.name)
