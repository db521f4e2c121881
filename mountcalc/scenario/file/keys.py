"""What all tables of a scenario file are built of: the table itself and how a key is read."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from enum import StrEnum
from functools import partial
from typing import Annotated, TypeAlias

from pydantic import BaseModel, ConfigDict, PlainValidator

from mountcalc.scenario.text import quantities as q
from mountcalc.scenario.text import values as v
from mountcalc.scenario.text.wording import listed, shown
from mountcalc.units import si_factor

__all__ = [
    "Direction",
    "Distance",
    "Name",
    "Position",
    "Table",
    "Wanted",
    "choice",
    "length_of_part",
    "number",
    "one_of",
    "quantity",
]


class Table(BaseModel):
    """A table of the scenario; a key that it does not have is an error."""

    # Built at first use: only the outermost table is, which saves start-up time.
    model_config = ConfigDict(extra="forbid", frozen=True, defer_build=True)


@dataclass(frozen=True, slots=True)
class Wanted:
    """What a key wants, for the message that it is missing."""

    text: str | Callable[[], str]

    def __str__(self) -> str:
        """The words; what has to be looked up is, only now."""
        return self.text if isinstance(self.text, str) else self.text()


def one_of(choices: type[StrEnum], remark: str = "") -> Wanted:
    """Say which words a key wants."""
    return Wanted(f"{listed(shown(choice.value) for choice in choices)} wanted{remark}")


def quantity(kind: q.Kind) -> tuple[PlainValidator, Wanted]:
    """Return how a quantity of a kind is read, and what it wants."""
    return PlainValidator(partial(q.read_quantity, kind=kind)), Wanted(kind.wanted)


def length_of_part(most: float, least: float | None = None) -> PlainValidator:
    """Return how a length [m] is read that is drawn and cut: parts at a bench are no larger.

    What is drawn and laid out grows with these lengths, and so do time and memory.
    """
    kind = replace(q.DISTANCE, high=most, high_words=f"of at most {_both(most)}")
    if least is not None:
        kind = replace(kind, low=least, low_words=f"of at least {_both(least)}")
    return quantity(kind)[0]


def _both(length: float) -> str:
    return f"{length * 1e3:g} mm ({length / si_factor('in'):.3g} in)"


def number(low: float, high: float, *, above: bool = False) -> PlainValidator:
    """Return how a plain number within bounds is read."""
    return PlainValidator(partial(v.read_number, low=low, high=high, above=above))


def choice(choices: type[StrEnum], remark: str = "") -> PlainValidator:
    """Return how one of a few words is read."""
    return PlainValidator(partial(v.read_choice, choices=choices, remark=remark))


_position, _position_wanted = quantity(q.POSITION)
_distance, _distance_wanted = quantity(q.DISTANCE)

Position: TypeAlias = Annotated[float, _position, _position_wanted]
Distance: TypeAlias = Annotated[float, _distance, _distance_wanted]
Direction: TypeAlias = Annotated[
    float, PlainValidator(v.read_direction), Wanted('direction wanted (such as "down")')
]
Name: TypeAlias = Annotated[str, PlainValidator(v.read_name)]
