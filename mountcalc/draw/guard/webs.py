"""Where the guard's panel is left thin between its own cuts."""

from __future__ import annotations

import math

from mountcalc.draw.guard.shape import GuardShape
from mountcalc.draw.guard.sizes import made
from mountcalc.pages.bench_lengths import fine_length
from mountcalc.scenario.model import Display

__all__ = ["thin_places"]

# Wood [m] between two cuts, or a cut and an edge, below which a panel breaks out (estimate).
_LEAST_WEB = 0.005


def thin_places(shape: GuardShape, display: Display) -> tuple[str, ...]:
    """Where the panel's own cuts come too near to each other."""
    sizes, slot = shape.sizes, shape.slot
    found = []
    edge = sizes.motor_radius + sizes.clearance - slot.half_width
    screws = edge - 0.5 * sizes.clearance - shape.holes[0].radius
    rim = sizes.driven_radius + sizes.clearance - shape.opening.radius
    opening = f"the opening for the {shape.driven.around}"
    smaller = "take a smaller guard.slot_clearance"
    cure = f"{smaller}{'' if shape.driven.gap is not None else ' or guard.bearing_opening'}"
    for left, places, how in (
        (edge, "the slot and the panel's edge", smaller),
        (screws, "the slot and the nearest fixing holes", smaller),
        (_between(shape), f"the slot and {opening}", cure),
        (rim, f"{opening} and the panel's edge", cure),
    ):
        if left <= 0:
            found.append(f"Nothing is left between {places}: {how}.")
        elif left < _LEAST_WEB:
            found.append(
                f"Only {fine_length(left, display)} are left between {places}, where "
                f"{fine_length(_LEAST_WEB, display)} are wanted (estimate): {how}."
            )
    if sizes.clearance < 2.0 * made("screw_head"):
        found.append(
            f"A clearance of {fine_length(sizes.clearance, display)} is narrow for screw heads "
            "inside the guard: sink them, or screw from behind."
        )
    return tuple(found)


def _between(shape: GuardShape) -> float:
    """What is left of the panel between the slot and the driven shaft's opening [m]."""
    slot, centre = shape.slot, shape.opening.centre
    towards = math.atan2(centre[1] - slot.hinge[1], centre[0] - slot.hinge[0])
    ends = [slot.at(slot.start), slot.at(slot.end)]
    if (towards - slot.start) % math.tau <= slot.end - slot.start:
        ends.append(slot.at(towards))
    nearest = min(math.dist(point, centre) for point in ends)
    return nearest - slot.half_width - shape.opening.radius
