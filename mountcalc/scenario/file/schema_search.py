"""``[search]`` and ``[[keep_out]]`` as the validation library checks them."""

from __future__ import annotations

from functools import partial
from math import tau
from typing import Annotated, TypeAlias

from pydantic import PlainValidator

from mountcalc.handbook.belts.designation import Designation
from mountcalc.scenario.file.keys import Table, Wanted, choice, number, quantity
from mountcalc.scenario.model import AdjusterKind, BarredPart, Thread, Vector
from mountcalc.scenario.search import Action, MotorSide, Range
from mountcalc.scenario.text import quantities as q
from mountcalc.scenario.text import values as s
from mountcalc.scenario.text.values import read_flag, read_name

__all__ = ["KeepOutTable", "SearchTable"]

_MOST_SAMPLES = 10_000_000
_MOST_SEED = 2**32 - 1
_MOST_LEVERAGE = 0.95


def _range(kind: q.Kind, widest: float | None = None) -> tuple[PlainValidator, Wanted]:
    reader = partial(s.read_range, kind=kind, widest=widest)
    return PlainValidator(reader), Wanted(s.range_wanted(kind))


def _whole(low: int, high: int) -> PlainValidator:
    return PlainValidator(partial(s.read_whole, low=low, high=high))


_positions, _positions_wanted = _range(q.POSITION)
_distances, _distances_wanted = _range(q.DISTANCE)
_distance, _distance_wanted = quantity(q.DISTANCE)
_room, _ = quantity(s.ROOM)

Flag: TypeAlias = Annotated[bool, PlainValidator(read_flag)]
Positions: TypeAlias = Annotated[Range, _positions, _positions_wanted]
Distances: TypeAlias = Annotated[Range, _distances, _distances_wanted]
Directions: TypeAlias = Annotated[Range, _range(q.ANGLE_KIND, tau)[0]]
Distance: TypeAlias = Annotated[float, _distance, _distance_wanted]
Room: TypeAlias = Annotated[float, _room]
Kinds: TypeAlias = Annotated[tuple[AdjusterKind, ...], PlainValidator(s.read_kinds)]
Actions: TypeAlias = Annotated[tuple[Action, ...], PlainValidator(s.read_acts)]
Threads: TypeAlias = Annotated[tuple[Thread, ...], PlainValidator(s.read_threads)]
Belts: TypeAlias = Annotated[tuple[Designation, ...], PlainValidator(s.read_belts)]
Barred: TypeAlias = Annotated[tuple[BarredPart, ...], PlainValidator(s.read_barred)]
Box: TypeAlias = Annotated[tuple[Vector, ...], PlainValidator(s.read_box)]
Polygon: TypeAlias = Annotated[tuple[Vector, ...], PlainValidator(s.read_polygon)]
Name: TypeAlias = Annotated[str, PlainValidator(read_name)]


class SearchTable(Table):
    """``[search]``: what a search for a layout may try.

    ``bolt_beside_motor = true`` says that bolt or link stand beside the motor along the shafts,
    so that they may cross its body as drawn; else they must clear it by ``clearance``.
    ``beside_driven_shaft = true`` says that the mount stands beyond the driven shaft's end; else
    plate, motor and bolt must clear that shaft. Without
    ``thread_length`` a jack may travel its ``bolt_length``, a link half of its ``link_length``.
    """

    hinge_x: Positions
    hinge_y: Positions
    reach: Distances
    motor_height: Distances
    plate_length: Distance
    motor_side: Annotated[MotorSide, choice(MotorSide)] = MotorSide.EITHER
    motor_direction: Directions | None = None
    belts: Belts = ()
    kinds: Kinds = (AdjusterKind.JACK_IN_BASE,)
    acts: Actions = (Action.PUSH,)
    threads: Threads | None = None
    samples: Annotated[int, _whole(1, _MOST_SAMPLES)] = 100_000
    seed: Annotated[int, _whole(0, _MOST_SEED)] = 0
    leverage: Annotated[float, number(0, _MOST_LEVERAGE)] | None = None
    face_offset: Annotated[float, quantity(q.POSITION)[0]] | None = None
    thread_length: Distance | None = None
    link_length: Distance | None = None
    bolt_length: Distance | None = None
    plate_thickness: Distance | None = None
    motor_body: Distance | None = None
    motor_feet: Distance | None = None
    clearance: Room | None = None
    wrench_space: Room | None = None
    bolt_beside_motor: Flag = False
    beside_driven_shaft: Flag = False


class KeepOutTable(Table):
    """``[[keep_out]]``: ground that the mount must clear."""

    name: Name | None = None
    box: Box | None = None
    polygon: Polygon | None = None
    parts: Barred | None = None
