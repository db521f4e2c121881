"""Texts of a template kept whole: where joints may cut them, and moved where they would be cut."""

from __future__ import annotations

import dataclasses
import itertools
import math
from collections.abc import Iterable, Iterator, Sequence

import numpy as np
from numpy.typing import NDArray

from mountcalc.drafting.annotations import BEFORE, HANGING, feet
from mountcalc.drafting.drawing import Drawing
from mountcalc.drafting.items import (
    Bounds,
    Item,
    Label,
    Layer,
    Leader,
    Line,
    Offset,
    Point,
    along,
    around,
)
from mountcalc.drafting.names.choice import chords
from mountcalc.drafting.paper.sheets import Extent, Grid, Kept, Stroke, on_paper, shifted, span
from mountcalc.drafting.paper.text import printed, text_width

__all__ = ["Taken", "crosses", "kept_whole", "text_box", "whole_texts", "within", "without_blanks"]

_AIR = 0.001  # kept free around a text, from the edge of its sheet [m]
_STUB = 0.005  # of a leader's line that should be seen with its text, so that it is followed [m]
_SMALL = 0.080  # a line of the work that takes no more should lie on one sheet [m]
_SLIDE = 0.001  # from one place of a text along its dimension to the next [m]
_NUDGE = 0.002  # the same around the end of a leader [m]
_ACROSS, _UP = 12, 8  # how many of those each way
_TURNED = ((1, 1), (-1, 1), (1, -1), (-1, -1))
_WORK = {Layer.CUT, Layer.DRILL, Layer.MARK, Layer.POCKET}
_LEAST_LEADER = 0.008  # [m] that is left of a leader's line, so that its arrow is seen
_UPRIGHT = 1e-9  # [-]
_CROSS = 0.004  # half length of a match mark
_ROUNDING = 1e-9  # [m]


@dataclasses.dataclass(frozen=True, slots=True)
class Taken:
    """What stands on paper: rows of straight pieces (start, end) and of boxes of texts [m]."""

    lines: NDArray[np.float64]
    texts: NDArray[np.float64]

    @classmethod
    def by(cls, strokes: Iterable[Stroke]) -> Taken:
        """What strokes take of the paper."""
        lines, texts = [np.empty((0, 4))], []
        for stroke in strokes:
            if isinstance(stroke, Label):
                texts.append(text_box(stroke))
            else:
                lines.append(chords(stroke, 1.0))
        return cls(np.concatenate(lines), np.array(texts).reshape(-1, 4))

    def met_by(self, box: Bounds) -> tuple[int, int]:
        """How many texts and lines a text in a place would meet."""
        start, end = self.lines[:, :2], self.lines[:, 2:]
        spans = np.hstack([np.minimum(start, end), np.maximum(start, end)])
        # Corners of the box lie on both sides of a line drawn on and on.
        x, y = self.lines[:, :1], self.lines[:, 1:2]
        corners_x, corners_y = np.array([box[0::2] * 2, [box[1]] * 2 + [box[3]] * 2])
        side = (self.lines[:, 2:3] - x) * (corners_y - y)
        side -= (self.lines[:, 3:] - y) * (corners_x - x)
        astride = (side.min(axis=1) <= 0) & (side.max(axis=1) >= 0)
        texts = np.count_nonzero(_touch(self.texts, box))
        return int(texts), int(np.count_nonzero(_touch(spans, box) & astride))


def _touch(boxes: NDArray[np.float64], box: Bounds) -> NDArray[np.bool_]:
    left, bottom, right, top = boxes.T
    touch: NDArray[np.bool_] = (
        (left <= box[2]) & (right >= box[0]) & (bottom <= box[3]) & (top >= box[1])
    )
    return touch


def text_box(label: Label, air: float = 0.0) -> Bounds:
    """Where a text stands on paper, measured in the font."""
    width = text_width(printed(label.text), label.height)
    before = BEFORE[label.align] * width
    left, bottom, right, top = around(
        along(label.at, label.angle, distance, up)
        for distance in (-before, width - before)
        for up in (-HANGING * label.height, label.height)
    )
    return left - air, bottom - air, right + air, top + air


def within(box: Bounds, window: Bounds) -> bool:
    """Whether a box lies in a window."""
    low = all(one >= edge - _ROUNDING for one, edge in zip(box[:2], window[:2], strict=True))
    return low and all(
        one <= edge + _ROUNDING for one, edge in zip(box[2:], window[2:], strict=True)
    )


def crosses(grid: Grid) -> Iterator[Line]:
    """The match marks of all tiles, without their names."""
    for column in range(grid.columns + 1):
        for row in range(grid.rows + 1):
            yield from cross(grid.corner(column, row))


def cross(at: Point) -> tuple[Line, Line]:
    """One match mark."""
    x, y = at
    return (
        Line((x - _CROSS, y), (x + _CROSS, y), Layer.NOTE),
        Line((x, y - _CROSS), (x, y + _CROSS), Layer.NOTE),
    )


def _strokes(drawing: Drawing, item: Item) -> tuple[Stroke, ...]:
    """An item of a template as it is printed."""
    return on_paper(dataclasses.replace(drawing, items=(item,)), 1.0)


def _text(strokes: Sequence[Stroke]) -> Label | None:
    return next((stroke for stroke in strokes if isinstance(stroke, Label)), None)


def kept_whole(drawing: Drawing) -> Kept:
    """What of a template a joint between sheets should not cut."""
    texts: list[Extent] = []
    pieces: list[Extent] = []
    for item in drawing.items:
        strokes = _strokes(drawing, item)
        text = _text(strokes)
        if text is not None:
            texts.append(_reach(item, text))
        elif not isinstance(item, Label | Leader | Offset) and item.layer in _WORK:
            left, bottom, right, top = bounds = span(strokes)
            if max(right - left, top - bottom) <= _SMALL:
                pieces.append(Extent(bounds, right - left, top - bottom))
    return Kept(tuple(texts), tuple(pieces))


def _reach(item: Item, text: Label) -> Extent:
    """Where a text may stand: along its dimension's line if upright or level, about its leader."""
    left, bottom, right, top = _kept(item, text)
    across = up = 0.0
    if isinstance(item, Leader):  # half of what is tried: not everywhere will be room
        across, up = 0.5 * _ACROSS * _NUDGE, 0.5 * _UP * _NUDGE
    if isinstance(item, Offset):
        run = _run(item, text)
        across, up = abs(run * math.cos(text.angle)), abs(run * math.sin(text.angle))
        if min(across, up) > _UPRIGHT:
            across = up = 0.0
    bounds = left - across, bottom - up, right + across, top + up
    return Extent(bounds, right - left, top - bottom)


def _run(item: Offset, text: Label) -> float:
    """How far the text of a dimension may go either way along its line [m]."""
    if text.align != "centre":  # it stands beyond the line's end
        return 0.0
    left, _, right, _ = text_box(dataclasses.replace(text, angle=0.0), _AIR)
    return max(0.0, (feet(item).length - (right - left)) / 2)


def whole_texts(drawing: Drawing, grid: Grid) -> tuple[Stroke, ...]:
    """The strokes of a template, its texts moved a little where joints would cut them."""
    windows = grid.windows()
    marks = tuple(crosses(grid))
    printed = [_strokes(drawing, item) for item in drawing.items]
    for number, item in enumerate(drawing.items):
        text = _text(printed[number])
        if text is None or (_in_one(_kept(item, text), windows) and not isinstance(item, Offset)):
            continue
        others = [*printed[:number], marks, *printed[number + 1 :]]
        scene = [stroke for strokes in others for stroke in strokes]
        printed[number] = _moved(drawing, item, printed[number], (windows, scene))
    return tuple(stroke for strokes in printed for stroke in strokes)


def without_blanks(drawing: Drawing, grid: Grid) -> Grid:
    """The tiles that are worth a sheet."""
    printed = on_paper(drawing, 1.0)
    work = Taken.by(one for one in printed if not isinstance(one, Label) and one.layer in _WORK)
    blank = {place for place in grid.places() if work.met_by(grid.cell(*place)) == (0, 0)}
    fewer = dataclasses.replace(grid, blank=frozenset(blank))
    windows = fewer.windows()
    stay = [
        box
        for one in whole_texts(drawing, fewer)
        if isinstance(one, Label) and not _in_one(box := text_box(one), windows)
    ]
    needed = {place for place in blank if any(_overlap(box, grid.cell(*place)) for box in stay)}
    return dataclasses.replace(grid, blank=frozenset(blank - needed))


def _overlap(one: Bounds, other: Bounds) -> bool:
    return one[0] < other[2] and other[0] < one[2] and one[1] < other[3] and other[1] < one[3]


def _kept(item: Item, text: Label) -> Bounds:
    """What one sheet should show: the text with some air, of a leader also the end of its line."""
    left, bottom, right, top = text_box(text, _AIR)
    if not isinstance(item, Leader):
        return left, bottom, right, top
    on_left = text.align == "left"
    return left - on_left * _STUB, bottom, right + (not on_left) * _STUB, top


def _in_one(box: Bounds, windows: Sequence[Bounds]) -> bool:
    return any(within(box, window) for window in windows)


def _moved(
    drawing: Drawing,
    item: Item,
    strokes: tuple[Stroke, ...],
    scene: tuple[Sequence[Bounds], Sequence[Stroke]],
) -> tuple[Stroke, ...]:
    """The item's strokes with its text in one window, or as they are if nothing better is found.

    A name that finds no place clear of all lines may stand on its ground over what is not made.
    """
    windows, drawn = scene
    made = [one for one in drawn if isinstance(one, Label) or one.layer in _WORK]
    found = strokes
    for in_the_way in (drawn, made):
        found = _best(drawing, item, strokes, (windows, Taken.by(in_the_way)))
        text = _text(found)
        if text is not None and _in_one(text_box(text, _AIR), windows):
            break
    return found


def _best(
    drawing: Drawing,
    item: Item,
    strokes: tuple[Stroke, ...],
    scene: tuple[Sequence[Bounds], Taken],
) -> tuple[Stroke, ...]:
    """The item's strokes with its text where it meets least, no more than it met before."""
    windows, full = scene
    before = _text(strokes)
    assert before is not None
    most_texts, most_lines = full.met_by(text_box(before, _AIR))
    if isinstance(item, Offset):  # its own line says what it belongs to: only texts are in its way
        most_lines = len(full.lines)
    best, least = strokes, (True, math.inf, math.inf)
    for tried in _elsewhere(drawing, item, strokes):
        text = _text(tried)
        if text is None or not _in_one(text_box(text, _AIR), windows):
            continue
        texts, lines = full.met_by(text_box(text, _AIR))
        met = (not _in_one(_kept(item, text), windows), texts, lines)
        is_better = texts <= most_texts and lines <= most_lines and met < least
        if is_better and not (isinstance(item, Leader) and _crosses_texts(tried, full)):
            best, least = tried, met
        if least == (False, 0, 0):
            break
    return best


def _crosses_texts(strokes: Sequence[Stroke], full: Taken) -> bool:
    """Whether the line of a leader runs across texts of others."""
    lines = Taken.by(stroke for stroke in strokes if not isinstance(stroke, Label))
    return any(
        lines.met_by((left, bottom, right, top))[1] for left, bottom, right, top in full.texts
    )


def _elsewhere(
    drawing: Drawing, item: Item, strokes: tuple[Stroke, ...]
) -> Iterator[tuple[Stroke, ...]]:
    """The same with its text elsewhere, the nearest first."""
    text = _text(strokes)
    if isinstance(item, Offset) and text is not None:
        count = int(_run(item, text) / _SLIDE)
        for step in sorted(range(-count, count + 1), key=abs):
            by = step * _SLIDE * math.cos(text.angle), step * _SLIDE * math.sin(text.angle)
            lines = (one for one in strokes if not isinstance(one, Label))
            yield (*lines, *shifted([text], by))
    if isinstance(item, Leader):
        for to in _ends(item):
            if math.dist(item.at, to) >= _LEAST_LEADER:
                yield _strokes(drawing, dataclasses.replace(item, to=to))


def _ends(item: Leader) -> list[Point]:
    """Ends of its line about where it ends, and about there turned over, the nearest first."""
    across, up = item.to[0] - item.at[0], item.to[1] - item.at[1]
    steps = itertools.product(range(-_ACROSS, _ACROSS + 1), range(-_UP, _UP + 1))
    found = []
    for (side, level), (right, above) in itertools.product(_TURNED, tuple(steps)):
        end = side * across + _NUDGE * right, level * up + _NUDGE * above
        if (end[0] >= 0) == (side * across >= 0):
            found.append((item.at[0] + end[0], item.at[1] + end[1]))
    return sorted(found, key=lambda to: math.dist(to, item.to))
