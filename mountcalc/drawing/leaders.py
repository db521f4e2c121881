"""Leaders with their texts where nothing is in the way."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

import shapely
from shapely.geometry.base import BaseGeometry

from mountcalc.drawing.annotations import leader_label, offset_label, offset_lines
from mountcalc.drawing.extent import extremes
from mountcalc.drawing.model import (
    TEXT_HEIGHT,
    Arc,
    Bounds,
    Circle,
    Item,
    Label,
    Leader,
    Line,
    Offset,
    Path,
    Point,
)

__all__ = ["Leaders"]

_DISTANCES = (0.012, 0.020, 0.030, 0.045, 0.065, 0.090, 0.120)
_WAYS = 16
_AIR = 0.0015
_ARC_STEP = math.radians(2.0)


class Leaders:
    """Places leaders one after the other, at true scale.

    Parameters
    ----------
    items : iterable of Item
        What is drawn already: no text should stand across it.
    room : Bounds [m]
        In which texts should stay.
    """

    def __init__(self, items: Iterable[Item], room: Bounds) -> None:
        items = tuple(items)
        self._lines = shapely.union_all([line for item in items for line in _lines(item)])
        self._texts = shapely.union_all([text for item in items for text in _texts(item)])
        self._room = shapely.box(*room)

    def place(self, at: Point, text: str) -> Leader:
        """A leader to a point.

        Parameters
        ----------
        at : Point [m]
            What it points at.
        text : str
            One line.

        Returns
        -------
        Leader
            The nearest whose text is clear of all; where none is, the one that meets least. Its
            text and its line are taken from then on.
        """
        found = min(_candidates(at, text), key=self._badness)
        self._lines = shapely.union(self._lines, _line(found))
        self._texts = shapely.union(self._texts, _box(leader_label(found, 1.0)))
        return found

    def _badness(self, leader: Leader) -> tuple[float, float]:
        """What its text or line would run across [m], and its length [m]."""
        box = _box(leader_label(leader, 1.0))
        outside = box.area - box.intersection(self._room).area
        meets = (
            box.intersection(self._lines).length + _line(leader).intersection(self._texts).length
        )
        both = box.intersection(self._texts).area
        return round(meets + (both + outside) / TEXT_HEIGHT, 6), math.dist(leader.at, leader.to)


def _candidates(at: Point, text: str) -> Iterator[Leader]:
    for distance in _DISTANCES:
        for number in range(_WAYS):
            angle = (number + 0.5) * 2.0 * math.pi / _WAYS
            to = (at[0] + distance * math.cos(angle), at[1] + distance * math.sin(angle))
            yield Leader(at, to, text)


def _line(leader: Leader) -> BaseGeometry:
    return shapely.LineString([leader.at, leader.to])


def _box(label: Label) -> BaseGeometry:
    """Where a text stands, with some air."""
    across, up = zip(*extremes(label, 1.0), strict=True)
    box = shapely.box(min(across), min(up), max(across), max(up))
    return box.buffer(_AIR, join_style="mitre")


def _lines(item: Item) -> Iterator[BaseGeometry]:
    match item:
        case Line():
            yield shapely.LineString([item.start, item.end])
        case Path():
            closing = item.points[:1] if item.closed else ()
            yield shapely.LineString([*item.points, *closing])
        case Circle():
            yield _round(item.centre, item.radius, 0.0, math.tau)
        case Arc():
            yield _round(item.centre, item.radius, item.start, (item.end - item.start) % math.tau)
        case Offset():
            for line in offset_lines(item, 1.0):
                yield from _lines(line)
        case Leader():
            yield _line(item)


def _round(centre: Point, radius: float, start: float, sweep: float) -> BaseGeometry:
    count = max(2, math.ceil(sweep / _ARC_STEP))
    angles = [start + sweep * number / count for number in range(count + 1)]
    return shapely.LineString(
        [
            (centre[0] + radius * math.cos(angle), centre[1] + radius * math.sin(angle))
            for angle in angles
        ]
    )


def _texts(item: Item) -> Iterator[BaseGeometry]:
    match item:
        case Label():
            yield _box(item)
        case Leader():
            yield _box(leader_label(item, 1.0))
        case Offset():
            yield _box(offset_label(item, 1.0))
