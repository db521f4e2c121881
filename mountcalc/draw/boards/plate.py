"""The template of the hinged plate, seen from the side that the motor stands on."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial

from mountcalc.drafting.drawing import Drawing
from mountcalc.drafting.items import Item, Layer, Point
from mountcalc.draw.at_a_glance import Wish, with_glance
from mountcalc.draw.boards.bolt_across import drills_into_motor, place_across
from mountcalc.draw.boards.cautions import plate_cautions
from mountcalc.draw.boards.foot_slots import FootSlot, foot_slots, slot_items
from mountcalc.draw.boards.hinge_leaves import hinge_leaves
from mountcalc.draw.boards.plate_adjuster import Meeting, meeting_on_plate
from mountcalc.draw.boards.plate_sizes import plate_width
from mountcalc.draw.boards.plate_words import notes_of_other_hand, plate_notes
from mountcalc.draw.boards.sheet import (
    Board,
    board_drawn,
    board_wishes,
    meeting_items,
    on_board,
    pointed_at,
)
from mountcalc.draw.boards.sizes import TemplateSizes
from mountcalc.draw.build import Build
from mountcalc.draw.keep_outs import keep_out_cautions
from mountcalc.pages.bench_lengths import bench_size
from mountcalc.scenario.drawn_plate import BoardFrame
from mountcalc.scenario.model import Display

__all__ = ["plate_template"]

_NOT_DRILLED = (
    "The bolt's hole is drawn thin and is not to be drilled: the motor stands in its way."
)


@dataclass(frozen=True, slots=True)
class _Plan:
    """What is on the plate; distances from the hinge's axis become those from the board's edge."""

    board: Board
    slots: tuple[FootSlot, ...]
    meeting: Meeting | None
    pad: float
    across: float
    is_drilled: bool

    @property
    def bolt(self) -> Point | None:
        """Where the adjuster meets the board as the belt is snug [m]."""
        if self.meeting is None:
            return None
        return self.across, self.meeting.at - self.board.hinges.edge


def plate_template(build: Build) -> Drawing:
    """The hinged plate, ready to be sawn, drilled and let in."""
    frame, swing = build.frame, build.swing
    sizes = TemplateSizes(build.scenario)
    plan = _plan(build, frame, meeting_on_plate(build), sizes)
    view, other = (_view(frame.pulley_side * turn) for turn in (1, -1))
    drawn = partial(_drawn, build.display, plan)
    wishes = _wishes(build.display, plan)
    template = Drawing(
        display=build.display,
        name="plate",
        title=f"Plate: {build.scenario.title}",
        view=view,
        other_hand={view: other} | notes_of_other_hand(build, plan.board),
        items=on_board(plan.board, wishes, drawn(1.0)),
        notes=(
            *plate_notes(build, plan.board, plan.slots, plan.meeting),
            *swing.notes,
            *sizes.notes,
        ),
        cautions=(
            *([] if plan.is_drilled else [_NOT_DRILLED]),
            *keep_out_cautions(build, "the plate", "the motor", "the bolt", "the link"),
            *plate_cautions(build, plan.board, plan.slots, plan.meeting),
        ),
        true_scale=True,
        facts=_facts(plan),
    )
    return with_glance(template, drawn, lambda _: wishes)


def _view(pulley_side: float) -> str:
    side = "right" if pulley_side > 0 else "left"
    return f"Seen from the side the motor stands on, hinge at the bottom, pulley on the {side}"


def _plan(build: Build, frame: BoardFrame, meeting: Meeting | None, sizes: TemplateSizes) -> _Plan:
    hinges = sizes.hinges()
    width = plate_width(build, hinges, sizes)
    slots: tuple[FootSlot, ...] = ()
    if build.scenario.parts.frame is not None:
        extra = sizes.length(None, "alignment", "room to shift the motor along its shaft")
        middle = (0.5 * width, frame.distance(build.scenario.motor.shaft) - hinges.edge)
        slots = foot_slots(build.scenario.parts.frame, middle, frame.pulley_side, extra)
    furthest = max(
        [slot.centre[1] + 0.5 * slot.width for slot in slots]
        + [hinges.leaf_width, frame.distance(build.scenario.motor.shaft) - hinges.edge]
        + ([] if meeting is None else [meeting.high - hinges.edge])
    )
    length = build.scenario.parts.plate.length
    if length is None:
        beyond = sizes.length(None, "length_beyond", "board beyond the last hole")
        length = furthest + beyond
    board = Board(width, length, hinges, hinge_leaves(hinges, width))
    is_pad = meeting is not None and meeting.kind == "pad"
    pad = sizes.length(None, "pad", "metal around the bolt's tip") if is_pad else 0.0
    across = place_across(build, frame, width)
    return _Plan(board, slots, meeting, pad, across, not drills_into_motor(build, meeting))


def _drawn(display: Display, plan: _Plan, scale: float) -> list[Item]:
    parts = [item for slot in plan.slots for item in slot_items(slot)]
    measured = [slot.centre for slot in plan.slots]
    if plan.meeting is not None and plan.bolt is not None:
        layer = Layer.DRILL if plan.is_drilled else Layer.EDGE
        parts += meeting_items(plan.meeting, plan.bolt[0], plan.board.hinges.edge, plan.pad, layer)
        measured.append(plan.bolt)
    return board_drawn(plan.board, parts, measured, display, scale)


def _wishes(display: Display, plan: _Plan) -> list[Wish]:
    wishes: list[Wish] = []
    if plan.slots:
        first = plan.slots[0]
        size = bench_size(first.width, first.length, display)
        corners = tuple(corner for slot in plan.slots for corner in slot.corners)
        wishes.append((corners, f"foot slots {size}"))
    if plan.meeting is not None and plan.bolt is not None:
        text = plan.meeting.text if plan.is_drilled else "not to be drilled here: under the motor"
        wishes.append((pointed_at(plan.meeting, plan.bolt), text))
    return [*wishes, *board_wishes(plan.board, display)]


def _facts(plan: _Plan) -> dict[str, float]:
    facts = {
        "width": plan.board.width,
        "length": plan.board.length,
        "axis_below_edge": plan.board.hinges.edge,
        "leaf_depth": plan.board.leaves[0].depth,
    }
    if plan.slots:
        first = plan.slots[0]
        facts |= {
            "slot_width": first.width,
            "slot_length": first.length,
            "shaft_line": 0.5 * (plan.slots[0].centre[1] + plan.slots[1].centre[1]),
        }
    if plan.bolt is not None:
        facts |= {"bolt_x": plan.bolt[0], "bolt_y": plan.bolt[1]}
    if plan.meeting is not None and plan.meeting.diameter is not None:
        facts["bolt_hole"] = plan.meeting.diameter
    return facts
