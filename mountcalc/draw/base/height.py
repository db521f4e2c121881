"""How high the base that carries the hinge stands above the floor."""

from __future__ import annotations

from mountcalc.draw.base.section import base_section
from mountcalc.draw.build import Build

__all__ = ["base_height", "hinge_height", "level_edge"]


def hinge_height(build: Build) -> float | None:
    """Height of the hinge pin's middle above the floor."""
    floor = build.scenario.parts.base.floor
    return None if floor is None else build.scenario.plate.hinge[1] - floor


def base_height(build: Build) -> float | None:
    """Height of the base's highest point, as its section stands.

    On a level face that is the wood under a leaf: the faces of a butt hinge's leaves meet in the
    plane of its pin, so the wood is as far below the pin as a leaf is thick, less what the leaf is
    let in.
    """
    floor = build.scenario.parts.base.floor
    return None if floor is None else base_section(build).top - floor


def level_edge(build: Build) -> tuple[str, float]:
    """The level edge that heights are measured from."""
    floor, pin = build.scenario.parts.base.floor, build.scenario.plate.hinge[1]
    if floor is not None and floor < pin:
        return "the floor", floor
    return "the level of the hinge pin", pin
