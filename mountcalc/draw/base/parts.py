"""The base in the assembly."""

from __future__ import annotations

from itertools import pairwise

from mountcalc.drafting.items import Layer
from mountcalc.draw.base.section import base_section
from mountcalc.draw.build import Build
from mountcalc.draw.view_parts import ViewParts

__all__ = ["BASE_NAME", "draw_base"]

BASE_NAME = "base"
"""Its name, which the notes make good where the view is too crowded for it."""

_SHARES = (0.3, 0.5, 0.7, 0.9)  # of a side, at which a leader may point


def draw_base(parts: ViewParts, build: Build) -> None:
    """Draw the section of what carries the hinge, thin: its way may be an estimate."""
    corners = base_section(build).corners
    parts.outline(corners, Layer.EDGE)
    parts.listed["near edge of the base's face"] = corners[0]
    parts.points["far edge of the base's face"] = corners[1]
    sides = (
        ((1 - share) * one[0] + share * two[0], (1 - share) * one[1] + share * two[1])
        for one, two in pairwise(corners)
        for share in _SHARES
    )
    parts.name(BASE_NAME, *sides)
