"""The tables of a scenario that the drawings are made from, as the file has them."""

from __future__ import annotations

from functools import partial
from typing import Annotated, TypeAlias

from pydantic import PlainValidator

from mountcalc.scenario import values as v
from mountcalc.scenario.keys import Distance, Position, Table
from mountcalc.scenario.motor_frames import read_frame
from mountcalc.scenario.parts_model import MotorFrame, Screw
from mountcalc.scenario.parts_screws import read_screw

__all__ = ["BaseTable", "Frame", "GuardTable", "HingeTable"]

Frame: TypeAlias = Annotated[MotorFrame, PlainValidator(read_frame)]
ScrewText: TypeAlias = Annotated[Screw, PlainValidator(read_screw)]
Count: TypeAlias = Annotated[int, PlainValidator(partial(v.read_count, most=20))]


class HingeTable(Table):
    """``[hinge]``: one of the hinges, and how many there are."""

    leaf_length: Distance | None = None
    leaf_width: Distance | None = None
    leaf_thickness: Distance | None = None
    knuckle_diameter: Distance | None = None
    number: Count | None = None
    screw: ScrewText | None = None
    screws_per_leaf: Count | None = None
    mortise_depth: Distance | None = None


class GuardTable(Table):
    """``[guard]``: the panel with the slot, and the strip around it."""

    clearance: Distance | None = None
    slot_clearance: Distance | None = None
    bearing_opening: Distance | None = None
    thickness: Distance | None = None
    kerf: Distance | None = None
    strip_width: Distance | None = None
    position: Position | None = None


class BaseTable(Table):
    """``[base]``: what carries the hinge."""

    floor: Position | None = None
