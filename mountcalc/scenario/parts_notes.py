"""What a scenario notes of the parts that are drawn: possible, but it looks wrong."""

from __future__ import annotations

import math

from mountcalc.scenario.model import AdjusterKind, Scenario
from mountcalc.scenario.notes import Notes
from mountcalc.scenario.parts_plate_line import LineFrom, PlateLine, plate_line

__all__ = ["note_parts", "shaft_height_error"]

_FITS = 2e-3  # [m] (estimate): what drawing and measuring by hand may miss


def note_parts(scenario: Scenario, notes: Notes) -> None:
    """Note where parts and drawn points do not fit together.

    Parameters
    ----------
    scenario : Scenario
        All of it but the notes.
    notes : Notes
        That are added to.
    """
    line = plate_line(scenario)
    _note_shaft_height(scenario, line, notes)
    _note_tip(scenario, line, notes)
    _note_sizes(scenario, notes)


def shaft_height_error(scenario: Scenario, line: PlateLine) -> float | None:
    """How far the drawn shaft is from where its frame has it over the plate's face.

    Parameters
    ----------
    scenario : Scenario
        The mount.
    line : PlateLine
        Its plate's.

    Returns
    -------
    float or None [m]
        Above zero where it is drawn too high; None where nothing tells, or where it fits.
    """
    frame = scenario.parts.frame
    if frame is None or line.taken_from is LineFrom.FRAME:
        return None
    error = line.shaft_height - frame.shaft_height - scenario.parts.packing
    return error if abs(error) > _FITS else None


def _note_shaft_height(scenario: Scenario, line: PlateLine, notes: Notes) -> None:
    """The frame's shaft height against the drawn points."""
    frame, packing = scenario.parts.frame, scenario.parts.packing
    if frame is None or line.taken_from is LineFrom.FRAME:
        return
    height = notes.show(frame.shaft_height, "length")
    if packing:
        height += f" and {notes.show(packing, 'length')} of packing"
    if line.taken_from is not LineFrom.GIVEN:
        distance = math.dist(scenario.motor.shaft, scenario.plate.hinge)
        notes.add(
            f"The hinge is drawn {notes.show(distance, 'length')} from the motor's shaft, no more "
            f"than the shaft height of frame {frame.name}, {height}: the hinge's axis cannot lie "
            "in the face that the motor stands on, as is taken; give plate.direction."
        )
    elif shaft_height_error(scenario, line) is not None:
        notes.add(
            f"The motor's shaft is drawn {notes.show(line.shaft_height, 'length')} off the face "
            f"that runs from the hinge along plate.direction; frame {frame.name} has a shaft "
            f"height of {height}. The hinge's axis is taken to lie in the face that the motor "
            "stands on."
        )


def _note_tip(scenario: Scenario, line: PlateLine, notes: Notes) -> None:
    """A screw through the base bears on one face of the plate or the other."""
    tip, thickness = scenario.adjuster.tip, scenario.parts.plate.thickness
    known = line.taken_from in {LineFrom.GIVEN, LineFrom.FRAME}
    if not known or scenario.adjuster.kind is not AdjusterKind.JACK_IN_BASE:
        return
    if tip is None or thickness is None:
        return
    x, y = line.towards_motor
    hinge = scenario.plate.hinge
    height = (tip[0] - hinge[0]) * x + (tip[1] - hinge[1]) * y
    off = min(abs(height), abs(height + thickness))
    if off > _FITS:
        notes.add(
            f"The adjuster's tip is drawn {notes.show(off, 'length')} off the nearer face of the "
            f"plate, which runs from the hinge at {math.degrees(line.direction):.1f} deg (by "
            f"{line.taken_from.value}) and is {notes.show(thickness, 'length')} thick."
        )


def _note_sizes(scenario: Scenario, notes: Notes) -> None:
    """Sizes of parts that are bought against those of parts that are made."""
    parts, motor = scenario.parts, scenario.motor
    screw, thickness = parts.hinges.screw, parts.plate.thickness
    if screw is not None and thickness is not None and (screw.length or 0.0) > thickness:
        notes.add(
            f"The hinge's screws, {screw.name}, are longer than the plate is thick "
            f"({notes.show(thickness, 'length')})."
        )
    if parts.frame is not None and motor.pulley_radius * 2 <= parts.frame.shaft_diameter:
        notes.add(
            f"The shaft of frame {parts.frame.name}, "
            f"{notes.show(parts.frame.shaft_diameter, 'length')} thick, does not go into a motor "
            f"pulley of {notes.show(2 * motor.pulley_radius, 'length')} pitch diameter."
        )
