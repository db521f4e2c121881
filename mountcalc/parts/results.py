"""Results of the list of parts: SI units, ``None`` where there is nothing to say and never NaN."""

from __future__ import annotations

import csv
import io
from typing import Any

from mountcalc.pages.as_json import Result, as_plain, csv_cell
from mountcalc.record import Record


class Part(Record):
    """A part, or ``count`` alike, None where nobody knows how many.

    ``size`` is as it is asked for in a shop or marked out, ``length`` [m] the longest of it where
    it has one. ``sentence`` says what goes with it, ``source`` where its numbers come from;
    ``not_told`` are the keys of the file that would say more. A size that is an ``estimate`` is
    taken, not told: as usual, or as it is drawn. What is not ``cut`` is bought.
    """

    name: str
    count: int | None
    size: str | None
    length: float | None
    sentence: str
    source: str
    not_told: tuple[str, ...] = ()
    estimate: bool = False
    cut: bool = False


class PartsList(Record, Result):
    """All parts of a mount, those to buy first.

    ``adjuster_travel`` [m] is that from install to take-up, ``bolt_length`` [m] that of the bolt,
    or of a link from pin to pin at most; None without an adjuster, the length also where the thread
    has no known size.

    Examples
    --------
    >>> found = parts(read_scenario("scenarios/cider-mill.toml"))
    >>> [one.size for one in found.parts if one.name == "bolt"]
    ['3/8-16 x 7 in']
    """

    title: str
    parts: tuple[Part, ...]
    adjuster_travel: float | None
    bolt_length: float | None
    notes: tuple[str, ...] = ()

    @property
    def not_told(self) -> tuple[str, ...]:
        """All keys that would say more, each once."""
        return tuple(dict.fromkeys(key for one in self.parts for key in one.not_told))


def as_csv(found: PartsList) -> str:
    """The parts as CSV with one header line."""
    plain: Any = as_plain(found.parts)
    rows = [{**row, "not_told": " ".join(row["not_told"])} for row in plain]
    stream = io.StringIO(newline="")
    writer = csv.DictWriter(stream, fieldnames=list(rows[0]))
    writer.writeheader()
    writer.writerows({key: csv_cell(value) for key, value in row.items()} for row in rows)
    return stream.getvalue()
