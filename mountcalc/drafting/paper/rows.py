"""Rows of text for a page: headings, sentences, what the lines mean; stacked from the top."""

from __future__ import annotations

import dataclasses
from collections.abc import Iterable, Sequence

from mountcalc.drafting.model import TEXT_HEIGHT, Drawing, Ink, Label, Leader, Line, Point
from mountcalc.drafting.paper.line_styles import LINES
from mountcalc.drafting.paper.strokes import Stroke, shifted
from mountcalc.drafting.paper.type import broken, printed, text_width

__all__ = [
    "Row",
    "cautions",
    "heading",
    "height_of",
    "legend",
    "legend_width",
    "notes",
    "paragraph",
    "side_by_side",
    "stacked",
]

_PITCH = 1.65  # from one line of text to the next, in heights of a capital
_TITLE_HEIGHTS = (0.005, 0.0045, 0.004, 0.0035)  # [m] the first that lets it stand on one line
_INDENT = 0.004
_SAMPLE = 0.022  # length of the sample of a line [m]
_SAMPLE_GAP = 0.003  # from it to what it means [m]


@dataclasses.dataclass(frozen=True, slots=True)
class Row:
    """What stands side by side on a page.

    Attributes
    ----------
    height : float [m]
        How high it is.
    strokes : tuple of Stroke
        From its lower left corner.
    kept : bool
        Whether it stays on one page with the row before.
    """

    height: float
    strokes: tuple[Stroke, ...]
    kept: bool = False


_SPACE = Row(0.002, ())


def height_of(rows: Iterable[Row]) -> float:
    """Height of rows above each other."""
    return sum(row.height for row in rows)


def stacked(rows: Sequence[Row], at: Point) -> tuple[Stroke, ...]:
    """Rows one below the other."""
    strokes: list[Stroke] = []
    level = at[1]
    for row in rows:
        level -= row.height
        strokes.extend(shifted(row.strokes, (at[0], level)))
    return tuple(strokes)


def _text_row(text: str, height: float, indent: float = 0.0) -> Row:
    drop = 0.3 * height  # for what hangs below the base line
    return Row(_PITCH * height, (Label((indent, drop), text, height),))


def paragraph(text: str, room: float, mark: str = "") -> list[Row]:
    """A sentence in as many lines as it takes."""
    indent = _INDENT if mark else 0.0
    rows = [
        _text_row(line, TEXT_HEIGHT, indent) for line in broken(text, TEXT_HEIGHT, room - indent)
    ]
    if mark and rows:
        first = Label((0.0, 0.3 * TEXT_HEIGHT), mark, TEXT_HEIGHT)
        rows[0] = Row(rows[0].height, (first, *rows[0].strokes))
    return [rows[0], *map(_kept, rows[1:])] if rows else []


def _kept(row: Row) -> Row:
    return dataclasses.replace(row, kept=True)


def heading(drawing: Drawing, scale: str, room: float) -> list[Row]:
    """Title, view and scale."""
    height = _title_height(drawing.title, room)
    title = [_text_row(line, height) for line in broken(drawing.title, height, room)]
    view = drawing.view.rstrip(".")
    said = [f"View: {view[0].lower()}{view[1:]}."] if view else []
    at = "; ".join(part for part in (f"Scale {scale}", drawing.scale_note) if part)
    rows = [row for text in (*said, f"{at}.") for row in paragraph(text, room)]
    return [*title, *rows]


def _title_height(title: str, room: float) -> float:
    """As large as lets it stand on one line, within bounds."""
    width = text_width(printed(title), 1.0)
    fits = [height for height in _TITLE_HEIGHTS if height * width <= room]
    return max(fits, default=_TITLE_HEIGHTS[0])


def _listed(name: str, sentences: Sequence[str], room: float) -> list[Row]:
    if not sentences:
        return []
    first, *others = (paragraph(sentence, room, "–") for sentence in sentences)
    opening = [*paragraph(name, room), *first]
    if others:  # the last one, which rounds off the others, never opens a page
        others[-1] = list(map(_kept, others[-1]))
    return [_SPACE, *map(_kept, opening), *(row for rows in others for row in rows)]


def cautions(drawing: Drawing, room: float) -> list[Row]:
    """The cautions that go with a drawing."""
    return _listed("Cautions", drawing.cautions, room)


def notes(drawing: Drawing, room: float) -> list[Row]:
    """The notes that go with a drawing."""
    return _listed("Notes", drawing.notes, room)


def legend(drawing: Drawing, room: float, columns: int = 2) -> list[Row]:
    """What the kinds of lines mean that a template has; in a view nothing is cut."""
    inks = _inks(drawing)
    rows = [_SPACE, *map(_kept, paragraph("Lines", room))] if inks else []
    for first in range(0, len(inks), columns):
        beside = enumerate(inks[first : first + columns])
        strokes = [
            stroke for place, ink in beside for stroke in _sample(ink, place * room / columns)
        ]
        rows.append(Row(_PITCH * TEXT_HEIGHT, tuple(strokes), kept=True))
    return rows


def legend_width(drawing: Drawing) -> float:
    """Width of a legend of one column."""
    widths = (text_width(LINES[ink].meaning, TEXT_HEIGHT) for ink in _inks(drawing))
    return _INDENT + _SAMPLE + _SAMPLE_GAP + max(widths, default=0.0)


def _inks(drawing: Drawing) -> list[Ink]:
    """The kinds of lines that want to be told."""
    if not drawing.true_scale:
        return []
    seen = {item.ink for item in drawing.items if not isinstance(item, Label | Leader)}
    return [ink for ink in Ink if ink in seen and ink not in {Ink.DIMENSION, Ink.NOTE}]


def _sample(ink: Ink, left: float) -> tuple[Stroke, ...]:
    """A piece of a kind of line and what it means, from the left of its column."""
    start, level = left + _INDENT, 0.3 * TEXT_HEIGHT
    middle = level + TEXT_HEIGHT / 2
    line = Line((start, middle), (start + _SAMPLE, middle), ink)
    return line, Label((start + _SAMPLE + _SAMPLE_GAP, level), LINES[ink].meaning)


def side_by_side(left: Row, right: Sequence[Row], start: float) -> Row:
    """A row with others beside it."""
    height = max(left.height, height_of(right))
    strokes = (
        *shifted(left.strokes, (0.0, height - left.height)),
        *stacked(right, (start, height)),
    )
    return Row(height, strokes)
