"""Small forces and small deflections as kitchen scales, fish scales and rules read them."""

from __future__ import annotations

from fractions import Fraction

from mountcalc.pages.display import figures
from mountcalc.scenario.model import Display
from mountcalc.units import si_factor

__all__ = ["deflection_text", "force_text", "mass_text"]

_STANDARD_GRAVITY = 9.80665
_OUNCES_IN_A_POUND = 16
# Below this [N] a metric scale is read in grams.
_GRAMS_BELOW = 5.0
_SIXTY_FOURTHS = 64
# A fraction off by less than this share is near enough: the force is off by as much.
_NEAR = 0.03


def force_text(low: float, high: float, display: Display) -> str:
    """A range of forces: ounces below a pound-force, else lbf; newtons."""
    if display is Display.METRIC:
        return _range(low, high, "N")
    pound = si_factor("lbf")
    if low < pound:
        return _range(low * _OUNCES_IN_A_POUND / pound, high * _OUNCES_IN_A_POUND / pound, "oz")
    return _range(low / pound, high / pound, "lbf")


def mass_text(low: float, high: float) -> str:
    """What a metric scale reads under those forces: grams where they are small, else kilograms."""
    kilograms = low / _STANDARD_GRAVITY, high / _STANDARD_GRAVITY
    if low < _GRAMS_BELOW:
        return _range(1000 * kilograms[0], 1000 * kilograms[1], "g")
    return _range(*kilograms, "kg")


def _range(low: float, high: float, unit: str) -> str:
    first, last = figures(low, 2), figures(high, 2)
    return f"{first} {unit}" if first == last else f"{first} to {last} {unit}"


def deflection_text(deflection: float, display: Display) -> str:
    """A deflection to 0.1 mm or in 64ths of an inch, a plainer fraction where that will do."""
    if display is Display.METRIC:
        return f"{deflection / si_factor('mm'):.1f} mm"
    parts_64 = deflection / si_factor("in") * _SIXTY_FOURTHS
    if abs(round(parts_64) - parts_64) > _NEAR * parts_64:
        return f"{parts_64:.1f}/64 in"
    whole, rest = divmod(Fraction(round(parts_64), _SIXTY_FOURTHS), 1)
    parts = ([str(whole)] if whole else []) + ([str(rest)] if rest else [])
    return f"{' '.join(parts)} in"
