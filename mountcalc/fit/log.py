"""The log of readings that is kept beside a machine: CSV or TOML, read and checked as one."""

from __future__ import annotations

import csv
import datetime as dt
import io
import math
import os
import re
import reprlib
from collections.abc import Callable, Iterator, Mapping, Sequence
from typing import Any, NamedTuple

from mountcalc.errors import InputError, Problem, ScenarioError
from mountcalc.fit.readings import Reading, ReadingMethod
from mountcalc.scenario.file.toml_text import LineIndex
from mountcalc.scenario.reader import first_problems, read_text, read_toml
from mountcalc.scenario.text import quantities as q
from mountcalc.scenario.text.named import read_word
from mountcalc.scenario.text.wording import listed, near_spelling, one_line, shown, shown_key
from mountcalc.units import Dimension

COLUMNS = ("date", "turns", "method", "value", "at", "note", "hours")
"""Of the log, in their usual order; the last is seldom there."""

_USUAL = ",".join(COLUMNS[:-1])
_NEEDED = ("turns", "method", "value")
_TABLE = "reading"
_MOST_READINGS = 1000
_LONGEST_NOTE = 500
_MOST_TURNS = 1000.0
_MOST_HOURS = 1e6
_SLACK = "slack"
_WANTED_TURNS = 'turns wanted (such as 1 1/2, 0.75 or "slack")'
_WANTED_HOURS = "running hours since the log began wanted (such as 3.5)"
_WANTED_DATE = "date wanted as year-month-day (such as 2026-05-01), or nothing"
_NOTHING = "nothing wanted"

_FORCE = q.LOAD_LIMIT._replace(name="force", examples=("1 1/2 lbf", "6 N"))
_PULL = _FORCE._replace(low=-1e6, low_words="above -1000 kN", examples=("12.5 lbf", "55 N"))
_WEIGHT = _FORCE._replace(name="weight", examples=("2 lb", "1 kg"))
_SMALL = q.DISTANCE._replace(examples=("3/8 in", "9 mm"))
_MOVED = q.POSITION._replace(examples=("1/8 in", "3 mm"))
_POWER = q.POWER._replace(examples=("0.9 hp", "650 W"))
_SWINGS = q.ValueKind("swings", ("24 Hz",), {Dimension(time=-1): 1.0}, 1e-3, 1e5)
# What each method reads, and what stands under "at" for it.
_KINDS: Mapping[ReadingMethod, tuple[q.ValueKind, q.ValueKind | None]] = {
    ReadingMethod.BALANCE: (_PULL, q.DISTANCE),
    ReadingMethod.PUSH: (_FORCE, _SMALL),
    ReadingMethod.SWINGS: (_SWINGS, None),
    ReadingMethod.HUNG: (_SMALL, _WEIGHT),
    ReadingMethod.CENTRES: (q.DISTANCE, None),
    ReadingMethod.TIP: (_MOVED, None),
    ReadingMethod.SLIP: (_POWER, None),
    ReadingMethod.SPRING: (q.DISTANCE, q.DISTANCE),
}


class _Row(NamedTuple):
    """What a log has in one row, by column; ``key`` is what messages put before a column.

    Without a line it has a ``number``.
    """

    line: int | None
    cells: Mapping[str, Any]
    key: str = ""
    number: int = 0


def read_log(path: str | os.PathLike[str]) -> tuple[Reading, ...]:
    """Read and check a log: TOML where its name ends so, else CSV; a ScenarioError tells all."""
    text, source = read_text(path, what="log")
    problems: list[Problem] = []
    if source.lower().endswith(".toml"):
        rows = [*_toml_rows(text, source, problems)]
    else:
        rows = [*_csv_rows(text, problems)]
    return _readings(rows, source, problems)


def given_readings(given: Sequence[Reading | Mapping[str, Any]]) -> tuple[Reading, ...]:
    """Check readings that a program gives: as they are, or as rows in which numbers are in SI."""
    problems: list[Problem] = []
    rows: list[_Row] = []
    for number, one in enumerate(given, 1):
        if isinstance(one, Mapping):
            cells = {
                str(name): q.Si(value) if name in {"value", "at"} and _is_number(value) else value
                for name, value in one.items()
            }
            if "turns" in cells and cells["turns"] is None:
                cells["turns"] = _SLACK
            key = f"reading[{number}]."
            rows.append(_Row(None, _known(cells, None, problems), key, number))
        elif not isinstance(one, Reading):
            text = f"readings[{number}]: a Reading or a dict is wanted, got {reprlib.repr(one)}"
            raise InputError(text)
    checked = iter(_readings(rows, "readings", problems) if rows else ())
    return tuple(one if isinstance(one, Reading) else next(checked) for one in given)


def _is_number(value: object) -> bool:
    return isinstance(value, int | float) and not isinstance(value, bool)


def _csv_rows(text: str, problems: list[Problem]) -> Iterator[_Row]:
    """The rows of a CSV file; lines that begin with # are remarks."""
    lines = ["\n" if one.lstrip().startswith("#") else one for one in io.StringIO(text, newline="")]
    head = next((one for one in lines if one.strip()), "")
    # Where the comma is the decimal sign, table programs write semicolons.
    reader = csv.reader(lines, strict=True, delimiter=max(",;\t", key=head.count))
    columns: list[str] | None = None
    line = 1
    try:
        for row in reader:
            first, line = line, reader.line_num + 1
            cells = [cell.strip() for cell in row]
            if not any(cells):
                continue
            if columns is None:
                columns = _columns(cells, first, problems)
                continue
            if any(cells[len(columns) :]):
                text = (
                    f"{len(cells)} columns, and the first line names {len(columns)}: a text with a "
                    "comma in it stands between quotes"
                )
                problems.append(Problem("", text, first))
            cells += [""] * len(columns)
            yield _Row(first, dict(zip(columns, cells, strict=False)))
    except csv.Error as error:
        what = "a text of more than 100,000 letters"
        if "limit" not in str(error):
            what = 'a quotation mark that is not closed; inches are written "in"'
        problems.append(Problem("", what, line))
    if columns is None and not problems:
        problems.append(Problem("", f"empty: a first line {_USUAL} and readings below it wanted"))


def _columns(cells: list[str], line: int, problems: list[Problem]) -> list[str]:
    """The columns that the first line names; a misspelt one counts as the one that is meant."""
    while not cells[-1]:
        cells.pop()
    names = [cell.casefold() for cell in cells]
    if not any(near_spelling(name, COLUMNS) for name in names):
        text = f"the first line names the columns, {_USUAL} wanted, got {shown(', '.join(cells))}"
        problems.append(Problem("", text, line))
        return [*_USUAL.split(",")]
    found: list[str] = []
    for name in names:
        near = name
        if name not in COLUMNS:
            near = _unknown(name, "column", line, problems, [*names, *found]) or name
        elif name in found:
            problems.append(Problem(name, "a column of this name stands there twice", line))
        found.append(near)
    missing = [name for name in _NEEDED if name not in found]
    if missing:
        problems.append(
            Problem("", f"no column {listed(map(shown, missing), 'and')}: {_USUAL} wanted", line)
        )
    return found


def _unknown(
    name: str,
    what: str,
    line: int | None,
    problems: list[Problem],
    taken: Sequence[str],
    key: str = "",
) -> str | None:
    """Say that a column or key is unknown; return the one that is meant, if it is not there."""
    near = near_spelling(name, [one for one in COLUMNS if one not in taken])
    hint = f"did you mean '{near}'?" if near else f"known are {listed(COLUMNS, 'and')}"
    problems.append(Problem(key, f"unknown {what} {shown_key(name)}; {hint}", line))
    return near


def _toml_rows(text: str, source: str, problems: list[Problem]) -> Iterator[_Row]:
    raw, index = read_toml(text, source), LineIndex(text)
    for name in raw:
        if name != _TABLE:
            near = near_spelling(name, [_TABLE])
            hint = f"did you mean [[{_TABLE}]]?" if near else f"[[{_TABLE}]] over each reading"
            problems.append(
                Problem("", f"unknown key {shown_key(name)}; {hint}", index.line_of((name,)))
            )
    tables = raw.get(_TABLE, [])
    if not isinstance(tables, list) or not all(isinstance(one, dict) for one in tables):
        text = f"write [[{_TABLE}]] over each reading, got {shown(tables)}"
        problems.append(Problem(_TABLE, text, index.line_of((_TABLE,))))
        return
    if not tables and not problems:
        problems.append(Problem("", f"empty: [[{_TABLE}]] over each reading wanted"))
    for number, table in enumerate(tables):
        line = index.line_of((_TABLE, number)) or 1
        yield _Row(line, _known(table, line, problems), f"{_TABLE}[{number + 1}].")


def _known(table: Mapping[str, Any], line: int | None, problems: list[Problem]) -> dict[str, Any]:
    """A table with the keys that are meant; all that a reading needs counts as there."""
    cells = {**dict.fromkeys(_NEEDED, "")}
    for name, value in table.items():
        near = name if name in COLUMNS else _unknown(name, "key", line, problems, [*table])
        if near:
            cells[near] = value
    return cells


def _readings(rows: Sequence[_Row], source: str, problems: list[Problem]) -> tuple[Reading, ...]:
    """The readings of rows, if nothing is wrong with any."""
    if len(rows) > _MOST_READINGS:
        text = f"{len(rows):,} readings: at most {_MOST_READINGS:,} are taken"
        raise ScenarioError(source, [Problem("", text)])
    readings = [_reading(row, problems) for row in rows]
    if not rows and not problems:
        problems.append(Problem("", "no readings below the first line"))
    if problems:
        raise ScenarioError(source, first_problems(problems))
    return tuple(one for one in readings if one is not None)


def _reading(row: _Row, problems: list[Problem]) -> Reading | None:
    """One row read; what is wrong with it is added to the problems."""
    before = len(problems)

    def taken(name: str, read: Callable[[Any], Any]) -> Any:  # noqa: ANN401  # of any column
        if name in row.cells:
            try:
                return read(row.cells[name])
            except q.ValueTextError as error:
                problems.append(Problem(f"{row.key}{name}", one_line(str(error)), row.line))
        return None

    date, turns, method = (
        taken(name, read)
        for name, read in (("date", _read_date), ("turns", _read_turns), ("method", _read_method))
    )
    value, at = None, None
    if method is not None:
        kind, at_kind = _KINDS[method]
        value = taken("value", lambda cell: _read_value(cell, kind))
        at = taken("at", lambda cell: _read_at(cell, method, at_kind))
        if method.needs_at and "at" not in row.cells and at_kind is not None:
            text = f"missing: {at_kind.wanted} beside {method.value}"
            problems.append(Problem(f"{row.key}at", text, row.line))
        if turns == math.inf and method is not ReadingMethod.BALANCE:
            text = f"a slack belt has no {method.value} to read: the turns wanted, or a balance"
            problems.append(Problem(f"{row.key}turns", text, row.line))
    hours, note = taken("hours", _read_hours), taken("note", _read_note) or ""
    if len(problems) > before or method is None or value is None or turns is None:
        return None
    turns = None if turns == math.inf else turns
    return Reading(row.line or row.number, turns, method, value, at, date, hours, note)


def _read_turns(cell: object) -> float:
    """Turns from the person's zero; infinite for a slack belt."""
    if _is_number(cell):
        turns = float(cell)  # type: ignore[arg-type]
    elif not isinstance(cell, str) or not cell.strip():
        q.refuse(_WANTED_TURNS, cell)
    elif cell.strip().casefold() == _SLACK:
        return math.inf
    else:
        try:
            turns = q.read_number_text(re.sub(r"(?i)\s*turns?$", "", cell.strip()))
        except q.ValueTextError:
            near = near_spelling(cell, [_SLACK])
            q.refuse(_WANTED_TURNS, cell, f'; did you mean "{near}"?' if near else "")
    if not abs(turns) <= _MOST_TURNS:
        q.refuse(f"turns from -{_MOST_TURNS:g} to {_MOST_TURNS:g} wanted", cell)
    return turns


def _read_method(cell: object) -> ReadingMethod:
    if isinstance(cell, str):
        word = cell.strip().casefold()
        cell = "centres" if word in {"centers", "centre", "center"} else word
    return ReadingMethod(read_word(cell, [one.value for one in ReadingMethod]))


def _read_value(cell: object, kind: q.ValueKind) -> float:
    if cell == "":
        q.fail(f"missing: {kind.wanted}")
    return q.read_quantity(cell, kind)


def _read_at(cell: object, method: ReadingMethod, kind: q.ValueKind | None) -> float | None:
    if cell is None or cell == "":
        if method.needs_at and kind is not None:
            q.fail(f"missing: {kind.wanted} beside {method.value}")
        return None
    if kind is None:
        q.refuse(f"{_NOTHING} here beside {method.value}", cell)
    return q.read_quantity(cell, kind)


def _read_date(cell: object) -> dt.date | None:
    """A day; the time of it is dropped."""
    if cell is None or cell == "":
        return None
    if isinstance(cell, dt.datetime):
        return cell.date()
    if isinstance(cell, dt.date):
        return cell
    if not isinstance(cell, str):
        q.refuse(_WANTED_DATE, cell)
    try:
        return dt.datetime.fromisoformat(cell.strip()).date()
    except ValueError:
        q.refuse(_WANTED_DATE, cell)


def _read_hours(cell: object) -> float | None:
    if cell is None or cell == "":
        return None
    try:
        hours = float(cell) if _is_number(cell) else q.read_number_text(str(cell))  # type: ignore[arg-type]
    except (q.ValueTextError, OverflowError):
        q.refuse(_WANTED_HOURS, cell)
    if not 0 <= hours <= _MOST_HOURS:
        q.refuse(_WANTED_HOURS, cell)
    return hours


def _read_note(cell: object) -> str:
    if not isinstance(cell, str):
        q.refuse("text wanted, between quotes", cell)
    return one_line(cell.strip(), _LONGEST_NOTE)
