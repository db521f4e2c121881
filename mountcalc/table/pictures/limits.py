"""The bearings' limits as lines to draw: equal ones once, far ones named instead of drawn."""

from __future__ import annotations

from dataclasses import dataclass

from mountcalc.pages.display import UNITS
from mountcalc.scenario.model import Scenario
from mountcalc.units import si_factor

__all__ = ["LimitLine", "limit_lines", "top_of_scale"]

_FAR = 2.2  # a limit this many times the greatest load would flatten every curve
_HEADROOM = 1.06


@dataclass(frozen=True, slots=True)
class LimitLine:
    """A limit at ``load`` [N]: for ``starting``, or for rest and running.

    In its text ``{}`` stands for the bearing's ``name``, empty where both have this limit.
    """

    load: float
    text: str
    starting: bool
    name: str = ""


def limit_lines(scenario: Scenario) -> list[LimitLine]:
    """Limits of both bearings at rest and running, and at the start; those that agree as one."""
    units = UNITS[scenario.display]
    lines = []
    for starting in (False, True):
        word = "start limit" if starting else "limit"
        loads = [
            bearing.starting_limit if starting else bearing.limit
            for bearing in scenario.driven.bearings
        ]
        texts = [units.strength(load) for load in loads]
        if texts[0] == texts[1]:
            lines.append(LimitLine(loads[0], f"{word}, both: {texts[0]} {units.force}", starting))
            continue
        for bearing, load, text in zip(scenario.driven.bearings, loads, texts, strict=True):
            lines.append(LimitLine(load, f"{word}, {{}}: {text}", starting, bearing.name))
    return lines


def top_of_scale(loads: list[float], lines: list[LimitLine], unit: str) -> float:
    """Upper end of a load scale [unit] that holds all loads and the limits that are near."""
    most = max(loads, default=0.0)
    near = [line.load for line in lines if line.load <= _FAR * most]
    nearest = min((line.load for line in lines), default=0.0)
    top = max([most, *near]) or nearest or si_factor(unit)
    return _HEADROOM * top / si_factor(unit)
