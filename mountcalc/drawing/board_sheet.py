"""What the templates of both boards share: outline, datum edges, grain, hinges, dimensions."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from mountcalc.drawing.baselines import Baseline, Run, baselines
from mountcalc.drawing.bench_lengths import bench_length
from mountcalc.drawing.callouts import callouts
from mountcalc.drawing.hinge_leaves import Leaf, leaf_items
from mountcalc.drawing.model import Circle, Ink, Item, Label, Leader, Line, Path, Point
from mountcalc.drawing.plate_adjuster import Meeting
from mountcalc.drawing.template_sizes import HingeSizes
from mountcalc.scenario.model import Display

__all__ = ["Board", "board_items", "crossing", "meeting_items"]

_FIRST = 0.014  # from the board to the first dimension line on each side [m]
_BELOW = 0.010  # further below, where the hinge's line and its label are [m]
_PAST = 0.008  # centre lines past an edge [m]
_GRAIN = 0.030  # half the grain's arrow [m]
_BARB = 0.004
_CROSS = 0.005  # half a centre cross [m]


@dataclass(frozen=True, slots=True)
class Board:
    """A board whose lower left corner is the origin; all [m].

    Attributes
    ----------
    width, length : float [m]
        Along the hinge's line, and away from it.
    hinges : HingeSizes
    leaves : tuple of Leaf
    """

    width: float
    length: float
    hinges: HingeSizes
    leaves: tuple[Leaf, ...]


def board_items(
    board: Board,
    parts: Iterable[Item],
    measured: Iterable[Point],
    told: Iterable[tuple[Point, str]],
    display: Display,
) -> tuple[Item, ...]:
    """A board with all that is on it.

    Parameters
    ----------
    board : Board
        The board.
    parts : iterable of Item
        What is cut into it besides the hinges.
    measured : iterable of Point [m]
        What is dimensioned besides leaves and edges.
    told : iterable of (Point [m], str)
        What is pointed at.
    display : Display
        Units of the texts.

    Returns
    -------
    tuple of Item
        Texts where nothing else is.
    """
    drawn = [*_outline(board), *parts]
    for leaf in board.leaves:
        drawn += leaf_items(leaf, board.hinges)
    drawn += _dimensions(board, list(measured), display)
    drawn += _grain(board)
    words = [((at,), text) for at, text in (*told, *_of_hinges(board, display))]
    return (*drawn, *callouts(words, drawn, 1.0, (0.0, 0.0, board.width, board.length)))


def meeting_items(meeting: Meeting, x: float, edge: float, pad: float) -> Iterator[Item]:
    """Where the adjuster meets the board.

    Parameters
    ----------
    meeting : Meeting
        Along the board from the hinge's axis.
    x : float [m]
        Across the board.
    edge : float [m]
        How far the axis is outside the board's edge.
    pad : float [m]
        Metal around a bolt's tip.

    Yields
    ------
    Item
        A hole, or marks.
    """
    low, at, high = (place - edge for place in (meeting.low, meeting.at, meeting.high))
    if meeting.diameter is not None:
        yield Circle((x, at), 0.5 * meeting.diameter, Ink.DRILL)
    if meeting.kind == "pad":
        corners = ((x - pad, low - pad), (x + pad, low - pad), (x + pad, high + pad))
        yield Path((*corners, (x - pad, high + pad)), closed=True, ink=Ink.MARK)
        yield Line((x, low), (x, high), Ink.MARK)
        for end in (low, high):
            yield Line((x - _CROSS / 2, end), (x + _CROSS / 2, end), Ink.MARK)
    yield from crossing((x, at), Ink.CENTRE)


def crossing(at: Point, ink: Ink) -> tuple[Line, Line]:
    """A cross at a centre.

    Parameters
    ----------
    at : Point [m]
        The centre.
    ink : Ink
        What it is for.

    Returns
    -------
    tuple of Line
        Level and upright.
    """
    x, y = at
    return (
        Line((x - _CROSS, y), (x + _CROSS, y), ink),
        Line((x, y - _CROSS), (x, y + _CROSS), ink),
    )


def _outline(board: Board) -> Iterator[Item]:
    width, length, edge = board.width, board.length, board.hinges.edge
    corners = ((0.0, 0.0), (width, 0.0), (width, length), (0.0, length))
    yield Path(corners, closed=True, ink=Ink.CUT)
    yield Line((-_PAST, -edge), (width + _PAST, -edge), Ink.CENTRE)
    yield Label((width + _PAST + 0.002, -edge - 0.0015), "hinge's axis")
    yield Leader((width, 0.0), (width + _PAST + 0.002, 0.008), "datum edge")
    yield Leader((0.0, length), (-_PAST - 0.002, length + 0.008), "datum edge")


def _dimensions(board: Board, measured: list[Point], display: Display) -> Iterator[Item]:
    """From the two datum edges: hinges below, all else above and to the left."""
    corner = (0.0, 0.0)
    below = Baseline(Run.ACROSS, corner, -board.hinges.edge - _BELOW - _FIRST, -1, 1.0, display)
    ends = [(x, 0.0) for leaf in board.leaves for x in (leaf.left, leaf.right)]
    yield from baselines(below, ends)
    above = Baseline(Run.ACROSS, (0.0, board.length), board.length + _FIRST, 1, 1.0, display)
    yield from baselines(above, [*measured, (board.width, board.length)])
    left = Baseline(Run.UP, corner, -_FIRST, -1, 1.0, display)
    depth = (board.leaves[0].left, board.leaves[0].depth)
    yield from baselines(left, [depth, *measured, (0.0, board.length)])


def _grain(board: Board) -> Iterator[Item]:
    """An arrow along the board's long side, beside it."""
    x, y = board.width + 0.012, 0.5 * board.length
    if board.length >= board.width:
        ends = ((x, y - _GRAIN), (x, y + _GRAIN))
        label = (x + 0.004, y)
    else:
        ends = ((x, y), (x + 2.0 * _GRAIN, y))
        label = (x, y + 0.004)
    yield Line(*ends, Ink.NOTE)
    for tip, tail in (ends, ends[::-1]):
        yield _barbs(tip, tail)
    yield Label(label, "grain")


def _barbs(tip: Point, tail: Point) -> Path:
    way = math.atan2(tail[1] - tip[1], tail[0] - tip[0])
    spread = math.radians(20.0)
    sides = [
        (tip[0] + _BARB * math.cos(way + turn), tip[1] + _BARB * math.sin(way + turn))
        for turn in (spread, -spread)
    ]
    return Path((sides[0], tip, sides[1]), closed=False, ink=Ink.NOTE)


def _of_hinges(board: Board, display: Display) -> Iterator[tuple[Point, str]]:
    sizes, leaf = board.hinges, board.leaves[0]
    size = f"{bench_length(sizes.leaf_length, display)} x {bench_length(leaf.depth, display)}"
    yield (
        (leaf.right, leaf.depth),
        f"leaf {size}, let in {bench_length(sizes.mortise, display)}",
    )
    yield leaf.screws[0], f"pilot {bench_length(sizes.pilot, display)}"
