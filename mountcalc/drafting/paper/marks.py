"""What helps at the bench: bars to measure, crosses to join sheets by, a map of the pages."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Iterator

from mountcalc.drafting.model import TEXT_HEIGHT, Align, Bounds, Ink, Label, Line, Path, Point
from mountcalc.drafting.paper.clear import Taken, taken, text_box, within
from mountcalc.drafting.paper.sheets import Grid
from mountcalc.drafting.paper.strokes import Stroke
from mountcalc.scenario.model import Display

__all__ = [
    "Shrink",
    "bar",
    "crosses",
    "frame",
    "map_scale",
    "match_marks",
    "page_map",
    "place_map",
    "tile_name",
]

# Step [m], number of steps, and name of the whole bar.
_BAR = {Display.INCH: (0.0254, 4, "4 in"), Display.METRIC: (0.010, 10, "100 mm")}
_TICK = 0.0015
_END_TICK = 0.003
_CROSS = 0.004  # half length of a match mark
_NAME_GAP = 0.001  # from a cross to its name
_NAME_AIR = 0.0008  # kept free around a name, which stands on white [m]
_FARTHER = 4  # rings of places around a cross, if its quadrants are taken
_ALPHABET = 26


def bar(at: Point, display: Display) -> Iterator[Stroke]:
    """A bar to be measured, and what it is for."""
    step, count, name = _BAR[display]
    left, level = at
    yield Line((left, level), (left + step * count, level), Ink.NOTE)
    for tick in range(count + 1):
        height = _END_TICK if tick in {0, count} else _TICK
        across = left + step * tick
        yield Line((across, level), (across, level + height), Ink.NOTE)
    yield Label((left + 0.104, level), f"{name}, or printing scaled it")


def frame(window: tuple[float, float, float, float], ink: Ink = Ink.NOTE) -> Path:
    """The outline of a rectangle."""
    left, bottom, right, top = window
    return Path(((left, bottom), (right, bottom), (right, top), (left, top)), closed=True, ink=ink)


def _letters(number: int) -> str:
    """A, B ... Z, AA, AB ..."""
    return ("" if number < _ALPHABET else _letters(number // _ALPHABET - 1)) + chr(
        ord("A") + number % _ALPHABET
    )


def crosses(grid: Grid) -> Iterator[Line]:
    """The match marks of all tiles, without their names."""
    for column in range(grid.columns + 1):
        for row in range(grid.rows + 1):
            yield from _cross(grid.corner(column, row))


def _cross(at: Point) -> Iterator[Line]:
    x, y = at
    yield Line((x - _CROSS, y), (x + _CROSS, y), Ink.NOTE)
    yield Line((x, y - _CROSS), (x, y + _CROSS), Ink.NOTE)


def match_marks(
    grid: Grid, column: int, row: int, strokes: Iterable[Stroke] = ()
) -> Iterator[Stroke]:
    """The crosses at a tile's corners; sheets that meet there bear the same cross and letters."""
    window = grid.window(column, row)
    full = taken(strokes)
    for right in (0, 1):
        for below in (0, 1):
            at = grid.corner(column + right, row + below)
            yield from _cross(at)
            name = f"{_letters(column + right)}{row + below + 1}"
            yield _clear_name(
                _names(at, name, (-1 if right else 1, 1 if below else -1)), window, full
            )


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


def _clear_name(names: Iterable[Label], window: Bounds, full: Taken) -> Label:
    """The first that meets nothing in its tile, else the one that meets least."""
    inside = (name for name in names if within(text_box(name, _NAME_AIR), window))
    return min(inside, key=lambda name: full.met_by(text_box(name, _NAME_AIR)))


def tile_name(grid: Grid, column: int, row: int) -> str:
    """Where a tile belongs."""
    return f"column {column + 1} of {grid.columns}, row {row + 1} of {grid.rows}"


@dataclasses.dataclass(frozen=True, slots=True)
class Shrink:
    """From the drawing on paper to its map: how many times smaller, and the map's origin."""

    scale: float
    left: float
    bottom: float

    def __call__(self, point: Point) -> Point:
        """A point on the map."""
        return (point[0] - self.left) * self.scale, (point[1] - self.bottom) * self.scale


def page_map(grid: Grid, room: tuple[float, float], first: int) -> tuple[Stroke, ...]:
    """How the tiles lie, with the number of each page."""
    strokes: list[Stroke] = []
    for page, (left, bottom, right, top) in enumerate(_cells(grid, room).values(), first):
        strokes.append(frame((left, bottom, right, top)))
        strokes.append(Label((left + 0.001, top - TEXT_HEIGHT - 0.001), str(page)))
    return tuple(strokes)


def place_map(grid: Grid, room: tuple[float, float], here: tuple[int, int]) -> tuple[Stroke, ...]:
    """How the tiles lie, with one of them crossed out."""
    cells = _cells(grid, room)
    left, bottom, right, top = cells[here]
    return (
        *(frame(cell) for cell in cells.values()),
        Line((left, bottom), (right, top), Ink.NOTE),
        Line((left, top), (right, bottom), Ink.NOTE),
    )


def _cells(grid: Grid, room: tuple[float, float]) -> dict[tuple[int, int], Bounds]:
    """Tiles that are printed on the map by column and row, row by row."""
    shrink = map_scale(grid, room)
    cells = ((place, grid.cell(*place)) for place in grid.places())
    return {
        place: (*shrink((left, bottom)), *shrink((right, top)))
        for place, (left, bottom, right, top) in cells
    }


def map_scale(grid: Grid, room: tuple[float, float]) -> Shrink:
    """How a drawing on paper is shrunk to its map."""
    left, top = grid.corner(0, 0)
    right, bottom = grid.corner(grid.columns, grid.rows)
    return Shrink(min(room[0] / (right - left), room[1] / (top - bottom)), left, bottom)
