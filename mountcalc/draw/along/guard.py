"""The guard as it is cut in the view along the shafts: panel, strip, spacers."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
import shapely

from mountcalc.drafting.items import Point
from mountcalc.draw.along.bodies import Body
from mountcalc.draw.along.stack import AlongStack, place_of
from mountcalc.draw.build import Build, turned
from mountcalc.draw.guard.openings.driven import HOUSING_OVER_JOURNAL
from mountcalc.draw.guard.panel_place import PanelPlace
from mountcalc.draw.guard.panel_words import guard_front, panel_of
from mountcalc.draw.guard.shape import GuardShape, Slot

__all__ = ["GuardBodies", "guard_bodies"]

_FAR = 1e3  # [m] past all that is drawn
_SPACER_LEAST = 1e-3  # [m] what could not be drawn
_SLOT_POINTS = 181


@dataclass(frozen=True, slots=True)
class GuardBodies:
    """The guard, cut at both shafts.

    Attributes
    ----------
    panel : tuple of Body
        What is left of it beside slot and opening.
    strip : tuple of Body
        Over and under the panel.
    spacers : tuple of Body
        Between the bearing's face and the panel, beside the opening.
    strip_front : float [m]
        Its edge, along the shafts.
    notes : tuple of str
        What was taken.
    """

    panel: tuple[Body, ...]
    strip: tuple[Body, ...]
    spacers: tuple[Body, ...]
    strip_front: float
    notes: tuple[str, ...]

    def strip_ends(self) -> tuple[Point, ...]:
        """Points of the strip that a leader may take [m]."""
        middle = 0.5 * sum(self.strip[0].ends)
        at = (self.strip_front, 0.5 * (middle + self.strip_front))
        levels = max(self.strip[0].levels), min(self.strip[1].levels)
        return tuple((x, y) for x in at for y in levels)

    def spacer_middles(self) -> tuple[Point, ...]:
        """Points inside the spacers that a leader may take [m]."""
        return tuple((0.5 * sum(one.ends), 0.5 * sum(one.levels)) for one in self.spacers)


def guard_bodies(build: Build, stack: AlongStack, shape: GuardShape) -> GuardBodies | None:
    """The guard's parts along the shafts."""
    place = panel_of(build, stack)[1]
    front = guard_front(build, stack)
    if place is None or front is None:
        return None
    given = build.scenario.parts.guard.strip_width
    notes = ["The guard's panel is cut at both shafts, through their openings."]
    if given is None:
        notes.append("The strip is drawn with its least width; guard.strip_width would say.")
    ends = stack.outward * place.back, stack.outward * place.front
    strip_front = stack.outward * front
    low, high = shape.outline.bounds[1], shape.outline.bounds[3]
    thick = shape.sizes.thickness
    return GuardBodies(
        panel=_panel(build, shape, ends, (low, high)),
        strip=tuple(
            Body((ends[0], strip_front), levels)
            for levels in ((high, high + thick), (low - thick, low))
        ),
        spacers=_spacers(build, stack, shape, place),
        strip_front=strip_front,
        notes=tuple(notes),
    )


def _panel(
    build: Build, shape: GuardShape, ends: tuple[float, float], levels: tuple[float, float]
) -> tuple[Body, ...]:
    """The panel without slot and opening, each cut at its own shaft."""
    motor = turned(build.scenario.motor.shaft, build.scenario.plate.hinge, shape.swing.snug)
    driven, radius = build.scenario.driven.shaft[1], shape.opening.radius
    open_at = [(driven - radius, driven + radius), slot_at(shape.slot, motor[0])]
    left = shapely.LineString([(0.0, levels[0]), (0.0, levels[1])]).difference(
        shapely.union_all([shapely.box(-1.0, low, 1.0, high) for low, high in open_at])
    )
    pieces = [one.bounds for one in shapely.get_parts(left) if not one.is_empty]
    return tuple(Body(ends, (bottom, top), is_long=True) for _, bottom, _, top in pieces)


def slot_at(slot: Slot, across: float) -> tuple[float, float]:
    """From where to where the slot is open on an upright line."""
    middle = shapely.LineString(
        [slot.at(direction) for direction in np.linspace(slot.start, slot.end, _SLOT_POINTS)]
    )
    line = shapely.LineString([(across, -_FAR), (across, _FAR)])
    inside = middle.buffer(slot.half_width, quad_segs=64).intersection(line)
    return float(inside.bounds[1]), float(inside.bounds[3])


def _spacers(
    build: Build, stack: AlongStack, shape: GuardShape, place: PanelPlace
) -> tuple[Body, ...]:
    """Between bearing and panel, where both have wood or metal."""
    bearing = stack.bearing_behind
    if bearing is None or place.spacer is None or place.spacer < _SPACER_LEAST:
        return ()
    diameter = next(
        one.journal_diameter
        for one in build.scenario.driven.bearings
        if place_of(one, stack.outward) == bearing
    )
    inner, outer = shape.opening.radius, 0.5 * HOUSING_OVER_JOURNAL * diameter
    if outer - inner < _SPACER_LEAST:
        return ()
    height = build.scenario.driven.shaft[1]
    ends = stack.outward * bearing.front, stack.outward * place.back
    return tuple(Body(ends, (height + side * inner, height + side * outer)) for side in (1, -1))
