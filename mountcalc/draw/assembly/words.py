"""What is said beside the assembly: where things stand."""

from __future__ import annotations

from collections.abc import Mapping

from mountcalc.drafting.dimensions import SAME
from mountcalc.drafting.items import Point
from mountcalc.drafting.told import Told
from mountcalc.draw.build import Build

__all__ = ["tell_places"]


def tell_places(
    told: Told, build: Build, points: Mapping[str, Point], level: tuple[str, float]
) -> None:
    """List the points by their distances from both datum edges."""
    name, height = level
    told.note(f"Measured from two edges: the upright through the driven shaft, and {name}.")
    for what, (x, y) in points.items():
        across, up = x - build.scenario.driven.shaft[0], y - height
        name = f"{what[0].upper()}{what[1:]}"
        told.note_of_side(
            f"{name}: {_place(told, across, up)}.", f"{name}: {_place(told, -across, up)}."
        )
        key = what.replace(" ", "_").replace("'s", "").replace(",", "").replace("-", "_")
        told.facts |= {f"{key}_x": across, f"{key}_y": up}


def _place(told: Told, across: float, up: float) -> str:
    """Distances from the edges in words."""
    words = []
    if abs(across) > SAME:
        words.append(f"{told.write(abs(across))} {'left' if across < 0 else 'right'}")
    if abs(up) > SAME:
        words.append(f"{told.write(abs(up))} {'below' if up < 0 else 'above'}")
    return ", ".join(words) or "where they cross"
