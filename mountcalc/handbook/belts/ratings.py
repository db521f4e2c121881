"""Rated power of one V-belt by section, as published generations of ratings have it.

Plain classical belts are rated by the oldest form, the most cautious one; cogged ones by the
standard of 1988, the first that has them. The generations differ by up to a factor of two, so
what the others give is told beside the rating.

Symbols
-------
wrap_small : arc of contact on the smaller pulley [rad]
small, large : pitch diameters [m]
center : distance of the shafts [m]
flat_driven : the larger pulley is flat, the smaller one grooved; else both are grooved. A flat
    pulley that is the smaller of the two is not in the table
section : of the belt, such as "A" or "BX"; capitals or not
inside_inches : `Designation.inside_inches` of the belt [in]
shock : of the driven machine
torque : of the motor
small_pitch_diameter, diameter : of the smaller pulley [m]
belt_speed, speed : of the belt, above zero [m/s]
speed_ratio : speed of one pulley over that of the other, either way: the large pulley spares the
    belt whichever of them drives [-]
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Callable
from functools import lru_cache
from typing import NamedTuple

import numpy as np

from mountcalc.errors import InputError
from mountcalc.formulas.belt_rating import (
    FourTerms,
    ThreeTerms,
    arc_factor,
    four_term_power,
    three_term_power_inch,
    three_term_power_metric,
)
from mountcalc.handbook.belts.sections import Shock, Torque
from mountcalc.handbook.rows import INCH, Datum, load
from mountcalc.thresholds import ROUNDING

# The order in which a section is looked for; the first generation that has it rates it.
_CAPPED = "early"
_GENERATIONS = (_CAPPED, "standard_1988", "sixties", "data_book")


class Factor(NamedTuple):
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


def arc_factor_of(
    wrap_small: float, small: float, large: float, center: float, *, flat_driven: bool
) -> Factor:
    """Factor for the arc of contact.

    By the closed form where both are grooved; else between the rows of the published column.

    InputError: diameters in the wrong order, or a distance or arc that is not above zero.
    """
    if not (0.0 < wrap_small <= math.pi + ROUNDING and 0.0 < center < math.inf):
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
        return Factor(float(np.interp(ratio, ratios, values)), table["source"], table["sure"])
    # From a ratio of one on the small pulley slips first, so both columns are one.
    return Factor(
        min(values[-1], grooved),
        by_form["source"],
        by_form["sure"],
        f"(D - d)/C of {ratio:.2f} is beyond the table, which ends at {ratios[-1]:.1f}: "
        "taken as with two grooved pulleys, as its last rows are",
    )


def length_factor(section: str, inside_inches: float) -> Factor:
    """Factor for the length of a belt: a short one bends more often.

    From the continuous list where the number stands in one of its runs, else by the bands (between
    two bands, the shorter one's), but no more than the list's first factor below its start. Cogged
    sections are read as the plain ones.
    """
    name = section.upper()
    table = load("belt_factors")["length"]
    plain = name.removesuffix("X")
    if plain not in table["bands"]:
        return Factor(None, "", "", f"no length factor of section {name} is known")
    runs, bands = table["runs"].get(plain, []), table["bands"][plain]
    for run in runs:
        if run["number"][0] <= inside_inches <= run["number"][-1]:
            value = float(np.interp(inside_inches, run["number"], run["factor"]))
            return Factor(value, table["runs"]["source"], table["runs"]["sure"])
    value = bands["factor"][bisect_right(bands["first"], inside_inches) - 1]
    if runs and inside_inches < runs[0]["number"][0]:
        # The first band is above the list at the shortest belts; a shorter one is worth no more.
        value = min(value, runs[0]["factor"][0])
    return Factor(value, table["bands"]["source"], table["bands"]["sure"])


def service_factor(shock: Shock, torque: Torque) -> ServiceFactor:
    """Suggested service factor: design power over nominal power."""
    table = load("belt_factors")["service"]
    low, high = table[Shock(shock).value][Torque(torque).value]
    return ServiceFactor(low, high, table["source"], table["sure"])


class Rating(NamedTuple):
    """What one belt of a section carries over half a turn, of basic length.

    ``power`` [W] is None where nothing is published, zero where the form comes out at nothing or
    less; ``why_not`` then says so. ``others`` are the names of the other published generations
    and the power [W] that each gives; ``sure`` is how well the form that is used is known.
    """

    power: float | None
    source: str
    why_not: str | None
    others: tuple[tuple[str, float], ...]
    sure: str = ""


class Generation(NamedTuple):
    """One published form with the coefficients of one section.

    ``largest_diameter`` [m] is the diameter of the small pulley above which the print adds
    nothing, None where it has no such end; ``spares_by_ratio`` that the print multiplies the
    diameter by a factor of the speed ratio.
    """

    name: str
    terms: ThreeTerms | FourTerms
    is_metric: bool
    largest_diameter: float | None
    spares_by_ratio: bool
    source: str
    sure: str

    def power(self, diameter: float, speed: float, speed_ratio: float) -> float:
        """Power of one belt [W], not below zero; Shigley's table has none for the speed ratio."""
        if isinstance(self.terms, FourTerms):
            factor = ratio_factor(speed_ratio).value
            power = four_term_power(speed, diameter, factor, self.terms)
        else:
            form = three_term_power_metric if self.is_metric else three_term_power_inch
            if self.spares_by_ratio:
                diameter *= diameter_factor(speed_ratio).value
            power = form(speed, min(diameter, self.largest_diameter or math.inf), self.terms)
        return max(0.0, float(power))


def rated_power(
    section: str, small_pitch_diameter: float, belt_speed: float, speed_ratio: float
) -> Rating:
    """Rate one belt of a section.

    InputError: a diameter or ratio that is not above zero, or a speed below it.
    """
    if not (_is_positive(small_pitch_diameter) and _is_positive(speed_ratio)):
        raise InputError("a belt is rated at a pulley diameter and a speed ratio above zero")
    if not 0.0 <= belt_speed < math.inf:
        raise InputError("a belt is rated at a belt speed of zero or above")
    known = generations(section)
    if not known:
        return Rating(None, "", _no_rating(section), ())
    used = known[0]
    source = f"{used.source} ({used.sure})"
    if belt_speed == 0.0:
        return Rating(0.0, source, "the belt stands still", (), used.sure)
    powers = [each.power(small_pitch_diameter, belt_speed, speed_ratio) for each in known]
    nothing_left = (
        "the published rating comes to nothing on a small pulley of "
        f"{1000 * small_pitch_diameter:.0f} mm ({small_pitch_diameter / INCH:.2f} in) at "
        f"{belt_speed:.1f} m/s: the pulley is too small, or the belt too fast"
    )
    why_not = None if powers[0] > 0.0 else nothing_left
    others = tuple((each.name, power) for each, power in zip(known[1:], powers[1:], strict=True))
    return Rating(powers[0], source, why_not, others, used.sure)


def _is_positive(value: float) -> bool:
    return 0.0 < value < math.inf


def _no_rating(section: str) -> str:
    name = section.strip()
    belt = f"section {name}" if name else "a belt without a section"
    reasons = load("belt_ratings")["missing"]["reasons"]
    why = next((f" ({one['why']})" for one in reasons if name.upper() in one["sections"]), "")
    return (
        f"no power rating of {belt} is known to this program{why}: "
        "take it from the table of the belt's maker"
    )


@lru_cache(maxsize=64)
def generations(section: str) -> tuple[Generation, ...]:
    """Published generations that rate a section; the one that is used comes first.

    Empty for a section that none of them has.
    """
    name, data, found = section.strip().upper(), load("belt_ratings"), []
    for key in _GENERATIONS:
        table, row = data[key], data[key]["sections"].get(name)
        if row is None:
            continue
        is_four, is_early = table["form"] == "four-term", key == _CAPPED
        found.append(
            Generation(
                name=table["name"],
                terms=(FourTerms if is_four else ThreeTerms)(*row["terms"]),
                is_metric=table["form"] == "three-term metric",
                largest_diameter=data["largest_diameter_in"][name] * INCH if is_early else None,
                spares_by_ratio=not is_four and not is_early,
                source=row["source"],
                sure=row["sure"],
            )
        )
    return tuple(found)


def ratio_factor(speed_ratio: float) -> Datum:
    """Factor K of the speed ratio in the four-term form [-]."""
    return _by_ratio("ratio_factor", "up_to", speed_ratio, bisect_left)


def diameter_factor(speed_ratio: float) -> Datum:
    """Factor on the small pulley's diameter in the forms of the 1960s and of data books [-]."""
    return _by_ratio("diameter_factor", "below", speed_ratio, bisect_right)


def _by_ratio(name: str, ends: str, ratio: float, bisect: Callable[..., int]) -> Datum:
    """The factor of the band that a speed ratio is in."""
    table = load("belt_ratings")[name]
    band = bisect(table[ends], max(ratio, 1.0 / ratio))
    return Datum([*table["factor"], table["beyond"]][band], table["source"], table["sure"])
