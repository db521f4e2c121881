"""What is said beside the templates of both boards, and of the plate."""

from __future__ import annotations

from mountcalc.draw.along.stack import along_stack
from mountcalc.draw.boards.sheet import Board, FootSlot
from mountcalc.draw.boards.side import across_remark, meeting_on_plate
from mountcalc.draw.boards.sizes import board_sizes, template_size
from mountcalc.draw.build import Build
from mountcalc.draw.remarks import LEFT, UNITS, Remarks, bare
from mountcalc.scenario.drawn_plate import plate_line
from mountcalc.scenario.model import AdjusterKind


def say_board(remarks: Remarks, build: Build, board: Board) -> None:
    """Grain, datum edges, and how the hinges sit on a board."""
    remarks.note("boards.datum_edges", side=LEFT)
    remarks.note("boards.hinge_axis", edge=board.hinges.edge)
    remarks.note("boards.screw_rows", row=min(y for _, y in board.leaves[0].screws))
    rows: dict[str, list[float]] = {}
    for leaf in board.leaves:
        for across, up in leaf.screws:
            rows.setdefault(build.bench(up), []).append(across)
    listed = sorted(rows, key=lambda row: len(rows[row]), reverse=True)
    places = (f"{bare(rows[row], build.display)} ({row} from the hinged edge)" for row in listed)
    remarks.note(
        "boards.screw_centres", unit=UNITS[build.display], side=LEFT, places="; ".join(places)
    )
    remarks.note("boards.pilot_holes", pilot=board.hinges.pilot)


def say_screws(remarks: Remarks, build: Build, given: float | None, board: str) -> None:
    """Warn of hinge screws that come out of the other face of a board so thick [m]."""
    screw = build.scenario.parts.hinges.screw
    thick = template_size(build, "thickness").value if given is None else given
    if screw is not None and screw.length is not None and screw.length > thick:
        remarks.caution(
            "boards.hinge_screws",
            screw=screw.name,
            board=board,
            taken="taken " if given is None else "",
            thick=thick,
        )


def say_plate(remarks: Remarks, build: Build, board: Board, slots: tuple[FootSlot, ...]) -> None:
    """How the plate is made."""
    plate, meeting = build.scenario.parts.plate, meeting_on_plate(build)
    layers = plate.layers or 1
    remarks.note(
        "boards.material",
        material=plate.material or "wood (plate.material is not given)",
        thick=board_sizes(build).thickness,
        sure="" if plate.thickness is not None else f"({template_size(build, 'thickness').sure}) ",
        made="in one layer" if layers == 1 else f"in {layers} layers glued together",
    )
    say_board(remarks, build, board)
    line = plate_line(build.scenario)
    remarks.note("boards.motor_face", taken_from=line.taken_from.value, height=line.shaft_height)
    _say_feet(remarks, build, slots)
    if meeting is not None:
        remarks.add([across_remark(build)])
        remarks.add(meeting.remarks)
        if meeting.kind == "hole" and meeting.diameter is None:
            remarks.note("boards.hole_unknown")
    elif build.scenario.adjuster.kind is not AdjusterKind.NONE:
        remarks.note("boards.bolt_along_the_plate")


def _say_feet(remarks: Remarks, build: Build, slots: tuple[FootSlot, ...]) -> None:
    frame, stack = build.scenario.parts.frame, along_stack(build)
    if frame is None or not slots:
        remarks.note("boards.no_frame")
        return
    along = " and ".join(map(build.bench, frame.feet_along))
    remarks.note("boards.feet", frame=frame, along=along, extra=slots[0].extra)
    if stack is None or stack.motor_face is None or stack.motor_middle is None:
        return
    feet = stack.motor_face - frame.shoulder_to_foot - 0.5 * max(frame.feet_along)
    remarks.note("boards.pulley_over_the_feet", off=stack.motor_middle - feet)


def say_plate_cautions(
    remarks: Remarks, build: Build, board: Board, slots: tuple[FootSlot, ...]
) -> None:
    """What does not fit on the plate, or together with what else the scenario says."""
    edge, meeting, plate = board.hinges.edge, meeting_on_plate(build), build.scenario.parts.plate
    if any(not _stands_on(board, slot) for slot in slots):
        remarks.caution("boards.feet_off_the_plate")
    if slots and min(slot.centre[1] - slot.width for slot in slots) < board.leaves[0].depth:
        remarks.caution("boards.feet_over_leaves")
    if meeting is not None and not edge < meeting.low <= meeting.high < board.length + edge:
        ends = dict.fromkeys(build.bench(one - edge) for one in (meeting.low, meeting.high))
        remarks.caution("boards.adjuster_off_the_plate", places=" to ".join(ends))
    if board.hinges.number * board.hinges.leaf_length > board.width:
        remarks.caution("boards.hinges_too_wide")
    if plate.thickness is not None and board.hinges.mortise >= plate.thickness:
        remarks.caution("boards.leaves_through")
    say_screws(remarks, build, plate.thickness, "plate")


def _stands_on(board: Board, slot: FootSlot) -> bool:
    (x, y), half = slot.centre, 0.5 * slot.length
    on_width = half < x < board.width - half
    return on_width and 0 < y - 0.5 * slot.width < y < board.length
