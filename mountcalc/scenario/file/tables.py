"""The tables of a scenario file, and one pass over what a file has in them.

What is right is kept by its dotted key, whatever else is wrong, so that the rules between keys can
be asked; what is wrong is a finding. A misspelt key counts as the one that is meant.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from functools import cache
from typing import Any, NamedTuple

from mountcalc.scenario.file.toml_text import KeyPath
from mountcalc.scenario.keys import Declared, declared
from mountcalc.scenario.model import (
    Adjuster,
    Bearing,
    Belt,
    Driven,
    KeepOut,
    Limits,
    MayChange,
    Motor,
    Plate,
    Scenario,
    ShaftLoad,
)
from mountcalc.scenario.parts import AlongShafts, Base, Guard, Hinges, Parts, PlateBoard
from mountcalc.scenario.search import SearchSpace
from mountcalc.scenario.text.quantities import Si, ValueTextError
from mountcalc.scenario.text.wording import (
    listed,
    near_spelling,
    one_line,
    refused_drive,
    shown,
    shown_key,
)

_MOST_TABLES_NAMED = 4
_MOST_SPELT = 100
_HUGE = 1e300

# Where a value stands in the file, and the value.
_Piece = tuple[KeyPath, Any]


class Table(NamedTuple):
    """A table of the file: the classes whose fields are its keys, in the order of both.

    ``words`` stand behind its header where it is written. An array has one ``[[header]]`` for each
    of its tables.
    """

    parts: tuple[type, ...]
    words: str = ""
    required: bool = False
    array: bool = False


TABLES = {
    "": Table((Scenario, Parts, AlongShafts)),
    "driven": Table((Driven,), "the machine's shaft", required=True),
    "motor": Table((Motor,), required=True),
    "belt": Table((Belt,), "its values are those of ONE belt", required=True),
    "plate": Table((Plate, PlateBoard), required=True),
    "adjuster": Table((Adjuster,), required=True),
    "limits": Table((Limits,), "what a setting must keep"),
    "may_change": Table((MayChange,), "what a remedy may touch besides parts that are bought"),
    "hinge": Table((Hinges,), "one of them, for drawings only"),
    "guard": Table((Guard,), "panel and bent strip, for drawings only"),
    "base": Table((Base,), "what carries the hinge, for drawings only"),
    "search": Table((SearchSpace,)),
    "keep_out": Table((KeepOut,), "ground that these parts must clear", array=True),
    "driven.bearing": Table((Bearing,), "exactly two", required=True, array=True),
    "driven.load": Table((ShaftLoad,), "what else the shaft carries", array=True),
}
"""By dotted name; what has no name is the file itself."""


@cache
def _keys() -> dict[str, dict[str, Declared | Table]]:
    """Keys and inner tables of every table by name: those of its own classes come first."""
    known: dict[str, dict[str, Declared | Table]] = {name: {} for name in TABLES}
    keys = [
        (name, key)
        for name, table in TABLES.items()
        for part in table.parts
        for key in declared(part, name)
    ]
    for _, key in sorted(keys, key=lambda pair: pair[1].table != pair[0]):
        known[key.table][key.name] = key
    for name, inner in TABLES.items():
        if name:
            outer, _, last = name.rpartition(".")
            known[outer][last] = inner
    return known


class Finding(NamedTuple):
    """One thing that is wrong: the path of its key and a sentence."""

    path: KeyPath
    text: str


def path_of(key: str) -> KeyPath:
    """Return the path of a dotted key."""
    return tuple(int(part) if part.isdecimal() else part for part in key.split("."))


def found(key: str, text: str) -> Finding:
    """Return a finding at a dotted key."""
    return Finding(path_of(key), text)


@dataclass(slots=True)
class Facts:
    """What is in a file; keys are dotted, with the index from 0 for the tables of an array.

    ``good`` has the values that were read, ``present`` the keys that are there, good or bad,
    ``tables`` the tables, ``counts`` the lengths of arrays of them. ``findings`` are what is wrong
    with single keys, ``written`` tells where a misspelt key stands.
    """

    good: dict[str, Any] = field(default_factory=dict)
    present: set[str] = field(default_factory=set)
    tables: set[str] = field(default_factory=set)
    counts: dict[str, int] = field(default_factory=dict)
    findings: list[Finding] = field(default_factory=list)
    written: dict[KeyPath, KeyPath] = field(default_factory=dict)

    def get(self, *keys: str) -> tuple[Any, ...] | None:
        """Return the values of all the keys, or None if any is not good."""
        if any(key not in self.good for key in keys):
            return None
        return tuple(self.good[key] for key in keys)

    def of(self, part: type, table: str, index: int | None = None) -> dict[str, Any]:
        """Return what the file says of the fields of a class; ``index`` is that in an array."""
        return {
            key.field: self.good[name]
            for key in declared(part, table)
            if (name := _name(key, index)) in self.good
        }

    def as_written(self, path: KeyPath) -> KeyPath:
        """Return the path with the keys that the file has."""
        for end in range(len(path), 0, -1):
            if path[:end] in self.written:
                return (*self.written[path[:end]], *path[end:])
        return path


Rule = Callable[[Facts], Iterable[Finding]]


def rule_on(*keys: str) -> Callable[[Callable[..., str | None]], Rule]:
    """Make a rule of what tells from the values of keys what is wrong with the first of them."""

    def made(tell: Callable[..., str | None]) -> Rule:
        def rule(facts: Facts) -> list[Finding]:
            values = facts.get(*keys)
            text = None if values is None else tell(*values)
            return [] if text is None else [found(keys[0], text)]

        return rule

    return made


def read_tables(raw: dict[str, Any], *, si: bool = False) -> Facts:
    """Read all tables of a file; with ``si`` a bare number for a quantity is in SI."""
    reader = _Reader(si=si)
    reader.read("", (), [((), raw)])
    reader.facts.findings[:0] = reader.unknown
    return reader.facts


class _Reader:
    """One pass over a file."""

    def __init__(self, *, si: bool) -> None:
        self.si = si
        self.facts = Facts()
        self.unknown: list[Finding] = []

    def read(self, table: str, path: KeyPath, pieces: list[_Piece]) -> None:
        """Read a table; further pieces are misspelt tables that add to it."""
        self.facts.tables.add(_dotted(path))
        given = self._given(table, path, pieces)
        for name, known in _keys()[table].items():
            at, key = (*path, name), _dotted((*path, name))
            if name in given:
                self.facts.present.add(key)
            if isinstance(known, Table):
                self._inner(f"{table}.{name}".lstrip("."), at, given.get(name, []))
            elif name in given:
                value = given[name][0][1]
                try:
                    si = self.si and known.form.is_quantity
                    self.facts.good[key] = known.form.read(_in_si(value) if si else value)
                except ValueTextError as error:
                    self._wrong(at, str(error))
            elif known.required:
                self._wrong(at, known.missing)

    def _inner(self, table: str, path: KeyPath, pieces: list[_Piece]) -> None:
        """Read the table at a path, or the array of them."""
        known = TABLES[table]
        name = ".".join(part for part in path if isinstance(part, str))
        if not pieces:
            if known.required:
                wanted = f"exactly two [[{name}]] wanted"
                self._wrong(
                    path, f"missing: {wanted}" if known.array else f"missing table [{name}]"
                )
            return
        value = pieces[0][1]
        if not known.array:
            if isinstance(value, dict):
                self.read(table, path, pieces)
            else:
                self._wrong(path, f"table [{name}] wanted, got {shown(value)}")
        elif isinstance(value, list):
            self.facts.counts[_dotted(path)] = len(value)
            for index, one in enumerate(value):
                at = (*path, index)
                if isinstance(one, dict):
                    self.read(table, at, [(self.facts.as_written(at), one)])
                else:
                    self._wrong(at, f"table [{name}] wanted, got {shown(one)}")
        else:
            self._wrong(path, f"write [[{name}]] over each of them, got {shown(value)}")

    def _given(self, table: str, path: KeyPath, pieces: list[_Piece]) -> dict[str, list[_Piece]]:
        """Return what a table has under its known names; say which names are unknown."""
        known, seen = _keys()[table], set[str]()
        given: dict[str, list[_Piece]] = {}
        unknown: list[tuple[KeyPath, str, Any]] = []
        for at, piece in pieces:
            for name in piece.keys() - seen if seen else piece:
                if name not in known:
                    unknown.append((at, name, piece[name]))
                    continue
                given[name] = [((*at, name), piece[name])]
                if at != self.facts.as_written(path):
                    self.facts.written[*path, name] = (*at, name)
            seen |= piece.keys()
        for at, name, value in unknown:
            near = self._unknown(table, (*at, name), value, given)
            if near is not None:
                if near not in given:
                    self.facts.written[*path, near] = (*at, name)
                given.setdefault(near, []).append(((*at, name), value))
        return given

    def _unknown(
        self, table: str, path: KeyPath, value: object, given: dict[str, list[_Piece]]
    ) -> str | None:
        """Say what is wrong with an unknown key; return the known one that is meant, if any."""
        key, known = str(path[-1]), _keys()[table]
        refusal = refused_drive(key, value)
        # Looking for what is meant takes long: nobody reads of so many.
        told = len(self.unknown) < _MOST_SPELT
        near = near_spelling(key, known) if told and not refusal else None
        homes = _homes(key) if told else ""
        if homes and near is not None:
            # A table [limit] is a slip for [limits], although bearings have a key of that name.
            meant = isinstance(value, dict) and isinstance(known[near], Table)
            homes, near = ("", near) if meant else (homes, None)
        if near in given and not (isinstance(given[near][0][1], dict) and isinstance(value, dict)):
            near = None
        if near is not None:
            hint = f"; did you mean '{near}'?"
        else:
            hint = homes or (f"; known are {listed(known, 'and')}" if told else "")
        self.unknown.append(Finding(path, refusal or f"unknown key {shown_key(key)}{hint}"))
        return near

    def _wrong(self, path: KeyPath, text: str) -> None:
        self.facts.findings.append(Finding(self.facts.as_written(path), one_line(text)))


def _in_si(value: Any) -> Any:  # noqa: ANN401  # a number, a list of them, or what is wrong
    """Mark numbers as SI."""
    if isinstance(value, list):
        return [_in_si(one) for one in value]
    is_number = isinstance(value, int | float) and not isinstance(value, bool)
    return Si(value) if is_number and abs(value) < _HUGE else value


def _name(key: Declared, index: int | None) -> str:
    return ".".join(str(part) for part in (key.table, index, key.name) if part not in ("", None))


def _homes(key: str) -> str:
    """Say in which other tables a key that is unknown here is known; nothing if in none."""
    homes = [
        f"[[{name}]]" if table.array else f"[{name}]"
        for name, table in TABLES.items()
        if name and key in _keys()[name]
    ]
    return f" here; it belongs in {listed(homes)}" if 0 < len(homes) <= _MOST_TABLES_NAMED else ""


def _dotted(path: KeyPath) -> str:
    return ".".join(map(str, path))
