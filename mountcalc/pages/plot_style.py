"""What pictures share: type, lines that can be told apart without colour, headings, labels."""

from __future__ import annotations

import bisect
import textwrap
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.font_manager import FontProperties, findfont, get_font
from numpy.typing import NDArray

from mountcalc.equilibrium.states import State
from mountcalc.pages.amounts import DisplayUnits, turns_text
from mountcalc.units import si_factor

__all__ = [
    "BELT",
    "BLACK",
    "FONT_SIZE",
    "LIMIT",
    "LIMIT_STYLE",
    "PALE",
    "SOFT",
    "STATE_HATCHES",
    "STATE_WORDS",
    "EndLabel",
    "agg_canvas",
    "draw_end_labels",
    "figure_of",
    "fitted",
    "fitted_name",
    "heading",
    "last_point",
    "lone_mark",
    "name_scale",
    "new_figure",
    "panel",
    "plain",
    "spread",
    "tension_lines",
    "text_size",
    "turns_words",
]

Array = NDArray[np.float64]

DPI = 200
FONT_SIZE = 9
_TITLE_SIZE = 12
_SUBTITLE_LINE = 0.17  # inches from one line of the heading to the next
_GAP = 0.148  # inches from one end label to the next
_MARGIN = 0.16  # inches from the axes to the labels
_EDGE = 0.06  # inches that stay free at the figure's edge

BLACK = "black"
SOFT = "0.35"
PALE = "0.75"
BELT = "#14406b"
LIMIT = "#8c1c13"
LIMIT_STYLE = (0, (9, 2, 1, 2, 1, 2))

STATE_WORDS = {
    State.HELD: "held",
    State.RIDING: "riding on the belt",
    State.NO_BALANCE: "no balance",
    State.AT_STOP: "at the stop",
    State.BEYOND_TRAVEL: "past the travel",
}
STATE_HATCHES = {
    State.HELD: "",
    State.RIDING: "////",
    State.NO_BALANCE: "xxxx",
    State.AT_STOP: "....",
    State.BEYOND_TRAVEL: "----",
}


def new_figure(width: float, height: float) -> Figure:
    """An empty figure of so many inches, with a canvas of its own and no global state."""
    figure = Figure(figsize=(width, height), dpi=DPI, facecolor="white")
    FigureCanvasAgg(figure)
    return figure


def panel(figure: Figure, left: float, right: float, top: float, height: float) -> Axes:
    """Axes between two margins, so far below the figure's top and so high [inches]."""
    wide, tall = figure.get_size_inches()
    axes: Axes = figure.add_axes(
        (left / wide, 1 - (top + height) / tall, (wide - left - right) / wide, height / tall)
    )
    axes.tick_params(labelsize=FONT_SIZE, direction="in", width=0.5)
    axes.tick_params(axis="x", pad=6)  # clear of the other axis's lowest number
    for spine in axes.spines.values():
        spine.set_linewidth(0.5)
    return axes


def figure_of(axes: Axes) -> Figure:
    """The figure that axes stand in."""
    figure = axes.get_figure(root=True)
    assert figure is not None
    return figure


def agg_canvas(figure: Figure) -> FigureCanvasAgg:
    """The figure's canvas, as one that can measure and draw."""
    canvas = figure.canvas
    return canvas if isinstance(canvas, FigureCanvasAgg) else FigureCanvasAgg(figure)


@lru_cache(maxsize=1)
def _glyphs() -> frozenset[int]:
    return frozenset(get_font(findfont(FontProperties())).get_charmap())


def plain(text: str, most: int = 200) -> str:
    """A user's text as the font can show it, in one line of at most so many characters."""
    words = " ".join(text.split())
    shown = "".join(char if ord(char) in _glyphs() else "?" for char in words)
    return shown if len(shown) <= most else shown[: max(most - 1, 1)].rstrip() + "…"


def text_size(figure: Figure, text: str, size: float = FONT_SIZE) -> tuple[float, float]:
    """Width and height of a text [pixels]."""
    artist = figure.text(0, 0, text, fontsize=size, parse_math=False)
    renderer = agg_canvas(figure).get_renderer()  # type: ignore[no-untyped-call]
    box = artist.get_window_extent(renderer)
    artist.remove()
    return float(box.width), float(box.height)


def fitted(figure: Figure, text: str, room: float, size: float = FONT_SIZE) -> str:
    """A user's text cut so that it takes no more than so many pixels."""

    def cut(kept: int) -> str:
        return plain(text, kept)

    return _longest(cut, len(plain(text)), lambda shown: text_size(figure, shown, size)[0] <= room)


def fitted_name(figure: Figure, name: str, room: float) -> str:
    """A user's name cut in its middle: two names of a machine's parts often begin alike."""
    whole = plain(name)

    def cut(kept: int) -> str:
        if kept == len(whole):
            return whole
        return f"{whole[: (kept + 1) // 2].rstrip()}…{whole[len(whole) - kept // 2 :].lstrip()}"

    return _longest(cut, len(whole), lambda shown: text_size(figure, shown)[0] <= room)


def _longest(cut: Callable[[int], str], whole: int, fits: Callable[[str], bool]) -> str:
    """What is left of a text if as many characters are kept as fit; one at least."""
    if fits(cut(whole)):
        return cut(whole)
    kept = bisect.bisect_left(range(1, whole), x=True, key=lambda count: not fits(cut(count)))
    return cut(max(kept, 1))


def turns_words(turns: float) -> str:
    """Turns with their noun: ``1/2 turn``, ``2 1/4 turns``."""
    return f"{turns_text(turns)} turn{'' if abs(turns) <= 1 and turns != 0 else 's'}"


def heading(figure: Figure, title: str, lines: tuple[str, ...]) -> float:
    """Write the title and the lines below it; the height that they take [inches]."""
    width, height = figure.get_size_inches()
    room = (width - 0.3) * figure.dpi
    shown = fitted(figure, title, room, _TITLE_SIZE)
    figure.text(
        0.15 / width, 1 - 0.30 / height, shown, fontsize=_TITLE_SIZE, parse_math=False, gid="title"
    )
    at = 0.30
    for line in lines:
        for part in textwrap.wrap(plain(line, 300), _fitting(figure, line, room)):
            at += _SUBTITLE_LINE
            figure.text(
                0.15 / width, 1 - at / height, part, fontsize=FONT_SIZE, color=BLACK,
                parse_math=False,
            )  # fmt: skip
    return at + 0.08


def _fitting(figure: Figure, line: str, room: float) -> int:
    """How many characters of a line fit into so many pixels."""
    share = room / max(text_size(figure, plain(line, 300))[0], 1.0)
    return max(20, int(min(share, 1.0) * len(line) * (0.97 if share < 1 else 1.0)) + (share >= 1))


def name_scale(axes: Axes, text: str) -> None:
    """Name a scale; those of all panels stand at the same distance from their axes."""
    axes.set_ylabel(text, fontsize=FONT_SIZE)
    width = axes.get_position().width * float(figure_of(axes).get_size_inches()[0])
    axes.yaxis.set_label_coords(-0.49 / width, 0.5)


def last_point(x: Array, y: Array) -> tuple[float, float] | None:
    """The last point of a curve that is there."""
    known = np.flatnonzero(np.isfinite(y))
    return (float(x[known[-1]]), float(y[known[-1]])) if known.size else None


def lone_mark(values: Array) -> dict[str, Any]:
    """A mark for what would else be a line of one point."""
    return {"marker": "o", "markersize": 3} if np.count_nonzero(np.isfinite(values)) == 1 else {}


def tension_lines(
    axes: Axes, turns: Array, tensions: tuple[Array, Array, Array], units: DisplayUnits
) -> list[EndLabel]:
    """The tension at rest [N] of the softest, the middling and the stiffest belt as a band."""
    unit = si_factor(units.force)
    low, middling, high = (tension / unit for tension in tensions)
    known = np.concatenate([middling, high])
    axes.set_ylim(0, 1.08 * float(np.max(known[np.isfinite(known)], initial=0.0)) or 1.0)
    axes.fill_between(
        turns, low, high, facecolor=PALE, alpha=0.45, linewidth=0, gid="band", zorder=1
    )
    labels = []
    for values, style, text in (
        (high, ":", "stiffest belt"),
        (middling, "-", "as reckoned"),
        (low, ":", "softest belt"),
    ):
        strong = style == "-"
        axes.plot(
            turns, values, linestyle=style, color=BELT, linewidth=1.8 if strong else 0.9,
            gid="tension" if strong else text, zorder=3, **lone_mark(values),
        )  # fmt: skip
        end = last_point(turns, values)
        if end is not None:
            value = units.strength(end[1] * unit, 3 if strong else 2)
            labels.append(EndLabel(f"{text}: {value} {units.force}", *end, BELT))
    name_scale(axes, f"tension at rest,\none strand [{units.force}]")
    return labels


@dataclass(frozen=True, slots=True)
class EndLabel:
    """A text for the line that ends at (x, y) [axes data].

    A user's ``name`` stands where the text has ``{}``, cut to the room that there is.
    """

    text: str
    x: float
    y: float
    colour: str = BLACK
    name: str = ""

    def fitted(self, figure: Figure, room: float) -> str:
        """The text in so many pixels."""
        left = room - text_size(figure, self.text.replace("{}", ""))[0]
        return self.text.replace("{}", fitted_name(figure, self.name, left), 1)


def draw_end_labels(axes: Axes, labels: Sequence[EndLabel]) -> None:
    """Write labels right of the axes, each joined to its line by a thin leader."""
    figure = figure_of(axes)
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
