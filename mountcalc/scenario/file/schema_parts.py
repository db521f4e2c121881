"""The tables of a scenario that the drawings are made from, as the file has them."""

from __future__ import annotations

from functools import partial
from typing import Annotated, TypeAlias

from pydantic import PlainValidator

from mountcalc.handbook.frames import MotorFrame
from mountcalc.scenario.file.keys import Direction, Position, Table, length_of_part
from mountcalc.scenario.parts import Screw
from mountcalc.scenario.text import values as v
from mountcalc.scenario.text.named import read_frame, read_screw

__all__ = [
    "BaseTable",
    "BoardLength",
    "BoardThickness",
    "Frame",
    "GuardTable",
    "HingeTable",
    "PulleyWidth",
]

# Bounds are generous estimates: what is larger is no part of such a mount but a slip of unit.
BoardLength: TypeAlias = Annotated[float, length_of_part(3.0)]
BoardThickness: TypeAlias = Annotated[float, length_of_part(0.3)]
PulleyWidth: TypeAlias = Annotated[float, length_of_part(1.0)]
_LeafLength: TypeAlias = Annotated[float, length_of_part(3.0)]
_LeafWidth: TypeAlias = Annotated[float, length_of_part(0.5)]
_LeafThickness: TypeAlias = Annotated[float, length_of_part(0.03)]
_Knuckle: TypeAlias = Annotated[float, length_of_part(0.1)]
_Gap: TypeAlias = Annotated[float, length_of_part(0.5)]
_Opening: TypeAlias = Annotated[float, length_of_part(2.0)]
_PanelThickness: TypeAlias = Annotated[float, length_of_part(0.1)]
# A strip takes the more cuts, the narrower they are.
_Kerf: TypeAlias = Annotated[float, length_of_part(0.010, 0.0001)]
_StripWidth: TypeAlias = Annotated[float, length_of_part(2.0)]

Frame: TypeAlias = Annotated[MotorFrame, PlainValidator(read_frame)]
ScrewText: TypeAlias = Annotated[Screw, PlainValidator(read_screw)]
Count: TypeAlias = Annotated[int, PlainValidator(partial(v.read_count, most=20))]


class HingeTable(Table):
    """``[hinge]``: one of the hinges, and how many there are."""

    leaf_length: _LeafLength | None = None
    leaf_width: _LeafWidth | None = None
    leaf_thickness: _LeafThickness | None = None
    knuckle_diameter: _Knuckle | None = None
    number: Count | None = None
    screw: ScrewText | None = None
    screws_per_leaf: Count | None = None
    mortise_depth: BoardThickness | None = None


class GuardTable(Table):
    """``[guard]``: the panel with the slot, and the strip around it."""

    clearance: _Gap | None = None
    slot_clearance: _Gap | None = None
    bearing_opening: _Opening | None = None
    thickness: _PanelThickness | None = None
    kerf: _Kerf | None = None
    strip_width: _StripWidth | None = None
    position: Position | None = None


class BaseTable(Table):
    """``[base]``: what carries the hinge."""

    floor: Position | None = None
    direction: Direction | None = None
    thickness: BoardThickness | None = None
