"""The mount seen square to the shafts: what stands where along them."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import replace
from functools import partial

from mountcalc.drafting.dimensions import (
    SAME,
    Baseline,
    HeightScale,
    Run,
    baselines,
    empty_stretches,
)
from mountcalc.drafting.drawing import Drawing, settled
from mountcalc.drafting.items import TEXT_HEIGHT, Item, Layer, Line, Path, Point
from mountcalc.drafting.names.callouts import callouts
from mountcalc.draw.along.bodies import seen
from mountcalc.draw.along.checks import say_alignment, say_shaft_ends
from mountcalc.draw.along.levels import (
    AIR,
    SHOWN,
    Level,
    Shortening,
    break_marks,
    level_lines,
    levels_of,
    lowered,
)
from mountcalc.draw.along.parts import AlongParts, along_parts
from mountcalc.draw.along.stack import along_stack
from mountcalc.draw.base.words import say_base_height
from mountcalc.draw.build import Build
from mountcalc.draw.guard.plate_in_guard import say_plate_in_guard
from mountcalc.draw.guard.position import say_panel, say_strip
from mountcalc.draw.remarks import LEFT, RIGHT, Remark, Remarks, reminders, view_caution
from mountcalc.draw.views import bounds_of, drawing_of

_CLEAR = 3 * TEXT_HEIGHT  # from what is drawn to the first dimension line, on paper
_PAST = 0.003  # [m] on paper that lines of heights are longer than what is drawn


def along_shafts(build: Build) -> Drawing:
    """The view along the floor, square to the shafts."""
    parts = along_parts(build)
    page = _Page(build, parts, _remarks(build, parts))
    bare = seen(parts.cut, parts.others, HeightScale(), 1.0)

    def smallest(shortening: Shortening) -> float:
        """The scale that it is drawn for, as far as names do not change that."""
        drawn = partial(page.drawn, shortening, named=False)
        return settled(drawn, bare, build.display).scale

    # True heights come first; what they would make smaller is shortened.
    shortening = min(Shortening, key=lambda one: (smallest(one), one))
    return settled(partial(page.drawn, shortening, named=True), bare, build.display)


def _remarks(build: Build, parts: AlongParts) -> Remarks:
    remarks, stack = Remarks(build.display), along_stack(build)
    say_alignment(remarks, build)
    if stack is None:
        remarks.note("along.outward")
    else:
        say_panel(remarks, build)
        say_strip(remarks, build)
        say_plate_in_guard(remarks, build)
        say_shaft_ends(remarks, build, stack)
    say_base_height(remarks, build)
    remarks.cautions_of((*reminders(build, "stored energy"), view_caution()))
    _say_distances(remarks, build, parts)
    remarks.add(parts.remarks.all)
    return remarks


def _say_distances(remarks: Remarks, build: Build, parts: AlongParts) -> None:
    """Say where everything is that the view dimensions along the shafts."""
    stack, places = along_stack(build), dict[str, list[float]]()
    outward = 1 if stack is None else stack.outward
    for name, (across, _) in (*parts.driven_points, *parts.motor_points):
        places.setdefault(name, []).append(outward * (across - parts.datum[0]))
    datum = "the middle of the driven pulley"
    ways = "to the front, where the motor's shaft points", "to the back"
    if stack is None:
        ways = "as positions grow", "as positions fall"
    elif stack.bearing_behind is not None:
        datum = f"the face of {stack.bearing_behind.name}"
        ways = "towards the pulleys", "away from them"
    for way, side in zip(ways, (1, -1), strict=True):
        there = [
            _distance(build, name, [side * at for at in found])
            for name, found in places.items()
            if max(side * at for at in found) > SAME
        ]
        if there:
            remarks.note("along.distances", datum=datum, way=way, places="; ".join(there))
    level = [name for name, found in places.items() if max(map(abs, found)) <= SAME]
    others = [name for name in level if name != datum.removeprefix("the ")]
    if others:
        remarks.note("along.in_plane", datum=datum, places="; ".join(others))


def _distance(build: Build, name: str, distances: list[float]) -> str:
    """What is told of one thing: where it is, or from where to where."""
    near, far = min(distances), max(distances)
    # As the dimensions have them, by which they are found again.
    last = build.bench(far)
    if far - near <= SAME:
        return f"{name} {last}"
    if near < -SAME:  # it reaches past the datum
        return f"{name} up to {last}"
    return f"{name} {build.bench(max(near, 0.0))} to {last}"


class _Page:
    """All that the view is drawn from."""

    def __init__(self, build: Build, parts: AlongParts, remarks: Remarks) -> None:
        self.build, self.parts, self.remarks = build, parts, remarks
        lows, highs = zip(*parts.taken(), strict=True)
        self.low, high = min(lows), max(highs)  # of the drive
        self.levels = levels_of(build, (self.low, high))

    def drawn(self, shortening: Shortening, scale: float, *, named: bool) -> Drawing:
        """The view for a scale [-], some heights shortened, with or without names of parts."""
        parts, stack, drive = self.parts, along_stack(self.build), HeightScale()
        if shortening is Shortening.ALL:
            behind = [(one.height, one.height) for one in self.levels if one.height >= self.low]
            taken = [*parts.taken(), *behind]
            drive = HeightScale(empty_stretches(taken, SHOWN * scale, AIR * scale))
        items: list[Item] = list(seen(parts.cut, parts.others, drive, scale))
        for line in parts.centre_lines:
            start, end = _at([line.start, line.end], drive)
            items.append(Line(start, end, line.layer))
        left, bottom, right, top = bounds_of(items, scale)
        items += self._along(drive, (bottom, top), scale)
        heights = lowered(
            drive, self.low, bounds_of(items, scale)[1], self.levels, shortening, scale
        )
        across = left - _PAST * scale, right + _PAST * scale
        shafts = [Level(height, name, Layer.CENTRE) for height, name in parts.shafts]
        levels = [*shafts, *self.levels]
        items += level_lines(levels, heights, across, scale)
        items += break_marks(heights, across, scale)
        # Heights at the left, from the lowest level up.
        lowest = heights.drawn(min(one.height for one in levels))
        first = min(across[0], bounds_of(items, scale)[0]) - _CLEAR * scale
        points = _at([(across[0], one.height) for one in levels], heights)
        up = self._baseline(Run.UP, (across[0], lowest), first, -1, scale)
        items += baselines(replace(up, actual=heights.actual), points)
        is_thin = any(isinstance(one, Line | Path) and one.layer is Layer.EDGE for one in items)
        keys = ["along.thin_lines"] * is_thin + ["along.breaks"] * bool(heights.breaks)
        if named:
            wishes = [(tuple(_at(points, drive)), name) for points, name in parts.names]
            items += callouts(wishes, items, scale)
        side = None if stack is None else LEFT if stack.outward > 0 else RIGHT
        drawing = drawing_of(self.build, self.remarks, "along-shafts", items, side, scale)
        return replace(
            drawing,
            notes=(*drawing.notes, *(Remark(key).text(self.build.display) for key in keys)),
            scale_note="heights are shortened at the break lines" if heights.breaks else "",
        )

    def _baseline(self, run: Run, datum: Point, first: float, away: int, scale: float) -> Baseline:
        return Baseline(run, datum, first, away, scale, self.build.display)

    def _along(self, heights: HeightScale, ends: tuple[float, float], scale: float) -> list[Item]:
        """Baselines: the driven shaft's parts above, the motor's and the guard's below."""
        parts, clear = self.parts, _CLEAR * scale
        datum, driven, motor = (
            _at(points, heights)
            for points in (
                [parts.datum],
                [at for _, at in parts.driven_points],
                [at for _, at in parts.motor_points],
            )
        )
        above = self._baseline(Run.ACROSS, datum[0], ends[1] + clear, 1, scale)
        below = self._baseline(Run.ACROSS, datum[0], ends[0] - clear, -1, scale)
        return [*baselines(above, driven), *baselines(below, motor)]


def _at(points: Iterable[Point], heights: HeightScale) -> list[Point]:
    """Points where their heights are drawn."""
    return [(x, heights.drawn(y)) for x, y in points]
