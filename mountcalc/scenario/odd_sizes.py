"""Sizes of hardware, and places along the shafts, that are unlikely beside one another."""

from __future__ import annotations

import math
from collections.abc import Iterator

from mountcalc.handbook.hardware import Face
from mountcalc.handbook.wood import wood
from mountcalc.scenario.drawn_plate import DrawnPlate
from mountcalc.scenario.text.threads import bolt_diameter
from mountcalc.units import STANDARD_GRAVITY, si_factor

_OUT_OF_PLANE = 0.1  # of the distance of the shafts (estimate): a dozen times what may pass
_LONGEST_SHAFT = 0.3  # [m] (estimate)
_APART = 2.0  # diameters of a screw (estimate)
# A plate's weight over that of its board, with all that may be fixed to it (estimates).
_LIGHT, _HEAVY = 0.3, 8.0
_FILLS = 0.6  # of a foot's hole (estimate)
_NUT = 0.8  # height of a nut, in diameters (ISO 4032)


def odd_sizes(plate: DrawnPlate) -> Iterator[tuple[str, str]]:
    """What is unlikely: the key to look at first, and a sentence without its full stop."""
    yield from _along_shafts(plate)
    yield from _screws(plate)
    yield from _feet(plate)
    yield from _weight(plate)


def _along_shafts(plate: DrawnPlate) -> Iterator[tuple[str, str]]:
    """Both pulleys are in one plane, and the motor's is on its shaft."""
    scenario, along = plate.scenario, plate.scenario.parts.along
    at = along.motor_pulley
    if at is None:
        return
    apart = abs(at - scenario.driven.pulley_position)
    if apart > _OUT_OF_PLANE * math.dist(scenario.motor.shaft, scenario.driven.shaft):
        yield (
            "motor.pulley_position",
            f"the pulleys are {plate.write(apart)} apart along the shafts: the belt would run "
            "askew, and climb out",
        )
    if along.motor_face is not None and abs(at - along.motor_face) > _LONGEST_SHAFT:
        yield (
            "motor.face_position",
            f"the motor's pulley is {plate.write(abs(at - along.motor_face))} from the shoulder of "
            "its shaft: no such motor's shaft is so long (estimate)",
        )


def _screws(plate: DrawnPlate) -> Iterator[tuple[str, str]]:
    """The screws of a leaf have wood between them; those that go through a board take a nut."""
    scenario, hinges = plate.scenario, plate.scenario.parts.hinges
    boards = (
        ("plate", hinges.into_plate, scenario.parts.plate.thickness),
        ("base", hinges.into_base, scenario.parts.base.thickness),
    )
    for board, into, thick in boards:
        screw = hinges.screw_into(board)
        key = "hinge.base_screw" if board == "base" and hinges.base_screw else "hinge.screw"
        if screw is None:
            continue
        count, leaf = hinges.screws_per_leaf, hinges.leaf_length
        is_told = board == "base" and hinges.base_screw is None
        if count and leaf and leaf / count < _APART * screw.diameter and not is_told:
            yield (
                "hinge.screws_per_leaf",
                f"{count} screws {screw.name} on a leaf {plate.write(leaf)} long are less than "
                "twice their thickness apart: the wood splits (estimate)",
            )
        through = into is Face.THROUGH and screw.length is not None and thick is not None
        if through and screw.length <= thick + _NUT * screw.diameter:  # type: ignore[operator]
            yield (
                key,
                f"{screw.name} is too short to take a nut behind the {board}, which is "
                f"{plate.write(thick or 0.0)} thick",
            )


def _feet(plate: DrawnPlate) -> Iterator[tuple[str, str]]:
    """The bolts of the feet fill their holes."""
    thread, frame = plate.scenario.parts.feet.bolt, plate.scenario.parts.frame
    across = None if thread is None else bolt_diameter(thread)
    if thread is None or across is None or frame is None or across >= _FILLS * frame.hole:
        return
    yield (
        "feet.bolt",
        f"{thread.name} is thin in the feet's holes of {plate.write(frame.hole)} (frame "
        f"{frame.name}): the motor creeps under it as it runs",
    )


def _weight(plate: DrawnPlate) -> Iterator[tuple[str, str]]:
    """The plate weighs about what its board does."""
    board, given = plate.scenario.parts.plate, plate.scenario.plate.weight
    if not given or None in (board.material, board.length, board.width, board.thickness):
        return
    known = wood(board.material or "", board.thickness)
    if known is None:
        return
    volume = (board.length or 0.0) * (board.width or 0.0) * (board.thickness or 0.0)
    # Of what it is dry; moisture adds an eighth.
    reckoned = 1125.0 * known.gravity.value * volume
    times = given / STANDARD_GRAVITY / reckoned
    if not _LIGHT <= times <= _HEAVY:
        yield (
            "plate.weight",
            f"the plate weighs {times:.2g} times what {known.name} of its size does, about "
            f"{reckoned:.2g} kg ({reckoned / si_factor('lb'):.2g} lb)",
        )
