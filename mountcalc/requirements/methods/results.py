"""Results of the ways to set a tension by: what to aim at, not to fall below, never to pass.

Immutable, SI units, ``None`` where there is nothing to say and never NaN.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

__all__ = ["Method", "MethodName", "ReadingUnit"]


class MethodName(StrEnum):
    """What the hand goes by."""

    BALANCE = "spring balance"
    PRESS = "press"
    HUM = "hum"
    TURNS = "turns"


class ReadingUnit(StrEnum):
    """What a method reads in; the keys of its readings end in it."""

    FORCE = "N"
    SWINGS = "Hz"
    TURNS = "turns"


@dataclass(frozen=True, slots=True)
class Method:
    """One method's readings in its ``unit``; more is tighter.

    A spring balance's is what it shows more than with the slack belt. ``aim`` is for a belt that
    has bedded in, ``new_aim`` for a new one. From ``not_below`` to ``never_above`` a belt of any
    age keeps grip and limits although the reading is off by its error and the belt as soft or as
    stiff as it may be; both are None where the method is not ``trustworthy``, the latter also where
    the travel ends before any limit. Read at the aim, a strand has ``tension_low`` to
    ``tension_high`` [N], None where the travel ends first. A press is 1/``span_over_deflection``
    [-] of the span deep.
    """

    name: MethodName
    unit: ReadingUnit
    aim: float
    new_aim: float
    not_below: float | None
    never_above: float | None
    tension_low: float
    tension_high: float | None
    trustworthy: bool
    why: str
    span_over_deflection: int | None = None

    @property
    def own_keys(self) -> dict[str, str]:
        """Keys of the readings outside the package: they end in the unit."""
        readings = ("aim", "new_aim", "not_below", "never_above")
        return {name: f"{name}_{self.unit}" for name in readings}
