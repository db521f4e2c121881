"""How text is laid out on a page of 80 columns."""

from __future__ import annotations

import textwrap
from collections.abc import Collection, Iterable, Mapping, Sequence
from dataclasses import field
from enum import StrEnum

from mountcalc.record import Record
from mountcalc.scenario.clashes import cautions
from mountcalc.scenario.model import Scenario

WIDTH = 80
_NAME = 10

CAUTIONS = (
    "Unplug the motor and lock the plug or switch out before hands go near belt, hinge or bolt.",
    "Block the plate so that it cannot fall or swing before the belt or the bolt is slackened; if "
    "the belt breaks, the motor drops as far as the plate lets it.",
    "Belt and pulleys pull fingers in, and hinge and bolt pinch: guard them as local codes ask "
    "before power is put on.",
    "Mains wiring, switchgear and earthing are for a licensed electrician under local codes.",
    "These are calculated numbers for the values given; they do not replace a look at the machine "
    "by somebody who knows such bearings.",
)
CAUTION = (
    "Unplug and lock out first; block the motor, it can fall; belt, hinge and bolt pinch. Guard it "
    "as local codes ask; wiring is for a licensed electrician."
)


class Side(StrEnum):
    """What a note is about."""

    MOUNT = "mount"
    MODEL = "model"
    CARE = "care"
    CAUTION = "caution"


class Note(Record):
    """A remark beside a result: found again by its ``id``, never by its text.

    ``numbers`` are those that the text tells, in the units that their names say.
    """

    id: str
    side: Side
    text: str
    numbers: Mapping[str, float] = field(default_factory=dict)


def wrap(text: str, first: str = "", later: str = "") -> str:
    """The text in lines of at most the page's width."""
    return textwrap.fill(
        text, WIDTH, initial_indent=first, subsequent_indent=later, break_on_hyphens=False
    )


def heading(text: str) -> str:
    """A title with a line below it."""
    return f"{wrap(text)}\n{'=' * min(WIDTH, max(len(text), 1))}"


def paragraph(name: str, text: str) -> str:
    """A named paragraph, its name in the margin."""
    return wrap(text, f"{name + ':':{_NAME}}", " " * _NAME)


def bullets(sentences: Iterable[str]) -> str:
    """A list of sentences."""
    return "\n".join(wrap(sentence, "  - ", "    ") for sentence in sentences)


def columns(rows: Sequence[Sequence[str]], left: Collection[int] = ()) -> list[str]:
    """Rows in columns as wide as what they hold, closer together where the page is too narrow."""
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    gap = " " * (2 if sum(widths) + 2 * len(widths) <= WIDTH else 1)
    lines = []
    for row in rows:
        cells = (
            f"{gap}{cell:<{width}}" if place in left else f"{gap}{cell:>{width}}"
            for place, (cell, width) in enumerate(zip(row, widths, strict=True))
        )
        lines.append("".join(cells).rstrip())
    return lines


def unlikely(scenario: Scenario) -> str:
    """What seems to clash in a mount, as a section of its page; often nothing."""
    found = cautions(scenario)
    return "CAUTIONS ON THIS MOUNT\n" + bullets(found) if found else ""


def page(
    command: str,
    answer: Iterable[str],
    rest: Iterable[str] = (),
    *,
    more: bool = False,
    what: str = "notes, sources, all cautions",
) -> str:
    """The page of a command: the sections of its answer; with ``more`` the rest, all cautions."""
    sections = [section for section in answer if section]
    if more:
        sections += [section for section in rest if section]
        sections.append("CAUTIONS\n" + bullets(CAUTIONS))
    else:
        sections.append(f"{wrap(CAUTION)}\nmountcalc {command} --more: {what}")
    return "\n\n".join(sections)
