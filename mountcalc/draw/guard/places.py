"""Where all of the guard's panel is, from its datum edges: to mark it out without a print."""

from __future__ import annotations

from mountcalc.drafting.items import Point
from mountcalc.draw.boards.centre_lists import fixing_note, in_units, numbers
from mountcalc.draw.guard.shape import GuardShape
from mountcalc.draw.guard.strip.words import Strip, strip_runs
from mountcalc.pages.bench_lengths import bench_length
from mountcalc.scenario.model import Display

__all__ = ["guard_places"]

_TURNING = {"left": "counter-clockwise", "right": "clockwise"}


def guard_places(shape: GuardShape, strip: Strip, side: str, display: Display) -> tuple[str, ...]:
    """Places that are told from the corner of the blank."""
    left, bottom, right, top = shape.outline.bounds

    def told(point: Point) -> str:
        return numbers((point[0] - left, point[1] - bottom), display)

    slot, opening, layout = shape.slot, shape.opening, strip.layout
    edges = f"{in_units(display)} from the {side} and from the lower datum edge"
    bends = "; ".join(
        f"bend {run.number} of radius {numbers((run.radius,), display)} about {told(run.centre)}"
        for run in layout.runs
    )
    joined = ", joined by straight lines where they do not meet" if len(layout.runs) > 1 else ""
    outside = (
        " (below zero: outside it)"
        if any(x < left or y < bottom for x, y in (slot.hinge, *(r.centre for r in layout.runs)))
        else ""
    )
    butt = (
        "in the middle of the longest straight run"
        if layout.straight > 0
        else "where bend 1 begins"
    )
    across = bench_length(2.0 * opening.radius, display)
    edges += outside
    return (
        f"Outline on a blank of {bench_length(right - left, display)} x "
        f"{bench_length(top - bottom, display)}, {edges}: {bends}{joined}. The strip's "
        f"butt is {butt}, at {told(layout.butt)}.",
        f"Slot {bench_length(2.0 * slot.half_width, display)} wide, along an arc of "
        f"{bench_length(slot.radius, display)} radius about the hinge, {edges}: hinge "
        f"{told(slot.hinge)}; its round ends about {told(slot.at(slot.start))} and "
        f"{told(slot.at(slot.end))}. Opening {across} across about {told(opening.centre)}.",
        fixing_note(
            [(hole.centre[0] - left, hole.centre[1] - bottom) for hole in shape.holes],
            side,
            display,
        ),
        strip_runs(strip, _TURNING[side], display),
    )
