"""A scenario written as a file, and one with other keys: read and checked anew, as from a file.

A key is written as its field is annotated; here stands only what the file says otherwise than the
model has it.
"""

from __future__ import annotations

import math
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from mountcalc.errors import ScenarioError
from mountcalc.scenario.driven import Bearing, Driven, ShaftLoad
from mountcalc.scenario.file.tables import TABLES
from mountcalc.scenario.keys import declared
from mountcalc.scenario.model import Adjuster, Belt, KeepOut, Motor, Scenario, Turning
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
_NOTHING = ("", "")
# Keys of which a table has one: another that is put in takes it out.
_EITHER = (
    tuple(PULLEY_KEYS),
    ("designation", "length"),
    ("shock", "service_factor"),
    ("position", "on"),
    ("box", "polygon"),
    ("across", "bolt"),
)


def scenario_text(
    scenario: Scenario, remarks: Sequence[str] = (), typed: Mapping[str, str] | None = None
) -> str:
    """Write a scenario as the text of a file; ``typed`` has texts of keys that keep them."""
    units, parts, driven = UNITS_TO_WRITE[scenario.display], scenario.parts, scenario.driven
    drawn = {"hinge": parts.hinges, "guard": parts.guard, "base": parts.base, "feet": parts.feet}
    drawn["wood"] = parts.wood
    tables: list[tuple[str, Sequence[Any]]] = [
        ("", (scenario,)),
        ("driven", (driven, parts.along)),
        *(("driven.bearing", (one,)) for one in driven.bearings),
        *(("driven.load", (one,)) for one in driven.loads),
        ("motor", (scenario.motor, parts, parts.along)),
        ("belt", (scenario.belt,)),
        ("plate", (scenario.plate, parts.plate)),
        ("adjuster", (scenario.adjuster, parts.bolt)),
        *(("adjuster.bolt", (one,)) for one in scenario.adjuster.bolts),
        *(("adjuster.spring", (one,)) for one in (scenario.adjuster.coil,) if one is not None),
        ("limits", (scenario.limits,)),
        ("may_change", (scenario.may_change,)),
        ("build", (scenario.build,)),
        *((name, (part,)) for name, part in drawn.items() if part != type(part)()),
        *(("wood.piece", (one,)) for one in parts.wood.pieces),
        *(("keep_out", (one,)) for one in scenario.keep_outs),
    ]
    blocks = [
        "\n".join(f"# {one_line(remark)}".rstrip() for remark in (*remarks, *_HOW_TO_READ)),
    ]
    for table, several in tables:
        header = f"[[{table}]]" if TABLES[table].array else f"[{table}]"
        block = [_commented(header, TABLES[table].words)] if table else []
        for part in several:
            kind: type = type(part)
            otherwise = _otherwise(part, units)
            for key in declared(kind, table):
                value, words = getattr(part, key.field), key.words
                if key.table != table:
                    continue
                if key.name in otherwise:
                    text, words = otherwise[key.name]
                elif value is None or key.form.write is None:
                    continue
                elif (as_typed := (typed or {}).get(f"{table}.{key.name}")) is not None:
                    text = quoted(as_typed)
                else:
                    text = key.form.write(value, units)
                block += [_commented(f"{key.name} = {text}", words)] if text else []
        blocks.append("\n".join(block))
    return "\n\n".join(blocks) + "\n"


def _commented(text: str, words: str) -> str:
    return f"{text.ljust(_COMMENT_COLUMN - 1)} # {words}" if words else text


def _otherwise(part: object, units: UnitsToWrite) -> dict[str, tuple[str, str]]:
    """What a part's keys say otherwise than its fields, each with its comment."""
    written = dict[str, tuple[str, str]]()
    match part:
        case Driven() | Motor():
            written = dict.fromkeys(PULLEY_KEYS, _NOTHING)
            written["pulley_diameter"] = (
                units.write("length", 2 * part.pulley_radius),
                "PITCH diameter",
            )
            if isinstance(part, Motor) and part.reverses:
                written["rotation"] = quoted(Turning.BOTH), "as seen facing the motor's pulley"
        case Bearing():
            written = _of_bearing(part, units)
        case ShaftLoad():
            written["direction"] = units.direction(math.atan2(*part.direction[::-1])), ""
            if part.on is not None:
                written["position"] = _NOTHING
        case Belt():
            written = _of_belt(part, units)
        case Parts() if not part.packing:
            written["packing"] = _NOTHING
        case Adjuster() if part.bolts:
            written["across"] = _NOTHING
        case KeepOut():
            written["box"] = _NOTHING
    return written


def _of_bearing(bearing: Bearing, units: UnitsToWrite) -> dict[str, tuple[str, str]]:
    """Limits are written as they were given, as pressures or loads."""
    load, pressure = ("force", 1.0), ("pressure", bearing.projected_area)
    kind, area = pressure if bearing.limit_given_as_pressure else load
    words = "load" if kind == "force" else "load / (diameter x length)"
    written = {
        "limit": (units.write(kind, bearing.limit / area), f"{words}, at rest and running"),
        "starting_limit": (units.write(kind, bearing.starting_limit / area), ""),
    }
    return written | ({"cap_dowelled": _NOTHING} if bearing.cap_direction is None else {})


def _of_belt(belt: Belt, units: UnitsToWrite) -> dict[str, tuple[str, str]]:
    """A belt is bought or has a length; numbers of the handbook keep their units, told in ours."""
    bought, length = belt.designation, units.write("length", belt.length)
    written = {"drive": _NOTHING, "designation": _NOTHING}
    if bought and math.isclose(bought.pitch_length, belt.length, rel_tol=_SAME_LENGTH):
        its = f"its pitch length is {length[1:-1]}"
        written |= {"designation": (quoted(bought.text), its), "length": _NOTHING}
    stiffness, mass = units.write("force", belt.stiffness), units.write("mass", belt.mass)
    force = units.about("force", belt.stiffness, stiffness) or "force that"
    written["stiffness"] = stiffness, f"{force} would stretch it to twice its length"
    written["mass"] = mass, units.about("mass", belt.mass, mass)
    return written


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
    tables = all(isinstance(one, Mapping) for pair in pairs for one in pair)
    is_alike = tables and len(there) == len(value)
    return [_merged(*pair) for pair in pairs] if is_alike else value
