"""The templates of both boards: the hinged plate from its motor's side, the base from the plate."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import partial
from itertools import chain

from mountcalc.drafting.dimensions import SAME, Baseline, Run, baselines
from mountcalc.drafting.drawing import Drawing
from mountcalc.drafting.items import Bounds, Item, Layer
from mountcalc.drafting.names.callouts import callouts
from mountcalc.draw.along.stack import along_stack
from mountcalc.draw.boards.board import FIRST, Board, FootSlot, box, foot_slots, say_board
from mountcalc.draw.boards.section import (
    adjuster_line,
    base_section,
    base_stands,
    is_one_face,
    say_base_caution,
    say_base_places,
    side_of,
    way_of,
)
from mountcalc.draw.boards.side import (
    Meeting,
    across_remark,
    board_side,
    board_sizes,
    meeting_on,
    meeting_on_plate,
    taken_notes,
    template_size,
)
from mountcalc.draw.build import Build, motor_size
from mountcalc.draw.keep_outs import keep_out_cautions
from mountcalc.draw.remarks import LEFT, RIGHT, Remark, Remarks
from mountcalc.draw.views import Wish, drawing_of, with_glance
from mountcalc.handbook.hardware import Face
from mountcalc.pages.amounts import bench_size
from mountcalc.scenario.drawn_plate import plate_line
from mountcalc.scenario.hardware import Joined
from mountcalc.scenario.model import AdjusterKind
from mountcalc.scenario.text.writing import Display

_METAL = 2.0  # half a block over the metal around a bolt's tip (estimate)
_SAW = 0.004  # between strip and block where they come near [m]
_APART = 0.045  # between them where the block is not at its distance: room for dimensions [m]


def plate_template(build: Build) -> Drawing:
    """The hinged plate, ready to be sawn, drilled and let in."""
    board, remarks = plate_board(build), Remarks(build.display)
    wishes: list[Wish] = []
    if board.slots:
        size = bench_size(board.slots[0].width, board.slots[0].length, build.display)
        corners = tuple(corner for slot in board.slots for corner in slot.corners)
        wishes.append((corners, f"foot slots {size}"))
    is_drilled = board.hole is Layer.DRILL
    wishes += board.meeting_wish("" if is_drilled else "not to be drilled here: under the motor")
    wishes += board.wishes(build.display)
    _say_plate(remarks, build, board)
    remarks.facts |= board.facts | {"leaf_depth": board.leaves[0].depth}
    if board.slots:
        first, second = board.slots[:2]
        middle = 0.5 * (first.centre[1] + second.centre[1])
        slot = {"slot_width": first.width, "slot_length": first.length, "shaft_line": middle}
        remarks.facts |= slot
    side = RIGHT if build.frame.pulley_side > 0 else LEFT
    drawn = partial(board.drawn, build.display)
    template = drawing_of(build, remarks, "plate", board.with_names(wishes, drawn(1.0)), side)
    return with_glance(template, drawn, lambda _: wishes)


def plate_board(build: Build) -> Board:
    """The plate as its template has it."""
    parts, sizes, frame = build.scenario.parts, board_sizes(build), build.frame
    meeting, edge = meeting_on_plate(build), sizes.edge
    shaft = frame.distance(build.scenario.motor.shaft) - edge
    slots: tuple[FootSlot, ...] = ()
    if parts.frame is not None:
        feet = frame.pulley_side * (parts.along.motor_feet or 0.0)
        middle = 0.5 * sizes.width + feet, shaft
        slots = foot_slots(parts.frame, middle, frame.pulley_side, sizes.alignment)
    return Board(
        sizes,
        board_side(build).length - edge,
        meeting,
        _across(build, frame.pulley_side),
        slots,
        hole=Layer.EDGE if _drills_into_motor(build, meeting) else Layer.DRILL,
        through=_through(build, "plate", parts.hinges.into_plate),
        into_edge=_into_edge(build, "plate", parts.hinges.into_plate),
        pulley_side=frame.pulley_side,
        grain=parts.plate.grain,
    )


def _through(build: Build, board: str, face: Face | None) -> float | None:
    """Diameter of the holes for leaves that are bolted through a board [m]."""
    screw = build.scenario.parts.hinges.screw_into(board)
    if face is not Face.THROUGH:
        return None
    size = template_size(build, "screw_diameter").value if screw is None else screw.diameter
    return size + template_size(build, "bolt_clearance").value


def _into_edge(build: Build, board: str, face: Face | None) -> float | None:
    """How far screws go into a hinged edge: as a leaf is wide where that is not known."""
    if face not in {Face.EDGE, Face.END}:
        return None
    sizes, screw = board_sizes(build), build.scenario.parts.hinges.screw_into(board)
    length = None if screw is None else screw.length
    return sizes.leaf_width if length is None else length - sizes.leaf_thickness + sizes.mortise


def _across(build: Build, pulley_side: int) -> tuple[float, ...]:
    """How far each bolt stands from the left edge of a board [m]."""
    half, places = 0.5 * board_sizes(build).width, build.scenario.adjuster.places
    return tuple(half + pulley_side * one for one in places)


def _drills_into_motor(build: Build, meeting: Meeting | None) -> bool:
    """Whether a bolt's hole in the plate would come out under the motor."""
    motor, frame = motor_size(build), build.scenario.parts.frame
    if meeting is None or meeting.kind != "hole":
        return False
    adjuster, shaft = build.scenario.adjuster, build.scenario.motor.shaft
    half = max(motor.half_feet, motor.body) + 0.5 * (meeting.diameter or 0)
    if abs(meeting.at - build.frame.distance(shaft)) >= half:
        return False
    if frame is None:
        return adjuster.across is None
    # Counted from the middle of the feet, towards the pulley's end of the shaft.
    front = 0.5 * max(frame.feet_along) + frame.shoulder_to_foot
    front += build.scenario.parts.along.motor_feet or 0.0
    return any(front - frame.body_length < one < front for one in adjuster.places)


def _say_plate(remarks: Remarks, build: Build, board: Board) -> None:
    """How the plate is made; what does not fit on it, or together with what else is said."""
    parts, sizes, meeting, slots = build.scenario.parts, board.sizes, board.meeting, board.slots
    plate, edge, depth = parts.plate, sizes.edge, board.leaves[0].depth
    layers, line = plate.layers or 1, plate_line(build.scenario)
    remarks.say(
        "boards.material",
        material=plate.material or "wood (plate.material is not given)",
        thick=sizes.thickness,
        sure="" if plate.thickness is not None else f"({template_size(build, 'thickness').sure}) ",
        made="in one layer"
        if layers == 1
        else f"in {layers} layers {plate.joined or Joined.GLUED} together",
    )
    if board.hole is not Layer.DRILL:
        remarks.say("boards.under_the_motor")
    standing = ("the plate", "the motor", "the bolt", "the link")
    remarks.cautions_of(keep_out_cautions(build, *standing))
    low, high = (edge, edge) if meeting is None else (meeting.low, meeting.high)
    is_off = meeting is not None and not edge < low <= high < board.length + edge
    wrong = {
        "feet_off_the_plate": any(
            not (0.5 * slot.length < slot.centre[0] < sizes.width - 0.5 * slot.length)
            or not 0 < slot.centre[1] - 0.5 * slot.width < slot.centre[1] < board.length
            for slot in slots
        ),
        "feet_over_leaves": any(slot.centre[1] - slot.width < depth for slot in slots),
        "adjuster_off_the_plate": is_off,
        "hinges_too_wide": sizes.number * sizes.leaf_length > sizes.width,
        "leaves_through": board.into_edge is None
        and sizes.mortise >= (plate.thickness or math.inf),
    }
    places = " to ".join(dict.fromkeys(build.bench(one - edge) for one in (low, high)))
    for key in (key for key, is_so in wrong.items() if is_so):
        remarks.say(f"boards.{key}", places=places)
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
    remarks.notes_of(taken_notes(build, sizes, [name for name, one in needed.items() if not one]))


def _say_feet(remarks: Remarks, build: Build, slots: tuple[FootSlot, ...]) -> None:
    frame, stack = build.scenario.parts.frame, along_stack(build)
    if frame is None or not slots:
        remarks.say("boards.no_frame")
        return
    along = " and ".join(map(build.bench, frame.feet_along))
    remarks.say("boards.feet", frame=frame, along=along, extra=slots[0].extra)
    if stack is not None and stack.plate is not None and stack.motor_middle is not None:
        off = stack.motor_middle - 0.5 * sum(stack.plate)
        remarks.say("boards.pulley_over_the_feet", off=off)


def base_template(build: Build) -> Drawing:
    """The board that carries the hinges' other leaves, and the adjuster's fixed end."""
    display, board, remarks = build.display, base_board(build, 1.0), Remarks(build.display)
    _say_base(remarks, build, board)
    remarks.facts |= board.facts
    if board.block is not None and board.meeting is not None:
        across, up = board.meeting.from_axis
        remarks.facts |= {"block_across": across, "block_up": up}

    def drawn(scale: float) -> list[Item]:
        one = base_board(build, scale)
        return [*one.drawn(display, scale), *_block_items(one, display, scale)]

    def wishes(scale: float) -> list[Wish]:
        return list(chain(*_base_wishes(build, base_board(build, scale))))

    # At true scale names stay on their piece, so that they cost no sheet.
    on_board, (own, of_base) = board.drawn(display, 1.0), _base_wishes(build, board)
    if board.block is None:
        items = board.with_names([*own, *of_base], on_board)
    else:
        beside = _block_items(board, display, 1.0)
        _, low, _, high = board.block
        around = (0.0, low - FIRST, board.sizes.width, high + FIRST)
        names = callouts(own, [*board.met(), *beside], 1.0, around)
        items = (*board.with_names(of_base, on_board), *beside, *names)
    side = RIGHT if base_section(build).frame.pulley_side > 0 else LEFT
    return with_glance(drawing_of(build, remarks, "base", items, side), drawn, wishes)


def base_board(build: Build, scale: float) -> Board:
    """What is drawn, laid out for a scale [-]."""
    section, sizes = base_section(build), board_sizes(build)
    sizes, edge = replace(sizes, pilot=sizes.base_pilot), sizes.edge
    side = section.frame.pulley_side
    through = _through(build, "base", build.scenario.parts.hinges.into_base)
    into_edge = _into_edge(build, "base", build.scenario.parts.hinges.into_base)
    board = Board(
        sizes, section.length - edge, through=through, into_edge=into_edge, pulley_side=side
    )
    of = "base" if section.with_adjuster else "block"
    meeting = meeting_on(build, adjuster_line(build), of)
    if meeting is None:
        return board
    across = _across(build, side)
    if section.with_adjuster:
        return replace(board, meeting=meeting, across=across)
    half = _METAL * max(sizes.pad, template_size(build, "pad").value)
    in_place = is_one_face(section.frame, adjuster_line(build))
    if not in_place:  # it stands at the datum edge, where it costs no further sheet
        across = tuple(half + one - min(across) for one in across)
        away = board.length + _APART * scale + half + edge - meeting.low
        low, at, high = (place + away for place in (meeting.low, meeting.at, meeting.high))
        meeting = replace(meeting, low=low, at=at, high=high)
    bottom, top = max(meeting.low - edge - half, board.length + _SAW), meeting.high - edge + half
    block = min(across) - half, bottom, max(across) + half, top
    return replace(board, meeting=meeting, across=across, block=block, in_place=in_place)


def _block_items(board: Board, display: Display, scale: float) -> list[Item]:
    """The block with its own dimensions."""
    if board.block is None:
        return []
    (left, bottom, right, top), first = board.block, FIRST * scale
    across = Baseline(Run.ACROSS, (left, top), top + first, 1, scale, display)
    up = Baseline(Run.UP, (right, bottom), right + first, 1, scale, display)
    measured = [*board.met_at, (right, top)]
    outline = box(left, bottom, right, top, Layer.CUT)
    return [outline, *baselines(across, measured), *baselines(up, measured)]


def _block_size(build: Build, block: Bounds) -> str:
    left, bottom, right, top = block
    return f"{build.bench(right - left)} x {build.bench(top - bottom)}"


def _base_wishes(build: Build, board: Board) -> tuple[list[Wish], list[Wish]]:
    """What is named of the block, or of where the adjuster meets the base; and of the base."""
    own, of_base = board.meeting_wish(), board.wishes(build.display)
    if board.block is not None:
        where = "" if board.in_place else "; its place is in the notes"
        corners = box(*board.block, Layer.CUT).points
        own.insert(0, (corners, f"block, {_block_size(build, board.block)}{where}"))
        width, length = board.sizes.width, board.length
        edge = tuple((share * width, length) for share in (0.2, 0.3, 0.4, 0.6, 0.7, 0.8))
        size = bench_size(width, length, build.display)
        of_base.insert(0, (edge, f"strip for the hinges, {size}"))
    return own, of_base


def _say_base(remarks: Remarks, build: Build, board: Board) -> None:
    meeting, block, base = board.meeting, board.block, build.scenario.parts.base
    if build.scenario.adjuster.kind is AdjusterKind.NONE:
        remarks.say("base.no_adjuster")
    elif meeting is not None:
        remarks.add(meeting.remarks)
    remarks.add([base_stands(build)])
    say_base_places(remarks, build, meeting if block else None)
    say_base_caution(remarks, build)
    remarks.cautions_of(keep_out_cautions(build, "the base"))
    edge = board.sizes.edge
    if meeting is not None and block is not None:
        remarks.say("base.two_pieces")
        if board.in_place:
            across = " and ".join(build.bench(x) for x, _ in board.met_at)
            remarks.say("base.block_in_place", across=across, up=board.met_at[0][1])
        else:
            _say_block_elsewhere(remarks, build, meeting)
        remarks.say("base.block", size=_block_size(build, block))
    elif meeting is not None and meeting.low <= edge:
        remarks.say("base.adjuster_off_the_base", place=meeting.low - edge)
    say_board(remarks, build, board, base.thickness, "base")
    thick, taken = base.thickness, template_size(build, "thickness")
    remarks.say(
        "base.board",
        thick=taken.value if thick is None else thick,
        taken="taken " if thick is None else "",
        sure=f" ({taken.sure})" if thick is None else "",
    )
    if meeting is not None:
        remarks.add([across_remark(build)])
    remarks.notes_of(build.swing.notes)
    is_pad = meeting is not None and meeting.kind == "pad"
    without = {"alignment", *([] if is_pad else ["pad"])}
    remarks.notes_of(taken_notes(build, board.sizes, without))


def _say_block_elsewhere(remarks: Remarks, build: Build, meeting: Meeting) -> None:
    """Where a block stands, level and plumb, and the way of the bolt or of the face on it."""
    (across, up), adjuster = meeting.from_axis, build.scenario.adjuster
    words, runs = [], ""
    if abs(up) > SAME:
        words.append(f"{build.bench(abs(up))} {'up' if up > 0 else 'down'}")
    if abs(across) > SAME:
        words.append(f"{build.bench(abs(across))} {side_of(build, across)},")
    face = way_of(build, adjuster_line(build).along)
    if meeting.kind == "hole" and adjuster.axis is not None:
        tip = way_of(build, (math.cos(adjuster.axis), math.sin(adjuster.axis)))
        runs = (
            f", and the bolt's tip comes out {tip}: the block stands anywhere along the bolt where "
            f"it is clear of the swing, the face with its hole running {face}"
        )
    elif meeting.kind == "pad":
        runs = f"; the face there runs {face}"
    met = Remark(f"base.{meeting.kind}")
    remarks.say("base.block_elsewhere", met=met, place=" and ".join(words), runs=runs)
