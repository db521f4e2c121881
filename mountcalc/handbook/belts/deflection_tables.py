"""Tables of the trade for the force that deflects a belt at mid-span, and what they imply.

Such tables know the section, the small pulley and its speed, but not the power that the drive
carries. They are deliberately at the high end: an old shaft is better set from its own load.

Symbols
-------
section : such as "A", "AX" or "SPB"; capitals or not
small_diameter : of the smaller pulley; one between two rows takes the smaller's, which loads the
    shafts less [m]
rpm : speed of the smaller pulley [rev/min]
force : force P at mid-span of one belt [N]
constant : Y of `stretch_constant` [N]
span_over_length : span over length of the belt, t/L, where the belt can creep round the pulleys and
    spread the stretch; 1 where it cannot [-]
ratio : deflection over span, q/t, above zero and small against 1 [-]
stretch_stiffness : EA of one belt, force per unit strain [N]
"""

from __future__ import annotations

import math
from typing import Any, NamedTuple

from mountcalc.formulas.belt import DEFLECTION_RATIO
from mountcalc.handbook.rows import INCH, Datum, load
from mountcalc.thresholds import ROUNDING

_FILE = "deflection_tables"
_MILLIMETRE = 0.001
_POUND_FORCE = 4.4482216152605


class TableForce(NamedTuple):
    """Force [N] on one belt at a deflection of 1/64 of the span: ``used`` and ``new``.

    ``name`` is that of the row's belts, ``diameters`` [m] and ``rpm`` are the ends of the row.
    """

    used: float
    new: float
    name: str
    diameters: tuple[float, float]
    rpm: tuple[float, float]
    source: str


class ForceRange(NamedTuple):
    """Force [N] on one belt at a deflection of 1/64 of the span.

    ``initial`` of a belt just put on, then from ``least`` to ``greatest``.
    """

    initial: float
    least: float
    greatest: float
    source: str


class MetricDeflection(NamedTuple):
    """Deflection over centre distance [-] that a ``force`` [N] on one belt is to cause.

    One for belts of every age. ``name`` is that of the row's belts, ``diameters`` [m] are its ends.
    """

    force: float
    deflection_ratio: float
    name: str
    diameters: tuple[float, float]
    source: str


def table_force(section: str, small_diameter: float, rpm: float) -> TableForce | None:
    """Look up the force of the common table; None outside it."""
    name, table = section.strip().upper(), load(_FILE)["pound"]
    turns = float(round(rpm)) if math.isfinite(rpm) else rpm  # whole ones, as the rows have them
    rows = [row for row in table["rows"] if name in row["plain_sections"] + row["cogged_sections"]]
    rows = [row for row in rows if row["rpm"][0] <= turns <= row["rpm"][1]]
    row = _by_diameter(rows, "diameter_in", small_diameter / INCH)
    if row is None:
        return None
    column = "cogged" if name in row["cogged_sections"] else "plain"
    if not row[column]:
        return None
    new, used = (pounds * _POUND_FORCE for pounds in row[column])
    low, high = row["diameter_in"]
    slow, fast = row["rpm"]
    note = row.get(f"{column}_note")
    source = f"{table['source']}; {note}" if note else table["source"]
    diameters = low * INCH, high * INCH
    return TableForce(used, new, f"section {name}, {column}", diameters, (slow, fast), source)


def _by_diameter(rows: list[dict[str, Any]], key: str, size: float) -> dict[str, Any] | None:
    """The last row that has begun at a size; None before the first and after the end of the last.

    Where one row ends and the next begins at the same size, that size is the end of the first.
    """
    begun = [row for row in rows if row[key][0] <= size * (1.0 + ROUNDING)]
    within = [row for row in begun if size <= row[key][1] * (1.0 + ROUNDING)]
    if within:
        return within[0]
    return begun[-1] if 0 < len(begun) < len(rows) else None


def force_range(section: str, small_diameter: float) -> ForceRange | None:
    """Look up the force of the second, gentler table, of sections A and B; None outside it."""
    name, table = section.strip().upper(), load(_FILE)["compressor"]
    rows = [row for row in table["rows"] if row["section"] == name]
    row = _by_diameter(rows, "diameter_in", small_diameter / INCH)
    if row is None:
        return None
    initial, least, greatest = (
        row[column] * _POUND_FORCE for column in ("initial", "least", "greatest")
    )
    return ForceRange(initial, least, greatest, table["source"])


def metric_deflection(section: str, small_diameter: float) -> MetricDeflection | None:
    """Look up the deflection of a narrow belt, SPZ to SPC, under its table's force; else None."""
    name, table = section.strip().upper(), load(_FILE)["metric"]
    rows = [row for row in table["rows"] if row["section"] == name]
    row = _by_diameter(rows, "diameter_mm", small_diameter / _MILLIMETRE)
    if row is None:
        return None
    low, high = row["diameter_mm"]
    diameters, ratio = (low * _MILLIMETRE, high * _MILLIMETRE), row["deflection_mm"] / 100.0
    name = f"section {name}"
    return MetricDeflection(row["force_N"], ratio, name, diameters, table["source"])


def stretch_constant(section: str) -> Datum | None:
    """Y of a section [N]: what the stretch in the deflection test adds to the tension, or None."""
    table = load(_FILE)["stretch"]
    pounds = table.get(section.strip().upper())
    if not isinstance(pounds, float):
        return None
    return Datum(pounds * _POUND_FORCE, table["source"], table["sure"])


def implied_tension(force: float, constant: float, span_over_length: float = 1.0) -> float:
    """Rest tension that a deflection force at 1/64 of the span stands for [N]: T = 16 P - Y t/L.

    Never below zero. The trade's P = (T + Y)/16 turned round (common practice). A table that prints
    both P and T implies a Y of some 3 lbf for 3V, 5 for 5V and 12 for 8V, less than the constants
    from memory, so that the tension comes out up to 2 % below the printed one.
    """
    tension = force / (4.0 * DEFLECTION_RATIO) - constant * span_over_length
    return max(0.0, tension)


def tension_under(force: float, ratio: float, stretch_stiffness: float) -> float:
    """Rest tension [N] that a force at any small deflection stands for: T = P t/4q - 2 EA (q/t)^2.

    Never below zero. Of a belt that does not creep: :func:`mid_span_force` of
    :mod:`mountcalc.formulas.belt` turned round (common practice at q/t = 1/64).
    """
    return max(0.0, force / (4.0 * ratio) - 2.0 * stretch_stiffness * ratio**2)
