"""The report on two sheets: in two columns, as large as fits, without what there is no room for.

All sizes are in millimetres, those of type in points.
"""

from __future__ import annotations

import functools
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import accumulate, chain
from pathlib import Path

from fontTools.ttLib import TTFont

from mountcalc.drafting.paper.text import POINTS_PER_HEIGHT, broken, font_file, printed, text_width
from mountcalc.record import Record
from mountcalc.report.blocks import Grid, Paper, Picture, Points, Section, Text
from mountcalc.report.pictures import size_of

MARGIN, GUTTER, PAGES, COLUMNS = 10.0, 5.0, 2, 2
_SIZES = (8.0, 7.5, 7.0, 6.5, 6.0, 5.5, 5.0)
_LEAST_WITH_ALL = 7.0  # smaller type only where what may go has gone
_MM_PER_POINT = 25.4 / 72.0
_PITCH = 1.25  # from line to line, in sizes of type
HEAD, LEGEND, TITLE = 1.2, 0.85, 1.6
"""Sizes of a section's title, of a table's legend, and of the page's title, in that of the text."""
_BOLD = 1.25  # how much wider a line of bold type is, at most
_BETWEEN = 1.6  # between columns of a table
_LEAST_COLUMN = 12.0
_POINT, _NUMBER = 3.0, 5.0  # before the text of a list
_TALLEST = 64.0  # of a picture
_FORM_ROW = 5.0
_WRITTEN = 18.0  # what is written in by hand wants at least
_LONG = 10  # rows


class Word(Record):
    """A piece of text from its left end on its line, so far below the piece's top."""

    x: float
    y: float
    text: str
    size: float
    bold: bool = False


class Piece(Record):
    """What stays together: texts, lines of ``rules`` (from, to, below the top), or a picture.

    ``uprights`` are lines from top to bottom. What ``leads`` stands in one column with the next.
    """

    height: float
    words: tuple[Word, ...] = ()
    rules: tuple[tuple[float, float, float], ...] = ()
    uprights: tuple[float, ...] = ()
    picture: Picture | None = None
    leads: bool = False


class Sheets(Record):
    """How a report stands on paper: the size of its type, its sections, columns of pieces."""

    size: float
    sections: tuple[Section, ...]
    columns: tuple[tuple[Piece, ...], ...]


def sheets(head: Sequence[str], sections: Sequence[Section], width: float, height: float) -> Sheets:
    """The report on two sheets: as much of it, then as large, as there is room for."""
    column, room = (width - 2 * MARGIN - (COLUMNS - 1) * GUTTER) / COLUMNS, height - 2 * MARGIN
    printed = [one for one in sections if one.paper is not Paper.NEVER]

    def laid(size: float, kept: Sequence[Section]) -> Sheets | None:
        above = sum(one.height for one in head_pieces(head, size, width - 2 * MARGIN))
        rooms = [room - above] * COLUMNS + [room] * COLUMNS * (PAGES - 1)
        columns = _flow([piece for one in kept for piece in _section(one, size, column)], rooms)
        return None if columns is None else Sheets(size, tuple(kept), columns)

    whole = (laid(size, printed) for size in _SIZES if size >= _LEAST_WITH_ALL)
    needed = [one for one in printed if one.paper is Paper.ALWAYS]
    least = (laid(size, needed) for size in _SIZES if size <= _LEAST_WITH_ALL)
    plain = [
        replace(one, blocks=tuple(block for block in one.blocks if not isinstance(block, Picture)))
        for one in needed
    ]
    cut = (laid(_SIZES[-1], plain[:count]) for count in range(len(plain), -1, -1))
    found = next(one for one in chain(whole, least, cut) if one is not None)
    if found.sections == tuple(needed):
        for one in printed:  # what may go, where there is room for it after all
            more = [other for other in printed if other is one or other in found.sections]
            found = laid(found.size, more) or found
    return found


def _flow(pieces: Sequence[Piece], rooms: Sequence[float]) -> tuple[tuple[Piece, ...], ...] | None:
    """The pieces in columns; None where they need more."""
    columns: list[list[Piece]] = [[] for _ in rooms]
    at, used = 0, 0.0
    for group in _groups(pieces):
        high = sum(piece.height for piece in group)
        while used + high > rooms[at]:
            at, used = at + 1, 0.0
            if at == len(rooms):
                return None
        columns[at] += group
        used += high
    return tuple(map(tuple, columns))


def _groups(pieces: Iterable[Piece]) -> Iterator[list[Piece]]:
    group: list[Piece] = []
    for piece in pieces:
        group.append(piece)
        if not piece.leads:
            yield group
            group = []
    if group:
        yield group


def head_pieces(head: Sequence[str], size: float, width: float) -> list[Piece]:
    """The title over both columns, and under it what one must not miss."""
    title, *others = head
    pieces = list(_lines(title, TITLE * size, width, bold=True))
    for one in others:
        pieces += _lines(one, size, width, bold=True)
    return [*pieces, _space(size)]


def _section(section: Section, size: float, width: float) -> Iterator[Piece]:
    yield _space(size, leads=True)
    for piece in _lines(section.title, HEAD * size, width, bold=True):
        rule = (0.0, width, piece.height)
        yield Piece(piece.height + 0.3 * size * _MM_PER_POINT, piece.words, (rule,), leads=True)
    for block in section.blocks:
        match block:
            case Text():
                yield from _text(block, size, width)
            case Points():
                yield from _points(block, size, width)
            case Grid():
                yield from _grid(block, size, width)
            case Picture():
                yield _picture(block, width)
        yield _space(size)


def _space(size: float, *, leads: bool = False) -> Piece:
    return Piece(0.3 * size * _MM_PER_POINT, leads=leads)


def _high(size: float) -> float:
    return _PITCH * size * _MM_PER_POINT


def _wide(text: str, size: float, *, bold: bool = False) -> float:
    """Width of a text."""
    shown = printed(text)
    if not bold:
        return 1e3 * text_width(shown, size / POINTS_PER_HEIGHT)
    advances = _bold()
    return size * _MM_PER_POINT * sum(advances.get(ord(letter), 1.0) for letter in shown)


@functools.cache
def _bold() -> dict[int, float]:
    """From one letter to the next by the letter's number, in sizes of the bold type."""
    with TTFont(bold_file(), lazy=True) as font:
        widths, em = font["hmtx"], font["head"].unitsPerEm
        return {letter: widths[glyph][0] / em for letter, glyph in font.getBestCmap().items()}


def bold_file() -> Path:
    """The bold face of the font."""
    return font_file().with_name("DejaVuSans-Bold.ttf")


def _broken(text: str, size: float, width: float, *, bold: bool = False) -> list[str]:
    if bold and _wide(text, size, bold=True) <= width:
        return [printed(text)]
    room = width / 1e3 / (_BOLD if bold else 1.0)
    return broken(text, size / POINTS_PER_HEIGHT, room) or [""]


def _lines(
    text: str, size: float, width: float, *, bold: bool = False, x: float = 0.0
) -> Iterator[Piece]:
    """A text, each line a piece; the first is not left alone."""
    lines = _broken(text, size, width - x, bold=bold)
    for number, line in enumerate(lines):
        leads = number == 0 and len(lines) > 1
        yield Piece(_high(size), (Word(x, size * _MM_PER_POINT, line, size, bold),), leads=leads)


def _text(block: Text, size: float, width: float) -> Iterator[Piece]:
    """A paragraph, its name in bold before it."""
    if not block.name:
        yield from _lines(block.text, size, width, bold=block.strong)
        return
    name = f"{block.name}: "
    after = _wide(f"{block.name}:", size, bold=True) + 0.3 * size * _MM_PER_POINT
    narrower = after - _wide(name, size)
    first, *others = _lines(f"{name}{block.text}", size, width - max(narrower, 0.0))
    (word,) = first.words
    y, rest = word.y, word.text.removeprefix(name.rstrip()).lstrip()
    words = Word(0.0, y, f"{block.name}:", size, bold=True), Word(after, y, rest, size)
    yield Piece(first.height, words, leads=first.leads)
    yield from others


def _points(block: Points, size: float, width: float) -> Iterator[Piece]:
    for number, item in enumerate(block.items, start=1):
        mark, x = (f"{number}.", _NUMBER) if block.numbered else ("-", _POINT)
        first, *others = _lines(item, size, width, x=x)
        marked = Word(0.0, size * _MM_PER_POINT, mark, size)
        yield Piece(first.height, (marked, *first.words), leads=first.leads)
        yield from others


def _grid(block: Grid, size: float, width: float) -> Iterator[Piece]:
    """A table: its heads lead the first row; rows are not broken."""
    for piece in _lines(block.caption, size, width, bold=True):
        yield Piece(piece.height, piece.words, leads=True)
    wide = _columns(block, size, width)
    left = list(accumulate((one + _BETWEEN for one in wide), initial=0.0))
    yield _row(block, block.heads, size, wide, left, bold=True)
    whole = len(block.rows) - 1 if is_whole(block) else 0
    for number, cells in enumerate(block.rows):
        row = _row(block, cells, size, wide, left)
        yield replace(row, leads=True) if number < whole else row
    if block.legend:
        yield from _lines(block.legend, LEGEND * size, width)


def is_whole(block: Grid) -> bool:
    """Whether a table stands in one column: a form does, and what is not long."""
    return block.form or len(block.rows) <= _LONG


def _columns(block: Grid, size: float, width: float) -> list[float]:
    """Widths of columns: as wide as what they hold; else heads are broken, then words."""
    places = range(len(block.heads))
    blank = set(places) - {*block.words} if block.form else ()
    held = [_WRITTEN if place in blank else 0.0 for place in places]
    for cells in block.rows:
        for place, cell in enumerate(cells if len(cells) == len(held) else cells[:-1]):
            held[place] = max(held[place], _wide(cell, size, bold=place == 0))

    def with_heads(parts: Callable[[str], list[str]]) -> list[float]:
        return [
            max(one, *(_wide(part, size, bold=True) for part in parts(head) or [""]))
            for one, head in zip(held, block.heads, strict=True)
        ]

    room = width - _BETWEEN * (len(places) - 1)
    wide = with_heads(lambda head: [head])
    if sum(wide) > room:
        wide = with_heads(str.split)
    if block.form and sum(wide) < room:
        return [one + (room - sum(wide)) / len(wide) for one in wide]
    over = sum(wide) - room
    giving = [place for place in places if place in block.words] or list(places)
    if over > 0:
        shares = sum(wide[place] for place in giving)
        for place in giving:
            least = min(wide[place], _LEAST_COLUMN)
            wide[place] = max(least, wide[place] * (1 - over / shares))
    return [one * min(1.0, room / sum(wide)) for one in wide]


def _row(
    block: Grid, cells: Sequence[str], size: float, wide: list[float], left: list[float],
    *, bold: bool = False,
) -> Piece:  # fmt: skip
    """A row of a table with a line under it, a thick one (told twice) under the heads."""
    words, high, right = [], 0.0, left[-1] - _BETWEEN
    for place, cell in enumerate(cells):
        spans = place == len(cells) - 1 < len(wide) - 1
        room, strong = right - left[place] if spans else wide[place], bold or place == 0
        to_left = spans or block.form or place in {0, *block.words}
        y = size * _MM_PER_POINT
        for line in _broken(cell, size, room + 0.01, bold=strong):
            x = left[place] + (0.0 if to_left else room - _wide(line, size, bold=strong))
            words.append(Word(x, y, line, size, strong))
            y += _high(size)
        high = max(high, y - size * _MM_PER_POINT + 0.3)
    if block.form and not bold:
        high = max(high, _FORM_ROW)
    rule = (0.0, right, high)
    uprights = tuple(x - _BETWEEN / 2 for x in left[1:-1]) if block.form else ()
    return Piece(high, tuple(words), (rule, rule) if bold else (rule,), uprights, leads=bold)


def _picture(block: Picture, width: float) -> Piece:
    wide, tall = size_of(block)
    return Piece(min(width * tall / wide, _TALLEST), picture=block)
