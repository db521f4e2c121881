"""What a layout must clear, drawn to scale, and the names of what can be seen of it."""

from __future__ import annotations

import math
from collections.abc import Collection, Sequence

import numpy as np
import shapely
from matplotlib.figure import Figure
from matplotlib.patches import Polygon

from mountcalc.drafting.names.figure import Label
from mountcalc.layout import Pen
from mountcalc.pages.plot_style import BLACK, figure_of, fitted_name
from mountcalc.scenario.model import KeepOut

__all__ = ["draw_keep_outs", "keep_out_labels", "whiten_labels"]

GROUND = "0.83"
# Names of more keep-outs than this would hide what is drawn.
_MOST_NAMES = 6
_NAME_ROOM = 1.5  # inches
_APART = 1.2  # inches between two that are named
# Share of a view that a keep-out must take to be seen.
_SPECK = 1e-6


def draw_keep_outs(pen: Pen, keep_outs: Sequence[KeepOut]) -> None:
    """Fill them; what lies outside the axes is cut."""
    for keep_out in keep_outs:
        corners = [pen.at(corner) for corner in keep_out.corners]
        pen.axes.add_patch(
            Polygon(
                corners, facecolor=GROUND, edgecolor=BLACK, linewidth=0.9, zorder=1.5,
                gid="keep-out",
            )
        )  # fmt: skip


def keep_out_labels(
    pen: Pen, keep_outs: Sequence[KeepOut], first: Collection[str | None] = ()
) -> list[Label]:
    """Names of the keep-outs that show most, not of each of a crowd."""
    figure = figure_of(pen.axes)
    (x0, x1), (y0, y1) = pen.axes.get_xlim(), pen.axes.get_ylim()
    view = shapely.box(*(np.array([x0, y0, x1, y1]) * pen.unit))
    seen = [
        (keep_out.name, shapely.intersection(shapely.Polygon(keep_out.corners), view))
        for keep_out in keep_outs
    ]
    shown = [(name, shape) for name, shape in seen if shape.area > _SPECK * view.area]
    shown.sort(key=lambda pair: (pair[0] not in first, -float(pair[1].area)))
    labels: list[Label] = []
    apart = _APART * figure.dpi
    for name, shape in shown:
        middle = shape.representative_point()
        anchor = pen.pixels((middle.x, middle.y))
        if all(math.dist(anchor, label.anchor) > apart for label in labels):
            text = fitted_name(figure, name, _NAME_ROOM * figure.dpi)
            labels.append(Label(text, anchor, leader_from=1.0))
    return labels[:_MOST_NAMES]


def whiten_labels(figure: Figure) -> None:
    """Give the labels that were placed a white ground: lines and hatches end beside them."""
    for text in figure.texts:
        if text.get_gid() == "label":
            text.set_bbox({"facecolor": "white", "edgecolor": "none", "pad": 1.0})
