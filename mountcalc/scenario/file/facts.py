"""What is good in a scenario file, by key, whatever else in it is wrong.

The rules between keys read it, so that one mistake does not hide another.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import lru_cache
from typing import Annotated, Any, get_args, get_origin

from pydantic import TypeAdapter, ValidationError

from mountcalc.scenario.file.schema import ScenarioTable, Table
from mountcalc.scenario.file.toml_text import KeyPath

__all__ = ["Facts", "Finding", "facts_of", "found", "good_facts", "inner_table", "path_of"]


@dataclass(frozen=True, slots=True)
class Finding:
    """One thing that is wrong: the path of its key and a sentence."""

    path: KeyPath
    text: str


@dataclass(slots=True)
class Facts:
    """Keys are dotted, with the index from 0 for the tables of an array.

    Attributes
    ----------
    good : dict
        Values that were read.
    present : set
        Keys that the file has, good or bad.
    tables : set
        Tables that the file has.
    counts : dict
        Lengths of arrays of tables.
    """

    good: dict[str, Any] = field(default_factory=dict)
    present: set[str] = field(default_factory=set)
    tables: set[str] = field(default_factory=set)
    counts: dict[str, int] = field(default_factory=dict)

    def get(self, *keys: str) -> tuple[Any, ...] | None:
        """Return the values of all the keys, or None if any is not good."""
        if any(key not in self.good for key in keys):
            return None
        return tuple(self.good[key] for key in keys)


def path_of(key: str) -> KeyPath:
    """Return the path of a dotted key."""
    return tuple(int(part) if part.isdecimal() else part for part in key.split("."))


def found(key: str, text: str) -> Finding:
    """Return a finding at a dotted key."""
    return Finding(path_of(key), text)


def inner_table(model: type[Table], name: str) -> tuple[type[Table] | None, bool]:
    """Return the table that a key of a table holds, if it holds one, and whether an array of it."""
    annotation: Any = model.model_fields[name].annotation
    array = get_origin(annotation) is list
    # The table of a list, of "Table | None", or the annotation itself.
    for candidate in get_args(annotation) or (annotation,):
        if isinstance(candidate, type) and issubclass(candidate, Table):
            return candidate, array
    return None, False


def facts_of(table: ScenarioTable) -> Facts:
    """Return the facts of a file in which every single key is right."""
    facts = Facts()
    _flatten(table, "", facts)
    return facts


def _flatten(table: Table, prefix: str, facts: Facts) -> None:
    facts.tables.add(prefix.rstrip("."))
    for name in table.model_fields_set:
        key, value = prefix + name, getattr(table, name)
        facts.present.add(key)
        if isinstance(value, Table):
            _flatten(value, f"{key}.", facts)
        elif isinstance(value, list):
            facts.counts[key] = len(value)
            for index, item in enumerate(value):
                _flatten(item, f"{key}.{index}.", facts)
        else:
            facts.good[key] = value


def good_facts(raw: dict[str, Any]) -> Facts:
    """Return the facts of a file in which something is wrong."""
    facts = Facts()
    _salvage(ScenarioTable, raw, "", facts)
    return facts


def _salvage(model: type[Table], raw: dict[str, Any], prefix: str, facts: Facts) -> None:
    facts.tables.add(prefix.rstrip("."))
    for name, value in raw.items():
        key = prefix + name
        facts.present.add(key)
        inner, array = inner_table(model, name)
        if inner is None:
            try:
                facts.good[key] = _adapter(model, name).validate_python(value)
            except ValidationError:
                continue
        elif array and isinstance(value, list):
            facts.counts[key] = len(value)
            for index, item in enumerate(value):
                if isinstance(item, dict):
                    _salvage(inner, item, f"{key}.{index}.", facts)
        elif not array and isinstance(value, dict):
            _salvage(inner, value, f"{key}.", facts)


@lru_cache(maxsize=128)
def _adapter(model: type[Table], name: str) -> TypeAdapter[Any]:
    """Return what validates one key of a table."""
    info = model.model_fields[name]
    annotation: Any = info.annotation
    return TypeAdapter(Annotated[annotation, *info.metadata] if info.metadata else annotation)
