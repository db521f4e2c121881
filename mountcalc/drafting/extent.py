"""What an item spans, texts by the estimate of their width."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from functools import singledispatch

from mountcalc.drafting.annotations import leader_label, offset_label, offset_lines
from mountcalc.drafting.geometry import along, sweep, text_width
from mountcalc.drafting.items import (
    Align,
    Arc,
    Circle,
    Item,
    Label,
    Leader,
    Line,
    Offset,
    Path,
    Point,
)

__all__ = ["extremes"]

_START_SHARE: Mapping[Align, float] = {"left": 0.0, "centre": 0.5, "right": 1.0}


@singledispatch
def extremes(item: Item, reduction: float) -> Iterator[Point]:
    """Points between which an item lies."""
    raise TypeError(f"no item of a drawing: {item!r}, {reduction}")


@extremes.register
def _(item: Line, _reduction: float) -> Iterator[Point]:
    yield item.start
    yield item.end


@extremes.register
def _(item: Path, _reduction: float) -> Iterator[Point]:
    yield from item.points


@extremes.register
def _(item: Circle, _reduction: float) -> Iterator[Point]:
    for quarter in range(4):
        yield along(item.centre, quarter * math.pi / 2, item.radius)


@extremes.register
def _(item: Arc, _reduction: float) -> Iterator[Point]:
    yield along(item.centre, item.start, item.radius)
    yield along(item.centre, item.end, item.radius)
    for quarter in range(4):
        if (quarter * math.pi / 2 - item.start) % math.tau < sweep(item):
            yield along(item.centre, quarter * math.pi / 2, item.radius)


@extremes.register
def _(item: Label, reduction: float) -> Iterator[Point]:
    height = item.height * reduction
    width = text_width(item.text, height)
    before = _START_SHARE[item.align] * width
    for distance in (-before, width - before):
        for left in (-0.3 * height, height):  # what hangs below the base line, and capitals
            yield along(item.at, item.angle, distance, left)


@extremes.register
def _(item: Offset, reduction: float) -> Iterator[Point]:
    yield item.start
    yield item.end
    for line in offset_lines(item, reduction):
        yield from extremes(line, reduction)
    yield from extremes(offset_label(item, reduction), reduction)


@extremes.register
def _(item: Leader, reduction: float) -> Iterator[Point]:
    yield item.at
    yield item.to
    yield from extremes(leader_label(item, reduction), reduction)
