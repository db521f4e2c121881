"""What a report is made of: sections of texts, lists, tables and figures, without a form yet.

The page in HTML and that in PDF are both made of these, so that nothing is said twice.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
from dataclasses import field
from enum import StrEnum
from itertools import groupby
from typing import TYPE_CHECKING

from mountcalc.record import Record

if TYPE_CHECKING:
    from matplotlib.figure import Figure

# A name in the margin, as `pages.page.paragraph` has it.
_NAMED = re.compile(r"(?=.{10}\S)(\w[\w ]{0,8}): *(?=\S)")
_POINT = "  - "


class Paper(StrEnum):
    """Whether a section is printed: always, where two pages have room, or never."""

    ALWAYS = "always"
    ROOM = "room"
    NEVER = "never"


class Text(Record):
    """A paragraph, with its name before it if it has one; ``strong`` is what one must not miss."""

    text: str
    name: str = ""
    strong: bool = False


class Points(Record):
    """A list, numbered where the order is one of doing."""

    items: tuple[str, ...]
    numbered: bool = False


class Grid(Record):
    """A table: its heads, and rows whose first cell names them; ``words`` are columns of text.

    ``caption`` says what it is, ``legend`` what its words mean. Cells left empty are to be written
    in by hand where the table is a ``form``.
    """

    caption: str
    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    words: tuple[int, ...] = ()
    legend: str = ""
    form: bool = False


class Picture(Record):
    """A figure, drawn when a form needs it; ``label`` is what is read aloud instead of it."""

    name: str
    label: str
    draw: Callable[[], Figure] = field(compare=False, repr=False)


class Drawn(Record):
    """A drawing as ``svg`` that stands in the page alone; ``label`` is read aloud instead of it."""

    label: str
    svg: str = field(repr=False)


class Step(Record):
    """The bolt at some turns: what is told there, as texts; ``row`` is that of the table."""

    turns: str
    values: tuple[str, ...]
    loads: tuple[tuple[str, ...], ...]
    row: int | None


class Slider(Record):
    """The bolt turned by hand on the screen: each step as computed, ``start`` the first shown.

    ``heads`` are the names of a step's values, ``load_heads`` those of the columns of its loads,
    ``parts`` what carries them. ``views`` has a group for each step, of which one is shown.
    """

    noun: str
    heads: tuple[str, ...]
    load_heads: tuple[str, ...]
    parts: tuple[str, ...]
    steps: tuple[Step, ...]
    start: int
    views: tuple[str, ...] = field(repr=False)
    label: str


Block = Text | Points | Grid | Picture | Drawn | Slider


class Section(Record):
    """A part of the report under its title; ``name`` is its anchor, of small letters and hyphens.

    ``folded`` is shut at first on a screen.
    """

    name: str
    title: str
    blocks: tuple[Block, ...]
    paper: Paper = Paper.ALWAYS
    folded: bool = False


def told(section: str) -> Iterator[Text | Points]:
    """The paragraphs and lists of a text page's section, their lines put together again."""
    for part in section.split("\n\n"):
        found: list[tuple[str, str]] = []  # name or mark, and text
        for line in part.splitlines():
            named = _NAMED.match(line)
            if named:
                found.append((named[1], line[named.end() :]))
            elif line.startswith(_POINT):
                found.append((_POINT, line.removeprefix(_POINT)))
            elif found and (line.startswith(" ") or not found[-1][0]):
                found[-1] = found[-1][0], f"{found[-1][1]} {line.strip()}"
            elif line.strip():
                found.append(("", line))
        for is_point, several in groupby(found, key=lambda one: one[0] == _POINT):
            if is_point:
                yield Points(tuple(text for _, text in several))
            else:
                yield from (Text(text, name) for name, text in several)
