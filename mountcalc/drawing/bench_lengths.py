"""Lengths as a rule on the bench has them: inches and 32nds, or millimetres."""

from __future__ import annotations

from fractions import Fraction

from mountcalc.scenario.model import Display
from mountcalc.units import si_factor

__all__ = ["bench_length"]

_FINEST = 32  # parts of an inch on a common steel rule (common practice)


def bench_length(value: float, display: Display) -> str:
    """A length to be marked out, with its unit.

    Parameters
    ----------
    value : float [m]
        The length; below zero for one on the other side of its datum.
    display : Display
        Whose units are wanted.

    Returns
    -------
    str
        Such as ``"14 17/32 in"`` or ``"369.1 mm"``.
    """
    if display is Display.METRIC:
        number = round(value / si_factor("mm"), 1) + 0.0  # no "-0.0"
        return f"{number:.1f} mm"
    parts = Fraction(round(abs(value) / si_factor("in") * _FINEST), _FINEST)
    whole, rest = divmod(parts, 1)
    sign = "-" if value < 0 and parts else ""
    words = [str(whole)] if whole or not rest else []
    return f"{sign}{' '.join([*words, *([str(rest)] if rest else [])])} in"
