"""The pictures of a placement as PNG: the map of the hinge, the Pareto front, the best layout."""

from __future__ import annotations

from collections.abc import Callable

from mountcalc.pages.own_settings import image_of, own_settings
from mountcalc.place.search.search import Found
from mountcalc.scenario.search import Search

__all__ = ["place_pictures"]


def place_pictures(
    search: Search, found: Found, advanced: Callable[[float], None] | None = None
) -> dict[str, bytes]:
    """PNG images by name."""
    placement = found.placement
    told = advanced or (lambda _: None)
    with own_settings():
        from mountcalc.place.pictures.drawing import drawing_figure  # noqa: PLC0415
        from mountcalc.place.pictures.front import front_figure  # noqa: PLC0415
        from mountcalc.place.pictures.map import map_figure  # noqa: PLC0415
        from mountcalc.place.placed_parts import PlacedParts  # noqa: PLC0415

        images = {"map": image_of(map_figure(search, placement, found.sampled))}
        if placement.layouts:
            told(1 / 3)
            images["front"] = image_of(front_figure(search.scenario, found))
            told(2 / 3)
            best = PlacedParts.of(placement.layouts[0], found.scenarios[0], search.space)
            images["best"] = image_of(drawing_figure(best))
    return images
