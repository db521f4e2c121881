"""Answers as people write them: at a prompt, as options, on a sheet; each has its question's mark.

A mark is the letter of the question's group and its number there, "D4": the same in the dialogue,
in its sketches and on the sheet.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from contextlib import suppress
from functools import cache

from mountcalc.errors import InputError, Problem, ScenarioError
from mountcalc.new.measurements import Measurements, Question, groups, is_unknown, questions
from mountcalc.scenario.text.quantities import ValueTextError, read_number_text
from mountcalc.scenario.text.wording import near_spelling, shown
from mountcalc.scenario.text.writing import Display

_LETTERS = "ABCDEFGHJKLMNP"
# What a number without a unit is in, by the kind of its question.
_UNITS = {
    **dict.fromkeys(("length", "height", "room", "position"), ("in", "mm")),
    **dict.fromkeys(("power", "motor power"), ("hp", "W")),
    "speed": ("rpm", "rpm"),
    "weight": ("lb", "kg"),
}
_KEY = re.compile(r"\b[a-z]+(?:_[a-z]+)+\b")
_LINE = re.compile(r"\s*(?P<mark>[A-Za-z]\s?[0-9]{1,2})\b(?P<words>[^:]*):(?P<answer>.*)")
_WANTED_LINE = 'a line such as "D4 machine\'s shaft above the floor: 31 1/2 in" is wanted'


@cache
def marks() -> Mapping[str, str]:
    """The mark of each question by its key, in their order."""
    letters = dict(zip(groups(), _LETTERS, strict=False))
    counts = dict.fromkeys(letters, 0)
    found = {}
    for key, question in questions().items():
        counts[question.group] += 1
        found[key] = f"{letters[question.group]}{counts[question.group]}"
    return found


def option_of(key: str) -> str:
    """The option that gives an answer."""
    return f"--{key.replace('_', '-')}"


def completed(question: Question, text: str, display: Display) -> str:
    """An answer with what is not written at a bench: a unit, the rest of a word."""
    text = text.strip()
    if question.kind == "word":
        begun = [word for word in question.choices if word.startswith(text.lower())]
        return begun[0] if text and len(begun) == 1 else text
    if question.kind in _UNITS:
        with suppress(ValueTextError):
            read_number_text(text)
            return f"{text} {_UNITS[question.kind][display is Display.METRIC]}"
    return text


def units_of(answers: Mapping[str, str]) -> Display:
    """The units that answers are in where they name none."""
    units = completed(questions()["units"], answers.get("units", ""), Display.INCH)
    return Display.METRIC if units == Display.METRIC else Display.INCH


def in_words(text: str) -> str:
    """A sentence with marks and words in the place of keys."""
    return _KEY.sub(lambda key: named(key[0]) if key[0] in questions() else key[0], text)


def named(key: str) -> str:
    """A question by its mark and its words."""
    return f"{marks()[key]} ({questions()[key].brief})"


def from_options(tokens: Sequence[str]) -> tuple[list[str], dict[str, str]]:
    """Take apart what stands after ``new``: what is no option, and answers by their keys."""
    rest, answers = [], dict[str, str]()
    left = iter(tokens)
    for token in left:
        if not token.startswith("--"):
            rest.append(token)
            continue
        name, equals, value = token[2:].partition("=")
        key = name.lower().replace("-", "_")
        if key not in questions():
            near = near_spelling(key, questions())
            hint = f"; did you mean {option_of(near)}?" if near else ""
            raise InputError(
                f"no such option: {shown(token)}{hint} (mountcalc new --names lists all answers)"
            )
        if key in answers:
            raise InputError(f"{option_of(key)}: one answer is wanted, this is given twice")
        answer = value if equals else next(left, None)
        if answer is None:
            raise InputError(f"{option_of(key)}: an answer is wanted after it")
        answers[key] = answer
    for key, answer in answers.items():
        if problem := _problem(key, answer, answers):
            raise InputError(f"{option_of(key)}: {problem}")
    return rest, answers


def from_sheet(text: str, source: str) -> tuple[dict[str, str], dict[str, int]]:
    """Read a sheet that was filled in: answers by their keys, and the line of each.

    A ScenarioError has all that is wrong with it.
    """
    keys = {mark: key for key, mark in marks().items()}
    answers, lines, problems = dict[str, str](), dict[str, int](), list[Problem]()
    for number, line in enumerate(text.splitlines(), 1):
        if not line.strip() or line.lstrip().startswith("#"):
            continue
        found = _LINE.fullmatch(line)
        mark = found["mark"].upper().replace(" ", "") if found else ""
        if found is None:
            problems.append(Problem("", f"{_WANTED_LINE}, found {shown(line.strip())}", number))
        elif mark not in keys:
            problems.append(Problem(mark, "nothing is asked by that mark", number))
        elif is_unknown(found["answer"]):
            continue
        elif keys[mark] in answers:
            before = lines[keys[mark]]
            problems.append(Problem(mark, f"answered in line {before} already", number))
        else:
            answers[keys[mark]], lines[keys[mark]] = found["answer"].strip(), number
    for key, answer in answers.items():
        if problem := _problem(key, answer, answers):
            problems.append(
                Problem(f"{marks()[key]} {questions()[key].brief}", problem, lines[key])
            )
    if problems:
        raise ScenarioError(source, sorted(problems, key=lambda one: one.line or 0))
    return answers, lines


def measured(answers: Mapping[str, str]) -> Measurements:
    """Answers that can be read, with their units."""
    display = units_of(answers)
    known = questions()
    return Measurements.of(
        {key: completed(known[key], text, display) for key, text in answers.items()}
    )


def _problem(key: str, answer: str, answers: Mapping[str, str]) -> str:
    """What is wrong with an answer; nothing where it can be read."""
    question = questions()[key]
    if is_unknown(answer):
        return ""
    try:
        question.read(completed(question, answer, units_of(answers)))
    except InputError as error:
        return str(error).removeprefix(f"{key}: ")
    return ""


def names_text() -> str:
    """The options of all answers, by the groups of their questions, as a page."""
    return "\n\n".join("\n".join((heading, *_names(group))) for group, heading in groups().items())


def _names(group: str) -> Iterator[str]:
    for key, question in questions().items():
        if question.group == group:
            yield f"  {marks()[key]:<4}{option_of(key):<23}{question.brief}"
            if question.choices:
                yield f"{'':<29}{', '.join(question.choices)}"
