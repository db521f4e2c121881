"""The mount seen square to the shafts: what stands where along them."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from functools import partial

from mountcalc.drafting.baselines import Baseline, Run, baselines
from mountcalc.drafting.height_scale import HeightScale, empty_stretches
from mountcalc.drafting.layout_scale import settled
from mountcalc.drafting.model import TEXT_HEIGHT, Bounds, Drawing, Ink, Item, Line, Path, Point
from mountcalc.drafting.names.callouts import callouts
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
        """The reduction that it is drawn for, as far as names do not change that."""
        return settled(partial(page.unnamed, shortening), bare, build.display).reduction

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

    def drawn(self, shortening: Shortening, reduction: float) -> Drawing:
        """The view for a reduction [-], some heights shortened."""
        bare = self.unnamed(shortening, reduction)
        names = callouts(self._names(shortening, reduction), bare.items, reduction)
        return replace(bare, items=(*bare.items, *names))

    def unnamed(self, shortening: Shortening, reduction: float) -> Drawing:
        """The same without names of parts."""
        parts, scale = self.parts, self._drive_scale(shortening, reduction)
        items: list[Item] = list(seen(parts.cut, parts.others, scale, reduction))
        items += [_at_scale(line, scale) for line in parts.centre_lines]
        left, bottom, right, top = _bounds(items, reduction)
        items += self._along(scale, (bottom, top), reduction)
        levels = self._levels()
        scale = lowered(
            scale, self._drive()[0], _bounds(items, reduction)[1], levels, shortening, reduction
        )
        across = left - _PAST * reduction, right + _PAST * reduction
        shafts = [Level(height, name, Ink.CENTRE) for height, name in parts.shafts]
        items += level_lines([*shafts, *levels], scale, across, reduction)
        items += break_marks(scale, across, reduction)
        items += self._heights(scale, [*shafts, *levels], items, across[0], reduction)
        return Drawing(
            display=self.build.display,
            name="along-shafts",
            title=f"Along the shafts: {self.build.scenario.title}",
            view=self.view,
            items=tuple(items),
            notes=(*self.said.notes, *_of_lines(items, scale)),
            cautions=tuple(self.said.cautions),
            true_scale=False,
            facts=self.said.facts,
            reduction=reduction,
            scale_note="heights are shortened at the break lines" if scale.breaks else "",
            other_hand=self.other_hand,
        )

    def _drive_scale(self, shortening: Shortening, reduction: float) -> HeightScale:
        """Where the drive's heights are drawn."""
        if shortening < Shortening.ALL:
            return HeightScale()
        low = self._drive()[0]
        behind = [(one.height, one.height) for one in self._levels() if one.height >= low]
        taken = [*self.parts.taken(), *behind]
        return HeightScale(empty_stretches(taken, SHOWN * reduction, AIR * reduction))

    def _drive(self) -> tuple[float, float]:
        """Lowest and highest point of the drive, at true heights [m]."""
        lows, highs = zip(*self.parts.taken(), strict=True)
        return min(lows), max(highs)

    def _levels(self) -> tuple[Level, ...]:
        return levels_of(self.build, self._drive())

    def _names(
        self, shortening: Shortening, reduction: float
    ) -> list[tuple[tuple[Point, ...], str]]:
        scale = self._drive_scale(shortening, reduction)
        return [
            (tuple((x, scale.drawn(y)) for x, y in points), name)
            for points, name in self.parts.names
        ]

    def _baseline(
        self, run: Run, datum: Point, first: float, away: int, reduction: float
    ) -> Baseline:
        return Baseline(run, datum, first, away, reduction, self.build.display)

    def _along(self, scale: HeightScale, ends: tuple[float, float], reduction: float) -> list[Item]:
        """Baselines: the driven shaft's parts above, the motor's and the guard's below."""
        parts, clear = self.parts, _CLEAR * reduction
        datum = parts.datum[0], scale.drawn(parts.datum[1])
        above = self._baseline(Run.ACROSS, datum, ends[1] + clear, 1, reduction)
        below = self._baseline(Run.ACROSS, datum, ends[0] - clear, -1, reduction)
        driven = [(x, scale.drawn(y)) for _, (x, y) in parts.driven_points]
        motor = [(x, scale.drawn(y)) for _, (x, y) in parts.motor_points]
        return [*baselines(above, driven), *baselines(below, motor)]

    def _heights(
        self,
        scale: HeightScale,
        levels: Sequence[Level],
        items: Sequence[Item],
        left: float,
        reduction: float,
    ) -> list[Item]:
        """Baselines at the left, from the lowest level up."""
        lowest = scale.drawn(min(one.height for one in levels))
        beside = min(left, _bounds(items, reduction)[0]) - _CLEAR * reduction
        baseline = self._baseline(Run.UP, (left, lowest), beside, -1, reduction)
        points = [(left, scale.drawn(one.height)) for one in levels]
        return list(baselines(replace(baseline, actual=scale.actual), points))


def _bounds(items: Sequence[Item], reduction: float) -> Bounds:
    return Drawing("", "", "", tuple(items), reduction=reduction).bounds()


def _at_scale(line: Line, scale: HeightScale) -> Line:
    ends = [(x, scale.drawn(y)) for x, y in (line.start, line.end)]
    return Line(ends[0], ends[1], line.ink)


def _of_lines(items: Sequence[Item], scale: HeightScale) -> Iterator[str]:
    """What the kinds of lines mean, where they occur."""
    if any(isinstance(item, Line | Path) and item.ink is Ink.EDGE for item in items):
        yield "Thin broken lines: what stands behind or before a cut part, or what was assumed."
    if scale.breaks:
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
