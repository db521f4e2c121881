"""The measuring sheet: a page to carry to the machine, and the same as text to be filled in."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import chain

from mountcalc.drafting.formats.pdf import pdf
from mountcalc.drafting.items import Label, Layer, Line, Stroke
from mountcalc.drafting.paper.sheets import MARGIN, PAPERS, Page, Paper, Patch, shifted
from mountcalc.drafting.paper.text import broken, text_width
from mountcalc.new.answers import marks
from mountcalc.new.measurements import KIND, Measurements, Question, groups, questions
from mountcalc.new.sheet_figures import FIGURES_HEIGHT, sheet_figures
from mountcalc.new.sketches import sketches_of
from mountcalc.scenario.text.writing import Display

_TITLE = "Measuring sheet for a hinged motor mount"
_HOW = (
    "Unplug the machine and lock the plug out first. Stand facing the motor's pulley; block the "
    "plate in one position and measure everything there. Write units: 14 1/2 in, 370 mm, 1/2 hp, "
    "28 lb. Circle one word. Leave empty what you do not know; what has a * is wanted. Then "
    "type it into {text} and: mountcalc new saw.toml --from {text}"
)
_HEAD, _TEXT, _SMALL = 0.0042, 0.0022, 0.0018  # heights of capitals [m]
_PITCH = 1.65  # of lines of text, in their height
_GAP = 0.006  # between columns [m]
_MARK = 0.0085  # room of a mark [m]
_ANSWER = 0.034  # least width of an answer's line [m]
_AIR = 0.0015


def on_sheet(answers: Measurements) -> list[Question]:
    """The questions that may matter after what is known; the rest stays off the sheet."""
    return [
        one
        for one in questions().values()
        if one.key in answers or one.key not in KIND
        if one.unless not in answers
        if answers.may_be_asked(one.key)
    ]


def sheet_text(answers: Measurements) -> str:
    """The sheet as text, for ``new --from``."""
    lines = [
        f"# {_TITLE}: write each answer after its colon.",
        "# A number alone is in inches, pounds and horsepower, after A1: metric in millimetres,",
        "# kilograms and watts; with its unit any will do. Leave empty what you do not know; what",
        "# has a * is wanted. Then: mountcalc new saw.toml --from THIS_FILE",
    ]
    asked = on_sheet(answers)
    for group, heading in groups().items():
        rows = [question for question in asked if question.group == group]
        if not rows:
            continue
        lines += ["", f"# {heading.upper()}"]
        for sketch in sketches_of(group, answers):
            lines += ["#", *(f"# {line}".rstrip() for line in sketch.splitlines())]
        lines.append("#")
        for question in rows:
            told = answers.answers.get(question.key, "")
            lines.append(f"{_words(question, answers)}: {told}".rstrip())
    return "\n".join(lines) + "\n"


def _is_wanted(question: Question, answers: Measurements) -> bool:
    """Whether the usual mount cannot do without an answer."""
    return not question.unsaid and answers.is_asked(question.key)


def _words(question: Question, answers: Measurements) -> str:
    """A question as it stands on a line of text, before the colon."""
    remarks = [", ".join(question.choices)] if question.choices else []
    if (taken := answers.with_(question.key, "").text(question.key)) is not None:
        remarks.append(f"else {taken}")
    star = "*" if _is_wanted(question, answers) else ""
    mark = marks()[question.key]
    return f"{mark} {question.brief}{star}" + (f" ({'; '.join(remarks)})" if remarks else "")


def sheet_pdf(answers: Measurements, text_name: str) -> bytes:
    """The sheet as one page to be printed: letter for inches, else A4."""
    paper = PAPERS["a4" if answers.display is Display.METRIC else "letter"]
    return pdf([sheet_page(answers, paper, text_name)], _TITLE)


def sheet_page(answers: Measurements, paper: Paper, text_name: str) -> Page:
    """The page: heading, figures, and the questions in two columns."""
    left, right, top = MARGIN, paper.width - MARGIN, paper.height - MARGIN
    strokes: list[Stroke] = [Label((left, top - _HEAD), _TITLE, _HEAD)]
    level = top - _HEAD - 0.002
    for line in broken(_HOW.format(text=text_name), _TEXT, right - left):
        level -= _TEXT * _PITCH
        strokes.append(Label((left, level), line, _TEXT))
    level -= FIGURES_HEIGHT + 0.004
    strokes += shifted(sheet_figures(answers, right - left), (left, level))
    width = (right - left - _GAP) / 2
    columns = _columns(on_sheet(answers))
    pitch = (level - MARGIN) / max(map(len, columns))
    for number, column in enumerate(columns):
        start = left + number * (width + _GAP)
        for place, one in enumerate(column):
            at = start, level - (place + 0.75) * pitch
            strokes += (
                _row(one, answers, at, width)
                if isinstance(one, Question)
                else [
                    Label(at, one.upper(), _TEXT),
                    Line((at[0], at[1] - _AIR), (at[0] + width, at[1] - _AIR), Layer.VISIBLE),
                ]
            )
    return Page(paper.width, paper.height, (Patch(tuple(strokes)),))


def _columns(asked: Sequence[Question]) -> tuple[Sequence[Question | str], ...]:
    """Headings and questions in two columns as alike as whole groups let them be."""
    blocks: list[list[Question | str]] = []
    for group, heading in groups().items():
        if rows := [question for question in asked if question.group == group]:
            blocks.append([heading, *rows])
    half = sum(map(len, blocks)) / 2
    cut = min(range(len(blocks)), key=lambda one: abs(sum(map(len, blocks[:one])) - half))
    return [*chain(*blocks[:cut])], [*chain(*blocks[cut:])]


def _row(
    question: Question, answers: Measurements, at: tuple[float, float], width: float
) -> Iterator[Stroke]:
    """A question's mark and words, and the line or the words for its answer."""
    (left, level), right = at, at[0] + width
    words = f"{question.brief}{' *' if _is_wanted(question, answers) else ''}"
    yield Label(at, marks()[question.key], _TEXT)
    yield Label((left + _MARK, level), words, _TEXT)
    end = left + _MARK + text_width(words, _TEXT) + 2 * _AIR
    told = answers.answers.get(question.key, "")
    if question.choices and not told:
        shown = " / ".join(question.choices)
        yield Label((right, level), shown, _SMALL, align="right")
        return
    start = max(end, right - _ANSWER) if question.kind != "name" else end
    yield Line((start, level - _AIR / 2), (right, level - _AIR / 2), Layer.NOTE)
    if told:
        yield Label((start + _AIR, level), told, _TEXT)
