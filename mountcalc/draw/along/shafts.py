"""The mount seen square to the shafts: what stands where along them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial

from mountcalc.drafting.dimensions import Baseline, HeightScale, Run, baselines, empty_stretches
from mountcalc.drafting.drawing import Drawing
from mountcalc.drafting.items import TEXT_HEIGHT, Bounds, Item, Layer, Line, Path, Point
from mountcalc.drafting.names.callouts import callouts
from mountcalc.drafting.scales import settled
from mountcalc.drafting.told import Told
from mountcalc.draw.along.alignment_words import tell_alignment
from mountcalc.draw.along.bodies import seen
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
from mountcalc.draw.along.shaft_words import tell_driven_end, tell_motor_end, tell_motor_reach
from mountcalc.draw.along.stack import AlongStack, along_stack
from mountcalc.draw.along.words import tell_distances
from mountcalc.draw.base.height import base_height, hinge_height
from mountcalc.draw.base.words import base_words
from mountcalc.draw.build import Build, Swing, turned
from mountcalc.draw.guard.panel_words import tell_panel, tell_strip
from mountcalc.draw.guard.plate_section_words import tell_plate
from mountcalc.draw.guard.shape import guard_shape
from mountcalc.draw.reminders import reminders, view_caution

__all__ = ["along_shafts"]

_CLEAR = 3 * TEXT_HEIGHT  # from what is drawn to the first dimension line, on paper
_PAST = 0.003  # [m] on paper that lines of heights are longer than what is drawn


def along_shafts(build: Build) -> Drawing:
    """The view along the floor, square to the shafts."""
    stack = along_stack(build)
    said = _told(build, stack, build.swing)
    parts = along_parts(build, stack)
    tell_distances(said, parts, stack)
    said.notes += dict.fromkeys(parts.notes)
    page = _Page(build, parts, _view(stack), _other_view(stack), said)
    bare = seen(parts.cut, parts.others, HeightScale(), 1.0)

    def smallest(shortening: Shortening) -> float:
        """The scale that it is drawn for, as far as names do not change that."""
        return settled(partial(page.unnamed, shortening), bare, build.display).scale

    # True heights come first; what they would make smaller is shortened.
    shortening = min(Shortening, key=lambda one: (smallest(one), one))
    return settled(partial(page.drawn, shortening), bare, build.display)


def _told(build: Build, stack: AlongStack | None, swing: Swing) -> Told:
    told = Told(build.display)
    motor = turned(build.scenario.motor.shaft, build.scenario.plate.hinge, swing.snug)
    tell_alignment(told, build, math.dist(motor, build.scenario.driven.shaft))
    if stack is None:
        told.note(
            "motor.face_position and motor.pulley_position are needed to tell which side of the "
            "pulleys is the motor's, and with it all else along the shafts."
        )
    else:
        tell_panel(told, build, stack)
        tell_strip(told, build, stack)
        tell_plate(told, build, stack, guard_shape(build))
        tell_motor_reach(told, build, stack)
        tell_motor_end(told, build, stack)
        tell_driven_end(told, build, stack)
    told.notes.extend(base_words(build))
    told.cautions += [*reminders(build, "stored energy"), view_caution()]
    heights = {"hinge_above_floor": hinge_height(build), "base_top": base_height(build)}
    told.facts |= {name: value for name, value in heights.items() if value is not None}
    return told


@dataclass(frozen=True, slots=True)
class _Page:
    """All that the view is drawn from."""

    build: Build
    parts: AlongParts
    view: str
    other_hand: Mapping[str, str]
    said: Told

    def drawn(self, shortening: Shortening, scale: float) -> Drawing:
        """The view for 1:scale, some heights shortened."""
        bare = self.unnamed(shortening, scale)
        names = callouts(self._names(shortening, scale), bare.items, scale)
        return replace(bare, items=(*bare.items, *names))

    def unnamed(self, shortening: Shortening, scale: float) -> Drawing:
        """The same without names of parts."""
        parts, heights = self.parts, self._drive_scale(shortening, scale)
        items: list[Item] = list(seen(parts.cut, parts.others, heights, scale))
        items += [_at_heights(line, heights) for line in parts.centre_lines]
        left, bottom, right, top = _bounds(items, scale)
        items += self._along(heights, (bottom, top), scale)
        levels = self._levels()
        heights = lowered(
            heights, self._drive()[0], _bounds(items, scale)[1], levels, shortening, scale
        )
        across = left - _PAST * scale, right + _PAST * scale
        shafts = [Level(height, name, Layer.CENTRE) for height, name in parts.shafts]
        items += level_lines([*shafts, *levels], heights, across, scale)
        items += break_marks(heights, across, scale)
        items += self._heights(heights, [*shafts, *levels], items, across[0], scale)
        return Drawing(
            display=self.build.display,
            name="along-shafts",
            title=f"Along the shafts: {self.build.scenario.title}",
            view=self.view,
            items=tuple(items),
            notes=(*self.said.notes, *_of_lines(items, heights)),
            cautions=tuple(self.said.cautions),
            true_scale=False,
            facts=self.said.facts,
            scale=scale,
            scale_note="heights are shortened at the break lines" if heights.breaks else "",
            other_hand=self.other_hand,
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

    def _names(self, shortening: Shortening, scale: float) -> list[tuple[tuple[Point, ...], str]]:
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
        beside = min(left, _bounds(items, scale)[0]) - _CLEAR * scale
        baseline = self._baseline(Run.UP, (left, lowest), beside, -1, scale)
        points = [(left, heights.drawn(one.height)) for one in levels]
        return list(baselines(replace(baseline, actual=heights.actual), points))


def _bounds(items: Sequence[Item], scale: float) -> Bounds:
    return Drawing("", "", "", tuple(items), scale=scale).bounds()


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


def _view(stack: AlongStack | None) -> str:
    if stack is None:
        return "seen along the floor, square to the shafts, cut along the driven shaft"
    return _seen(("left", "right") if stack.outward > 0 else ("right", "right"))


def _other_view(stack: AlongStack | None) -> dict[str, str]:
    if stack is None:
        return {}
    return {
        _view(stack): _seen(("right", "left") if stack.outward > 0 else ("left", "left")),
    }


def _seen(sides: tuple[str, str]) -> str:
    """The view's name: the side that it is seen from, and where positions grow to."""
    return (
        f"seen from the {sides[0]} of one who faces the motor's pulley, cut along the driven "
        f"shaft; positions along the shafts grow to the {sides[1]}"
    )
