"""What is said beside the templates of both boards, and of the plate."""

from __future__ import annotations

from mountcalc.draw.along.stack import along_stack
from mountcalc.draw.boards.sheet import Board, FootSlot
from mountcalc.draw.boards.side import across_words, meeting_on_plate
from mountcalc.draw.boards.sizes import board_sizes, template_size
from mountcalc.draw.build import Build
from mountcalc.draw.remarks import LEFT, UNITS, Remarks, bare
from mountcalc.scenario.drawn_plate import BoardFrame, plate_line
from mountcalc.scenario.model import AdjusterKind

__all__ = ["say_board", "say_plate", "say_plate_cautions", "say_screws", "view_of"]


def view_of(words: str, frame: BoardFrame) -> tuple[str, dict[str, str]]:
    """A view's name that tells the pulley's side, and what it is in a mirrored copy."""
    sides = ("right", "left") if frame.pulley_side > 0 else ("left", "right")
    here, other = (words.format(side=side) for side in sides)
    return here, {here: other}


def say_board(remarks: Remarks, build: Build, board: Board) -> None:
    """Grain, datum edges, and how the hinges sit on a board."""
    remarks.note(
        "datum edges",
        "Grain along the long side. Measure from the two datum edges, the hinged one and the "
        "{side} one: shoot them straight and square first.",
        side=LEFT,
    )
    remarks.note(
        "hinge's axis",
        "The hinge's axis is {edge:bench} outside the hinged edge, half a knuckle (estimate), in "
        "the plane of this face.",
        edge=board.hinges.edge,
    )
    remarks.note(
        "screw rows",
        "Screws in two rows by turns (common practice), the nearer {row:bench} from the edge; "
        "drill by the holes of the leaf itself where they are elsewhere.",
        row=min(y for _, y in board.leaves[0].screws),
    )
    rows: dict[str, list[float]] = {}
    for leaf in board.leaves:
        for across, up in leaf.screws:
            rows.setdefault(build.bench(up), []).append(across)
    listed = sorted(rows, key=lambda row: len(rows[row]), reverse=True)
    places = (f"{bare(rows[row], build.display)} ({row} from the hinged edge)" for row in listed)
    remarks.note(
        "screw centres",
        "Screw centres, in {unit} from the {side} datum edge: {places}.",
        unit=UNITS[build.display],
        side=LEFT,
        places="; ".join(places),
    )
    remarks.note(
        "pilot holes",
        "Pilot holes of {pilot:bench} go by the screw's diameter, and the outer leaves stand half "
        "a leaf from the ends where there is room (estimates).",
        pilot=board.hinges.pilot,
    )


def say_screws(remarks: Remarks, build: Build, given: float | None, board: str) -> None:
    """Warn of hinge screws that come out of the other face of a board so thick [m]."""
    screw = build.scenario.parts.hinges.screw
    thick = template_size(build, "thickness").value if given is None else given
    if screw is not None and screw.length is not None and screw.length > thick:
        remarks.caution(
            "hinge screws",
            "The hinge's screws, {screw}, are longer than the {board} is {taken}thick, "
            "{thick:bench}: they come out of its other face.",
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
        "material",
        "Plate of {material}, {thick:bench} thick {sure}{made}.",
        material=plate.material or "wood (plate.material is not given)",
        thick=board_sizes(build).thickness,
        sure="" if plate.thickness is not None else f"({template_size(build, 'thickness').sure}) ",
        made="in one layer" if layers == 1 else f"in {layers} layers glued together",
    )
    say_board(remarks, build, board)
    line = plate_line(build.scenario)
    remarks.note(
        "motor's face",
        "The face that the motor stands on runs as {taken_from} has it, through the hinge's axis; "
        "the motor's shaft is {height:bench} above it.",
        taken_from=line.taken_from.value,
        height=line.shaft_height,
    )
    _say_feet(remarks, build, slots)
    if meeting is not None:
        remarks.note("across", text=across_words(build))
        remarks.add(meeting.remarks)
        if meeting.kind == "hole" and meeting.diameter is None:
            remarks.note(
                "bolt's hole",
                "The thread's name does not tell its diameter: the bolt's hole is only a mark.",
            )
    elif build.scenario.adjuster.kind is not AdjusterKind.NONE:
        remarks.note("bolt's hole", "The bolt runs along the plate: no hole is drawn for it.")


def _say_feet(remarks: Remarks, build: Build, slots: tuple[FootSlot, ...]) -> None:
    frame, stack = build.scenario.parts.frame, along_stack(build)
    if frame is None or not slots:
        remarks.note(
            "feet", "motor.frame is not given: the slots for the motor's feet are not drawn."
        )
        return
    remarks.note(
        "feet",
        "Feet of frame {name} ({source}, {sure}): {across:bench} along the plate, {along} along "
        "the shaft. The slots are {extra:bench} longer to each side, along the shaft, to bring the "
        "pulleys into one plane.",
        name=frame.name,
        source=frame.source,
        sure=frame.sure,
        across=frame.feet_across,
        along=" and ".join(map(build.bench, frame.feet_along)),
        extra=slots[0].extra,
    )
    if stack is None or stack.motor_face is None or stack.motor_middle is None:
        return
    feet = stack.motor_face - frame.shoulder_to_foot - 0.5 * max(frame.feet_along)
    remarks.note(
        "pulley over the feet",
        "With the feet in the middle of the slots, the pulley's middle is {off:bench} from the "
        "middle of the plate's width, towards the shaft's end.",
        off=stack.motor_middle - feet,
    )


def say_plate_cautions(
    remarks: Remarks, build: Build, board: Board, slots: tuple[FootSlot, ...]
) -> None:
    """What does not fit on the plate, or together with what else the scenario says."""
    edge, meeting, plate = board.hinges.edge, meeting_on_plate(build), build.scenario.parts.plate
    if any(not _stands_on(board, slot) for slot in slots):
        remarks.caution(
            "feet", "The motor's feet do not stand on the plate as it is: change its size."
        )
    if slots and min(slot.centre[1] - slot.width for slot in slots) < board.leaves[0].depth:
        remarks.caution(
            "feet", "The motor's feet come over the leaves of the hinges: sink their screws."
        )
    if meeting is not None and not edge < meeting.low <= meeting.high < board.length + edge:
        ends = dict.fromkeys(build.bench(one - edge) for one in (meeting.low, meeting.high))
        remarks.caution(
            "adjuster",
            "The adjuster meets the plate {places} from the hinged edge: off the board as it is.",
            places=" to ".join(ends),
        )
    if board.hinges.number * board.hinges.leaf_length > board.width:
        remarks.caution(
            "hinges",
            "The hinges do not fit side by side on the board: change their number or its width.",
        )
    if plate.thickness is not None and board.hinges.mortise >= plate.thickness:
        remarks.caution("hinges", "The leaves would be let in through the whole board.")
    say_screws(remarks, build, plate.thickness, "plate")


def _stands_on(board: Board, slot: FootSlot) -> bool:
    (x, y), half = slot.centre, 0.5 * slot.length
    on_width = half < x < board.width - half
    return on_width and 0 < y - 0.5 * slot.width < y < board.length
