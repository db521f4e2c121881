"""Joints of a template's sheets: crosses to join them by, and texts that no joint cuts."""

from __future__ import annotations

import dataclasses
import itertools
import math
from collections.abc import Iterable, Iterator, Sequence
from typing import TypeAlias

import numpy as np

from mountcalc.drafting.annotations import feet, strokes_of
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
    along,
    moved,
)
from mountcalc.drafting.names.choice import Floats, overlapping, pieces, through
from mountcalc.drafting.paper.sheets import Extent, Grid, on_paper, span
from mountcalc.drafting.paper.text import text_box
from mountcalc.record import Record
from mountcalc.thresholds import ROUNDING

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


class Taken(Record):
    """What stands on paper: rows of straight pieces (start, end) and of boxes of texts [m]."""

    lines: Floats
    texts: Floats

    @classmethod
    def by(cls, strokes: Iterable[Stroke]) -> Taken:
        """What strokes take of the paper."""
        drawn = [*strokes]
        texts = [text_box(one) for one in drawn if isinstance(one, Label)]
        return cls(pieces(drawn, 1.0), np.array(texts).reshape(-1, 4))

    def met_by(self, box: Bounds) -> tuple[int, int]:
        """How many texts and lines a text in a place would meet."""
        one = np.array([box])
        return int(overlapping(one, self.texts).sum()), int(through(self.lines, one).sum())


def within(box: Bounds, window: Bounds) -> bool:
    """Whether a box lies in a window."""
    past = (window[0] - box[0], window[1] - box[1], box[2] - window[2], box[3] - window[3])
    return max(past) <= ROUNDING


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


_Parted: TypeAlias = tuple[Sequence[Stroke], Label | None]
"""The lines of an item, and its text."""


def _parted(item: Item) -> _Parted:
    *lines, last = strokes_of(item, 1.0)
    return (lines, last) if isinstance(last, Label) else ([*lines, last], None)


def _together(parted: Iterable[_Parted]) -> tuple[Stroke, ...]:
    return tuple(one for lines, text in parted for one in (*lines, text) if one is not None)


def kept_whole(drawing: Drawing) -> tuple[list[Extent], list[Extent]]:
    """What of a template a joint should not cut: texts, and small pieces of the work."""
    texts, pieces = [], []
    for item in drawing.items:
        lines, text = _parted(item)
        if text is not None:
            texts.append(_reach(item, text))
        elif not isinstance(item, Leader) and item.layer in WORK:
            left, bottom, right, top = bounds = span(lines)
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
    parted = [_parted(item) for item in drawing.items]
    for number, item in enumerate(drawing.items):
        lines, text = parted[number]
        if text is None or (_in_one(_shown(item, text), windows) and not isinstance(item, Offset)):
            continue
        drawn = _together((*parted[:number], (marks, None), *parted[number + 1 :]))
        made = [one for one in drawn if isinstance(one, Label) or one.layer in WORK]
        for in_the_way in (drawn, made):
            found = _best(item, lines, text, windows, Taken.by(in_the_way))
            parted[number] = found
            if _in_one(text_box(found[1], _AIR), windows):
                break
    return _together(parted)


def _best(
    item: Item, lines: Sequence[Stroke], text: Label, windows: Sequence[Bounds], full: Taken
) -> tuple[Sequence[Stroke], Label]:
    """The item with its text where it meets least, no more than it met before."""
    most_texts, most_lines = full.met_by(text_box(text, _AIR))
    if isinstance(item, Offset):  # its own line says what it belongs to: only texts are in its way
        most_lines = len(full.lines)
    best, least = (lines, text), (True, math.inf, math.inf)
    for own, tried in _elsewhere(item, lines, text):
        box = text_box(tried, _AIR)
        if not _in_one(box, windows):
            continue
        texts, crossed = full.met_by(box)
        met = (not _in_one(_shown(item, tried), windows), texts, crossed)
        if texts > most_texts or crossed > most_lines or met >= least:
            continue
        if not isinstance(item, Leader) or not through(pieces(own, 1.0), full.texts).any():
            best, least = (own, tried), met
        if least == (False, 0, 0):
            break
    return best


def _elsewhere(
    item: Item, lines: Sequence[Stroke], text: Label
) -> Iterator[tuple[Sequence[Stroke], Label]]:
    """The same with its text elsewhere, the nearest first."""
    if isinstance(item, Offset):
        count = int(_run(item, text) / _SLIDE)
        for step in sorted(range(-count, count + 1), key=abs):
            yield lines, moved(text, along((0.0, 0.0), text.angle, step * _SLIDE))
    if isinstance(item, Leader):
        for to in _ends(item):
            own, tried = _parted(dataclasses.replace(item, to=to))
            if math.dist(item.at, to) >= _LEAST_LEADER and tried is not None:
                yield own, tried


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
