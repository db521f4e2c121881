"""What helps at the bench: bars to measure, crosses to join sheets by, maps, the page's strip."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Iterator

from mountcalc.drafting.items import TEXT_HEIGHT, Align, Bounds, Label, Layer, Line, Path, Point
from mountcalc.drafting.paper.sheets import MARGIN, STRIP, Grid, Stroke, scaled, shifted, span
from mountcalc.drafting.paper.text import cut_to, text_width
from mountcalc.drafting.paper.whole import Taken, cross, text_box, within
from mountcalc.scenario.model import Display

__all__ = [
    "Strip",
    "frame",
    "match_marks",
    "on_map",
    "page_map",
    "strip",
]

# Step [m], number of steps, and name of the whole bar.
_BAR = {Display.INCH: (0.0254, 4, "4 in"), Display.METRIC: (0.010, 10, "100 mm")}
_TICK, _END_TICK = 0.0015, 0.003
_CROSS = 0.004  # half length of a match mark
_NAME_GAP = 0.001  # from a cross to its name
_NAME_AIR = 0.0008  # kept free around a name, which stands on white [m]
_FARTHER = 4  # rings of places around a cross, if its quadrants are taken
_ALPHABET = 26
_SMALL_MAP = (0.020, 0.0135)
_FIRST_LINE, _SECOND_LINE, _BAR_LINE, _MAP = 0.0235, 0.0175, 0.0045, 0.002  # above the margin [m]


@dataclasses.dataclass(frozen=True, slots=True)
class Strip:
    """What a page's strip says: scale such as "1:1", page such as "page 2 of 7", where it belongs.

    ``tile`` is grid, column and row where the page is one of tiles; ``display`` the bar's unit.
    """

    title: str
    scale: str
    page: str
    place: str = ""
    tile: tuple[Grid, int, int] | None = None
    display: Display = Display.METRIC


def strip(said: Strip, width: float) -> tuple[Stroke, ...]:
    """The strip of a page."""
    right = width - MARGIN
    room = right - MARGIN - text_width(said.page, TEXT_HEIGHT) - 0.005
    first, second = MARGIN + _FIRST_LINE, MARGIN + _SECOND_LINE
    strokes: list[Stroke] = [
        Line((MARGIN, MARGIN + STRIP), (right, MARGIN + STRIP), Layer.NOTE),
        Label((MARGIN, first), cut_to(said.title, TEXT_HEIGHT, room)),
        Label((right, first), said.page, align="right"),
        Label((MARGIN, second), cut_to(said.place, TEXT_HEIGHT, 0.13)),
        Label((right, second), f"scale {said.scale}", align="right"),
        *_bar((MARGIN, MARGIN + _BAR_LINE), said.display),
    ]
    if said.tile is not None:
        grid, column, row = said.tile
        small = _place_map(grid, _SMALL_MAP, (column, row))
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
    return ("" if number < _ALPHABET else _letters(number // _ALPHABET - 1)) + chr(
        ord("A") + number % _ALPHABET
    )


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
            names = _names(at, name, (-1 if right else 1, 1 if below else -1))
            inside = (one for one in names if within(text_box(one, _NAME_AIR), window))
            # The first that meets nothing in its tile, else the one that meets least.
            yield min(inside, key=lambda one: full.met_by(text_box(one, _NAME_AIR)))


def _names(at: Point, name: str, inwards: tuple[int, int]) -> Iterator[Label]:
    """Places of a cross's name: its four quadrants, then farther into the tile."""
    across, up = inwards
    for right, above in ((across, up), (across, -up), (-across, up), (-across, -up)):
        yield _name(at, name, (right * _NAME_GAP, above * _NAME_GAP))
    for step in range(_FARTHER):
        away = _CROSS + _NAME_GAP + step * TEXT_HEIGHT
        for level in (_NAME_GAP, away):
            for sign in (up, -up):
                yield _name(at, name, (across * away, sign * level))
        yield _name(at, name, (across * _NAME_GAP, up * away))


def _name(at: Point, name: str, away: Point) -> Label:
    """A name on white, its nearest corner so far away from the middle of its cross."""
    level = away[1] if away[1] > 0 else away[1] - TEXT_HEIGHT
    align: Align = "left" if away[0] > 0 else "right"
    return Label((at[0] + away[0], at[1] + level), name, align=align, ground=True)


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


def _place_map(grid: Grid, room: tuple[float, float], here: tuple[int, int]) -> tuple[Stroke, ...]:
    """How the tiles lie, with one of them crossed out."""
    left, bottom, right, top = grid.cell(*here)
    crossed = (
        Line((left, bottom), (right, top), Layer.NOTE),
        Line((left, top), (right, bottom), Layer.NOTE),
    )
    return on_map(grid, room, (*(frame(grid.cell(*one)) for one in grid.places()), *crossed))
