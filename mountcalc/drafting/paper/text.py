"""Texts on paper: how wide they are in the font, broken into lines, stacked in rows."""

from __future__ import annotations

import dataclasses
import functools
import importlib.util
import re
from collections.abc import Iterable, Sequence
from pathlib import Path

from fontTools.ttLib import TTFont

from mountcalc.drafting.annotations import HANGING
from mountcalc.drafting.drawing import Drawing
from mountcalc.drafting.items import TEXT_HEIGHT, Label, Layer, Leader, Line, Point
from mountcalc.drafting.paper.sheets import LINES, Stroke, shifted

__all__ = [
    "CAPITAL",
    "POINTS_PER_HEIGHT",
    "Row",
    "broken",
    "cautions",
    "cut_to",
    "font_file",
    "heading",
    "height_of",
    "legend",
    "legend_width",
    "notes",
    "paragraph",
    "printed",
    "side_by_side",
    "stacked",
    "text_width",
]

_POINTS = 72 / 0.0254
CAPITAL = 0.729  # capitals of the font in ems
POINTS_PER_HEIGHT = _POINTS / CAPITAL  # size of type [pt] for capitals of one metre

_WORD = re.compile(r"\S*\d \d+/\d+\S*|\S+")  # a mixed number is one word: "7 29/32"
_MOST = 2000  # characters of one text that are looked at

_PITCH = 1.65  # from one line of text to the next, in heights of a capital
_TITLE_HEIGHTS = (0.005, 0.0045, 0.004, 0.0035)  # [m] the first that lets it stand on one line
_INDENT = 0.004
_SAMPLE = 0.022  # length of the sample of a line [m]
_SAMPLE_GAP = 0.003  # from it to what it means [m]


@functools.cache
def font_file() -> Path:
    """DejaVu Sans, which the plotting library brings: found without loading that."""
    spec = importlib.util.find_spec("matplotlib")
    assert spec is not None
    assert spec.origin is not None
    return Path(spec.origin).parent / "mpl-data" / "fonts" / "ttf" / "DejaVuSans.ttf"


@functools.cache
def _advances() -> dict[int, float]:
    """From one letter to the next by the letter's number, in heights of a capital."""
    with TTFont(font_file(), lazy=True) as font:
        widths, em = font["hmtx"], font["head"].unitsPerEm
        letters = font.getBestCmap()
        return {letter: widths[glyph][0] / em / CAPITAL for letter, glyph in letters.items()}


def printed(text: str) -> str:
    """A text in one line, of signs that the font has."""
    words = " ".join(text.split())
    shown = "".join(letter if ord(letter) in _advances() else "?" for letter in words)
    return shown if len(shown) <= _MOST else f"{shown[: _MOST - 1].rstrip()}…"


def text_width(text: str, height: float) -> float:
    """Width of a text on paper."""
    advances = _advances()
    return height * sum(advances[ord(letter)] for letter in text)


def broken(text: str, height: float, room: float) -> list[str]:
    """A text broken between words into lines that fit, mixed numbers such as 7 29/32 kept whole."""
    lines: list[str] = []
    for word in _WORD.findall(printed(text)):
        longer = f"{lines[-1]} {word}" if lines else word
        if lines and text_width(longer, height) <= room:
            lines[-1] = longer
        else:
            lines.append(cut_to(word, height, room))
    return lines


def cut_to(text: str, height: float, room: float) -> str:
    """A text cut at its end so that it fits."""
    shown = printed(text)
    if text_width(shown, height) <= room:
        return shown
    while shown and text_width(f"{shown}…", height) > room:
        shown = shown[:-1].rstrip()
    return f"{shown}…"


@dataclasses.dataclass(frozen=True, slots=True)
class Row:
    """What stands side by side on a page, from its lower left corner, so high [m].

    One that is ``kept`` stays on one page with the row before.
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
    drop = HANGING * height  # for what hangs below the base line
    return Row(_PITCH * height, (Label((indent, drop), text, height),))


def paragraph(text: str, room: float, mark: str = "") -> list[Row]:
    """A sentence in as many lines as it takes."""
    indent = _INDENT if mark else 0.0
    rows = [
        _text_row(line, TEXT_HEIGHT, indent) for line in broken(text, TEXT_HEIGHT, room - indent)
    ]
    if mark and rows:
        first = Label((0.0, HANGING * TEXT_HEIGHT), mark, TEXT_HEIGHT)
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
    layers = _layers(drawing)
    rows = [_SPACE, *map(_kept, paragraph("Lines", room))] if layers else []
    for first in range(0, len(layers), columns):
        beside = enumerate(layers[first : first + columns])
        strokes = [
            stroke for place, layer in beside for stroke in _sample(layer, place * room / columns)
        ]
        rows.append(Row(_PITCH * TEXT_HEIGHT, tuple(strokes), kept=True))
    return rows


def legend_width(drawing: Drawing) -> float:
    """Width of a legend of one column."""
    widths = (text_width(LINES[layer].meaning, TEXT_HEIGHT) for layer in _layers(drawing))
    return _INDENT + _SAMPLE + _SAMPLE_GAP + max(widths, default=0.0)


def _layers(drawing: Drawing) -> list[Layer]:
    """The kinds of lines that want to be told."""
    if not drawing.true_scale:
        return []
    seen = {item.layer for item in drawing.items if not isinstance(item, Label | Leader)}
    return [
        layer for layer in Layer if layer in seen and layer not in {Layer.DIMENSION, Layer.NOTE}
    ]


def _sample(layer: Layer, left: float) -> tuple[Stroke, ...]:
    """A piece of a kind of line and what it means, from the left of its column."""
    start, level = left + _INDENT, HANGING * TEXT_HEIGHT
    middle = level + TEXT_HEIGHT / 2
    line = Line((start, middle), (start + _SAMPLE, middle), layer)
    return line, Label((start + _SAMPLE + _SAMPLE_GAP, level), LINES[layer].meaning)


def side_by_side(left: Row, right: Sequence[Row], start: float) -> Row:
    """A row with others beside it."""
    height = max(left.height, height_of(right))
    strokes = (
        *shifted(left.strokes, (0.0, height - left.height)),
        *stacked(right, (start, height)),
    )
    return Row(height, strokes)
