"""Why layouts will not do, as the map's legend tells it."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from matplotlib.figure import Figure
from matplotlib.patches import Rectangle

from mountcalc.pages.plot_style import FONT_SIZE, fitted_name, plain
from mountcalc.place.feasible.reasons import reason_name
from mountcalc.place.pictures.cells import HATCH_COLOUR, HATCHES, Cells
from mountcalc.place.results import Placement
from mountcalc.scenario.search import SearchSpace

__all__ = ["Legend", "legend_of"]

_LINE = 0.19  # inches
_BELOW = 0.12
_TEXT_AT, _EDGE = 0.62, 0.1
_MOST_LINES = 7
_NAME = 40  # characters of a keep-out's name
_WORDS = {
    "motor_height": "hinge nearer to the motor than the motor is high",
    "motor_side": "motor on the other side of its plate",
    "feet_past_hinge": "motor's feet reach past the hinge",
    "plate_length": "plate too long",
    "install": "a new belt does not go on",
    "take_up": "set point or take-up out of reach",
    "dead_centre": "too little leverage, or a dead centre",
    "adjuster_geometry": "bolt grazes its face, or passes its dead centre",
    "thread_length": "bolt travels too far",
    "leaves_adjuster": "plate leaves the adjuster",
    "adjuster_load": "adjuster over its limit",
    "hinge_load": "hinge over its limit",
    "bearing": "a bearing over its limit",
    "motor_in_the_way": "bolt or wrench meets the motor",
}


@dataclass(frozen=True, slots=True)
class Legend:
    """Reasons with a hatch of their own, by code, and lines of (hatch, text), the first on top."""

    codes: tuple[int, ...]
    lines: tuple[tuple[str | None, str], ...]

    @property
    def height(self) -> float:
        """Room that it takes [inches]."""
        return _BELOW + _LINE * (len(self.lines) + 1)

    def draw(self, figure: Figure) -> None:
        """Write it at the foot of a figure."""
        wide, tall = figure.get_size_inches()
        title = "Layouts by what failed first:" if self.lines else "Every layout tried will do."
        texts = [(None, title), *self.lines]
        for index, (hatch, text) in enumerate(texts):
            y = _BELOW + _LINE * (len(texts) - 1 - index)
            left = _TEXT_AT if index else 0.15
            room = (wide - left - _EDGE) * figure.dpi
            figure.text(
                left / wide, y / tall, fitted_name(figure, text, room), fontsize=FONT_SIZE,
                parse_math=False, gid="legend",
            )  # fmt: skip
            if hatch is not None:
                box = ((0.2 / wide, (y - 0.03) / tall), 0.34 / wide, 0.15 / tall)
                figure.add_artist(
                    Rectangle(
                        *box, facecolor="white", edgecolor=HATCH_COLOUR, hatch=hatch,
                        linewidth=0.6, gid="swatch",
                    )
                )  # fmt: skip


def legend_of(space: SearchSpace, placement: Placement, cells: Cells) -> Legend:
    """Give a hatch to what most cells fail for, and tell all counts."""
    codes = _hatched(cells)
    hatched = {reason_name(code, space.keep_outs): code for code in codes}
    counts = dict.fromkeys(hatched, 0) | {why.reason: why.count for why in placement.why_not}
    order = sorted(counts, key=lambda name: -counts[name])
    shown = set(hatched) | set(order[:_MOST_LINES])
    while len(shown) > max(_MOST_LINES, len(hatched)):
        shown.remove(next(name for name in reversed(order) if name in shown - hatched.keys()))
    own = [name for name in order if name in shown]
    hatches = dict(zip((name for name in own if name in hatched), HATCHES, strict=False))
    # What is on the map without a hatch of its own has the last one.
    others = {
        reason_name(int(code), space.keep_outs)
        for code in np.unique(cells.reason[cells.reason > 0])
    }
    hatches |= dict.fromkeys(others - hatched.keys(), HATCHES[-1])
    lines: list[tuple[str | None, str]] = [
        (hatches.get(name), f"{counts[name]:,} {_words(name)}") for name in own
    ]
    if rest := [name for name in order if name not in shown]:
        in_map = not hatches.keys().isdisjoint(rest)
        total = sum(counts[name] for name in rest)
        text = _words(rest[0]) if len(rest) == 1 else f"for {len(rest)} other reasons"
        lines.append((HATCHES[-1] if in_map else None, f"{total:,} {text}"))
    return Legend(tuple(hatched[name] for name in own if name in hatched), tuple(lines))


def _hatched(cells: Cells) -> Sequence[int]:
    """Codes that get a hatch of their own: the last hatch is for the rest, if there is one."""
    codes, sizes = np.unique(cells.reason[cells.reason > 0], return_counts=True)
    kept = [int(code) for code in codes[np.argsort(-sizes, kind="stable")]]
    return kept if len(kept) <= len(HATCHES) else kept[: len(HATCHES) - 1]


def _words(name: str) -> str:
    """A reason as people read it."""
    kind, _, keep_out = name.partition(":")
    if kind == "keep_out":
        return f"in the way: {plain(keep_out, _NAME)}"
    return _WORDS.get(name, plain(name.replace("_", " "), _NAME))
