"""What a scenario notes of parts that are bought against those that are made."""

from __future__ import annotations

from mountcalc.scenario.file.notes import Notes
from mountcalc.scenario.model import Scenario

__all__ = ["note_parts"]


def note_parts(scenario: Scenario, notes: Notes) -> None:
    """Note where sizes of parts do not go together."""
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
