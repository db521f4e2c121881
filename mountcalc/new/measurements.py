"""What a person with a tape is asked, and what was answered.

The questions are data: `mountcalc/data/questions.toml`. Dialogue, options, sheet and help are made
from them, and an answer is a text as it was written, whatever it came by.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import field
from functools import cache
from typing import Any, get_args

from mountcalc.errors import InputError
from mountcalc.handbook.rows import load
from mountcalc.record import Record
from mountcalc.scenario import keys as k
from mountcalc.scenario.forms import Form, quantity
from mountcalc.scenario.text import named
from mountcalc.scenario.text import quantities as q
from mountcalc.scenario.text.wording import listed, near_spelling, shown
from mountcalc.scenario.text.writing import Display

_FILE = "questions"
_HEIGHT = q.DISTANCE._replace(low=0.0, high=100.0, low_words="zero or more")
_SPAN = q.DISTANCE._replace(low=1e-4, high=100.0, low_words="of 0.1 mm (0.004 in) or more")


def _form(annotated: Any) -> Form:  # noqa: ANN401  # a type with what is said of it
    form: Form = get_args(annotated)[1]
    return form


# How an answer is read, by its kind.
_FORMS: dict[str, Form] = {
    "length": quantity(_SPAN, "length"),
    "height": quantity(_HEIGHT, "length"),
    "room": quantity(_HEIGHT, "length"),
    "position": quantity(q.POSITION, "position"),
    "power": quantity(q.POWER, "power"),
    "motor power": quantity(q.MOTOR_POWER, "power"),
    "speed": quantity(q.ROTATION_SPEED, "speed"),
    "weight": quantity(q.LOAD, "weight"),
    "frame": _form(k.FrameName),
    "thread": _form(k.ThreadName),
    "belt": _form(k.BeltName),
    "name": _form(k.Name),
}
# What a sheet is for: told on the command line, else as usual.
KIND = frozenset({"way", "built"})
_UNKNOWN = frozenset({"", "-", "?", "unknown", "don't know", "dont know", "do not know"})


class Question(Record):
    """One question: ``ask`` in the words of a shop, what an answer is and what is taken without.

    ``brief`` is the same in a few words, for a sheet.

    ``kind`` is "word" where one of the ``choices`` is wanted (each with what it means), else a key
    of the forms: a length, a weight ... ``default`` and ``metric`` are taken where the answer is
    "don't know"; ``unsaid`` says why those, or what else is taken. A question without ``unsaid``
    wants an answer, or answers to others that tell the same. It is asked ``when`` those answers
    are among these, and not where that of ``unless`` was answered.
    """

    key: str
    group: str
    ask: str
    brief: str
    kind: str
    default: str | None = None
    metric: str | None = None
    unsaid: str = ""
    choices: Mapping[str, str] = field(default_factory=dict)
    when: Mapping[str, list[str]] = field(default_factory=dict)
    unless: str = ""

    def read(self, text: str) -> Any:  # noqa: ANN401  # of any kind
        """Return what an answer says [SI]; an InputError of one line where it says nothing."""
        try:
            if self.kind == "word":
                return named.read_word(text.strip(), tuple(self.choices))
            return _FORMS[self.kind].read(text)
        except q.ValueTextError as error:
            raise InputError(f"{self.key}: {error}") from None


@cache
def questions() -> Mapping[str, Question]:
    """Every question by its key, in the order in which a person measures."""
    return {key: Question(key, **row) for key, row in load(_FILE)["question"].items()}


def groups() -> Mapping[str, str]:
    """Headings of the groups of questions, by their names, in order."""
    headings: dict[str, str] = load(_FILE)["groups"]
    return headings


def is_unknown(text: str) -> bool:
    """Whether an answer says that nothing is known: empty, ``?``, "don't know"."""
    return text.strip().lower().replace("’", "'") in _UNKNOWN


class Measurements(Record):
    """The answers, each a text by its question's key; what is not known is not there."""

    answers: Mapping[str, str]

    @classmethod
    def of(cls, answers: Mapping[str, object]) -> Measurements:
        """Take answers in; an InputError names the key of one that cannot be read."""
        known = questions()
        taken = {}
        for key, text in answers.items():
            if key not in known:
                near = near_spelling(str(key), known)
                hint = f"; did you mean {near}?" if near else ""
                raise InputError(f"{shown(key)}: nothing is asked by that name{hint}")
            if text is None:
                continue
            if not isinstance(text, str):
                raise InputError(f'{key}: a text wanted, such as "14 1/2 in", got {shown(text)}')
            if not is_unknown(text):
                known[key].read(text)
                taken[key] = text.strip()
        return cls(taken)

    def __contains__(self, key: str) -> bool:
        """Whether a question was answered."""
        return key in self.answers

    @property
    def display(self) -> Display:
        """The units that a person thinks in."""
        return Display(self.answers.get("units", Display.INCH))

    def text(self, key: str) -> str | None:
        """The answer as written, or what is taken for it; None where no value is."""
        question = questions()[key]
        taken = question.default
        if self.display is Display.METRIC and question.metric is not None:
            taken = question.metric
        return self.answers.get(key, taken)

    def value(self, key: str) -> Any:  # noqa: ANN401  # of any kind
        """What the answer says [SI], or what is taken for it; None where no value is."""
        text = self.text(key)
        return None if text is None else questions()[key].read(text)

    def is_asked(self, key: str) -> bool:
        """Whether a question makes sense after the answers so far."""
        question = questions()[key]
        return question.unless not in self.answers and all(
            self.text(other) in words if words else other in self.answers
            for other, words in question.when.items()
        )

    def may_be_asked(self, key: str) -> bool:
        """Whether a question may make sense yet, whatever the questions that are open find."""
        return all(
            not words or not (other in self.answers or other in KIND) or self.text(other) in words
            for other, words in questions()[key].when.items()
        )

    def asked(self) -> Iterator[Question]:
        """The questions that make sense after the answers so far."""
        return (one for one in questions().values() if self.is_asked(one.key))

    def with_(self, key: str, text: str) -> Measurements:
        """The same with one more answer, checked; an unknown takes it away."""
        rest = {name: said for name, said in self.answers.items() if name != key}
        return Measurements.of(rest | {key: text})


def wanted(question: Question) -> str:
    """What an answer to a question looks like, for who is asked."""
    if question.kind == "word":
        return listed(map(shown, question.choices))
    form = _FORMS[question.kind].wanted
    return form if isinstance(form, str) else form()
