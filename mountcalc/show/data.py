"""Results as JSON and CSV: the keys, units and order of :mod:`mountcalc.quantities`."""

from __future__ import annotations

import csv
import dataclasses
import io
import json
from enum import StrEnum

from mountcalc.quantities import QUANTITIES
from mountcalc.results.methods import Method
from mountcalc.results.setting import Advice
from mountcalc.results.table import Case, Row, TensionTable
from mountcalc.scenario.wording import one_line

__all__ = ["advice_as_json", "as_csv", "as_json", "as_plain", "csv_cell", "json_text"]

_FORMULA = ("=", "+", "-", "@")

# A method's readings, in the unit that it reads in.
_READINGS = ("aim", "new_aim", "not_below", "never_above")


def as_plain(result: object) -> object:
    """A result as dicts, lists, strings and numbers in the units that the keys name."""
    if dataclasses.is_dataclass(result) and not isinstance(result, type):
        plain: dict[str, object] = {}
        for field in dataclasses.fields(result):
            value = getattr(result, field.name)
            quantity = QUANTITIES.get(field.name)
            if isinstance(result, Method) and field.name in _READINGS:
                plain[f"{field.name}_{result.unit}"] = value
            elif quantity is not None and (value is None or isinstance(value, float)):
                plain[quantity.key] = None if value is None else quantity.outside(value)
            else:
                plain[field.name] = as_plain(value)
        return plain
    if isinstance(result, (tuple, list)):
        return [as_plain(item) for item in result]
    if isinstance(result, StrEnum):
        return result.value
    return result


def as_json(result: object) -> str:
    """A result as one JSON object, ``null`` where there is nothing to say.

    Parameters
    ----------
    result : object
        A frozen result, such as a TensionTable.

    Returns
    -------
    str
        JSON text.
    """
    return json_text(as_plain(result))


def json_text(plain: object) -> str:
    """Plain values as JSON that any terminal and any file keeps: all of it in ASCII.

    Parameters
    ----------
    plain : object
        Dicts, lists, strings and numbers.

    Returns
    -------
    str
        JSON text.
    """
    return json.dumps(plain, indent=2, allow_nan=False).replace("\x7f", "\\u007f")


def csv_cell(value: object) -> object:
    """A value as a cell that no table program takes for a formula.

    Parameters
    ----------
    value : object
        Of a cell.

    Returns
    -------
    object
        The value; a text on one line, after an apostrophe where it begins like a formula.
    """
    if not isinstance(value, str):
        return value
    text = one_line(value)
    return f"'{text}" if text.lstrip().startswith(_FORMULA) else text


def advice_as_json(advice: Advice) -> str:
    """A setting's keys with what is said beside it, as one JSON object.

    Parameters
    ----------
    advice : Advice
        The result.

    Returns
    -------
    str
        JSON text.
    """
    beside = as_plain(advice)
    assert isinstance(beside, dict)
    plain = {**beside.pop("setting"), **beside}
    return json_text(plain)


def as_csv(table: TensionTable) -> str:
    """The rows as CSV with one header line; a case's columns start with its name.

    Parameters
    ----------
    table : TensionTable
        The result.

    Returns
    -------
    str
        CSV text (RFC 4180); an empty field where there is nothing to say.
    """
    rows = [_flat_row(row) for row in table.rows]
    stream = io.StringIO(newline="")
    writer = csv.DictWriter(stream, fieldnames=list(rows[0]))
    writer.writeheader()
    writer.writerows({key: csv_cell(value) for key, value in row.items()} for row in rows)
    return stream.getvalue()


def _flat_row(row: Row) -> dict[str, object]:
    plain = as_plain(row)
    assert isinstance(plain, dict)
    flat = {key: value for key, value in plain.items() if key not in row.cases}
    for name, case in row.cases.items():
        flat |= {f"{name}_{key}": value for key, value in _flat_case(case).items()}
    return flat


def _flat_case(case: Case) -> dict[str, object]:
    plain = as_plain(case)
    assert isinstance(plain, dict)
    bearings = plain.pop("bearings")
    for number, bearing in enumerate(bearings, start=1):
        plain |= {f"bearing_{number}_{key}": value for key, value in bearing.items()}
    return plain
