"""The pictures of a placement as PNG: the map of the hinge, the Pareto front, the best layout."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

from mountcalc.placement.search import Found
from mountcalc.scenario.search_model import Search
from mountcalc.show.place_drawing import drawing_figure
from mountcalc.show.place_front import front_figure
from mountcalc.show.place_map import map_figure
from mountcalc.show.placed_parts import PlacedParts

if TYPE_CHECKING:
    from matplotlib.figure import Figure

__all__ = ["place_pictures"]


def place_pictures(search: Search, found: Found) -> dict[str, bytes]:
    """PNG images by name.

    Parameters
    ----------
    search : Search
        What was searched.
    found : Found
        What was found.

    Returns
    -------
    dict of str to bytes
        ``map``; with a layout also ``front`` and ``best``.
    """
    placement = found.placement
    images = {"map": _png(map_figure(search, placement, found.sampled))}
    if placement.layouts:
        images["front"] = _png(front_figure(search.scenario, found))
        best = PlacedParts.of(placement.layouts[0], found.scenarios[0], search.space)
        images["best"] = _png(drawing_figure(best))
    return images


def _png(figure: Figure) -> bytes:
    stream = io.BytesIO()
    figure.savefig(stream, format="png")
    return stream.getvalue()
