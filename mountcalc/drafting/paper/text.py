"""Texts on paper: how wide they are in the font, broken into lines, stacked in rows."""

from __future__ import annotations

import dataclasses
import functools
import importlib.util
import re
from collections.abc import Iterable, Sequence
from pathlib import Path

from fontTools.ttLib import TTFont

from mountcalc.drafting.annotations import HANGING, corners
from mountcalc.drafting.drawing import Drawing
from mountcalc.drafting.items import (
    TEXT_HEIGHT,
    Bounds,
    Label,
    Layer,
    Leader,
    Line,
    Point,
    Stroke,
    around,
)
from mountcalc.drafting.paper.sheets import LINES, shifted
from mountcalc.record import Record

CAPITAL = 0.729  # capitals of the font in ems
POINTS_PER_HEIGHT = 72 / 0.0254 / CAPITAL  # size of type [pt] for capitals of one metre

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


def text_box(label: Label, air: float = 0.0) -> Bounds:
    """Where a text stands on paper, measured in the font."""
    width = text_width(printed(label.text), label.height)
    left, bottom, right, top = around(corners(label, width, label.height))
    return left - air, bottom - air, right + air, top + air


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


class Row(Record):
    """What stands side by side on a page, from its lower left corner, so high [m].

    One that is ``kept`` stays on one page with the row before.
    """

    height: float
    strokes: tuple[Stroke, ...] = ()
    kept: bool = False


_SPACE = Row(0.002)


def height_of(rows: Iterable[Row]) -> float:
    """Height of rows above each other."""
    return sum(row.height for row in rows)


def stacked(rows: Iterable[Row], at: Point) -> tuple[Stroke, ...]:
    """Rows one below the other."""
    strokes: list[Stroke] = []
    level = at[1]
    for row in rows:
        level -= row.height
        strokes.extend(shifted(row.strokes, (at[0], level)))
    return tuple(strokes)


def kept(rows: Iterable[Row]) -> list[Row]:
    """Rows that stay on one page with what stands before them."""
    return [dataclasses.replace(row, kept=True) for row in rows]


def paragraph(text: str, room: float, height: float = TEXT_HEIGHT, mark: str = "") -> list[Row]:
    """A sentence in as many lines as it takes, the first beside its mark."""
    indent = _INDENT if mark else 0.0
    drop = HANGING * height  # for what hangs below the base line
    rows = []
    for number, line in enumerate(broken(text, height, room - indent)):
        labels = [Label((0.0, drop), mark, height)] if mark and not number else []
        labels.append(Label((indent, drop), line, height))
        rows.append(Row(_PITCH * height, tuple(labels)))
    return [*rows[:1], *kept(rows[1:])]


def heading(drawing: Drawing, scale: str, room: float) -> list[Row]:
    """Title, view and scale."""
    width = text_width(printed(drawing.title), 1.0)
    fits = [height for height in _TITLE_HEIGHTS if height * width <= room]
    title = paragraph(drawing.title, room, max(fits, default=_TITLE_HEIGHTS[0]))
    view = drawing.view.rstrip(".")
    said = [f"View: {view[0].lower()}{view[1:]}."] if view else []
    said.append(f"{'; '.join(part for part in (f'Scale {scale}', drawing.scale_note) if part)}.")
    return [*title, *(row for text in said for row in paragraph(text, room))]


def listed(name: str, sentences: Sequence[str], room: float) -> list[Row]:
    """Sentences under their name, which stays with the first."""
    if not sentences:
        return []
    first, *others = (paragraph(sentence, room, mark="–") for sentence in sentences)
    if others:  # the last one, which rounds off the others, never opens a page
        others[-1] = kept(others[-1])
    opening = kept([*paragraph(name, room), *first])
    return [_SPACE, *opening, *(row for rows in others for row in rows)]


def legend(drawing: Drawing, room: float, columns: int = 2) -> list[Row]:
    """What the kinds of lines mean that a template has; in a view nothing is cut."""
    seen = {item.layer for item in drawing.items if not isinstance(item, Label | Leader)}
    seen -= {Layer.DIMENSION, Layer.NOTE}
    layers = [layer for layer in Layer if layer in seen and drawing.true_scale]
    rows = [_SPACE, *kept(paragraph("Lines", room))] if layers else []
    level = HANGING * TEXT_HEIGHT
    middle = level + TEXT_HEIGHT / 2
    for first in range(0, len(layers), columns):
        strokes: list[Stroke] = []
        for column, layer in enumerate(layers[first : first + columns]):
            start = column * room / columns + _INDENT
            end = start + _SAMPLE
            strokes.append(Line((start, middle), (end, middle), layer))
            strokes.append(Label((end + _SAMPLE_GAP, level), LINES[layer].meaning))
        rows.append(Row(_PITCH * TEXT_HEIGHT, tuple(strokes), kept=True))
    return rows
