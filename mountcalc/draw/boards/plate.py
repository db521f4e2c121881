"""The template of the hinged plate, seen from the side that the motor stands on."""

from __future__ import annotations

from functools import partial

from mountcalc.drafting.drawing import Drawing
from mountcalc.drafting.items import Layer
from mountcalc.draw.along.stack import along_stack
from mountcalc.draw.boards.side import (
    Meeting,
    across_remark,
    board_sizes,
    meeting_on_plate,
    template_size,
)
from mountcalc.draw.boards.template import (
    Board,
    FootSlot,
    adjuster_across,
    board_drawn,
    board_wishes,
    foot_slots,
    meeting_wish,
    say_board,
    with_names,
)
from mountcalc.draw.build import Build, motor_size
from mountcalc.draw.keep_outs import keep_out_cautions
from mountcalc.draw.remarks import LEFT, RIGHT, Remarks
from mountcalc.draw.views import Wish, drawing_of, with_glance
from mountcalc.pages.amounts import bench_size
from mountcalc.scenario.drawn_plate import plate_line
from mountcalc.scenario.model import AdjusterKind


def plate_template(build: Build) -> Drawing:
    """The hinged plate, ready to be sawn, drilled and let in."""
    board, remarks = _board(build), Remarks(build.display)
    wishes: list[Wish] = []
    if board.slots:
        size = bench_size(board.slots[0].width, board.slots[0].length, build.display)
        corners = tuple(corner for slot in board.slots for corner in slot.corners)
        wishes.append((corners, f"foot slots {size}"))
    is_drilled = board.hole is Layer.DRILL
    wishes += meeting_wish(board, "" if is_drilled else "not to be drilled here: under the motor")
    wishes += board_wishes(board, build.display)
    _say(remarks, build, board)
    remarks.facts |= board.facts | {"leaf_depth": board.leaves[0].depth}
    if board.slots:
        first, second = board.slots[:2]
        middle = 0.5 * (first.centre[1] + second.centre[1])
        slot = {"slot_width": first.width, "slot_length": first.length, "shaft_line": middle}
        remarks.facts |= slot
    side = RIGHT if build.frame.pulley_side > 0 else LEFT
    drawn = partial(board_drawn, board, build.display)
    template = drawing_of(build, remarks, "plate", with_names(board, wishes, drawn(1.0)), side)
    return with_glance(template, drawn, lambda _: wishes)


def _board(build: Build) -> Board:
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
    length, across = parts.plate.length, adjuster_across(build, frame.pulley_side)
    return Board(
        sizes,
        max(ends) + sizes.beyond if length is None else length,
        meeting,
        across,
        slots,
        hole=Layer.EDGE if _drills_into_motor(build, meeting) else Layer.DRILL,
    )


def _drills_into_motor(build: Build, meeting: Meeting | None) -> bool:
    """Whether a bolt's hole in the plate would come out under the motor."""
    motor, frame = motor_size(build), build.scenario.parts.frame
    if meeting is None or meeting.kind != "hole":
        return False
    across, shaft = build.scenario.adjuster.across, build.scenario.motor.shaft
    half = max(motor.half_feet, motor.body) + 0.5 * (meeting.diameter or 0)
    if abs(meeting.at - build.frame.distance(shaft)) >= half:
        return False
    if frame is None:
        return across is None
    # Counted from the middle of the feet, towards the pulley's end of the shaft.
    front = 0.5 * max(frame.feet_along) + frame.shoulder_to_foot
    return front - frame.body_length < (across or 0.0) < front


def _say(remarks: Remarks, build: Build, board: Board) -> None:
    """How the plate is made; what does not fit on it, or together with what else is said."""
    parts, sizes, meeting, slots = build.scenario.parts, board.sizes, board.meeting, board.slots
    plate, edge, depth = parts.plate, sizes.hinges.edge, board.leaves[0].depth
    layers, line = plate.layers or 1, plate_line(build.scenario)
    remarks.say(
        "boards.material",
        material=plate.material or "wood (plate.material is not given)",
        thick=sizes.thickness,
        sure="" if plate.thickness is not None else f"({template_size(build, 'thickness').sure}) ",
        made="in one layer" if layers == 1 else f"in {layers} layers glued together",
    )
    if board.hole is not Layer.DRILL:
        remarks.say("boards.under_the_motor")
    standing = ("the plate", "the motor", "the bolt", "the link")
    remarks.cautions_of(keep_out_cautions(build, *standing))
    if any(
        not (0.5 * slot.length < slot.centre[0] < sizes.width - 0.5 * slot.length)
        or not 0 < slot.centre[1] - 0.5 * slot.width < slot.centre[1] < board.length
        for slot in slots
    ):
        remarks.say("boards.feet_off_the_plate")
    if any(slot.centre[1] - slot.width < depth for slot in slots):
        remarks.say("boards.feet_over_leaves")
    if meeting is not None and not edge < meeting.low <= meeting.high < board.length + edge:
        ends = dict.fromkeys(build.bench(one - edge) for one in (meeting.low, meeting.high))
        remarks.say("boards.adjuster_off_the_plate", places=" to ".join(ends))
    if sizes.hinges.number * sizes.hinges.leaf_length > sizes.width:
        remarks.say("boards.hinges_too_wide")
    if plate.thickness is not None and sizes.hinges.mortise >= plate.thickness:
        remarks.say("boards.leaves_through")
    say_board(remarks, build, board, plate.thickness, "plate")
    remarks.say("boards.motor_face", taken_from=line.taken_from.value, height=line.shaft_height)
    _say_feet(remarks, build, slots)
    if meeting is not None:
        remarks.add([across_remark(build), *meeting.remarks])
        if meeting.kind == "hole" and meeting.diameter is None:
            remarks.say("boards.hole_unknown")
    elif build.scenario.adjuster.kind is not AdjusterKind.NONE:
        remarks.say("boards.bolt_along_the_plate")
    remarks.notes_of(build.swing.notes)
    needed = {
        "alignment": parts.frame is not None,
        "length_beyond": plate.length is None,
        "pad": meeting is not None and meeting.kind == "pad",
    }
    remarks.notes_of(sizes.notes([name for name, one in needed.items() if not one]))


def _say_feet(remarks: Remarks, build: Build, slots: tuple[FootSlot, ...]) -> None:
    frame, stack = build.scenario.parts.frame, along_stack(build)
    if frame is None or not slots:
        remarks.say("boards.no_frame")
        return
    along = " and ".join(map(build.bench, frame.feet_along))
    remarks.say("boards.feet", frame=frame, along=along, extra=slots[0].extra)
    if stack is not None and stack.motor_face is not None and stack.motor_middle is not None:
        feet = stack.motor_face - frame.shoulder_to_foot - 0.5 * max(frame.feet_along)
        remarks.say("boards.pulley_over_the_feet", off=stack.motor_middle - feet)
