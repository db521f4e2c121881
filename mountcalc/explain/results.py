"""What a term means: immutable, texts as they are read, None where there is nothing to say."""

from __future__ import annotations

from enum import StrEnum

from mountcalc.pages.as_json import Result
from mountcalc.record import Record


class Group(StrEnum):
    """What kind of word a term is, in the order in which they are listed."""

    WORD = "word"
    COLUMN = "column"
    MARK = "mark"
    STATE = "state"
    ZERO = "zero"
    METHOD = "method"
    READING = "reading"
    JUDGEMENT = "judgement"
    VERDICT = "verdict"
    EXIT = "exit code"
    CHOICE = "choice"
    TABLE = "table of the scenario"
    KEY = "key of the scenario"
    JSON = "key of JSON"


class Meaning(Record):
    """One meaning of a term.

    ``of`` is the command, the table or the key that it belongs to, ``also`` other words for it.
    ``where`` has the symbols of the ``formula``, each with what it is. ``wanted`` and ``without``
    say what a key's value has to be, and what is taken where the file does not have it. ``at`` is
    where an example is found, in the words of the data file, ``example`` what was found there.
    """

    term: str
    group: Group
    meaning: str
    of: str = ""
    also: tuple[str, ...] = ()
    symbol: str | None = None
    formula: str | None = None
    where: tuple[str, ...] = ()
    source: str | None = None
    wanted: str | None = None
    without: str | None = None
    at: str | None = None
    on: str | None = None
    example: str | None = None


class Explanation(Record, Result):
    """A term with all its meanings; of a list of all terms, an empty one.

    Examples
    --------
    >>> found = explain("snug")
    >>> found.meanings[0].meaning
    'the belt is taut, without tension'
    """

    term: str
    meanings: tuple[Meaning, ...]
