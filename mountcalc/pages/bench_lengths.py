"""Lengths as a rule on the bench has them: inches and 32nds, or millimetres."""

from __future__ import annotations

from fractions import Fraction

from mountcalc.scenario.model import Display
from mountcalc.units import si_factor

__all__ = ["bench_length", "bench_size", "fine_length", "finest_length"]

_FINEST = 32  # parts of an inch on a common steel rule (common practice)
_FINER = 64  # on its finest edge (common practice)
_SMALL = 0.125  # [in] below which a 32nd is too coarse (estimate)
_SAME = 0.0005  # [in] what thousandths do not show


def bench_length(value: float, display: Display) -> str:
    """A length to be marked out, with its unit."""
    if display is Display.METRIC:
        number = round(value / si_factor("mm"), 1) + 0.0  # no "-0.0"
        return f"{number:.1f} mm"
    parts = Fraction(round(abs(value) / si_factor("in") * _FINEST), _FINEST)
    whole, rest = divmod(parts, 1)
    sign = "-" if value < 0 and parts else ""
    words = [str(whole)] if whole or not rest else []
    return f"{sign}{' '.join([*words, *([str(rest)] if rest else [])])} in"


def bench_size(one: float, other: float, display: Display) -> str:
    """Two lengths of one thing, with their unit once."""
    number, _, _ = bench_length(one, display).rpartition(" ")
    return f"{number} x {bench_length(other, display)}"


def fine_length(value: float, display: Display) -> str:
    """A length with its unit; a small one to 64ths and thousandths of an inch."""
    inches = value / si_factor("in")
    is_exact = abs(inches * _FINEST - round(inches * _FINEST)) <= _SAME * _FINEST
    if display is Display.METRIC or abs(inches) >= _SMALL or is_exact:
        return bench_length(value, display)
    nearest = Fraction(round(inches * _FINER), _FINER)
    exact = f"{inches:.3f} in"
    return f"{nearest} in ({exact})" if nearest else exact


def finest_length(display: Display) -> float:
    """The step in which `bench_length` tells lengths."""
    return 0.1 * si_factor("mm") if display is Display.METRIC else si_factor("in") / _FINEST
