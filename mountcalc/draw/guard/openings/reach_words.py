"""Sentences about what a hand reaches through the guard's openings."""

from __future__ import annotations

import math
from dataclasses import dataclass

from mountcalc.drafting.dimensions import SAME
from mountcalc.draw.along.stack import along_stack
from mountcalc.draw.build import Build
from mountcalc.draw.guard.openings.front import Passes
from mountcalc.draw.guard.openings.reach import Opening, reach_distance, widest_opening
from mountcalc.draw.guard.panel_words import panel_of
from mountcalc.draw.guard.shape import GuardShape
from mountcalc.pages.bench_lengths import bench_length, fine_length, finest_length
from mountcalc.scenario.model import Display

__all__ = ["reach_cautions"]

_ROUNDING = 1e-6  # of a step
_SLOT_CURE = (
    "the opening needs a cover, such as a disc on the shaft or a flap that moves with the plate."
)
_RING_CURE = "close it to a smaller opening, or fix a collar to the {board} around it."


def reach_cautions(build: Build, shape: GuardShape, passes: Passes) -> tuple[str, ...]:
    """Slot, gap at the driven shaft, and gap in the front, each against the table of reach."""
    display, slot, driven = build.display, shape.slot, shape.driven
    panel, ring = _Board("panel", _air_to_pulleys(build)), _RING_CURE.format(board="panel")
    said = [
        _reach(display, "The motor's slot", _SLOT_CURE, panel, (2 * slot.half_width, slot.length))
    ]
    if driven.gap is None:
        across = fine_length(2.0 * driven.radius, display)
        said.append(
            f"The gap that the {driven.around} leaves in its hole, {across} across, is not known: "
            f"measure it, and where a finger goes in {ring}"
        )
    else:
        said.append(
            _reach(display, f"The gap around the {driven.around}", ring, panel, (driven.gap, None))
        )
    if passes.opening is not None:
        around = "driven shaft" if passes.opening.housing is None else "bearing's housing"
        front = _Board("front", passes.opening.air)
        cure = _RING_CURE.format(board="front")
        size = passes.opening.gap, None
        said.append(_reach(display, f"The front's gap around the {around}", cure, front, size))
    return tuple(said)


@dataclass(frozen=True, slots=True)
class _Board:
    """A board with an opening: its name, and from it to the nearest pulley's side [m]."""

    name: str
    air: float | None


def _reach(
    display: Display, name: str, cure: str, board: _Board, size: tuple[float, float | None]
) -> str:
    """An opening against the table of reach, in words."""
    width, length = size
    wide = f"{name} is {fine_length(width, display)} wide"
    found = reach_distance(Opening.SLOT, width, length)
    if found is None:
        return f"{wide}: more than {fine_length(widest_opening(), display)}, whole arms reach in."
    step = finest_length(display)
    least = bench_length(math.ceil(found.value / step - _ROUNDING) * step, display)
    wanted = f"{wide}: {found.source} wants {least} to the danger"
    if board.air is None:
        return f"{wanted}; measure from the {board.name} to the nearest pulley."
    if board.air < -SAME:
        return f"{wanted}, and the {board.name} does not stand clear of the pulleys at all."
    there = fine_length(max(board.air, 0.0), display)
    side = f"the nearest pulley's side is {there} from the {board.name}"
    if board.air >= found.value:
        return f"{wanted}; {side}."
    return f"{wanted}, and {side}: {cure}"


def _air_to_pulleys(build: Build) -> float | None:
    """From the panel to the nearest pulley [m]; None where positions are not known."""
    stack = along_stack(build)
    place = None if stack is None else panel_of(build, stack)[1]
    return None if place is None else place.air_before
