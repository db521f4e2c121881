"""The template of the hinged plate, seen from the side that the motor stands on."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial

from mountcalc.drafting.drawing import Drawing
from mountcalc.drafting.items import Item, Layer, Point
from mountcalc.draw.boards.sheet import (
    Board,
    FootSlot,
    board_drawn,
    board_facts,
    board_wishes,
    foot_slots,
    meeting_items,
    on_board,
    pointed_at,
    say_plate,
    say_plate_cautions,
    slot_items,
)
from mountcalc.draw.boards.side import (
    Meeting,
    board_sizes,
    drills_into_motor,
    meeting_on_plate,
    place_across,
)
from mountcalc.draw.build import Build
from mountcalc.draw.keep_outs import keep_out_cautions
from mountcalc.draw.remarks import LEFT, RIGHT, Remarks
from mountcalc.draw.views import Wish, drawing_of, with_glance
from mountcalc.pages.amounts import bench_size
from mountcalc.scenario.model import Display


@dataclass(frozen=True, slots=True)
class _Plan:
    """What is on the plate; ``across`` [m] is where the adjuster meets it."""

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
    display, plan, remarks = build.display, _plan(build), Remarks(build.display)
    parts, sizes = build.scenario.parts, board_sizes(build)
    drawn, wishes = partial(_drawn, display, plan), _wishes(display, plan)
    say_plate(remarks, build, plan.board, plan.slots)
    remarks.notes_of(build.swing.notes)
    needed = {
        "alignment": parts.frame is not None,
        "length_beyond": parts.plate.length is None,
        "pad": plan.pad > 0,
    }
    remarks.notes_of(sizes.notes([name for name, one in needed.items() if not one]))
    if not plan.is_drilled:
        remarks.caution("boards.under_the_motor")
    standing = ("the plate", "the motor", "the bolt", "the link")
    remarks.cautions_of(keep_out_cautions(build, *standing))
    say_plate_cautions(remarks, build, plan.board, plan.slots)
    remarks.facts |= board_facts(plan.board, plan.meeting, plan.bolt)
    remarks.facts["leaf_depth"] = plan.board.leaves[0].depth
    if plan.slots:
        first, second = plan.slots[:2]
        middle = 0.5 * (first.centre[1] + second.centre[1])
        slot = {"slot_width": first.width, "slot_length": first.length, "shaft_line": middle}
        remarks.facts |= slot
    side = RIGHT if build.frame.pulley_side > 0 else LEFT
    items = on_board(plan.board, wishes, drawn(1.0))
    template = drawing_of(build, remarks, "plate", items, side)
    return with_glance(template, drawn, lambda _: wishes)


def _plan(build: Build) -> _Plan:
    parts, sizes, frame = build.scenario.parts, board_sizes(build), build.frame
    meeting, edge = meeting_on_plate(build), sizes.hinges.edge
    shaft = frame.distance(build.scenario.motor.shaft) - edge
    slots: tuple[FootSlot, ...] = ()
    if parts.frame is not None:
        middle = 0.5 * sizes.width, shaft
        slots = foot_slots(parts.frame, middle, frame.pulley_side, sizes.alignment)
    ends = [sizes.hinges.leaf_width, shaft]
    ends += [slot.centre[1] + 0.5 * slot.width for slot in slots]
    ends += [] if meeting is None else [meeting.high - edge]
    length = parts.plate.length
    is_pad = meeting is not None and meeting.kind == "pad"
    return _Plan(
        board=Board.of(sizes, max(ends) + sizes.beyond if length is None else length),
        slots=slots,
        meeting=meeting,
        pad=sizes.pad if is_pad else 0.0,
        across=place_across(build, frame),
        is_drilled=not drills_into_motor(build),
    )


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
