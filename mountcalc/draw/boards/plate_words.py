"""What is said beside the plate's template."""

from __future__ import annotations

from collections.abc import Iterator

from mountcalc.draw.along.stack import along_stack
from mountcalc.draw.boards.bolt_across import across_words
from mountcalc.draw.boards.centre_lists import screw_note
from mountcalc.draw.boards.foot_slots import FootSlot
from mountcalc.draw.boards.plate_adjuster import Meeting
from mountcalc.draw.boards.sheet import Board
from mountcalc.draw.boards.sizes import template_size
from mountcalc.draw.build import Build
from mountcalc.pages.bench_lengths import bench_length
from mountcalc.scenario.drawn_plate import plate_line
from mountcalc.scenario.model import AdjusterKind

__all__ = [
    "datum_note",
    "hinge_notes",
    "notes_of_other_hand",
    "plate_notes",
]


def plate_notes(
    build: Build, board: Board, slots: tuple[FootSlot, ...], meeting: Meeting | None
) -> tuple[str, ...]:
    """How the plate is made."""
    display = build.display
    line = plate_line(build.scenario)
    return (
        _material(build),
        datum_note("left"),
        *hinge_notes(build, board),
        f"The face that the motor stands on runs as {line.taken_from.value} has it, through the "
        f"hinge's axis; the motor's shaft is {bench_length(line.shaft_height, display)} above it.",
        *_feet(build, slots),
        *([] if meeting is None else _meeting(build, meeting)),
        *_no_meeting(build, meeting),
    )


def datum_note(side: str) -> str:
    """Grain and datum edges, the second of which is at a ``side`` of the picture."""
    return (
        "Grain along the long side. Measure from the two datum edges, the hinged one and the "
        f"{side} one: shoot them straight and square first."
    )


def hinge_notes(build: Build, board: Board) -> tuple[str, ...]:
    """How the hinges sit on a board."""
    display, sizes = build.display, board.hinges
    row = min(y for _, y in board.leaves[0].screws)
    return (
        f"The hinge's axis is {bench_length(sizes.edge, display)} outside the hinged edge, half a "
        "knuckle (estimate), in the plane of this face.",
        f"Screws in two rows by turns (common practice), the nearer {bench_length(row, display)} "
        "from the edge; drill by the holes of the leaf itself where they are elsewhere.",
        screw_note(board.leaves, "left", display),
        f"Pilot holes of {bench_length(sizes.pilot, display)} go by the screw's diameter, and the "
        "outer leaves stand half a leaf from the ends where there is room (estimates).",
    )


def notes_of_other_hand(build: Build, board: Board) -> dict[str, str]:
    """What the notes that name a side of the picture say in a mirrored copy."""
    left, right = (
        (datum_note(side), screw_note(board.leaves, side, build.display))
        for side in ("left", "right")
    )
    return dict(zip(left, right, strict=True))


def _material(build: Build) -> str:
    plate, display = build.scenario.parts.plate, build.display
    if plate.thickness is None:
        taken = template_size(build.scenario, "thickness")
        thick = f"{bench_length(taken.value, display)} thick ({taken.sure})"
    else:
        thick = f"{bench_length(plate.thickness, display)} thick"
    layers = plate.layers or 1
    made = "in one layer" if layers == 1 else f"in {layers} layers glued together"
    return f"Plate of {plate.material or 'wood (plate.material is not given)'}, {thick} {made}."


def _feet(build: Build, slots: tuple[FootSlot, ...]) -> Iterator[str]:
    display, frame = build.display, build.scenario.parts.frame
    if frame is None or not slots:
        yield "motor.frame is not given: the slots for the motor's feet are not drawn."
        return
    extra = bench_length(slots[0].extra, display)
    across, along = (
        bench_length(frame.feet_across, display),
        " and ".join(bench_length(one, display) for one in frame.feet_along),
    )
    yield (
        f"Feet of frame {frame.name} ({frame.source}, {frame.sure}): {across} along the plate, "
        f"{along} along the shaft. The slots are {extra} longer to each side, along the shaft, to "
        "bring the pulleys into one plane."
    )
    yield from _pulley(build)


def _pulley(build: Build) -> Iterator[str]:
    """Where the pulley's middle is over the plate, from the middle of its width."""
    stack, frame, display = along_stack(build), build.scenario.parts.frame, build.display
    if frame is None or stack is None or stack.motor_face is None or stack.motor_middle is None:
        return
    feet = stack.motor_face - frame.shoulder_to_foot - 0.5 * max(frame.feet_along)
    yield (
        f"With the feet in the middle of the slots, the pulley's middle is "
        f"{bench_length(stack.motor_middle - feet, display)} from the middle of the plate's width, "
        "towards the shaft's end."
    )


def _meeting(build: Build, meeting: Meeting) -> Iterator[str]:
    yield across_words(build)
    yield from meeting.notes


def _no_meeting(build: Build, meeting: Meeting | None) -> Iterator[str]:
    if meeting is None and build.scenario.adjuster.kind is not AdjusterKind.NONE:
        yield "The bolt runs along the plate: no hole is drawn for it."
    if meeting is not None and meeting.kind == "hole" and meeting.diameter is None:
        yield "The thread's name does not tell its diameter: the bolt's hole is only a mark."
