"""The errors that mountcalc raises on purpose; everything else is a bug.

Two kinds of "no" stay apart. An impossible input or mount is an error from this
module and ends the command with exit code 2. A limit that is not met is a result:
it is reported in the table, and never raised.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass


class MountcalcError(Exception):
    """Base of all errors of this package; ``exit_code`` is what the command line ends with."""

    exit_code = 2


@dataclass(frozen=True, slots=True)
class Problem:
    """One thing that is wrong in a scenario file.

    Attributes
    ----------
    key : str
        Dotted path of the key, ``"driven.bearing[1].length"``; empty for the file as a whole.
    text : str
        What was found and what is wanted, in one line.
    line : int or None
        Line in the file, counted from 1, where it can be had.
    """

    key: str
    text: str
    line: int | None = None


class InputError(MountcalcError):
    """An argument of a command or function that cannot be used (turns, file names)."""


class ScenarioError(InputError):
    """A scenario, or a log of readings, that cannot be used; holds every problem found in it.

    Parameters
    ----------
    source : str
        The file's name as the user gave it.
    problems : sequence of Problem
        All that is wrong, in the order of the file where lines are known.
    """

    def __init__(self, source: str, problems: Sequence[Problem]) -> None:
        self.source = source
        self.problems = tuple(problems)
        super().__init__("\n".join(self.lines()))

    def lines(self) -> list[str]:
        """One line of text for each problem: file, line, key, what was found and what is wanted."""
        lines = []
        for problem in self.problems:
            where = self.source if problem.line is None else f"{self.source}:{problem.line}"
            lines.append(": ".join(part for part in (where, problem.key, problem.text) if part))
        return lines


class MountError(MountcalcError):
    """A well-formed scenario whose mount cannot do what was asked (belt too long, dead centre).

    Parameters
    ----------
    source : str
        The scenario's file name, empty where it has none.
    key : str
        Dotted key that decides, or the name of the argument.
    text : str
        What is wrong, by how much, and what to change.
    """

    def __init__(self, source: str, key: str, text: str) -> None:
        self.source = source
        self.key = key
        super().__init__(f"{key}: {text}")


class OutputError(MountcalcError):
    """A result that could not be written where it was wanted; what stood there is unharmed."""
