"""A scenario with other keys: read and checked anew, as from a file."""

from __future__ import annotations

import tomllib
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from mountcalc.errors import ScenarioError
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.pulleys import PULLEY_KEYS
from mountcalc.scenario.reader import parse_scenario
from mountcalc.scenario.writer import scenario_text

# Keys of which a table has one: another that is put in takes it out.
_EITHER = (
    tuple(PULLEY_KEYS),
    ("designation", "length"),
    ("shock", "service_factor"),
    ("position", "on"),
    ("box", "polygon"),
)


def changed(scenario: Scenario, tables: Mapping[str, Any]) -> Scenario:
    """Return a scenario whose file has other keys; see `Scenario.with_`."""
    return parse_scenario(_merged(_tables_of(scenario), tables), scenario.source)


def _tables_of(scenario: Scenario) -> Mapping[str, Any]:
    """The tables that a scenario was read from; those that it is written as, if it was replaced."""
    try:
        read = parse_scenario(scenario.given, scenario.source)
    except ScenarioError:
        pass
    else:
        if replace(read, notes=scenario.notes) == scenario:
            return scenario.given
    return tomllib.loads(scenario_text(scenario))


def _merged(there: Mapping[str, Any], changes: Mapping[str, Any]) -> dict[str, Any]:
    """Tables with changes, table by table and key by key; None takes a key away."""
    merged = dict(there)
    for keys in _EITHER:
        if any(changes.get(key) is not None for key in keys):
            merged = {key: value for key, value in merged.items() if key not in keys}
    if "designation" in changes:  # has the section in it
        merged.pop("section", None)
    for key, value in changes.items():
        if value is None:
            merged.pop(key, None)
        elif isinstance(value, Mapping):
            table = there.get(key)
            merged[key] = _merged(table if isinstance(table, Mapping) else {}, value)
        else:
            merged[key] = _merged_list(there.get(key), value)
    return merged


def _merged_list(there: object, value: object) -> object:
    """A list of tables as long as the one that is there adds to that; else it takes its place."""
    if not (isinstance(there, list | tuple) and isinstance(value, list | tuple)):
        return value
    pairs = list(zip(there, value, strict=False))
    alike = len(there) == len(value) and all(
        isinstance(one, Mapping) for pair in pairs for one in pair
    )
    return [_merged(one, other) for one, other in pairs] if alike else value
