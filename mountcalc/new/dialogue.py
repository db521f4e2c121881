"""The conversation: questions in the order in which a person measures, until it is so."""

from __future__ import annotations

import re
from collections.abc import Callable, Collection
from typing import NamedTuple

from mountcalc.errors import InputError, MountcalcError
from mountcalc.new.answers import completed, in_words, marks
from mountcalc.new.measurements import Measurements, Question, groups, questions, wanted
from mountcalc.new.page import answers_text, understood_text
from mountcalc.new.results import Understood
from mountcalc.new.sketches import sketch_of
from mountcalc.new.understanding import understood
from mountcalc.pages.page import wrap

_WELCOME = """\
Answer with what the tape says: 14 1/2, 14 1/2 in, 370 mm. Enter takes what is
said in brackets, or that you do not know. ? tells more, back goes one back,
rest asks only what nobody could guess. Nothing is written before the end.
Unplug the machine and lock the plug out before hands or tape go near it."""
_SURE = "yes writes the file; the mark of an answer, such as D4, changes it; ? lists all."


class _Said(NamedTuple):
    """What was typed at a question: an answer, or where to go on."""

    answers: Measurements
    way: str = ""  # "back" or "rest"


class Dialogue:
    """A conversation with a person, by a way to ask and a way to say.

    Parameters
    ----------
    ask : callable
        Returns what is typed after a prompt.
    say : callable
        Shows text.
    picture : callable
        Draws a mount; returns where the picture is.
    """

    def __init__(
        self,
        ask: Callable[[str], str],
        say: Callable[[str], None],
        picture: Callable[[Understood], str],
    ) -> None:
        self.ask, self.say, self.picture = ask, say, picture
        self.answers = Measurements({})
        self.done: list[str] = []  # keys of questions, in the order in which they came
        self.passed: set[str] = set()  # those among them that nobody was asked
        self.shown = "", ""  # the group and the sketch that stand above

    def held(self) -> Understood:
        """Ask until the mount is as the person says that it is."""
        self.say(_WELCOME)
        while True:
            self._ask_all()
            try:
                mount = understood(self._asked_answers())
                if not mount.contradictions:
                    told = understood_text(mount, "? lists all")
                    self.say(f"\n{told}\n\nPicture: {self.picture(mount)}\n")
            except MountcalcError as error:
                key, _, text = str(error).partition(": ")
                known = key in questions()
                self._mend([key] * known, f"{marks()[key]}: {text}" if known else str(error))
                continue
            for one in mount.contradictions[:1]:
                self._mend(one.suspects, one.sentence)
            if not mount.contradictions and self._is_so():
                return mount

    def _asked_answers(self) -> Measurements:
        """The answers, without those to questions that later answers took back."""
        kept = {key: text for key, text in self.answers.answers.items() if key in self.done}
        return Measurements({key: text for key, text in kept.items() if self.answers.is_asked(key)})

    def _again(self, keys: Collection[str]) -> None:
        """Ask some questions once more, and what hangs on them."""
        self.done = [key for key in self.done if key not in keys]
        self.passed.difference_update(keys)

    def _mend(self, keys: Collection[str], told: str) -> None:
        """Tell what cannot be, and ask again for what it is about; it may be a thing not asked."""
        self.say(f"\n{wrap(in_words(told))}")
        self._again(keys)
        if not any(map(self.answers.is_asked, keys)):
            while not self._changed(self.ask("The mark of the answer to change (? lists all) > ")):
                pass

    def _is_so(self) -> bool:
        self.say(_SURE)
        while True:
            typed = self.ask("Is it so? > ").strip()
            if typed.lower() in {"y", "yes"}:
                return True
            if self._changed(typed):
                return False

    def _changed(self, typed: str) -> bool:
        """Whether what was typed is the mark of an answer, which is then asked for again."""
        mark = typed.strip().upper().replace(" ", "")
        keys = {mark: key for key, mark in marks().items() if self.answers.is_asked(key)}
        if mark == "BACK" and self.done:
            mark = marks()[self.done[-1]]
        if mark in keys:
            self._again([keys[mark]])
            return True
        if mark in {"?", "N", "NO"}:
            self.say(answers_text(self.answers))
        else:
            self.say("A mark is wanted, such as D4: ? lists them with what was answered.")
        return False

    def _ask_all(self) -> None:
        """Ask what was not asked yet, in order."""
        rest = False
        while question := self._next():
            if rest and question.unsaid:
                self.passed.add(question.key)
                self.done.append(question.key)
                continue
            said = self._asked(question)
            self.answers = said.answers
            if said.way == "back":
                self._go_back()
                continue
            rest = rest or said.way == "rest"
            if not said.way or question.unsaid:
                self.done.append(question.key)

    def _next(self) -> Question | None:
        return next((one for one in self.answers.asked() if one.key not in self.done), None)

    def _go_back(self) -> None:
        while self.done:
            key = self.done.pop()
            if key in self.passed:
                self.passed.remove(key)
            elif self.answers.is_asked(key):
                return
        self.say("This is the first one.")

    def _asked(self, question: Question) -> _Said:
        """Ask one question until there is an answer to it."""
        self._show(question)
        while True:
            typed = self.ask("  > ").strip()
            match typed.lower():
                case "?":
                    self.say(_help(question, self.answers))
                    continue
                case "back" | "rest" as way:
                    return _Said(self.answers, way)
                case "" if question.key in self.answers:
                    return _Said(self.answers)
                case "" if not question.unsaid:
                    self.say("  An answer is wanted here: - if you cannot measure it, ? for more.")
                    continue
            try:
                answer = completed(question, typed, self.answers.display)
                return _Said(self.answers.with_(question.key, answer))
            except InputError as error:
                self.say(wrap(str(error).removeprefix(f"{question.key}: "), "  ", "  "))

    def _show(self, question: Question) -> None:
        """The question, under its heading and its sketch where these are new."""
        group, sketch = question.group, sketch_of(question, self.answers)
        lines = []
        if group != self.shown[0]:
            heading = groups()[group]
            lines += ["", heading.upper(), ""]
        if sketch and sketch != self.shown[1]:
            lines += [sketch.rstrip("\n"), ""]
        self.shown = group, sketch or self.shown[1]
        mark = marks()[question.key]
        lines.append(
            wrap(f"{question.ask}{_brackets(question, self.answers)}", f"{mark:<4}", " " * 4)
        )
        width = max(map(len, question.choices), default=0) + 2
        lines += [f"      {word:<{width}}{means}" for word, means in question.choices.items()]
        self.say("\n".join(lines))


def _brackets(question: Question, answers: Measurements) -> str:
    """What Enter takes."""
    if question.key in answers:
        return f" [Enter keeps {answers.text(question.key)}]"
    if (taken := answers.text(question.key)) is not None:
        return f" [{taken}]"
    return " [don't know]" if question.unsaid else ""


def _help(question: Question, answers: Measurements) -> str:
    """More of a question: its sketch, what an answer looks like, what is taken without."""
    lines = [sketch_of(question, answers).rstrip("\n")]
    if not question.choices:
        lines.append(wrap(f"{_sentence(wanted(question))}.", "    ", "    "))
    if question.unsaid:
        taken = answers.with_(question.key, "").text(question.key)
        without = f"{taken}, {question.unsaid}" if taken else question.unsaid
        lines.append(wrap(f"Not known: {without}.", "    ", "    "))
    else:
        lines.append("    This is wanted, or answers to others that tell the same.")
    lines.append("    - is don't know; back: one question back; rest: the usual for the rest.")
    return "\n".join(line for line in lines if line)


def _sentence(text: str) -> str:
    return re.sub(r"^.", lambda first: first[0].upper(), text)
