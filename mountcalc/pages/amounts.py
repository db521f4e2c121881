"""Amounts inside sentences of results, in the units that the scenario's people read."""

from __future__ import annotations

import math
from collections.abc import Callable

from mountcalc.scenario.model import Display
from mountcalc.units import si_factor

__all__ = [
    "at_least",
    "at_most",
    "force_text",
    "length_text",
    "need_text",
    "percent",
    "power_text",
    "rate_text",
    "room_text",
    "shown_length",
    "significant",
    "speed_text",
]

# Of a shown digit: what arithmetic leaves on a whole number.
_SHOWN_ROUNDING = 1e-6
# Of a per cent: a limit that is just met is kept.
_PERCENT_ROUNDING = 1e-4
_LENGTH = {Display.INCH: ("in", 2), Display.METRIC: ("mm", 0)}
_SPEED = {Display.INCH: ("ft/min", 0), Display.METRIC: ("m/s", 1)}
_FORCE = {Display.INCH: "lbf", Display.METRIC: "N"}
_RATE = {Display.INCH: "lbf/in", Display.METRIC: "N/mm"}
_POWER = {Display.INCH: "hp", Display.METRIC: "W"}
_UNITS = {"force": _FORCE, "power": _POWER}


def significant(value: float, digits: int = 2) -> float:
    """A number rounded to so many figures."""
    if value == 0:
        return 0.0
    return round(value, digits - 1 - math.floor(math.log10(abs(value))))


def at_least(value: float, kind: str, display: Display) -> float:
    """A force or a power rounded up to two figures: its text shows no less than is wanted."""
    return _whole(value, _UNITS[kind][display], math.ceil, -_SHOWN_ROUNDING)


def percent(share: float) -> str:
    """A share in whole per cent; past the whole rounded up, not to read as kept."""
    hundred = 100 * share
    return f"{math.ceil(hundred - _PERCENT_ROUNDING) if share > 1 else round(hundred)}"


def at_most(value: float, kind: str, display: Display) -> float:
    """The same rounded down; see :func:`at_least`."""
    return _whole(value, _UNITS[kind][display], math.floor, _SHOWN_ROUNDING)


def _whole(value: float, unit: str, whole: Callable[[float], int], rounding: float) -> float:
    number = value / si_factor(unit)
    if number <= 0:
        return value
    step = 10.0 ** (math.floor(math.log10(number)) - 1)
    return whole(number / step + rounding) * step * si_factor(unit)


def shown_length(value: float, display: Display) -> float:
    """A length as its text shows it, so that what is made of it is what was reckoned."""
    unit, decimals = _LENGTH[display]
    return round(value / si_factor(unit), decimals) * si_factor(unit)


def length_text(value: float, display: Display) -> str:
    """A length to mark out or to buy, with its unit."""
    unit, decimals = _LENGTH[display]
    text = f"{value / si_factor(unit):.{decimals}f}"
    return f"{text.rstrip('0').rstrip('.') if decimals else text} {unit}"


def force_text(value: float, display: Display) -> str:
    """A force to two figures, with its unit."""
    return _two_figures(value, _FORCE[display])


def rate_text(value: float, display: Display) -> str:
    """A spring's stiffness to two figures, with its unit."""
    return _two_figures(value, _RATE[display])


def power_text(value: float, display: Display) -> str:
    """A power to three figures, with its unit."""
    unit = _POWER[display]
    return f"{significant(value / si_factor(unit), 3):.6g} {unit}"


def _two_figures(value: float, unit: str) -> str:
    return f"{significant(value / si_factor(unit)):.6g} {unit}"


def room_text(value: float, display: Display) -> str:
    """A length that is there, rounded down, so that it never shows more than there is."""
    unit, decimals = _LENGTH[display]
    scale = 10**decimals / si_factor(unit)
    return length_text(math.floor(value * scale + _SHOWN_ROUNDING) / scale, display)


def need_text(value: float, display: Display) -> str:
    """A length that is wanted, rounded up, so that it never shows less than is wanted."""
    unit, decimals = _LENGTH[display]
    scale = 10**decimals / si_factor(unit)
    return length_text(math.ceil(value * scale - _SHOWN_ROUNDING) / scale, display)


def speed_text(value: float, display: Display) -> str:
    """A belt's or rim's speed, with its unit."""
    unit, decimals = _SPEED[display]
    return f"{value / si_factor(unit):.{decimals}f} {unit}"
