"""What helps at the bench: bars to measure, crosses to join sheets by, maps, the page's strip."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TypeAlias

from mountcalc.drafting.drawing import Drawing
from mountcalc.drafting.items import (
    TEXT_HEIGHT,
    Align,
    Bounds,
    Label,
    Layer,
    Line,
    Path,
    Point,
    Stroke,
    scaled,
)
from mountcalc.drafting.paper.sheets import MARGIN, STRIP, Grid, shifted, span
from mountcalc.drafting.paper.text import cut_to, text_box, text_width
from mountcalc.drafting.paper.whole import CROSS, Taken, cross, within
from mountcalc.scenario.model import Display

__all__ = ["Tile", "frame", "match_marks", "on_map", "page_map", "strip"]

# Step [m], number of steps, and name of the whole bar.
_BAR = {Display.INCH: (0.0254, 4, "4 in"), Display.METRIC: (0.010, 10, "100 mm")}
_TICK, _END_TICK = 0.0015, 0.003
_NAME_GAP = 0.001  # from a cross to its name
_NAME_AIR = 0.0008  # kept free around a name, which stands on white [m]
_FARTHER = 4  # rings of places around a cross, if its quadrants are taken
_ALPHABET = 26
_SMALL_MAP = (0.020, 0.0135)
_FIRST_LINE, _SECOND_LINE, _BAR_LINE, _MAP = 0.0235, 0.0175, 0.0045, 0.002  # above the margin [m]

Tile: TypeAlias = tuple[Grid, int, int]
"""A grid, and column and row of one of its tiles."""


def strip(
    drawing: Drawing, scale: float, width: float, at: tuple[str, str], tile: Tile | None = None
) -> tuple[Stroke, ...]:
    """The strip of a page: ``at`` is which page it is, and where it belongs."""
    right = width - MARGIN
    page, place = at
    room = right - MARGIN - text_width(page, TEXT_HEIGHT) - 0.005
    first, second = MARGIN + _FIRST_LINE, MARGIN + _SECOND_LINE
    strokes: list[Stroke] = [
        Line((MARGIN, MARGIN + STRIP), (right, MARGIN + STRIP), Layer.NOTE),
        Label((MARGIN, first), cut_to(drawing.title, TEXT_HEIGHT, room)),
        Label((right, first), page, align="right"),
        Label((MARGIN, second), cut_to(place, TEXT_HEIGHT, 0.13)),
        Label((right, second), f"scale 1:{scale:g}", align="right"),
        *_bar((MARGIN, MARGIN + _BAR_LINE), drawing.display),
    ]
    if tile is not None:
        grid, *here = tile
        left, bottom, end, top = grid.cell(*here)
        crossed = (
            Line((left, bottom), (end, top), Layer.NOTE),
            Line((left, top), (end, bottom), Layer.NOTE),
        )
        cells = [frame(grid.cell(*one)) for one in grid.places()]
        small = on_map(grid, _SMALL_MAP, (*cells, *crossed))
        strokes.extend(shifted(small, (right - span(small)[2], MARGIN + _MAP)))
    return tuple(strokes)


def _bar(at: Point, display: Display) -> Iterator[Stroke]:
    """A bar to be measured, and what it is for."""
    step, count, name = _BAR[display]
    left, level = at
    yield Line((left, level), (left + step * count, level), Layer.NOTE)
    for tick in range(count + 1):
        height = _END_TICK if tick in {0, count} else _TICK
        across = left + step * tick
        yield Line((across, level), (across, level + height), Layer.NOTE)
    yield Label((left + 0.104, level), f"{name}, or printing scaled it")


def frame(window: Bounds) -> Path:
    """The outline of a rectangle."""
    left, bottom, right, top = window
    corners = ((left, bottom), (right, bottom), (right, top), (left, top))
    return Path(corners, closed=True, layer=Layer.NOTE)


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
            yield from cross(at)
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
        far = CROSS + near + step * TEXT_HEIGHT
        away += [(across * far, y * level) for level in (near, far) for y in (up, -up)]
        away.append((across * near, up * far))
    for right, above in away:
        level = at[1] + (above if above > 0 else above - TEXT_HEIGHT)
        align: Align = "left" if right > 0 else "right"
        yield Label((at[0] + right, level), name, align=align, ground=True)


def on_map(grid: Grid, room: tuple[float, float], strokes: Iterable[Stroke]) -> tuple[Stroke, ...]:
    """Strokes of a drawing on its map, which is as large as a room lets it."""
    left, top = grid.corner(0, 0)
    right, bottom = grid.corner(grid.columns, grid.rows)
    times = min(room[0] / (right - left), room[1] / (top - bottom))
    return tuple(scaled(one, times) for one in shifted(strokes, (-left, -bottom)))


def page_map(grid: Grid, room: tuple[float, float], first: int) -> tuple[Stroke, ...]:
    """How the tiles lie, with the number of each page."""
    strokes: list[Stroke] = []
    for page, place in enumerate(grid.places(), first):
        cell = on_map(grid, room, [frame(grid.cell(*place))])
        left, _, _, top = span(cell)
        strokes += (*cell, Label((left + 0.001, top - TEXT_HEIGHT - 0.001), str(page)))
    return tuple(strokes)
