"""The least pulley that a motor's own shaft and bearings are made for."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from mountcalc.errors import InputError
from mountcalc.handbook.belts.grooves import outside_less_pitch, sized_by_outside
from mountcalc.handbook.rows import INCH, Datum, load

__all__ = ["FramePulley", "LeastPulley", "by_frame", "least_motor_pulley"]

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


@dataclass(frozen=True, slots=True)
class LeastPulley:
    """Least pitch diameter [m] of a motor's pulley; a ``sentence`` on it.

    None where none is listed. ``sure`` says how well it is known that the list is for the section.
    """

    diameter: float | None
    sentence: str
    source: str
    sure: str


@dataclass(frozen=True, slots=True)
class FramePulley:
    """One row of the list by frame.

    ``power`` [W] is the range of ratings at the synchronous ``speed`` [rad/s]; ``diameter`` [m]
    the least pulley, ``face`` [m] the widest, None where not given; ``limiting_pull`` [N] is
    what the belts may put on the shaft, None where not listed.
    """

    frame: str
    power: tuple[float, float]
    speed: float
    diameter: float
    face: float | None
    limiting_pull: Datum | None
    source: str
    sure: str


def least_motor_pulley(power: float, speed: float, section: str = "A") -> LeastPulley:
    """Look up the least pulley for a motor of a rating and speed.

    The list is of pitch diameters for A to E, of outside diameters for narrow belts; light-duty
    ones, whose pulleys are named by their outside too, are taken like these.

    Parameters
    ----------
    power : float [W]
        Rated power. One between two rows takes the larger's pulley.
    speed : float [rad/s]
        Rated speed. One between two columns takes the slower's pulley, whose torque is larger.
    section : str, optional
        Of the belt.

    Returns
    -------
    LeastPulley

    Raises
    ------
    InputError
        A power or speed that is not above zero.
    """
    if not (0.0 < power < math.inf and 0.0 < speed < math.inf):
        raise InputError("a motor's least pulley is looked up for a power and speed above zero")
    table = load("motor_pulleys")["by_power"]
    is_outside = sized_by_outside(section)
    sure = table["sure_outside"] if is_outside else table["sure"]
    horsepower, rpm = power / _HORSEPOWER, speed / _RPM
    row = _row(table["rows"], horsepower)
    column = sum(listed <= _SPEED_SHARE * rpm for listed in table["rpm"]) - 1
    inches = 0.0 if row is None or column < 0 else row["diameter_in"][column]
    if row is None or inches == 0.0:
        sentence = f"no least pulley is listed for a motor of {horsepower:.3g} hp at {rpm:.0f} rpm"
        return LeastPulley(None, sentence, table["source"], sure)
    size = f"{inches} in ({inches * 1000 * INCH:.0f} mm){' over the rim' if is_outside else ''}"
    sentence = (
        f"a motor of {row['hp']:g} hp at {table['rpm'][column]} rpm is made for a pulley of "
        f"{size} or larger"
    ) + _larger_by_frame(row["hp"], rpm, inches)
    over = outside_less_pitch(section) if is_outside else None
    pitch = inches * INCH - (0.0 if over is None else over.value)
    return LeastPulley(pitch, sentence, table["source"], sure)


def _row(rows: list[dict[str, Any]], horsepower: float) -> dict[str, Any] | None:
    """The row of the rating, or of the next larger one; None outside the list."""
    if horsepower < rows[0]["hp"] * (1.0 - _POWER_SHARE):
        return None
    wanted = horsepower * (1.0 - _POWER_SHARE)
    return next((row for row in rows if row["hp"] >= wanted), None)


def _larger_by_frame(horsepower: float, rpm: float, inches: float) -> str:
    """What to add where the list by frame wants more at a rating and speed."""
    return "".join(
        f"; in frame {row['frame']} of {row['diameter_in']} in"
        for row in load("motor_pulleys")["by_frame"]["rows"]
        if row["hp"][0] <= horsepower <= row["hp"][1]
        and _LEAST_OF_SYNCHRONOUS * row["rpm"] <= rpm <= row["rpm"]
        and row["diameter_in"] > inches
    )


def by_frame(frame: str) -> tuple[FramePulley, ...]:
    """Rows of the list by frame.

    Parameters
    ----------
    frame : str
        Such as ``"143T"``; capitals or not.

    Returns
    -------
    tuple of FramePulley
        Empty for a frame that is not listed.
    """
    table = load("motor_pulleys")["by_frame"]
    name = frame.strip().upper()
    return tuple(
        FramePulley(
            frame=name,
            power=(row["hp"][0] * _HORSEPOWER, row["hp"][1] * _HORSEPOWER),
            speed=row["rpm"] * _RPM,
            diameter=row["diameter_in"] * INCH,
            face=row["face_in"] * INCH or None,
            limiting_pull=_limiting_pull(row),
            source=table["source"],
            sure=table["sure"],
        )
        for row in table["rows"]
        if row["frame"] == name
    )


def _limiting_pull(row: dict[str, Any]) -> Datum | None:
    table = load("motor_pulleys")["limiting_pull"]
    for each in table["rows"]:
        if (each["frame"], each["hp"], each["rpm"]) == (row["frame"], row["hp"][0], row["rpm"]):
            return Datum(each["pull_lbf"] * _POUND_FORCE, table["source"], table["sure"])
    return None
