"""The mount seen square to the shafts: what stands where along them."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial

from mountcalc.drafting.dimensions import (
    SAME,
    Baseline,
    HeightScale,
    Run,
    baselines,
    empty_stretches,
)
from mountcalc.drafting.drawing import Drawing
from mountcalc.drafting.items import TEXT_HEIGHT, Item, Layer, Line, Path, Point
from mountcalc.drafting.names.callouts import callouts
from mountcalc.drafting.scales import settled
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
from mountcalc.draw.guard.place import say_panel, say_strip
from mountcalc.draw.guard.plate_in_guard import say_plate_in_guard
from mountcalc.draw.remarks import LEFT, RIGHT, Remarks, reminders, view_caution
from mountcalc.draw.views import Wish, bounds_of, drawing_of

_CLEAR = 3 * TEXT_HEIGHT  # from what is drawn to the first dimension line, on paper
_PAST = 0.003  # [m] on paper that lines of heights are longer than what is drawn


def along_shafts(build: Build) -> Drawing:
    """The view along the floor, square to the shafts."""
    parts = along_parts(build)
    page = _Page(build, parts, _remarks(build, parts))
    bare = seen(parts.cut, parts.others, HeightScale(), 1.0)

    def smallest(shortening: Shortening) -> float:
        """The reduction that it is drawn for, as far as names do not change that."""
        return settled(partial(page.unnamed, shortening), bare, build.display).scale

    # True heights come first; what they would make smaller is shortened.
    shortening = min(Shortening, key=lambda one: (smallest(one), one))
    return settled(partial(page.drawn, shortening), bare, build.display)


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


@dataclass(frozen=True, slots=True)
class _Page:
    """All that the view is drawn from."""

    build: Build
    parts: AlongParts
    remarks: Remarks

    def drawn(self, shortening: Shortening, scale: float) -> Drawing:
        """The view for a reduction [-], some heights shortened."""
        bare = self.unnamed(shortening, scale)
        names = callouts(self._names(shortening, scale), bare.items, scale)
        return replace(bare, items=(*bare.items, *names))

    def unnamed(self, shortening: Shortening, scale: float) -> Drawing:
        """The same without names of parts."""
        parts, heights = self.parts, self._drive_scale(shortening, scale)
        items: list[Item] = list(seen(parts.cut, parts.others, heights, scale))
        items += [_at_heights(line, heights) for line in parts.centre_lines]
        left, bottom, right, top = bounds_of(items, scale)
        items += self._along(heights, (bottom, top), scale)
        levels = self._levels()
        heights = lowered(
            heights, self._drive()[0], bounds_of(items, scale)[1], levels, shortening, scale
        )
        across = left - _PAST * scale, right + _PAST * scale
        shafts = [Level(height, name, Layer.CENTRE) for height, name in parts.shafts]
        items += level_lines([*shafts, *levels], heights, across, scale)
        items += break_marks(heights, across, scale)
        items += self._heights(heights, [*shafts, *levels], items, across[0], scale)
        stack = along_stack(self.build)
        side = None if stack is None else LEFT if stack.outward > 0 else RIGHT
        drawing = drawing_of(self.build, self.remarks, "along-shafts", items, side, scale)
        return replace(
            drawing,
            notes=(*drawing.notes, *_of_lines(items, heights)),
            scale_note="heights are shortened at the break lines" if heights.breaks else "",
        )

    def _drive_scale(self, shortening: Shortening, scale: float) -> HeightScale:
        """Where the drive's heights are drawn."""
        if shortening < Shortening.ALL:
            return HeightScale()
        low = self._drive()[0]
        behind = [(one.height, one.height) for one in self._levels() if one.height >= low]
        taken = [*self.parts.taken(), *behind]
        return HeightScale(empty_stretches(taken, SHOWN * scale, AIR * scale))

    def _drive(self) -> tuple[float, float]:
        """Lowest and highest point of the drive, at true heights [m]."""
        lows, highs = zip(*self.parts.taken(), strict=True)
        return min(lows), max(highs)

    def _levels(self) -> tuple[Level, ...]:
        return levels_of(self.build, self._drive())

    def _names(self, shortening: Shortening, scale: float) -> list[Wish]:
        heights = self._drive_scale(shortening, scale)
        return [
            (tuple((x, heights.drawn(y)) for x, y in points), name)
            for points, name in self.parts.names
        ]

    def _baseline(self, run: Run, datum: Point, first: float, away: int, scale: float) -> Baseline:
        return Baseline(run, datum, first, away, scale, self.build.display)

    def _along(self, heights: HeightScale, ends: tuple[float, float], scale: float) -> list[Item]:
        """Baselines: the driven shaft's parts above, the motor's and the guard's below."""
        parts, clear = self.parts, _CLEAR * scale
        datum = parts.datum[0], heights.drawn(parts.datum[1])
        above = self._baseline(Run.ACROSS, datum, ends[1] + clear, 1, scale)
        below = self._baseline(Run.ACROSS, datum, ends[0] - clear, -1, scale)
        driven = [(x, heights.drawn(y)) for _, (x, y) in parts.driven_points]
        motor = [(x, heights.drawn(y)) for _, (x, y) in parts.motor_points]
        return [*baselines(above, driven), *baselines(below, motor)]

    def _heights(
        self,
        heights: HeightScale,
        levels: Sequence[Level],
        items: Sequence[Item],
        left: float,
        scale: float,
    ) -> list[Item]:
        """Baselines at the left, from the lowest level up."""
        lowest = heights.drawn(min(one.height for one in levels))
        beside = min(left, bounds_of(items, scale)[0]) - _CLEAR * scale
        baseline = self._baseline(Run.UP, (left, lowest), beside, -1, scale)
        points = [(left, heights.drawn(one.height)) for one in levels]
        return list(baselines(replace(baseline, actual=heights.actual), points))


def _at_heights(line: Line, heights: HeightScale) -> Line:
    ends = [(x, heights.drawn(y)) for x, y in (line.start, line.end)]
    return Line(ends[0], ends[1], line.layer)


def _of_lines(items: Sequence[Item], heights: HeightScale) -> Iterator[str]:
    """What the kinds of lines mean, where they occur."""
    if any(isinstance(item, Line | Path) and item.layer is Layer.EDGE for item in items):
        yield "Thin broken lines: what stands behind or before a cut part, or what was assumed."
    if heights.breaks:
        yield (
            "Where two break lines run across, a stretch of height is not drawn to scale; the "
            "dimensions tell true heights."
        )
