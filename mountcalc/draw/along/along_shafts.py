"""The mount seen square to the shafts: what stands where along them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from enum import IntEnum
from functools import partial
from itertools import pairwise

from mountcalc.drafting.dimensions import (
    SAME,
    Baseline,
    Break,
    HeightScale,
    Run,
    baselines,
    empty_stretches,
    zigzag,
)
from mountcalc.drafting.drawing import Drawing, settled
from mountcalc.drafting.items import TEXT_HEIGHT, Item, Layer, Leader, Line, Path, Point
from mountcalc.drafting.names.callouts import callouts
from mountcalc.draw.along.parts import AlongParts, along_parts, seen
from mountcalc.draw.along.remarks import say_along
from mountcalc.draw.along.stack import along_stack
from mountcalc.draw.boards.section import base_section
from mountcalc.draw.build import Build
from mountcalc.draw.remarks import LEFT, RIGHT, Remark, Remarks
from mountcalc.draw.views import bounds_of, drawing_of
from mountcalc.record import Record

_CLEAR = 3 * TEXT_HEIGHT  # from what is drawn to the first dimension line, on paper
_PAST = 0.003  # [m] on paper that lines of heights are longer than what is drawn
# How long a stretch is drawn that is left out [m], on paper: two break lines run across it.
SHOWN = 0.0025
AIR = 0.004  # what stays of it at either end [m], on paper
_BETWEEN = 0.009  # the same between hinge, base and floor: their dimensions stand in it
_PITCH = 1.8 * TEXT_HEIGHT  # from one name to the next on paper
_TO_NAME = 0.006  # [m] on paper from a line's end to its name
_LONG = 0.06  # [m] on paper of a break line for each of its zigzags


class Shortening(IntEnum):
    """Which stretches of height may be left out."""

    NONE = 0
    UNDER_DRIVE = 1
    ALL = 2


class Level(Record):
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


def level_items(
    levels: Sequence[Level], heights: HeightScale, across: tuple[float, float], scale: float
) -> Iterator[Item]:
    """The lines of heights, each with its name at the right, and break lines."""
    (left, right), floor = across, float("inf")
    for one in sorted(levels, key=lambda level: -level.height):
        drawn = heights.drawn(one.height)
        yield Line((left, drawn), (right, drawn), one.layer)
        floor = min(drawn, floor - _PITCH * scale)
        yield Leader((right, drawn), (right + _TO_NAME * scale, floor), one.name)
    count = max(1, round((right - left) / (_LONG * scale)))
    for low in (heights.drawn(one.low) for one in heights.breaks):
        for at in (low, low + SHOWN * scale):
            yield zigzag((left, at), (right, at), scale, count=count)


def along_shafts(build: Build) -> Drawing:
    """The view along the floor, square to the shafts."""
    parts, stack, remarks = along_parts(build), along_stack(build), Remarks(build.display)
    places, outward = dict[str, list[float]](), 1 if stack is None else stack.outward
    for name, (across, _) in (*parts.driven_points, *parts.motor_points):
        places.setdefault(name, []).append(outward * (across - parts.datum[0]))
    say_along(remarks, build, places)
    remarks.add(parts.remarks.all)
    page, bare = _Page(build, parts, remarks), seen(parts.cut, parts.others, HeightScale(), 1.0)

    def drawn(shortening: Shortening, *, named: bool) -> Drawing:
        return settled(partial(page.drawn, shortening, named=named), bare, build.display)

    # True heights come first; what they would make smaller is shortened, as far as names do not
    # change that.
    scales = {one: (drawn(one, named=False).scale, one) for one in Shortening}
    return drawn(min(scales, key=lambda one: scales[one]), named=True)


class _Page:
    """All that the view is drawn from."""

    def __init__(self, build: Build, parts: AlongParts, remarks: Remarks) -> None:
        self.build, self.parts, self.remarks = build, parts, remarks
        lows, highs = zip(*parts.taken(), strict=True)
        self.low = min(lows)  # of the drive
        self.levels = levels_of(build, (self.low, max(highs)))

    def drawn(self, shortening: Shortening, scale: float, *, named: bool) -> Drawing:
        """The view for a scale [-], some heights shortened, with or without names of parts."""
        parts, drive, low = self.parts, HeightScale(), self.low
        make = partial(Baseline, scale=scale, display=self.build.display)
        if shortening is Shortening.ALL:
            behind = [(one.height, one.height) for one in self.levels if one.height >= low]
            taken = [*parts.taken(), *behind]
            drive = HeightScale(empty_stretches(taken, SHOWN * scale, AIR * scale))
        items: list[Item] = list(seen(parts.cut, parts.others, drive, scale))
        for line in parts.centre_lines:
            start, end = _at([line.start, line.end], drive)
            items.append(Line(start, end, line.layer))
        left, bottom, right, top = bounds_of(items, scale)
        # The driven shaft's parts above, the motor's and the guard's below.
        (datum,), clear = _at([parts.datum], drive), _CLEAR * scale
        sides = (parts.driven_points, top + clear, 1), (parts.motor_points, bottom - clear, -1)
        for points, first, away in sides:
            across = make(Run.ACROSS, datum, first, away)
            items += baselines(across, _at([at for _, at in points], drive))
        below = bounds_of(items, scale)[1]
        heights = lowered(drive, low, below, self.levels, shortening, scale)
        ends = left - _PAST * scale, right + _PAST * scale
        shafts = [Level(height, name, Layer.CENTRE) for height, name in parts.shafts]
        levels = [*shafts, *self.levels]
        items += level_items(levels, heights, ends, scale)
        # Heights at the left, from the lowest level up.
        lowest = heights.drawn(min(one.height for one in levels))
        first = min(ends[0], bounds_of(items, scale)[0]) - clear
        up = make(Run.UP, (ends[0], lowest), first, -1, actual=heights.actual)
        items += baselines(up, _at([(ends[0], one.height) for one in levels], heights))
        is_thin = any(isinstance(one, Line | Path) and one.layer is Layer.EDGE for one in items)
        keys = ["along.thin_lines"] * is_thin + ["along.breaks"] * bool(heights.breaks)
        if named:
            wishes = [(tuple(_at(points, drive)), name) for points, name in parts.names]
            items += callouts(wishes, items, scale)
        stack = along_stack(self.build)
        side = None if stack is None else LEFT if stack.outward > 0 else RIGHT
        drawing = drawing_of(self.build, self.remarks, "along-shafts", items, side, scale)
        return replace(
            drawing,
            notes=(*drawing.notes, *(Remark(key).text(self.build.display) for key in keys)),
            scale_note="heights are shortened at the break lines" if heights.breaks else "",
        )


def _at(points: Iterable[Point], heights: HeightScale) -> list[Point]:
    """Points where their heights are drawn."""
    return [(x, heights.drawn(y)) for x, y in points]
