"""Joints of a template's sheets: crosses to join them by, and texts that no joint cuts."""

from __future__ import annotations

import dataclasses
import itertools
import math
from collections.abc import Iterable, Iterator, Sequence

import numpy as np

from mountcalc.drafting.annotations import feet
from mountcalc.drafting.drawing import Drawing
from mountcalc.drafting.items import (
    TEXT_HEIGHT,
    Align,
    Bounds,
    Item,
    Label,
    Layer,
    Leader,
    Line,
    Offset,
    Point,
    Stroke,
)
from mountcalc.drafting.names.choice import Floats, chords, overlapping, through
from mountcalc.drafting.paper.sheets import Extent, Grid, on_paper, shifted, span
from mountcalc.drafting.paper.text import text_box
from mountcalc.tolerances import ROUNDING

__all__ = [
    "WORK",
    "Taken",
    "kept_whole",
    "match_marks",
    "whole_texts",
    "within",
    "without_blanks",
]

WORK = {Layer.CUT, Layer.DRILL, Layer.MARK, Layer.POCKET}
"""Layers of what is made."""

_AIR = 0.001  # kept free around a text, from the edge of its sheet [m]
_STUB = 0.005  # of a leader's line that should be seen with its text, so that it is followed [m]
_SMALL = 0.080  # a line of the work that takes no more should lie on one sheet [m]
_SLIDE = 0.001  # from one place of a text along its dimension to the next [m]
_NUDGE = 0.002  # the same around the end of a leader [m]
_ACROSS, _UP = 12, 8  # how many of those each way
_TURNED = ((1, 1), (-1, 1), (1, -1), (-1, -1))
_LEAST_LEADER = 0.008  # [m] that is left of a leader's line, so that its arrow is seen
_CROSS = 0.004  # half length of a match mark [m]
_NAME_GAP = 0.001  # from a cross to its name
_NAME_AIR = 0.0008  # kept free around a name, which stands on white [m]
_FARTHER = 4  # rings of places around a cross, if its quadrants are taken
_ALPHABET = 26


@dataclasses.dataclass(frozen=True, slots=True)
class Taken:
    """What stands on paper: rows of straight pieces (start, end) and of boxes of texts [m]."""

    lines: Floats
    texts: Floats

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
        one = np.array([box])
        return int(overlapping(one, self.texts).sum()), int(through(self.lines, one).sum())


def within(box: Bounds, window: Bounds) -> bool:
    """Whether a box lies in a window."""
    low = all(one >= edge - ROUNDING for one, edge in zip(box[:2], window[:2], strict=True))
    return low and all(
        one <= edge + ROUNDING for one, edge in zip(box[2:], window[2:], strict=True)
    )


def _cross(at: Point) -> tuple[Line, Line]:
    """One match mark."""
    x, y = at
    return (
        Line((x - _CROSS, y), (x + _CROSS, y), Layer.NOTE),
        Line((x, y - _CROSS), (x, y + _CROSS), Layer.NOTE),
    )


def _letters(number: int) -> str:
    """A, B ... Z, AA, AB ..."""
    before = "" if number < _ALPHABET else _letters(number // _ALPHABET - 1)
    return before + chr(ord("A") + number % _ALPHABET)


def match_marks(
    grid: Grid, column: int, row: int, strokes: Iterable[Stroke] = ()
) -> Iterator[Stroke]:
    """The crosses at a tile's corners; sheets that meet there bear the same cross and letters."""
    window = grid.window(column, row)
    full = Taken.by(strokes)
    for right in (0, 1):
        for below in (0, 1):
            at = grid.corner(column + right, row + below)
            yield from _cross(at)
            name = f"{_letters(column + right)}{row + below + 1}"
            names = _names(at, name, -1 if right else 1, 1 if below else -1)
            inside = (one for one in names if within(text_box(one, _NAME_AIR), window))
            # The first that meets nothing in its tile, else the one that meets least.
            yield min(inside, key=lambda one: full.met_by(text_box(one, _NAME_AIR)))


def _names(at: Point, name: str, across: int, up: int) -> Iterator[Label]:
    """A cross's name on white: in its four quadrants, then farther into the tile."""
    near = _NAME_GAP
    away = [(x * near, y * near) for x in (across, -across) for y in (up, -up)]
    for step in range(_FARTHER):
        far = _CROSS + near + step * TEXT_HEIGHT
        away += [(across * far, y * level) for level in (near, far) for y in (up, -up)]
        away.append((across * near, up * far))
    for right, above in away:
        level = at[1] + (above if above > 0 else above - TEXT_HEIGHT)
        align: Align = "left" if right > 0 else "right"
        yield Label((at[0] + right, level), name, align=align, ground=True)


def _strokes(drawing: Drawing, item: Item) -> tuple[Stroke, ...]:
    """An item of a template as it is printed."""
    return on_paper(dataclasses.replace(drawing, items=(item,)), 1.0)


def _text(strokes: Iterable[Stroke]) -> Label | None:
    return next((stroke for stroke in strokes if isinstance(stroke, Label)), None)


def kept_whole(drawing: Drawing) -> tuple[list[Extent], list[Extent]]:
    """What of a template a joint should not cut: texts, and small pieces of the work."""
    texts, pieces = [], []
    for item in drawing.items:
        strokes = _strokes(drawing, item)
        text = _text(strokes)
        if text is not None:
            texts.append(_reach(item, text))
        elif not isinstance(item, Leader) and item.layer in WORK:
            left, bottom, right, top = bounds = span(strokes)
            if max(right - left, top - bottom) <= _SMALL:
                pieces.append(Extent(bounds, right - left, top - bottom))
    return texts, pieces


def _reach(item: Item, text: Label) -> Extent:
    """Where a text may stand: along its dimension's line if upright or level, about its leader."""
    left, bottom, right, top = _shown(item, text)
    across = up = 0.0
    if isinstance(item, Leader):  # half of what is tried: not everywhere will be room
        across, up = 0.5 * _ACROSS * _NUDGE, 0.5 * _UP * _NUDGE
    if isinstance(item, Offset):
        run = _run(item, text)
        across, up = abs(run * math.cos(text.angle)), abs(run * math.sin(text.angle))
        if min(across, up) > ROUNDING:
            across = up = 0.0
    bounds = left - across, bottom - up, right + across, top + up
    return Extent(bounds, right - left, top - bottom)


def _shown(item: Item, text: Label) -> Bounds:
    """What one sheet should show: the text with some air, of a leader also the end of its line."""
    left, bottom, right, top = text_box(text, _AIR)
    if isinstance(item, Leader):
        left, right = (left - _STUB, right) if text.align == "left" else (left, right + _STUB)
    return left, bottom, right, top


def _run(item: Offset, text: Label) -> float:
    """How far the text of a dimension may go either way along its line [m]."""
    if text.align != "centre":  # it stands beyond the line's end
        return 0.0
    left, _, right, _ = text_box(dataclasses.replace(text, angle=0.0), _AIR)
    return max(0.0, (feet(item).length - (right - left)) / 2)


def _in_one(box: Bounds, windows: Sequence[Bounds]) -> bool:
    return any(within(box, window) for window in windows)


def without_blanks(drawing: Drawing, grid: Grid) -> Grid:
    """The tiles that are worth a sheet."""
    printed = on_paper(drawing, 1.0)
    work = Taken.by(one for one in printed if not isinstance(one, Label) and one.layer in WORK)
    blank = {place for place in grid.places() if work.met_by(grid.cell(*place)) == (0, 0)}
    fewer = dataclasses.replace(grid, blank=frozenset(blank))
    windows = fewer.windows()
    texts = (one for one in whole_texts(drawing, fewer) if isinstance(one, Label))
    torn = Taken.by(one for one in texts if not _in_one(text_box(one), windows))
    needed = {place for place in blank if torn.met_by(grid.cell(*place))[0]}
    return dataclasses.replace(grid, blank=frozenset(blank - needed))


def whole_texts(drawing: Drawing, grid: Grid) -> tuple[Stroke, ...]:
    """The strokes of a template, its texts moved a little where joints would cut them.

    A name that finds no place clear of all lines may stand on its ground over what is not made.
    """
    windows = grid.windows()
    corners = itertools.product(range(grid.columns + 1), range(grid.rows + 1))
    marks = [line for corner in corners for line in _cross(grid.corner(*corner))]
    printed = [_strokes(drawing, item) for item in drawing.items]
    for number, item in enumerate(drawing.items):
        text = _text(printed[number])
        if text is None or (_in_one(_shown(item, text), windows) and not isinstance(item, Offset)):
            continue
        others = [*printed[:number], marks, *printed[number + 1 :]]
        drawn = [stroke for strokes in others for stroke in strokes]
        made = [one for one in drawn if isinstance(one, Label) or one.layer in WORK]
        before = printed[number]
        for in_the_way in (drawn, made):
            printed[number] = _best(drawing, item, before, windows, Taken.by(in_the_way))
            text = _text(printed[number])
            if text is not None and _in_one(text_box(text, _AIR), windows):
                break
    return tuple(stroke for strokes in printed for stroke in strokes)


def _best(
    drawing: Drawing,
    item: Item,
    strokes: tuple[Stroke, ...],
    windows: Sequence[Bounds],
    full: Taken,
) -> tuple[Stroke, ...]:
    """The item's strokes with its text where it meets least, no more than it met before."""
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
        met = (not _in_one(_shown(item, text), windows), texts, lines)
        if texts <= most_texts and lines <= most_lines and met < least:
            own = Taken.by(one for one in tried if not isinstance(one, Label)).lines
            if not isinstance(item, Leader) or not through(own, full.texts).any():
                best, least = tried, met
        if least == (False, 0, 0):
            break
    return best


def _elsewhere(
    drawing: Drawing, item: Item, strokes: tuple[Stroke, ...]
) -> Iterator[tuple[Stroke, ...]]:
    """The same with its text elsewhere, the nearest first."""
    text = _text(strokes)
    if isinstance(item, Offset) and text is not None:
        lines = [one for one in strokes if not isinstance(one, Label)]
        count = int(_run(item, text) / _SLIDE)
        for step in sorted(range(-count, count + 1), key=abs):
            by = step * _SLIDE * math.cos(text.angle), step * _SLIDE * math.sin(text.angle)
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
