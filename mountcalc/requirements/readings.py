"""Readings of the methods as a scale or a wrench shows them, rounded so that they stay certain."""

from __future__ import annotations

import math

from mountcalc.pages.amounts import turns_text
from mountcalc.record import Record
from mountcalc.requirements.results import Method, MethodName, ReadingUnit
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.text.writing import Display
from mountcalc.thresholds import ROUNDING
from mountcalc.units import si_factor

_OUNCES_IN_A_POUND = 16
_STEPS = (10.0, 5.0, 2.0, 1.0, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01, 0.001)
_SIXTEENTH = 1.0 / 16.0
# Shares of the aim, and of the range, that rounding may take.
_COARSE = 0.05
_COARSE_OF_RANGE = 0.1


class Readings(Record):
    """What to aim at, for a bedded and a new belt, not to fall below, never to pass, as text.

    ``step`` is that of the texts, in their unit.
    """

    unit: str
    aim: str
    new_aim: str
    not_below: str
    never_above: str
    step: float


def readings_of(method: Method, scenario: Scenario) -> Readings:
    """A method's readings in units that a shop reads, no finer than what it is read on."""
    unit, size = _unit(method, scenario.display)
    aim, new = method.aim / size, method.new_aim / size
    low = -math.inf if method.not_below is None else method.not_below / size
    high = math.inf if method.never_above is None else method.never_above / size
    if method.unit is ReadingUnit.TURNS:
        least, first, second, most = _rounded((aim, new, low, high), _SIXTEENTH)
        shown = first, second, least, most
        texts = [turns_text(one) if math.isfinite(one) else "-" for one in shown]
        return Readings("turns", texts[0], texts[1], texts[2], texts[3], _SIXTEENTH)
    finest = _COARSE * aim
    if method.name is MethodName.BALANCE:
        finest = scale_mark(scenario) / size * (1 + ROUNDING)
    elif scenario.adjuster.coil is not None and method.name is MethodName.SPRING:
        finest = 1e3 * scenario.adjuster.coil.length_error / size * (1 + ROUNDING)
    elif math.isfinite(high - low):
        finest = min(finest, _COARSE_OF_RANGE * (high - low))
    for step in _STEPS:
        rounded = _rounded((aim, new, low, high), step)
        if step <= finest and rounded == tuple(sorted(rounded)) and (rounded[1] > 0 or aim <= 0):
            break
    places = 0 if step >= 1 else 1 if step >= 0.1 else 2  # noqa: PLR2004
    texts = [f"{value:.{places}f}" if math.isfinite(value) else "-" for value in rounded]
    return Readings(unit, texts[1], texts[2], texts[0], texts[3], step)


def scale_mark(scenario: Scenario) -> float:
    """The finest force [N] that is read on a spring balance: the step that its error covers."""
    size = si_factor("N" if scenario.display is Display.METRIC else "lbf")
    error = scenario.limits.balance_error / size * (1 + ROUNDING)
    return size * next((step for step in _STEPS if step <= error), _STEPS[-1])


def too_coarse(method: Method | None) -> str:
    """What is said of a way that is told in full, where the table does not trust it."""
    if method is None or method.trustworthy:
        return ""
    return " Too coarse to set this mount by."


def _unit(method: Method, display: Display) -> tuple[str, float]:
    if method.unit is ReadingUnit.TRAVEL:
        return ("mm", 1.0) if display is Display.METRIC else ("in", si_factor("in") * 1e3)
    if method.unit is not ReadingUnit.FORCE:
        return ("Hz" if method.unit is ReadingUnit.SWINGS else "turns"), 1.0
    if display is Display.METRIC:
        return "N", 1.0
    pound = si_factor("lbf")
    if method.name is MethodName.PRESS and method.aim < pound:
        return "oz", pound / _OUNCES_IN_A_POUND
    return "lbf", pound


def _rounded(
    values: tuple[float, float, float, float], step: float
) -> tuple[float, float, float, float]:
    """Least, aim, aim for a new belt and greatest, rounded to the certain side."""
    aim, new, low, high = values
    least = math.ceil(low / step - ROUNDING) * step if math.isfinite(low) else low
    most = math.floor(high / step + ROUNDING) * step if math.isfinite(high) else high
    first, second = (min(round(value / step) * step, most) for value in (aim, new))
    return least, first, second, most
