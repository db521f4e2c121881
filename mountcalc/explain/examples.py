"""An example of a term: computed, when it is asked for, from a scenario that ships."""

from __future__ import annotations

import csv
import io
import re
import tomllib
from collections.abc import Callable, Iterator, Mapping
from dataclasses import replace
from functools import cache
from typing import Any

from mountcalc.belts import choose_belt
from mountcalc.card import bench_card
from mountcalc.check import check
from mountcalc.console.choices import Prefer
from mountcalc.errors import ScenarioError
from mountcalc.example import example_files, lessons
from mountcalc.explain.results import Group, Meaning
from mountcalc.fit import fit_log, given_readings
from mountcalc.handbook.rows import load
from mountcalc.judgement import Judgement
from mountcalc.measure import MeasureQuestion, measure_drive
from mountcalc.pages.amounts import in_figures, percent
from mountcalc.parts import parts_list
from mountcalc.place import find_layouts
from mountcalc.quantities import QUANTITIES
from mountcalc.requirements.readings import readings_of
from mountcalc.scenario.file.tables import keys_of
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.reader import parse_scenario, parse_search
from mountcalc.scenario.text.writing import Display, quoted
from mountcalc.setting import advise
from mountcalc.table import tension_table, words
from mountcalc.tolerance import tolerance
from mountcalc.units import si_factor

_USUAL = "cider-mill"
_TURNS = (2.0,)
_BUILDS, _SAMPLES = 500, 4096
_FAR = (-40.0, -20.0, -5.0, 5.0, 20.0, 60.0)  # turns, for states that no useful setting has
_KEY = re.compile(r".*?_(N|mm|deg|MPa|kW|W|rpm|Hz|um|mrad|m_s|N_m|MPa_m_s|mPa_s)")
_SPELT = {one.unit.replace("/", "_").replace(" ", "_"): one.unit for one in QUANTITIES.values()}
_SPELT["N_m"] = "N m"
_INCHES = {"N": "lbf", "mm": "in", "MPa": "psi", "kW": "hp", "W": "hp"}
_STRING, _OLD_BELT = 62 * 0.0254, "4L460"  # of an unknown drive


def with_example(meaning: Meaning) -> Meaning:
    """The meaning with an example, where there is one."""
    found = None
    if meaning.at is not None:
        found = _of_place(meaning, *meaning.at.split(": "))
    elif meaning.group in _OF_GROUP:
        found = _OF_GROUP[meaning.group](meaning)
    return replace(meaning, example=found) if found else meaning


# The scenarios.


@cache
def _raw(name: str) -> dict[str, Any]:
    return tomllib.loads(next(iter(example_files(name).values())).decode())


@cache
def scenario_of(name: str) -> Scenario:
    """A scenario that ships; one that is told more where its name ends in a number."""
    base, _, number = name.partition(" + ")
    if number:
        return scenario_of(base).with_(**told()[int(number)][1])
    return parse_scenario(_raw(base), f"{base}.toml")


@cache
def told() -> tuple[tuple[str, dict[str, Any]], ...]:
    """Scenarios by name, and what they leave unsaid, put into them to be an example."""
    return tuple((one["on"], _without_empty(one["add"])) for one in load("terms")["told"])


def _without_empty(table: Mapping[str, Any]) -> dict[str, Any]:
    """A table in which an empty text takes a key away."""
    return {
        key: _without_empty(one) if isinstance(one, Mapping) else None if one == "" else one
        for key, one in table.items()
    }


def _shipped() -> list[str]:
    return [_USUAL, *(name for name in lessons() if name != _USUAL)]


def _every() -> list[str]:
    """Scenarios that ship, then those that are told more and can be solved."""
    more = (f"{on} + {number}" for number, (on, add) in enumerate(told()) if "search" not in add)
    return [*_shipped(), *more]


# What commands find.


@cache
def _result(command: str, name: str) -> Any:  # noqa: ANN401  # each command has its own
    return _COMMANDS[command](name).to_dict()


def _log(name: str) -> Any:  # noqa: ANN401  # of fit
    files = {file.rpartition(".")[2]: content for file, content in example_files(name).items()}
    lines = [one for one in files["csv"].decode().splitlines() if not one.startswith("#")]
    rows = csv.DictReader(io.StringIO("\n".join(lines)))
    given = [{key: text for key, text in row.items() if text} for row in rows]
    return fit_log(scenario_of(name), given_readings(given)).fit


def _layouts(name: str) -> Any:  # noqa: ANN401  # of place
    return find_layouts(parse_search(_raw(name), name), Prefer.FINE, samples=_SAMPLES).placement


_COMMANDS: dict[str, Callable[[str], Any]] = {
    "table": lambda name: tension_table(scenario_of(name), _TURNS),
    "setting": lambda name: advise(scenario_of(name)),
    "check": lambda name: check.check(scenario_of(name)),
    "belts": lambda name: choose_belt(scenario_of(name)),
    "card": lambda name: bench_card(scenario_of(name)),
    "parts": lambda name: parts_list(scenario_of(name)),
    "tolerance": lambda name: tolerance.tolerance(scenario_of(name), _BUILDS),
    "fit": _log,
    "place": _layouts,
    "measure": lambda _: measure_drive(MeasureQuestion(string=_STRING, section="A")),
    "measure --center": lambda name: measure_drive(
        MeasureQuestion(
            center=tension_table(scenario_of(name), _TURNS).snug.center_distance,
            section="A",
            motor_pulley=2 * scenario_of(name).motor.pulley_radius,
            driven_pulley=2 * scenario_of(name).driven.pulley_radius,
        )
    ),
    "measure --designation": lambda _: measure_drive(MeasureQuestion(designation=_OLD_BELT)),
    "belts --driven-speed": lambda name: choose_belt(
        scenario_of(name), si_factor("rpm") * _SPEED_WANTED
    ),
}
_SPEED_WANTED = 575.0
# Where a key of JSON is looked for, the quickest first.
_RUNS = (
    *((command, _USUAL) for command in ("table", "setting", "check", "belts", "card", "parts")),
    *(("table", "feed-mill"), ("setting", "job-press"), ("check", f"{_USUAL} + 0")),
    *(("belts --driven-speed", _USUAL), ("measure", _USUAL), ("measure --designation", _USUAL)),
    *(("tolerance", _USUAL), ("check", "seed-cleaner"), ("belts", "seed-cleaner")),
    *(("table", f"{_USUAL} + 0"), ("setting", f"{_USUAL} + 0"), ("place", "fretsaw-bench")),
)


def _of_place(meaning: Meaning, command: str, path: str) -> str | None:
    """What stands there: a key of the scenario, of the JSON of a command, or of any."""
    if command == "scenario":
        return _of_key(path, meaning.on)
    if command == "setting" and path.startswith("methods."):
        return _as_set(path.removeprefix("methods.").removesuffix("_N"))
    runs = ((command, meaning.on or _default(command)),) if command != "json" else _RUNS
    for run, name in runs:
        result = _result(run, name)
        steps = path.split(".")
        found = _anywhere(result, path) if command == "json" else _along(result, steps)
        values = [one for one in found if one is not None]
        if values:
            value = next(filter(None, values), values[0])  # nothing is no example, if there is more
            at = " at 2 turns" if run == "table" and scenario_of(name).adjuster.places else ""
            shown = value_text(steps[-1], value, scenario_of(name).display)
            where = _told_text(name) if not run.startswith("measure") else ""
            return f"{shown} (mountcalc {run}{where}{at})"
    return None


def _default(command: str) -> str:
    return "fretsaw-bench" if command == "place" else _USUAL


def _told_text(name: str) -> str:
    base, _, number = name.partition(" + ")
    return f" {base}.toml{', told more' if number else ''}"


def _along(plain: Any, steps: list[str]) -> Iterator[Any]:  # noqa: ANN401  # of JSON
    """What stands at the end of a path; of a list each in turn."""
    if isinstance(plain, list) and steps:
        for one in plain:
            yield from _along(one, steps)
    elif not steps:
        yield plain
    elif isinstance(plain, Mapping) and steps[0] in plain:
        yield from _along(plain[steps[0]], steps[1:])


def _anywhere(plain: Any, key: str) -> Iterator[Any]:  # noqa: ANN401  # of JSON
    """What a key has, wherever it stands."""
    for name, value in plain.items() if isinstance(plain, Mapping) else enumerate(plain):
        if isinstance(value, Mapping | list):
            yield from _anywhere(value, key)
        elif name == key:
            yield value


def value_text(key: str, value: Any, display: Display) -> str:  # noqa: ANN401  # of JSON
    """A value of JSON as a person reads it: its unit is that of its key."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, list):
        return " and ".join(value_text(key, one, display) for one in value)
    return _number_text(key, value, display) if isinstance(value, int | float) else str(value)


def _number_text(key: str, value: float, display: Display) -> str:
    if "share" in key:
        return f"{percent(value)} %"
    named = _KEY.fullmatch(key)
    if named is None:
        return in_figures(value)
    unit = _SPELT.get(named[1], named[1])
    if unit == "N m" and ("stiffness" in key or "give" in key):  # N_m is a moment's, too
        unit = "N/m"
    if display is Display.INCH and unit in _INCHES:
        inch = _INCHES[unit]
        return f"{in_figures(value * si_factor(unit) / si_factor(inch))} {inch}"
    return f"{in_figures(value)} {unit}"


# Keys of the scenario, and what they may say.


def key_values(raw: Mapping[str, Any], dotted: str) -> Iterator[Any]:
    """What a key has in a file, in each of its tables."""
    for one in _along(raw, dotted.split(".")):
        if not isinstance(one, Mapping):
            yield one


def _of_key(dotted: str, on: str | None = None) -> str | None:
    """A key as a shipped file has it, as one is written with all that it takes, or told more."""
    names = [on] if on else _shipped()
    written = ((name, tomllib.loads(scenario_of(name).to_toml())) for name in names)
    every = (
        *((name, "", _raw(name)) for name in names),
        *((name, " takes that", raw) for name, raw in written),
        *((name, " could say", add) for name, add in told()),
    )
    for name, how, raw in every:
        path = dotted.split(".")
        found = [one for one in _along(raw, path) if one is not None]
        if found and not isinstance(found[0], Mapping):
            return f"{path[-1]} = {_toml(found[0])} ({name}.toml{how})"
    return None


def _toml(value: Any) -> str:  # noqa: ANN401  # of TOML
    if isinstance(value, str):
        return quoted(value)
    if isinstance(value, list):
        return f"[{', '.join(map(_toml, value))}]"
    return str(value).lower() if isinstance(value, bool) else str(value)


def _of_choice(meaning: Meaning) -> str | None:
    """A file whose key says so, or could."""
    path = meaning.of.split(".")
    could = ((name, " could say", add) for name, add in told())
    for name, how, raw in (*((name, "", _raw(name)) for name in _shipped()), *could):
        if meaning.term in _flat(_along(raw, path)):
            return f"{path[-1]} = {quoted(meaning.term)} ({name}.toml{how})"
    return None


def _flat(values: Iterator[Any]) -> Iterator[Any]:
    for one in values:
        yield from one if isinstance(one, list) else [one]


# What is found in the rows of a table, among judgements and among methods.


def _of_rows(meaning: Meaning) -> str | None:
    """The first row, of all scenarios, that has a mark or a state."""
    for turns in (None, _FAR):
        for name in _every():
            for row in tension_table(scenario_of(name), turns).rows:
                cases = [*row.cases.items()]
                states = {case.state.value: case_name for case_name, case in reversed(cases)}
                if meaning.term in words.marks(row) or meaning.term in states:
                    at = "" if row.turns is None else f"at {words.counted_turns(row.turns)}"
                    case = words.case_words(states.get(meaning.term, ""))
                    where = ", ".join(filter(None, (case, at)))
                    return f"{where} (mountcalc table{_told_text(name)})"
    return None


def _of_zero(meaning: Meaning) -> str | None:
    for name in _shipped():
        zero = tension_table(scenario_of(name), _TURNS).zero
        if zero.kind.value == meaning.term and zero.center_distance is not None:
            shafts = value_text("_mm", zero.center_distance * 1e3, scenario_of(name).display)
            return f"shafts {shafts} apart (mountcalc table {name}.toml)"
    return None


def _of_belts(meaning: Meaning) -> str | None:
    """A belt that has a mark of the list of belts."""
    for name in _shipped():
        for one in choose_belt(scenario_of(name)).belts:
            doubts = any(each.verdict == "caution" for each in one.judgements)
            status = ("ok?" if doubts else "ok") if one.ok else "out"
            if meaning.term in (status, "*" * one.is_yours, "~" * (not one.in_series)):
                return f"{one.designation} (mountcalc belts {name}.toml)"
    return None


def _of_mark(meaning: Meaning) -> str | None:
    return (_of_belts if meaning.of.startswith("belts") else _of_rows)(meaning)


def _of_judgement(meaning: Meaning) -> str | None:
    """The first judgement of that name, or with that verdict, and its source."""
    for name in _every():
        for how, judgements in _judged(name).items():
            for one in judgements:
                if meaning.term in (one.name, one.verdict.value):
                    return f"{one.sentence} [{one.source}] (mountcalc {how})"
    return None


@cache
def _judged(name: str) -> dict[str, tuple[Judgement, ...]]:
    """All judgements of a scenario, by the command that has them; of some only at set turns."""
    scenario, of = scenario_of(name), _told_text(name)
    return {
        f"check{of}": check.check(scenario).judgements,
        f"check{of} --turns 2": check.check(scenario, *_TURNS).judgements,
        f"belts{of}": tuple(each for one in choose_belt(scenario).belts for each in one.judgements),
    }


def _of_method(meaning: Meaning) -> str | None:
    for name in _shipped():
        for one in advise(scenario_of(name)).setting.methods:
            if one.name.value == meaning.term:
                shown = readings_of(one, scenario_of(name))
                return f"aim at {shown.aim} {shown.unit} (mountcalc setting {name}.toml)"
    return None


def _as_set(column: str) -> str:
    """The surest method's reading in a column of ``setting``, rounded as its page has it."""
    scenario = scenario_of(_USUAL)
    shown = readings_of(advise(scenario).setting.methods[0], scenario)
    return f"{getattr(shown, column)} {shown.unit} (mountcalc setting {_USUAL}.toml)"


def _of_reading(meaning: Meaning) -> str | None:
    for one in _result("fit", _USUAL)["readings"]:
        if one["method"] == meaning.term:
            key, display = f"_{one['unit']}", scenario_of(_USUAL).display
            read, fitted = (value_text(key, one[name], display) for name in ("read", "fitted"))
            return (
                f"read {read}, fitted {fitted} (mountcalc fit {_USUAL}.toml {_USUAL}-readings.csv)"
            )
    return None


def _of_exit(meaning: Meaning) -> str | None:
    """A command that ends so."""
    if meaning.term == "2":
        try:
            scenario_of(_USUAL).with_(belt={"stiffness": "0 lbf"})
        except ScenarioError as error:
            return error.lines()[0]
    for name in _shipped() if meaning.term in {"0", "1"} else ():
        if check.check(scenario_of(name)).ok == (meaning.term == "0"):
            return f"mountcalc check {name}.toml"
    return None


def _of_table(meaning: Meaning) -> str | None:
    """The first key of a table that a shipped file gives."""
    keys = (f"{meaning.term}.{key.name}" for key in keys_of(meaning.term))
    return next(filter(None, map(_of_key, keys)), None)


_OF_GROUP: dict[Group, Callable[[Meaning], str | None]] = {
    Group.MARK: _of_mark,
    Group.STATE: _of_rows,
    Group.ZERO: _of_zero,
    Group.JUDGEMENT: _of_judgement,
    Group.VERDICT: _of_judgement,
    Group.METHOD: _of_method,
    Group.READING: _of_reading,
    Group.CHOICE: _of_choice,
    Group.EXIT: _of_exit,
    Group.TABLE: _of_table,
}
