"""Items of a drawing while they are collected, with what is named, measured and said of them."""

from __future__ import annotations

import math
from dataclasses import dataclass, field

from mountcalc.drafting.items import Circle, Item, Layer, Line, Path, Point, along

__all__ = ["ViewParts"]

_AROUND = 8  # points of a circle that a leader may take


@dataclass(slots=True)
class ViewParts:
    """What is collected.

    Attributes
    ----------
    items : list of Item
    names : list of (tuple of Point, str)
        What is named, and points of it of which a leader may take any.
    points : dict of str to Point [m]
        What is dimensioned, by its name.
    listed : dict of str to Point [m]
        What is listed with them, but not dimensioned.
    notes : list of str
        What was assumed.
    """

    items: list[Item] = field(default_factory=list)
    names: list[tuple[tuple[Point, ...], str]] = field(default_factory=list)
    points: dict[str, Point] = field(default_factory=dict)
    listed: dict[str, Point] = field(default_factory=dict)
    notes: list[str] = field(default_factory=list)

    def name(self, text: str, *at: Point) -> None:
        """Name a part at one of its points."""
        self.names.append((at, text))

    def outline(self, points: tuple[Point, ...], layer: Layer) -> None:
        """A closed outline."""
        self.items.append(Path(points, closed=True, layer=layer))

    def line(self, start: Point, end: Point, layer: Layer) -> None:
        """A straight line."""
        self.items.append(Line(start, end, layer))

    def circle(self, centre: Point, radius: float, layer: Layer) -> None:
        """A circle."""
        self.items.append(Circle(centre, radius, layer))

    def round_name(self, text: str, centre: Point, radius: float) -> None:
        """Name a circle: a leader may touch it all round."""
        turns = (math.tau * (step + 0.5) / _AROUND for step in range(_AROUND))
        self.name(text, *(along(centre, turn, radius) for turn in turns))

    def cross(self, at: Point, half: float) -> None:
        """Two centre lines."""
        self.line((at[0] - half, at[1]), (at[0] + half, at[1]), Layer.CENTRE)
        self.line((at[0], at[1] - half), (at[0], at[1] + half), Layer.CENTRE)
