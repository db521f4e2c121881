"""From checked tables to the parts that are drawn: nothing is taken for what is not said."""

from __future__ import annotations

from mountcalc.scenario.file.schema import ScenarioTable
from mountcalc.scenario.parts.model import AlongShafts, Base, Guard, Hinges, Parts, PlateBoard
from mountcalc.scenario.parts.schema import BaseTable, GuardTable, HingeTable

__all__ = ["build_parts"]


def build_parts(table: ScenarioTable) -> Parts:
    """Return the parts of checked tables."""
    plate, motor, driven = table.plate, table.motor, table.driven
    return Parts(
        plate=PlateBoard(
            length=plate.length,
            width=plate.width,
            thickness=plate.thickness,
            layers=plate.layers,
            material=plate.material,
            direction=plate.direction,
        ),
        hinges=Hinges(**dict(table.hinge or HingeTable())),
        guard=Guard(**dict(table.guard or GuardTable())),
        base=Base(**dict(table.base or BaseTable())),
        along=AlongShafts(
            motor_pulley=motor.pulley_position,
            motor_pulley_width=motor.pulley_width,
            motor_face=motor.face_position,
            driven_pulley_width=driven.pulley_width,
            driven_shaft_end=driven.shaft_end,
        ),
        frame=motor.frame,
        packing=motor.packing or 0.0,
    )
