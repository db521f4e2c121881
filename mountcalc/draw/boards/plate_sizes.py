"""How wide the boards of a hinged pair are."""

from __future__ import annotations

from mountcalc.draw.boards.sizes import HingeSizes, TemplateSizes
from mountcalc.draw.build import Build

__all__ = ["plate_width"]


def plate_width(build: Build, hinges: HingeSizes, sizes: TemplateSizes) -> float:
    """Width of plate and base along the hinge's line."""
    given, frame = build.scenario.parts.plate.width, build.scenario.parts.frame
    if given is not None:
        return given
    if frame is None:
        wanted = sizes.length(None, "width", "plate.width")
    else:
        beside = sizes.length(None, "width_beside_feet", "board beside the feet, both sides")
        wanted = max(frame.feet_along) + frame.hole + beside
    return max(wanted, hinges.number * hinges.leaf_length)
