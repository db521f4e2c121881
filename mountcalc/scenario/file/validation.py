"""From the tables of a TOML file to checked tables, or to everything that is wrong with them."""

from __future__ import annotations

from functools import cache
from typing import Any

from pydantic import ValidationError

from mountcalc.scenario.file.facts import Finding, facts_of, good_facts, inner_table
from mountcalc.scenario.file.rules import check
from mountcalc.scenario.file.schema import ScenarioTable, Table, Wanted
from mountcalc.scenario.file.toml_text import KeyPath
from mountcalc.scenario.text.wording import (
    listed,
    near_spelling,
    one_line,
    refused_drive,
    shown,
    shown_key,
)

__all__ = ["validate"]

_LAYERS = 6  # more than the tables of a scenario nest
_MOST_TABLES_NAMED = 4
_MOST_MENDED = 100


def validate(raw: dict[str, Any]) -> tuple[ScenarioTable | None, list[Finding]]:
    """Check the tables of a scenario file."""
    try:
        table = ScenarioTable.model_validate(raw)
    except ValidationError as error:
        return None, _all_findings(raw, error)
    findings = check(facts_of(table))
    return (None if findings else table), findings


def _all_findings(raw: dict[str, Any], error: ValidationError) -> list[Finding]:
    """Return all that is wrong: unknown keys are put right first, so that they hide nothing."""
    mender = _Mender(raw)
    errors: list[Any] = list(error.errors(include_url=False))
    for _ in range(_LAYERS):
        unknown = [one["loc"] for one in errors if one["type"] == "extra_forbidden"]
        if not unknown:
            break
        for path in unknown:
            mender.mend(path)
        errors = _errors(mender.raw)
    others = [_explained(one) for one in errors] + check(good_facts(mender.raw))
    return mender.findings + [Finding(mender.as_written(one.path), one.text) for one in others]


def _errors(raw: dict[str, Any]) -> list[Any]:
    try:
        ScenarioTable.model_validate(raw)
    except ValidationError as error:
        return list(error.errors(include_url=False))
    return []


class _Mender:
    """A copy of a file's tables in which unknown keys are renamed to near ones, or left out."""

    def __init__(self, raw: dict[str, Any]) -> None:
        self.raw: dict[str, Any] = _copied(raw, _LAYERS)
        self.findings: list[Finding] = []
        self._written: dict[KeyPath, KeyPath] = {}

    def mend(self, path: KeyPath) -> None:
        """Rename or drop the unknown key, and note what is wrong with it."""
        table: Any = self.raw
        for part in path[:-1]:
            table = table[part]
        key = str(path[-1])
        value = table.pop(key)
        model = _model_at(path[:-1])
        refusal = refused_drive(key, value)
        # Looking for what is meant takes long: nobody reads of so many.
        told = len(self.findings) < _MOST_MENDED
        near = near_spelling(key, model.model_fields) if told and not refusal else None
        homes = _homes(key) if told else ""
        if homes and near is not None:
            # A table [limit] is a slip for [limits], although bearings have a key of that name.
            meant = isinstance(value, dict) and inner_table(model, near)[0] is not None
            homes, near = ("", near) if meant else (homes, None)
        if near is not None and self._rename((*path[:-1], near), key, table, value):
            hint = f"; did you mean '{near}'?"
        else:
            hint = homes or (f"; known are {listed(model.model_fields, 'and')}" if told else "")
        self.findings.append(
            Finding(self.as_written(path), refusal or f"unknown key {shown_key(key)}{hint}")
        )

    def _rename(self, path: KeyPath, key: str, table: dict[str, Any], value: object) -> bool:
        """Put the value under the near key; a table adds to the one that is there already."""
        near = str(path[-1])
        written = (*self.as_written(path[:-1]), key)
        there = table.get(near)
        if near not in table:
            table[near] = value
            self._written[path] = written
        elif isinstance(there, dict) and isinstance(value, dict):
            for inner in sorted(value.keys() - there.keys()):
                there[inner] = value[inner]
                self._written[*path, inner] = (*written, inner)
        else:
            return False
        return True

    def as_written(self, path: KeyPath) -> KeyPath:
        """Return the path with the keys that the file has."""
        for end in range(len(path), 0, -1):
            if path[:end] in self._written:
                return (*self._written[path[:end]], *path[end:])
        return path


def _copied(value: Any, layers: int) -> Any:  # noqa: ANN401  # tables of any content
    """Return a copy of tables and arrays down to a number of layers."""
    if layers == 0:
        return value
    if isinstance(value, dict):
        return {key: _copied(item, layers - 1) for key, item in value.items()}
    if isinstance(value, list):
        return [_copied(item, layers - 1) for item in value]
    return value


def _model_at(path: KeyPath) -> type[Table]:
    """Return the model of the table at a path that is known to hold one."""
    model: type[Table] = ScenarioTable
    for part in path:
        if isinstance(part, str):
            model = inner_table(model, part)[0] or model
    return model


def _homes(key: str) -> str:
    """Say in which other tables a key that is unknown here is known; nothing if in none."""
    homes = [f"[{name}]" for name, table in _tables() if key in table.model_fields]
    return f" here; it belongs in {listed(homes)}" if 0 < len(homes) <= _MOST_TABLES_NAMED else ""


@cache
def _tables() -> list[tuple[str, type[Table]]]:
    """Return the names and models of all tables."""
    found: list[tuple[str, type[Table]]] = []
    queue: list[tuple[str, type[Table]]] = [("", ScenarioTable)]
    while queue:
        prefix, model = queue.pop(0)
        for name in model.model_fields:
            inner, array = inner_table(model, name)
            if inner is not None:
                found.append((f"[{prefix}{name}]" if array else prefix + name, inner))
                queue.append((f"{prefix}{name}.", inner))
    return found


def _explained(error: Any) -> Finding:  # noqa: ANN401  # the validation library's own kind of dict
    """Put an error of the validation library in our words."""
    path: KeyPath = error["loc"]
    name = ".".join(str(part) for part in path if isinstance(part, str))
    match error["type"]:
        case "value_error":
            text = str(error["ctx"]["error"])
        case "missing":
            text = _missing(path, name)
        case "list_type":
            text = f"write [[{name}]] over each of them, got {shown(error['input'])}"
        case "model_type" | "model_attributes_type" | "dict_type":
            text = f"table [{name}] wanted, got {shown(error['input'])}"
        case _:
            text = str(error["msg"])
    return Finding(path, one_line(text))


def _missing(path: KeyPath, name: str) -> str:
    """Say what is missing and what is wanted."""
    model = _model_at(path[:-1])
    inner, array = inner_table(model, str(path[-1]))
    if array:
        return f"missing: exactly two [[{name}]] wanted"
    if inner is not None:
        return f"missing table [{name}]"
    metadata = model.model_fields[str(path[-1])].metadata
    wanted = [str(one) for one in metadata if isinstance(one, Wanted)]
    return f"missing: {wanted[0]}" if wanted else "missing"
