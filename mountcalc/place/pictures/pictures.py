"""The pictures of a placement as PNG: the map of the hinge, the Pareto front, the best layout."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from typing import TYPE_CHECKING

from mountcalc.pages.own_settings import image_of, own_settings
from mountcalc.place.search.search import Found
from mountcalc.scenario.search import Search

if TYPE_CHECKING:
    from matplotlib.figure import Figure

__all__ = ["place_figures", "place_pictures"]


def place_figures(search: Search, found: Found) -> Iterator[tuple[str, Figure]]:
    """Figures with their names, each drawn as it is asked for."""
    placement = found.placement
    with own_settings():
        from mountcalc.place.pictures.best import best_figure  # noqa: PLC0415
        from mountcalc.place.pictures.front import front_figure  # noqa: PLC0415
        from mountcalc.place.pictures.map import map_figure  # noqa: PLC0415

        yield "map", map_figure(search, placement, found.sampled)
        if placement.layouts:
            yield "front", front_figure(search.scenario, found)
            yield "best", best_figure(search, placement.layouts[0], found.scenarios[0])


def place_pictures(
    search: Search, found: Found, advanced: Callable[[float], None] | None = None
) -> dict[str, bytes]:
    """PNG images by name."""
    images = {}
    with own_settings():
        for name, figure in place_figures(search, found):
            images[name] = image_of(figure)
            if advanced is not None:
                advanced(len(images) / 3)
    return images
