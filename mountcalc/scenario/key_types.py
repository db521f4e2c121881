"""How the keys of any table are declared: what a value is read as, and what is said if it lacks."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial
from typing import Annotated, TypeAlias

from pydantic import BaseModel, ConfigDict, PlainValidator

from mountcalc.scenario import quantity_text as q
from mountcalc.scenario import values as v

__all__ = ["Direction", "Distance", "Name", "Position", "Table", "Wanted", "quantity"]


@dataclass(frozen=True, slots=True)
class Wanted:
    """What a key wants, for the message that it is missing."""

    text: str


def quantity(kind: q.Kind) -> tuple[PlainValidator, Wanted]:
    """Return what reads a key of a kind of quantity, and what is wanted there."""
    return PlainValidator(partial(q.read_quantity, kind=kind)), Wanted(kind.wanted)


_position, _position_wanted = quantity(q.POSITION)
_distance, _distance_wanted = quantity(q.DISTANCE)

Position: TypeAlias = Annotated[float, _position, _position_wanted]
Distance: TypeAlias = Annotated[float, _distance, _distance_wanted]
Direction: TypeAlias = Annotated[
    float, PlainValidator(v.read_direction), Wanted('direction wanted (such as "down")')
]
Name: TypeAlias = Annotated[str, PlainValidator(v.read_name)]


class Table(BaseModel):
    """A table of the scenario; a key that it does not have is an error."""

    # Built at first use: only the outermost table is, which saves start-up time.
    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True)
