"""What one V-belt may carry: the published forms of power ratings, and the factors on them.

The coefficients stay in the units of the print, as they are what a reader can check; the
functions take and give SI. Three generations of ratings are one form with other coefficients and
units. All hold for a half turn of wrap and a belt of basic length.

Symbols
-------
speed : belt speed, zero or above [m/s]
diameter : pitch diameter d of the small pulley, in the forms of three terms times the
    small-diameter factor of the speed ratio where one is taken [m]
terms : coefficients of the form [units of the print]
ratio_factor : K of the speed ratio, 1 for equal pulleys [-]
wrap : arc of contact on the smaller pulley, both pulleys grooved [rad]
design_power : nominal power times the service factor, above zero [W]
corrected_rating : rating of one belt with the factors for arc and length, above zero [W]
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mountcalc.record import Record
from mountcalc.thresholds import ROUNDING

Array = NDArray[np.float64]

_INCH = 0.0254
_HORSEPOWER = 550.0 * 12.0 * _INCH * 4.4482216152605
_THOUSAND_FEET_PER_MINUTE = 12000.0 * _INCH / 60.0
_KILOWATT = 1000.0
_MILLIMETRE = 0.001


class ThreeTerms(Record):
    """Coefficients of ``S^0.91``, ``S/d`` and ``S^3`` in the units of the print.

    Inch prints: hp, S in 1000 ft/min, d in inches. Metric prints: kW, S in m/s, d in mm.
    """

    growth: float
    bending: float
    centrifugal: float


class FourTerms(Record):
    """Coefficients k1 to k4 in the units of the print: hp, inches, thousands of turns a minute."""

    growth: float
    bending: float
    centrifugal: float
    fatigue: float


def _three_terms(speed: Array, diameter: Array, terms: ThreeTerms) -> Array:
    result: Array = (
        terms.growth * speed**0.91 - terms.bending * speed / diameter - terms.centrifugal * speed**3
    )
    return result


def three_term_power_inch(speed: ArrayLike, diameter: ArrayLike, terms: ThreeTerms) -> Array:
    """Power of one belt by the older inch forms: H = X S^0.91 - Y S/d - Z S^3 [W].

    X, Y, Z for hp, thousands of ft/min and inches; below zero where the pulley is too small or the
    belt too fast for the form, as of all ratings. The form behind Shigley, Machine Design, Table
    17-12; and that of Faires, Design of Machine Elements, which writes the same three terms as
    [a (1000/V)^0.09 - c/(Kd D) - e V^2/10^6] V/1000.
    """
    power = _three_terms(
        np.asarray(speed, dtype=float) / _THOUSAND_FEET_PER_MINUTE,
        np.asarray(diameter, dtype=float) / _INCH,
        terms,
    )
    return power * _HORSEPOWER


def three_term_power_metric(speed: ArrayLike, diameter: ArrayLike, terms: ThreeTerms) -> Array:
    """Power of one belt by the metric data-book form: P = (k1 S^-0.09 - k2/de - k3 S^2) S [W].

    k1, k2, k3 for kW, m/s and mm (metric design data books, common practice).
    """
    power = _three_terms(
        np.asarray(speed, dtype=float), np.asarray(diameter, dtype=float) / _MILLIMETRE, terms
    )
    return power * _KILOWATT


def four_term_power(
    speed: ArrayLike, diameter: ArrayLike, ratio_factor: ArrayLike, terms: FourTerms
) -> Array:
    """Power of one belt [W] by the inch standard of 1988, with its part for the speed ratio.

    H = d r [k1 - k2/d - k3 (d r)^2 - k4 log10(d r)] + k2 r (1 - 1/K), with r the speed of the
    small pulley in thousands of turns a minute, k1 to k4 for hp and inches; the speed above zero
    (ANSI/RMA IP-20-1988, the shape of ISO 5292; common practice of inch V-belts).
    """
    inches = np.asarray(diameter, dtype=float) / _INCH
    # d r, from the belt speed pi d n.
    product = np.asarray(speed, dtype=float) / _THOUSAND_FEET_PER_MINUTE * 12.0 / math.pi
    per_turn = (
        terms.growth
        - terms.bending / inches
        - terms.centrifugal * product**2
        - terms.fatigue * np.log10(product)
    )
    gain = terms.bending * product / inches * (1.0 - 1.0 / np.asarray(ratio_factor, dtype=float))
    result: Array = (product * per_turn + gain) * _HORSEPOWER
    return result


def arc_factor(wrap: ArrayLike) -> Array:
    """Share of the rated power that an arc of contact leaves: 1.25 (1 - 5^(-theta/180 deg)) [-].

    1 at half a turn. The share of the tight tension that may be pulled, 1 - 1/R, against that
    of half a turn, at which R = 5 (Shigley, Machine Design, 17-3; the form of ISO 5292, from
    memory).
    """
    result: Array = 1.25 * (1.0 - 5.0 ** (-np.asarray(wrap, dtype=float) / math.pi))
    return result


def arc_factor_polynomial(wrap: ArrayLike) -> Array:
    """The same as a polynomial: K1 = 0.143543 + 0.007468 theta - 0.000015052 theta^2 [-].

    Theta in degrees; 1 at half a turn within 0.0002 (Shigley, Machine Design, Table 17-13,
    footnote).
    """
    degrees = np.degrees(np.asarray(wrap, dtype=float))
    result: Array = 0.143543 + degrees * (0.007468 - 0.000015052 * degrees)
    return result


def belts_needed(design_power: float, corrected_rating: float) -> int:
    """Number of equal belts [-] that carry the design power: the quotient, rounded up.

    At least one (Shigley, Machine Design, Eq. 17-21); ValueError where either is no number above
    zero.
    """
    if not (0.0 < design_power < math.inf and 0.0 < corrected_rating < math.inf):
        raise ValueError("the design power and the rating of a belt must be above zero")
    return max(1, math.ceil(design_power / corrected_rating * (1.0 - ROUNDING)))
