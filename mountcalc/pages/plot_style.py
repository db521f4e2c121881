"""What pictures share: type, colours, headings, texts cut to their room."""

from __future__ import annotations

import bisect
import textwrap
from collections.abc import Sequence
from functools import lru_cache, partial

from matplotlib.axes import Axes
from matplotlib.backends.backend_agg import FigureCanvasAgg
from matplotlib.figure import Figure
from matplotlib.font_manager import FontProperties, findfont, get_font

from mountcalc.equilibrium.states import State
from mountcalc.pages.amounts import turns_text

DPI = 200
FONT_SIZE = 9
_TITLE_SIZE = 12
_SUBTITLE_LINE = 0.17  # inches from one line of the heading to the next

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


def fitted(
    figure: Figure, text: str, room: float, size: float = FONT_SIZE, *, in_middle: bool = False
) -> str:
    """A user's text cut to so many pixels, at its end or in its middle; one letter at least."""
    whole = plain(text)

    def cut(kept: int) -> str:
        if kept == len(whole):
            return whole
        first, last = ((kept + 1) // 2, kept // 2) if in_middle else (max(kept - 1, 1), 0)
        return f"{whole[:first].rstrip()}…{whole[len(whole) - last :].lstrip()}"

    def is_wide(kept: int) -> bool:
        return text_size(figure, cut(kept), size)[0] > room

    if not is_wide(len(whole)):
        return whole
    return cut(max(bisect.bisect_left(range(1, len(whole)), x=True, key=is_wide), 1))


fitted_name = partial(fitted, in_middle=True)
"""A user's name cut in its middle: two names of a machine's parts often begin alike."""


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
        whole = plain(line, 300)
        share = room / max(text_size(figure, whole)[0], 1.0)
        letters = len(whole) if share >= 1 else max(20, int(0.97 * share * len(whole)))
        for part in textwrap.wrap(whole, max(letters, 1)):
            at += _SUBTITLE_LINE
            figure.text(
                0.15 / width, 1 - at / height, fitted(figure, part, room), fontsize=FONT_SIZE,
                color=BLACK, parse_math=False,
            )  # fmt: skip
    return at + 0.08


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
