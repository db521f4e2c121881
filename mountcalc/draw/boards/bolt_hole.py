"""The hole for a bolt: its diameter from the name of the thread."""

from __future__ import annotations

import re

from mountcalc.handbook.rows import load
from mountcalc.scenario.model import Adjuster, Thread
from mountcalc.scenario.text.quantities import ValueTextError, read_number_text
from mountcalc.units import si_factor

__all__ = ["BLOCK_DEPTH", "BLOCK_SHARE", "bolt_diameter", "drawn_diameter"]

BLOCK_SHARE = 3.0
"""From a bolt's axis to the outside of the block that carries it, in its diameters (estimate)."""

BLOCK_DEPTH = 2.0
"""Thickness of that block along the bolt, in its diameters (estimate)."""

_ASSUMED = 0.010  # [m] of a screw of which nothing is known (estimate)
_METRIC = re.compile(r"(?:M|Tr)\s*([0-9]+(?:\.[0-9]+)?)", re.IGNORECASE)
_GAUGE = re.compile(r"(?:#|No\.?)\s*([0-9]{1,2})\s*-", re.IGNORECASE)
_INCH = re.compile(r"([0-9][0-9./⁄ ]*?|[0-9]*\s*[½¼¾⅛⅜⅝⅞])\s*(?:\"|in)?\s*-\s*[0-9]")


def bolt_diameter(thread: Thread) -> float | None:
    """Nominal diameter of a screw."""
    inch = si_factor("in")
    if match := _METRIC.match(thread.name):
        return float(match[1]) * si_factor("mm")
    if match := _GAUGE.match(thread.name):
        gauge = load("threads")["gauge"]
        return float(gauge["smallest_in"] + gauge["step_in"] * int(match[1])) * inch
    if match := _INCH.match(thread.name):
        try:
            return read_number_text(match[1].strip()) * inch
        except ValueTextError:
            return None
    return None


def drawn_diameter(adjuster: Adjuster) -> float:
    """Diameter with which a screw is drawn."""
    known = None if adjuster.thread is None else bolt_diameter(adjuster.thread)
    return _ASSUMED if known is None else known
