"""Marks on the panel where the strip's bends begin and end, and where its ends meet."""

from __future__ import annotations

import math
from collections.abc import Iterator

from mountcalc.drafting.items import Layer, Line, Point
from mountcalc.draw.guard.strip.layout import StripLayout

__all__ = ["strip_marks", "strip_names"]

_SAME_PLACE = 1e-6  # [m]
_WHOLE = math.tau - 1e-9  # [rad] a round without ends
_LONG = 0.005  # [m] from the edge into the panel


def strip_marks(layout: StripLayout) -> Iterator[Line]:
    """Short lines from the edge into the panel, square to it."""
    # Bends without a straight run between them share a mark.
    seen: list[Point] = []
    for run in layout.runs:
        if run.turn >= _WHOLE:
            continue
        for way in run.ways:
            at = run.at(way)
            if all(math.dist(at, other) > _SAME_PLACE for other in seen):
                seen.append(at)
                yield Line(at, run.at(way, run.radius - _LONG), Layer.MARK)
    x, y = layout.butt
    way = layout.inward
    yield Line((x, y), (x + _LONG * math.cos(way), y + _LONG * math.sin(way)), Layer.MARK)


def strip_names(layout: StripLayout) -> Iterator[tuple[tuple[Point, ...], str]]:
    """Points of the edge, any of which may be pointed at, and what is there."""
    for run in layout.runs:
        yield run.middles, f"bend {run.number}"
    yield (layout.butt,), "butt of the strip"
