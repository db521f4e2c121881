"""The tables of a scenario file, and one pass over what a file has in them.

What is right is kept by its dotted key, whatever else is wrong, so that the rules between keys can
be asked; what is wrong is a finding. A misspelt key counts as the one that is meant.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cache
from typing import Any, NamedTuple, TypeVar

from mountcalc.scenario.driven import Bearing, Driven, ShaftLoad
from mountcalc.scenario.file.toml_text import KeyPath
from mountcalc.scenario.hardware import BoltMake, Feet, Piece, Surroundings
from mountcalc.scenario.keys import Declared, declared
from mountcalc.scenario.model import (
    Adjuster,
    Belt,
    Bolt,
    Coil,
    KeepOut,
    Limits,
    MayChange,
    Motor,
    Plate,
    Scenario,
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
from mountcalc.scenario.workmanship import Workmanship

_MOST_TABLES_NAMED = 4
_MOST_SPELT = 100
_HUGE = 1e300


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
    "adjuster": Table((Adjuster, BoltMake), required=True),
    "adjuster.spring": Table((Coil,), "between bolt and plate, in series with the stiffness"),
    "limits": Table((Limits,), "what a setting must keep"),
    "may_change": Table((MayChange,), "what a remedy may touch besides parts that are bought"),
    "build": Table((Workmanship,), "how well it is made and known"),
    "hinge": Table((Hinges,), "one of them"),
    "guard": Table((Guard,), "panel and bent strip, for drawings only"),
    "base": Table((Base,), "what carries the hinge"),
    "feet": Table((Feet,), "bolts of the motor's feet"),
    "wood": Table((Surroundings,), "where it is, and how it moves"),
    "search": Table((SearchSpace,)),
    "keep_out": Table((KeepOut,), "ground that these parts must clear", array=True),
    "driven.bearing": Table((Bearing,), "exactly two", required=True, array=True),
    "adjuster.bolt": Table((Bolt,), "where there are two", array=True),
    "wood.piece": Table((Piece,), "a length across the grain, hinge to bolt", array=True),
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


def keys_of(table: str) -> list[Declared]:
    """Return the keys of a table as they are declared, in order."""
    return [one for one in _keys()[table].values() if isinstance(one, Declared)]


_Part = TypeVar("_Part")


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

    def lacks(self, table: str, *names: str) -> list[str]:
        """Return which of the keys of a table are not there at all."""
        return [name for name in names if f"{table}.{name}" not in self.present]

    def tables_of(self, array: str) -> list[str]:
        """Return the dotted names of the tables of an array."""
        return [f"{array}.{index}" for index in range(self.counts.get(array, 0))]

    def of(self, part: type, table: str, index: int | None = None) -> dict[str, Any]:
        """Return what the file says of the fields of a class; ``index`` is that in an array."""
        inner = "" if index is None else f"{index}."
        return {
            key.field: self.good[name]
            for key in declared(part, table)
            if (name := f"{key.table}.{inner}{key.name}".lstrip(".")) in self.good
        }

    def made(self, part: type[_Part], table: str, index: int | None = None, **unsaid: Any) -> _Part:  # noqa: ANN401  # of any field
        """Return a part of the model as the file says it; ``unsaid`` is taken where it does not."""
        return part(**unsaid | self.of(part, table, index))

    def as_written(self, path: KeyPath) -> KeyPath:
        """Return the path with the keys that the file has."""
        for end in range(len(path), 0, -1):
            if path[:end] in self.written:
                return (*self.written[path[:end]], *path[end:])
        return path


def read_tables(raw: dict[str, Any], *, si: bool = False) -> Facts:
    """Read all tables of a file; with ``si`` a bare number for a quantity is in SI."""
    reader = _Reader(si=si)
    reader.read("", (), raw)
    reader.facts.findings[:0] = reader.unknown
    return reader.facts


class _Reader:
    """One pass over a file."""

    def __init__(self, *, si: bool) -> None:
        self.si = si
        self.facts = Facts()
        self.unknown: list[Finding] = []

    def read(self, table: str, path: KeyPath, raw: dict[str, Any]) -> None:
        """Read the table at a path."""
        self.facts.tables.add(_dotted(path))
        given = self._given(table, path, raw)
        for name, known in _keys()[table].items():
            at, key = (*path, name), _dotted((*path, name))
            if name in given:
                self.facts.present.add(key)
            if isinstance(known, Table):
                inner = f"{table}.{name}".lstrip(".")
                if name in given:
                    self._inner(inner, at, given[name])
                elif known.required:
                    wanted = f"missing table [{inner}]"
                    if known.array:
                        wanted = f"missing: exactly two [[{inner}]] wanted"
                    self._wrong(at, wanted)
            elif name in given:
                value = given[name]
                try:
                    si = self.si and known.form.is_quantity
                    self.facts.good[key] = known.form.read(_in_si(value) if si else value)
                except ValueTextError as error:
                    self._wrong(at, str(error))
            elif known.required:
                self._wrong(at, known.missing)

    def _inner(self, table: str, path: KeyPath, value: object) -> None:
        """Read the table at a path, or the array of them."""
        items = [(path, value)]
        if TABLES[table].array:
            if not isinstance(value, list):
                self._wrong(path, f"write [[{table}]] over each of them, got {shown(value)}")
                return
            self.facts.counts[_dotted(path)] = len(value)
            items = [((*path, index), one) for index, one in enumerate(value)]
        for at, one in items:
            if isinstance(one, dict):
                self.read(table, at, one)
            else:
                self._wrong(at, f"table [{table}] wanted, got {shown(one)}")

    def _given(self, table: str, path: KeyPath, raw: dict[str, Any]) -> dict[str, Any]:
        """Return what a table has under its known names; say which names are unknown.

        A misspelt table adds to the one that is meant.
        """
        known, written = _keys()[table], self.facts.written
        given = {name: value for name, value in raw.items() if name in known}
        for name in [name for name in raw if name not in known]:
            at = self.facts.as_written((*path, name))
            near = self._unknown(table, at, raw[name], given)
            if near is None:
                continue
            if near in given:
                added = raw[name].keys() - given[near].keys()
                written.update({(*path, near, key): (*at, key) for key in added})
                given[near] = raw[name] | given[near]
            else:
                written[*path, near] = at
                given[near] = raw[name]
        return given

    def _unknown(
        self, table: str, path: KeyPath, value: object, given: dict[str, Any]
    ) -> str | None:
        """Say what is wrong with an unknown key; return the known one that is meant, if any."""
        key, known = str(path[-1]), _keys()[table]
        refusal = refused_drive(key, value)
        # Looking for what is meant takes long: nobody reads of so many.
        is_few = len(self.unknown) < _MOST_SPELT
        near = near_spelling(key, known) if is_few and not refusal else None
        homes = _homes(key) if is_few else ""
        if homes and near is not None:
            # A table [limit] is a slip for [limits], although bearings have a key of that name.
            meant = isinstance(value, dict) and isinstance(known[near], Table)
            homes, near = ("", near) if meant else (homes, None)
        if near in given and not (isinstance(given[near], dict) and isinstance(value, dict)):
            near = None
        if near is not None:
            hint = f"; did you mean '{near}'?"
        else:
            hint = homes or (f"; known are {listed(known, 'and')}" if is_few else "")
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
