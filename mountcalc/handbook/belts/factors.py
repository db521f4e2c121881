"""Factors on the rated power of a V-belt: arc of contact, length of the belt, service."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from typing import Any, NamedTuple, Protocol

from mountcalc.errors import InputError
from mountcalc.formulas.belt_rating import arc_factor
from mountcalc.handbook.belts.sections import Measures
from mountcalc.handbook.rows import INCH, load

__all__ = [
    "Factor",
    "ServiceFactor",
    "Shock",
    "Sized",
    "Torque",
    "arc_factor_of",
    "length_factor",
    "service_factor",
]

_ROUNDING = 1e-9


class Shock(StrEnum):
    """How evenly the driven machine takes its power."""

    UNIFORM = "uniform"
    LIGHT = "light"
    MEDIUM = "medium"
    HEAVY = "heavy"


class Torque(StrEnum):
    """How the motor pulls: ordinary torque, or high or uneven torque."""

    NORMAL = "normal"
    HIGH = "high"


@dataclass(frozen=True, slots=True)
class Factor:
    """A factor on the rated power, its ``source`` and how ``sure`` it is.

    ``value`` [-] is None where nothing is published. ``remark`` says why, or how the value was
    read where the table does not reach.
    """

    value: float | None
    source: str
    sure: str
    remark: str | None = None


class ServiceFactor(NamedTuple):
    """Published range of factors [-] on the nominal power."""

    low: float
    high: float
    source: str
    sure: str


class Sized(Protocol):
    """A belt of a section and a size, such as a designation.

    ``measures`` is the inside where ``number`` is the inches of an inch belt; else the inches are
    those of ``inside_length`` [m].
    """

    @property
    def section(self) -> str:
        """Name of the section, such as "A"."""

    @property
    def number(self) -> float:
        """The number that stands on the belt."""

    @property
    def measures(self) -> Measures:
        """What the number measures."""

    @property
    def inside_length(self) -> float:
        """Inside length [m]."""


def arc_factor_of(
    wrap_small: float, small: float, large: float, center: float, *, flat_driven: bool
) -> Factor:
    """Factor for the arc of contact.

    Parameters
    ----------
    wrap_small : float [rad]
        Arc of contact on the smaller pulley.
    small, large : float [m]
        Pitch diameters.
    center : float [m]
        Distance of the shafts.
    flat_driven : bool
        The larger pulley is flat, the smaller one grooved; else both are grooved. A flat pulley
        that is the smaller of the two is not in the table.

    Returns
    -------
    Factor
        By the closed form where both are grooved; else between the rows of the published column.

    Raises
    ------
    InputError
        Diameters in the wrong order, or a distance or arc that is not above zero.
    """
    if not (0.0 < wrap_small <= math.pi + _ROUNDING and 0.0 < center < math.inf):
        raise InputError("an arc factor is for an arc of up to half a turn and shafts apart")
    if not 0.0 < small <= large < math.inf:
        raise InputError("an arc factor is for the smaller pulley: its diameter comes first")
    table = load("belt_factors")["arc"]
    by_form = table["closed_form"]
    grooved = float(arc_factor(wrap_small))
    if not flat_driven:
        return Factor(grooved, by_form["source"], by_form["sure"])
    ratios, values = table["difference_over_center"], table["large_flat"]
    ratio = (large - small) / center
    if ratio <= ratios[-1]:
        return Factor(_between(ratio, ratios, values), table["source"], table["sure"])
    # From a ratio of one on the small pulley slips first, so both columns are one.
    return Factor(
        min(values[-1], grooved),
        by_form["source"],
        by_form["sure"],
        f"(D - d)/C of {ratio:.2f} is beyond the table, which ends at {ratios[-1]:.1f}: "
        "taken as with two grooved pulleys, as its last rows are",
    )


def _between(at: float, numbers: Sequence[float], values: Sequence[float]) -> float:
    """Value at a number between the rows of a rising column."""
    above = next(index for index, number in enumerate(numbers) if at <= number)
    if at == numbers[above]:
        return values[above]
    low, high = numbers[above - 1], numbers[above]
    share = (at - low) / (high - low)
    return values[above - 1] + share * (values[above] - values[above - 1])


def length_factor(designation: Sized) -> Factor:
    """Factor for the length of a belt: a short one bends more often.

    Parameters
    ----------
    designation : Sized
        The belt. Cogged sections are read as the plain ones, metric lengths by their inches.

    Returns
    -------
    Factor
        From the continuous list where the number stands in one of its runs, else by the bands
        (between two bands, the shorter one's), but no more than the list's first factor below its
        start.
    """
    section = designation.section.upper()
    number = _inch_number(designation)
    table = load("belt_factors")["length"]
    plain = section.removesuffix("X")
    if plain not in table["bands"]:
        return Factor(None, "", "", f"no length factor of section {section} is known")
    runs = table["runs"].get(plain, [])
    for run in runs:
        if run["number"][0] <= number <= run["number"][-1]:
            value = _between(number, run["number"], run["factor"])
            return Factor(value, table["runs"]["source"], table["runs"]["sure"])
    value = _of_band(number, table["bands"][plain])
    if runs and number < runs[0]["number"][0]:
        # The first band is above the list at the shortest belts; a shorter one is worth no more.
        value = min(value, runs[0]["factor"][0])
    return Factor(value, table["bands"]["source"], table["bands"]["sure"])


def _inch_number(designation: Sized) -> float:
    if designation.measures is Measures.INSIDE:
        return designation.number
    return designation.inside_length / INCH


def _of_band(number: float, band: dict[str, Any]) -> float:
    begun = [first for first in band["first"] if first <= number]
    factor: float = band["factor"][len(begun) - 1]
    return factor


def service_factor(shock: Shock, torque: Torque) -> ServiceFactor:
    """Suggested service factor: design power over nominal power.

    Parameters
    ----------
    shock : Shock
        Of the driven machine.
    torque : Torque
        Of the motor.

    Returns
    -------
    ServiceFactor
    """
    table = load("belt_factors")["service"]
    low, high = table[Shock(shock).value][Torque(torque).value]
    return ServiceFactor(low, high, table["source"], table["sure"])
