"""What a drawing is made of: items in metres, each with the ink that says what it is for.

One plane: x right, y up, angles counter-clockwise from x. Lengths of the object are real [m];
heights of texts are those on paper [m], whatever the reduction.
"""

from __future__ import annotations

import dataclasses
from enum import StrEnum
from typing import Literal, TypeAlias

__all__ = [
    "TEXT_HEIGHT",
    "Align",
    "Arc",
    "Bounds",
    "Circle",
    "Ink",
    "Item",
    "Label",
    "Leader",
    "Line",
    "Offset",
    "Path",
    "Point",
]

Point: TypeAlias = tuple[float, float]
Bounds: TypeAlias = tuple[float, float, float, float]
Align: TypeAlias = Literal["left", "centre", "right"]

TEXT_HEIGHT = 0.003  # [m] on paper; the least that is legible from a home printer (estimate)


class Ink(StrEnum):
    """What a line is for on the bench."""

    CUT = "CUT"  # sawn or routed through
    DRILL = "DRILL"
    MARK = "MARK"  # scribed, not cut
    POCKET = "POCKET"  # taken out to a depth, as a mortise
    VISIBLE = "VISIBLE"  # solid outline of what a view shows: nothing is cut along it
    EDGE = "EDGE"  # outline of a neighbour, or of another position
    CENTRE = "CENTRE"  # centre lines
    DIMENSION = "DIMENSION"
    NOTE = "NOTE"


@dataclasses.dataclass(frozen=True, slots=True)
class Line:
    """A straight line.

    Attributes
    ----------
    start, end : Point [m]
        Its ends.
    ink : Ink
        What it is for.
    """

    start: Point
    end: Point
    ink: Ink


@dataclasses.dataclass(frozen=True, slots=True)
class Arc:
    """Part of a circle.

    Attributes
    ----------
    centre : Point [m]
        Its centre.
    radius : float [m]
        Above zero.
    start, end : float [rad]
        Where it begins and ends, counter-clockwise; a whole turn where both are one direction.
    ink : Ink
        What it is for.
    """

    centre: Point
    radius: float
    start: float
    end: float
    ink: Ink


@dataclasses.dataclass(frozen=True, slots=True)
class Circle:
    """A whole circle.

    Attributes
    ----------
    centre : Point [m]
        Its centre.
    radius : float [m]
        Above zero.
    ink : Ink
        What it is for.
    """

    centre: Point
    radius: float
    ink: Ink


@dataclasses.dataclass(frozen=True, slots=True)
class Path:
    """Straight lines from point to point.

    Attributes
    ----------
    points : tuple of Point [m]
        At least two; a closed one does not repeat its first.
    closed : bool
        Whether the last point is joined to the first.
    ink : Ink
        What it is for.
    """

    points: tuple[Point, ...]
    closed: bool
    ink: Ink


@dataclasses.dataclass(frozen=True, slots=True)
class Label:
    """One line of text.

    Attributes
    ----------
    at : Point [m]
        Where its base line starts, has its middle, or ends: as ``align`` says.
    text : str
        The text.
    height : float [m]
        Height of a capital letter on paper.
    ink : Ink
        What it belongs to.
    align : {"left", "centre", "right"}
        Which place of the text stands at ``at``.
    angle : float [rad]
        Direction in which it is read.
    ground : bool
        Whether it stands on white, so that lines under it are hidden on paper.
    """

    at: Point
    text: str
    height: float = TEXT_HEIGHT
    ink: Ink = Ink.NOTE
    align: Align = "left"
    angle: float = 0.0
    ground: bool = False


@dataclasses.dataclass(frozen=True, slots=True)
class Offset:
    """A linear dimension.

    Attributes
    ----------
    start, end : Point [m]
        The measured points.
    shift : float [m]
        How far the dimension line stands from ``start``, to the left of the measured direction.
    text : str
        The distance, in the units that are shown.
    ink : Ink
        ``Ink.DIMENSION`` unless it belongs to something else.
    direction : float or None [rad]
        Direction in which the distance is measured; None: from start to end.
    """

    start: Point
    end: Point
    shift: float
    text: str
    ink: Ink = Ink.DIMENSION
    direction: float | None = None


@dataclasses.dataclass(frozen=True, slots=True)
class Leader:
    """A text with a thin line and an arrow to what it is about.

    Attributes
    ----------
    at : Point [m]
        What is pointed at.
    to : Point [m]
        Where the text stands: to the right of it if it lies right of ``at``, else to the left.
    text : str
        One line.
    """

    at: Point
    to: Point
    text: str


Item: TypeAlias = Line | Arc | Circle | Path | Label | Offset | Leader
