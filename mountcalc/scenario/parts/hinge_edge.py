"""How far the hinge's pin lies outside the edges of the boards that it joins."""

from __future__ import annotations

from mountcalc.handbook.rows import datum, load
from mountcalc.scenario.model import Display
from mountcalc.scenario.parts.model import Hinges

__all__ = ["hinge_edge"]

_FILE = "templates"


def hinge_edge(hinges: Hinges, display: Display) -> float:
    """From the pin's axis to a board's edge [m]: half of the knuckle."""
    knuckle = hinges.knuckle_diameter
    if knuckle is None:
        knuckle = datum(_FILE, load(_FILE)["default"][display]["knuckle_diameter"]).value
    return 0.5 * knuckle
