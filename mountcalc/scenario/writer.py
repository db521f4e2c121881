"""A scenario written as a file, and one with other keys: read and checked anew, as from a file.

A key is written as its field is annotated; here stands only what the file says otherwise than the
model has it.
"""

from __future__ import annotations

import math
import tomllib
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import replace
from typing import Any

from mountcalc.errors import ScenarioError
from mountcalc.scenario.file.tables import TABLES
from mountcalc.scenario.keys import declared
from mountcalc.scenario.model import (
    Bearing,
    Belt,
    Driven,
    KeepOut,
    Motor,
    Scenario,
    ShaftLoad,
    Turning,
)
from mountcalc.scenario.parts import Parts
from mountcalc.scenario.pulleys import PULLEY_KEYS
from mountcalc.scenario.reader import parse_scenario
from mountcalc.scenario.text.wording import one_line
from mountcalc.scenario.text.writing import UNITS_TO_WRITE, UnitsToWrite, quoted

_COMMENT_COLUMN = 44
_SAME_LENGTH = 1e-12
_HOW_TO_READ = (
    "Facing the motor's pulley, x runs to the right and y up. All points are as drawn, that is at",
    "plate angle 0; angles are counter-clockwise. Every value that tensions and loads depend on is",
    "explicit: only drawings are left to defaults, where nothing is said of a part.",
)


# Keys of which a table has one: another that is put in takes it out.
_EITHER = (
    tuple(PULLEY_KEYS),
    ("designation", "length"),
    ("shock", "service_factor"),
    ("position", "on"),
    ("box", "polygon"),
)


def scenario_text(
    scenario: Scenario, remarks: Sequence[str] = (), typed: Mapping[str, str] | None = None
) -> str:
    """Write a scenario as the text of a file; ``typed`` has texts of keys that keep them."""
    if scenario.adjuster.spring is not None:
        raise ValueError("a spring between adjuster and plate has no key in a scenario file")
    units, parts, driven = UNITS_TO_WRITE[scenario.display], scenario.parts, scenario.driven
    tables: list[tuple[str, Sequence[object]]] = [
        ("", (scenario,)),
        ("driven", (driven, parts.along)),
        *(("driven.bearing", (one,)) for one in driven.bearings),
        *(("driven.load", (one,)) for one in driven.loads),
        ("motor", (scenario.motor, parts, parts.along)),
        ("belt", (scenario.belt,)),
        ("plate", (scenario.plate, parts.plate)),
        ("adjuster", (scenario.adjuster,)),
        ("limits", (scenario.limits,)),
        ("may_change", (scenario.may_change,)),
        *(
            (name, (part,))
            for name, part in (
                ("hinge", parts.hinges),
                ("guard", parts.guard),
                ("base", parts.base),
            )
            if part != type(part)()
        ),
        *(("keep_out", (one,)) for one in scenario.keep_outs),
    ]
    top = [f"# {one_line(remark)}".rstrip() for remark in (*remarks, *_HOW_TO_READ)]
    typed = {key: quoted(text) for key, text in (typed or {}).items()}
    blocks = []
    for table, several in tables:
        words = TABLES[table].words
        header = f"[[{table}]]" if TABLES[table].array else f"[{table}]"
        block = [_commented(header, words)] if table else []
        block += [line for part in several for line in _lines(part, table, units, typed)]
        blocks.append("\n".join(block))
    return "\n\n".join(["\n".join(top), *blocks]) + "\n"


def _lines(
    part: object, table: str, units: UnitsToWrite, typed: Mapping[str, str]
) -> Iterator[str]:
    """Lines of the keys of a table that a part of the scenario fills."""
    kind: type = type(part)
    otherwise = _otherwise(part, units)
    for key in declared(kind, table):
        value = getattr(part, key.field)
        text = None if value is None else typed.get(f"{table}.{key.name}")
        words = key.words
        if key.name in otherwise:
            text, words = otherwise[key.name] or ("", "")
        elif text is None and value is not None and key.form.write is not None:
            text = key.form.write(value, units)
        if text and key.table == table:
            yield _commented(f"{key.name} = {text}", words)


def _commented(text: str, words: str) -> str:
    return f"{text.ljust(_COMMENT_COLUMN - 1)} # {words}" if words else text


def _otherwise(part: object, units: UnitsToWrite) -> dict[str, tuple[str, str] | None]:
    """What a part's keys say otherwise than its fields, with their comments; None for nothing."""
    match part:
        case Driven() | Motor():
            diameter = units.write("length", 2 * part.pulley_radius)
            told = dict.fromkeys(PULLEY_KEYS) | {"pulley_diameter": (diameter, "PITCH diameter")}
            if isinstance(part, Motor) and part.reverses:
                told["rotation"] = (quoted(Turning.BOTH), "as seen facing the motor's pulley")
            return told
        case Bearing():
            kind, area, words = "force", 1.0, "load"
            if part.limit_given_as_pressure:
                kind, area, words = "pressure", part.projected_area, "load / (diameter x length)"
            told = {
                "limit": (units.write(kind, part.limit / area), f"{words}, at rest and running"),
                "starting_limit": (units.write(kind, part.starting_limit / area), ""),
            }
            return told | ({"cap_dowelled": None} if part.cap_direction is None else {})
        case ShaftLoad():
            way = units.direction(math.atan2(part.direction[1], part.direction[0]))
            return {"direction": (way, "")} | ({} if part.on is None else {"position": None})
        case Belt():
            bought, length = part.designation, units.write("length", part.length)
            told = {"drive": None, "designation": None}
            if bought is not None and math.isclose(
                bought.pitch_length, part.length, rel_tol=_SAME_LENGTH
            ):
                its = f"its pitch length is {length[1:-1]}"
                told |= {"designation": (quoted(bought.text), its), "length": None}
            return told
        case Parts() if not part.packing:
            return {"packing": None}
    return {"box": None} if isinstance(part, KeepOut) else {}


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
