"""What the force tables of the trade ask for over what a drive needs, on one drive of our own."""

from __future__ import annotations

from mountcalc.handbook.belts.deflection_tables import force_range, table_force
from mountcalc.handbook.rows import INCH
from mountcalc.pages.amounts import force_text, length_text, power_text
from mountcalc.scenario.model import Display
from mountcalc.units import si_factor

__all__ = ["NEEDED_NEW", "NEEDED_USED", "table_at_large"]

_SECTION = "A"
_SMALL, _LARGE, _CENTRES = 3.0 * INCH, 9.0 * INCH, 20.0 * INCH
_RPM = 1750.0
_POWER = 3.0 * si_factor("hp")

_POUND = si_factor("lbf")
NEEDED_USED = (2.087 * _POUND, 2.252 * _POUND)
"""Deflection force [N] by the trade's formula with its two coefficients, 15 and 16.5."""
NEEDED_NEW = (2.944 * _POUND, 3.190 * _POUND)
"""The same of a new belt, half as tight again."""

_TEXT = (
    "Common force tables know section, pulley and speed, but not the load, and are at the high end "
    "on purpose. Take a drive of our own example: two A belts that carry {power} of design power "
    "from {small} to {large} pulleys, {centres} apart, at 1750 rpm. At 1/64 of the span the common "
    "table has {used} on a belt that has run and {new} on a new one. The load asks for "
    "{needed_used} and {needed_new} by the trade's formula (common practice; its constants for "
    "the belt's mass, M, and stretch, Y, are from memory): the table has some 1.8 times as much, "
    "and up to about twice the pull on the shaft. A compressor manual of 2008 is gentler, with "
    "{gentle} and {gentle_new}. Only the two tables are printed, and what the guide that prints "
    "the first says itself: where the pull on the shaft counts, reckon from the load. The rest is "
    "reckoned here."
)


def table_at_large(display: Display) -> str:
    """Compare the force tables with the need of a drive of our own example."""
    common, gentle = table_force(_SECTION, _SMALL, _RPM), force_range(_SECTION, _SMALL)
    assert common is not None
    assert gentle is not None
    return _TEXT.format(
        power=power_text(_POWER, display),
        small=length_text(_SMALL, display),
        large=length_text(_LARGE, display),
        centres=length_text(_CENTRES, display),
        used=force_text(common.used, display),
        new=force_text(common.new, display),
        needed_used=_range(NEEDED_USED, display),
        needed_new=_range(NEEDED_NEW, display),
        gentle=_range((gentle.least, gentle.greatest), display),
        gentle_new=force_text(gentle.initial, display),
    )


def _range(ends: tuple[float, float], display: Display) -> str:
    low, high = (force_text(end, display) for end in ends)
    return f"{low.split()[0]} to {high}"
