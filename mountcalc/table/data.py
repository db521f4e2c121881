"""The table as CSV: one line a row, the columns of a load case with its name in front."""

from __future__ import annotations

import csv
import io

from mountcalc.pages.data import as_plain, csv_cell
from mountcalc.table.results import Case, Row, TensionTable

__all__ = ["as_csv"]


def as_csv(table: TensionTable) -> str:
    """The rows as CSV with one header line; a case's columns start with its name."""
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
