"""Labels in the margin at the right end of lines, spread so that none covers another."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from matplotlib.axes import Axes
from matplotlib.figure import Figure

from mountcalc.pages.plot_style import FONT_SIZE, INK, SOFT, fitted_name, text_size

__all__ = ["EndLabel", "draw_end_labels", "spread"]

_GAP = 0.148  # inches from one label to the next
_MARGIN = 0.16  # inches from the axes to the labels
_EDGE = 0.06  # inches that stay free at the figure's edge


@dataclass(frozen=True, slots=True)
class EndLabel:
    """A text for the line that ends at (x, y) [axes data].

    A user's ``name`` stands where the text has ``{}``, cut to the room that there is.
    """

    text: str
    x: float
    y: float
    colour: str = INK
    name: str = ""

    def fitted(self, figure: Figure, room: float) -> str:
        """The text in so many pixels."""
        left = room - text_size(figure, self.text.replace("{}", ""))[0]
        return self.text.replace("{}", fitted_name(figure, self.name, left), 1)


def draw_end_labels(axes: Axes, labels: Sequence[EndLabel]) -> None:
    """Write labels right of the axes, each joined to its line by a thin leader."""
    figure = axes.get_figure(root=True)
    assert figure is not None
    box = axes.get_position()
    width, height = (float(size) for size in figure.get_size_inches())
    tall, wide = box.height * height, box.width * width
    low, high = axes.get_ylim()
    wanted = [tall * (label.y - low) / (high - low) for label in labels]
    left, right = axes.get_xlim()
    room = figure.dpi * ((1 - box.x1) * width - _MARGIN - _EDGE)
    for label, at in zip(labels, spread(wanted, _GAP, 0.02, tall), strict=True):
        end = 1 + (_MARGIN - 0.03) / wide
        start = (label.x - left) / (right - left)
        own = (label.y - low) / (high - low)
        axes.plot(
            [start, max(start, 1 + 0.03 / wide), end], [own, own, at / tall],
            transform=axes.transAxes, color=SOFT, linewidth=0.5, clip_on=False, gid="leader",
        )  # fmt: skip
        axes.text(
            1 + _MARGIN / wide, at / tall, label.fitted(figure, room), transform=axes.transAxes,
            color=label.colour, fontsize=FONT_SIZE, va="center", ha="left", parse_math=False,
            gid="end label",
        )  # fmt: skip


def spread(wanted: Sequence[float], gap: float, low: float, high: float) -> list[float]:
    """Heights near the wanted ones, at least a gap apart, in the same order, inside a range."""
    count = len(wanted)
    if count == 0:
        return []
    gap = min(gap, (high - low) / max(count - 1, 1))
    order = sorted(range(count), key=lambda index: wanted[index])
    # Less its rank's offset each label wants a level; levels that fall back share their mean.
    blocks: list[tuple[float, int]] = []
    for rank, index in enumerate(order):
        mean, members = wanted[index] - rank * gap, 1
        while blocks and blocks[-1][0] > mean:
            other, more = blocks.pop()
            mean, members = (mean * members + other * more) / (members + more), members + more
        blocks.append((mean, members))
    top = high - (count - 1) * gap
    levels = [min(max(mean, low), top) for mean, members in blocks for _ in range(members)]
    heights = [0.0] * count
    for rank, index in enumerate(order):
        heights[index] = levels[rank] + rank * gap
    return heights
