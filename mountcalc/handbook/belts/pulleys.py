"""Pulley diameters to choose from, and the least pulley that a motor is made for.

Symbols
-------
metric : datum diameters in the steps of preferred numbers; else outside diameters of inch pulleys
ratio : pitch diameter of the driven pulley over that of the driving one; below one where the driven
    shaft is to turn faster [-]
least_small, largest : least and greatest pitch diameter of either pulley [m]
count : most pairs wanted
named_less_pitch : named diameter less the pitch diameter, of the driving and of the driven pulley:
    above zero for grooves that are named by their outside, below for flat rims [m]
power : rated power; one between two rows takes the larger's pulley [W]
speed : rated speed; one between two columns takes the slower's pulley, whose torque is larger
    [rad/s]
section : of the belt
"""

from __future__ import annotations

import math
from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from mountcalc.errors import InputError
from mountcalc.handbook.belts.grooves import has_datum_diameter, outside_less_pitch
from mountcalc.handbook.rows import INCH, load, row_up_to
from mountcalc.thresholds import ROUNDING

_MILLIMETRE = 0.001
# Errors of the ratio that differ by less are equal; the smaller pulleys then come first.
_SAME = 12
_POUND_FORCE = 4.4482216152605
_HORSEPOWER = 550.0 * 12.0 * INCH * _POUND_FORCE
_RPM = math.pi / 30.0
# A motor counts as one of a listed speed that is up to this share of its own: rated speeds of one
# number of poles differ by as much (estimate). A slower one has more torque, so takes its column.
_SPEED_SHARE = 1.03
# A loaded motor keeps more than this share of its synchronous speed (estimate).
_LEAST_OF_SYNCHRONOUS = 0.9
# Metric ratings are the inch ones rounded, 1.5 kW for 2 hp; they differ by less (estimate).
_POWER_SHARE = 0.02


class NearestPair(NamedTuple):
    """Two pulleys by their named diameters [m], and how far their ratio is off [-].

    ``error`` is the ratio that they give over the wanted one, less one.
    """

    driving: float
    driven: float
    error: float


@lru_cache(maxsize=2)
def preferred_diameters(*, metric: bool) -> tuple[float, ...]:
    """Diameters that pulleys are made in, ascending [m]."""
    table = load("preferred_diameters")
    if metric:
        return tuple(number * _MILLIMETRE for number in table["metric"]["diameter_mm"])
    inch = table["inch"]
    starts, steps, last = inch["start_in"], inch["step_in"], inch["end_in"]
    rising = [
        start + index * step
        for start, step, end in zip(starts, steps, [*starts[1:], last], strict=True)
        for index in range(round((end - start) / step))
    ]
    return tuple(number * INCH for number in [*rising, last])


def preferred_source(*, metric: bool) -> str:
    """Where the diameters are from, and how sure that is."""
    row = load("preferred_diameters")["metric" if metric else "inch"]
    return f"{row['source']} ({row['sure']})"


def pulleys_for(
    ratio: float,
    metric: bool,  # noqa: FBT001  # which list, as for `preferred_diameters`
    least_small: float,
    largest: float,
    count: int,
    named_less_pitch: tuple[float, float] = (0.0, 0.0),
) -> tuple[NearestPair, ...]:
    """Pairs of preferred diameters by how near they are to a wanted ratio, then the smaller first.

    Empty where none is that size.

    InputError: a ratio or a count that is not above zero.
    """
    if not 0.0 < ratio < math.inf or count < 1:
        raise InputError("pulleys are chosen for a ratio and a number of pairs above zero")
    sizes = np.array(preferred_diameters(metric=metric))

    def named(less_pitch: float) -> NDArray[np.float64]:
        """Diameters whose pitch diameters are within the range, a rounding wide."""
        pitch, slack = sizes - less_pitch, ROUNDING * sizes
        kept = (pitch >= least_small - slack) & (pitch <= largest + slack) & (pitch > 0)
        return np.asarray(sizes[kept])

    driving, driven = map(named, named_less_pitch)
    pitches = driven - named_less_pitch[1], driving - named_less_pitch[0]
    error = (pitches[0][np.newaxis, :] / pitches[1][:, np.newaxis] / ratio - 1.0).ravel()
    together = np.add.outer(driving, driven).ravel()
    order = np.lexsort((together, np.round(np.abs(error), _SAME)))[:count]
    first, second = np.divmod(order, max(1, driven.size))
    return tuple(
        NearestPair(float(driving[one]), float(driven[other]), float(error[at]))
        for one, other, at in zip(first, second, order, strict=True)
    )


class LeastPulley(NamedTuple):
    """Least pitch diameter [m] of a motor's pulley; a ``sentence`` on it.

    None where none is listed. ``sure`` says how well it is known that the list is for the section.
    """

    diameter: float | None
    sentence: str
    source: str
    sure: str


def least_motor_pulley(power: float, speed: float, section: str = "A") -> LeastPulley:
    """Look up the least pulley for a motor of a rating and speed.

    The list is of pitch diameters for A to E, of outside diameters for narrow belts; light-duty
    ones, whose pulleys are named by their outside too, are taken like these.

    InputError: a power or speed that is not above zero.
    """
    if not (0.0 < power < math.inf and 0.0 < speed < math.inf):
        raise InputError("a motor's least pulley is looked up for a power and speed above zero")
    table = load("motor_pulleys")["by_power"]
    over = None if has_datum_diameter(section) else outside_less_pitch(section)
    is_outside = over is not None
    sure = table["sure_outside"] if is_outside else table["sure"]
    horsepower, rpm = power / _HORSEPOWER, speed / _RPM
    wanted = horsepower * (1.0 - _POWER_SHARE)
    is_listed = horsepower >= table["rows"][0]["hp"] * (1.0 - _POWER_SHARE)
    row = row_up_to(table["rows"], wanted, "hp") if is_listed else None
    column = sum(listed <= _SPEED_SHARE * rpm for listed in table["rpm"]) - 1
    inches = 0.0 if row is None or column < 0 else row["diameter_in"][column]
    if row is None or inches == 0.0:
        sentence = f"no least pulley is listed for a motor of {horsepower:.3g} hp at {rpm:.0f} rpm"
        return LeastPulley(None, sentence, table["source"], sure)
    size = f"{inches} in ({inches * 1000 * INCH:.0f} mm){' over the rim' if is_outside else ''}"
    larger_by_frame = "".join(
        f"; in frame {one['frame']} of {one['diameter_in']} in"
        for one in load("motor_pulleys")["by_frame"]["rows"]
        if one["hp"][0] <= row["hp"] <= one["hp"][1]
        and _LEAST_OF_SYNCHRONOUS * one["rpm"] <= rpm <= one["rpm"]
        and one["diameter_in"] > inches
    )
    sentence = (
        f"a motor of {row['hp']:g} hp at {table['rpm'][column]} rpm is made for a pulley of "
        f"{size} or larger{larger_by_frame}"
    )
    pitch = inches * INCH - (0.0 if over is None else over.value)
    return LeastPulley(pitch, sentence, table["source"], sure)
