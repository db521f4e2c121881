"""Texts of a template kept whole: where joints may cut them, and moved where they would be cut."""

from __future__ import annotations

import dataclasses
import itertools
import math
from collections.abc import Iterator, Sequence

from mountcalc.drawing.geometry import feet
from mountcalc.drawing.model import Bounds, Drawing, Ink, Item, Label, Leader, Offset, Point
from mountcalc.show.drawing_clear import taken, text_box, within
from mountcalc.show.drawing_joints import Extent, Kept
from mountcalc.show.drawing_marks import crosses
from mountcalc.show.drawing_paper import Stroke, on_paper, shifted, span
from mountcalc.show.drawing_sheets import Grid

__all__ = ["kept_whole", "whole_texts"]

_AIR = 0.001  # kept free around a text, from the edge of its sheet [m]
_SMALL = 0.080  # a line of the work that takes no more should lie on one sheet [m]
_SLIDE = 0.001  # from one place of a text along its dimension to the next [m]
_NUDGE, _NUDGES = 0.002, 5  # the same around the end of a leader, and how many each way
_WORK = {Ink.CUT, Ink.DRILL, Ink.MARK, Ink.POCKET}
_LEAST_LEADER = 0.008  # [m] that is left of a leader's line, so that its arrow is seen
_UPRIGHT = 1e-9  # [-]


def _strokes(drawing: Drawing, item: Item) -> tuple[Stroke, ...]:
    """An item of a template as it is printed."""
    return on_paper(dataclasses.replace(drawing, items=(item,)), 1.0)


def _text(strokes: Sequence[Stroke]) -> Label | None:
    return next((stroke for stroke in strokes if isinstance(stroke, Label)), None)


def kept_whole(drawing: Drawing) -> Kept:
    """What of a template a joint between sheets should not cut.

    Parameters
    ----------
    drawing : Drawing
        A template.

    Returns
    -------
    Kept
        Its texts, those of dimensions anywhere along their lines; its holes and slots.
    """
    texts: list[Extent] = []
    pieces: list[Extent] = []
    for item in drawing.items:
        strokes = _strokes(drawing, item)
        text = _text(strokes)
        if text is not None:
            texts.append(_reach(item, text))
        elif not isinstance(item, Label | Leader | Offset) and item.ink in _WORK:
            left, bottom, right, top = bounds = span(strokes)
            if max(right - left, top - bottom) <= _SMALL:
                pieces.append(Extent(bounds, right - left, top - bottom))
    return Kept(tuple(texts), tuple(pieces))


def _reach(item: Item, text: Label) -> Extent:
    """Where a text may stand: in its place, or along a dimension line that is upright or level."""
    left, bottom, right, top = text_box(text, _AIR)
    across = up = 0.0
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
    line = feet(item)
    return max(0.0, (math.dist(line.start, line.end) - (right - left)) / 2)


def whole_texts(drawing: Drawing, grid: Grid) -> tuple[Stroke, ...]:
    """The strokes of a template, its texts moved a little where joints would cut them.

    Parameters
    ----------
    drawing : Drawing
        A template.
    grid : Grid
        The tiles over it.

    Returns
    -------
    tuple of Stroke
        Texts of dimensions are slid along their lines, those of leaders moved by some millimetres
        if they meet no more there than before; all else is where it was.
    """
    windows = [grid.window(column, row) for column, row in grid.places()]
    marks = tuple(crosses(grid))
    printed = [_strokes(drawing, item) for item in drawing.items]
    for number, item in enumerate(drawing.items):
        text = _text(printed[number])
        if text is None or (_in_one(text, windows) and not _torn(text, windows)):
            continue
        others = [*printed[:number], marks, *printed[number + 1 :]]
        scene = [stroke for strokes in others for stroke in strokes]
        printed[number] = _moved(drawing, item, printed[number], (windows, scene))
    return tuple(stroke for strokes in printed for stroke in strokes)


def _in_one(text: Label, windows: Sequence[Bounds]) -> bool:
    box = text_box(text, _AIR)
    return any(within(box, window) for window in windows)


def _torn(text: Label, windows: Sequence[Bounds]) -> int:
    """In how many windows a part of the text is seen but not all of it."""
    box = text_box(text)
    shown = (_shows(box, window) for window in windows)
    return sum(
        some and not within(box, window) for some, window in zip(shown, windows, strict=True)
    )


def _shows(box: Bounds, window: Bounds) -> bool:
    across = box[0] < window[2] and box[2] > window[0]
    return across and box[1] < window[3] and box[3] > window[1]


def _moved(
    drawing: Drawing,
    item: Item,
    strokes: tuple[Stroke, ...],
    around: tuple[Sequence[Bounds], Sequence[Stroke]],
) -> tuple[Stroke, ...]:
    """The item's strokes with its text in one window, or as they are if nothing better is found."""
    windows, scene = around
    full = taken(scene)
    best, least = strokes, (math.inf, math.inf, math.inf)
    for tried in _tries(drawing, item, strokes):
        text = _text(tried)
        if text is None or not _in_one(text, windows):
            continue
        met = (_torn(text, windows), *full.met_by(text_box(text, _AIR)))
        if met < least:
            best, least = tried, met
    before = _text(strokes)
    assert before is not None
    allowed = full.met_by(text_box(before, _AIR))
    if isinstance(item, Offset):  # its own line says what it belongs to: only texts are in its way
        allowed = (allowed[0], len(full.lines))
    return (
        best if all(now <= most for now, most in zip(least[1:], allowed, strict=True)) else strokes
    )


def _tries(
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
        for by in _nudges():
            to = item.to[0] + by[0], item.to[1] + by[1]
            same_side = (to[0] >= item.at[0]) == (item.to[0] >= item.at[0])
            if same_side and math.dist(item.at, to) >= _LEAST_LEADER:
                yield _strokes(drawing, dataclasses.replace(item, to=to))


def _nudges() -> list[Point]:
    steps = range(-_NUDGES, _NUDGES + 1)
    around = ((_NUDGE * across, _NUDGE * up) for across, up in itertools.product(steps, steps))
    return sorted(around, key=lambda by: math.hypot(*by))
