"""Tables of the trade for the force that deflects a belt at mid-span, and what they imply.

Such tables know the section, the small pulley and its speed, but not the power that the drive
carries. They are deliberately at the high end: an old shaft is better set from its own load.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Any

from mountcalc.formulas.belt import DEFLECTION_RATIO
from mountcalc.handbook.rows import INCH, Datum, load

__all__ = [
    "ForceRange",
    "MetricDeflection",
    "TableForce",
    "force_range",
    "implied_tension",
    "metric_deflection",
    "stretch_constant",
    "table_force",
    "tension_under",
]

_MILLIMETRE = 0.001
_POUND_FORCE = 4.4482216152605
_PER_CENTRE_MM = 100.0
# Sizes are compared a rounding wide.
_ROUNDING = 1e-9


@dataclass(frozen=True, slots=True)
class TableForce:
    """Force [N] on one belt at a deflection of 1/64 of the span: ``used`` and ``new``.

    ``name`` is that of the row's belts, ``diameters`` [m] and ``rpm`` are the ends of the row.
    """

    used: float
    new: float
    name: str
    diameters: tuple[float, float]
    rpm: tuple[float, float]
    source: str

    @property
    def row(self) -> str:
        """Which row it is, as it is printed."""
        return f"{self.name}, {_ends(self.diameters, INCH)} in, {_ends(self.rpm)} rpm"


@dataclass(frozen=True, slots=True)
class ForceRange:
    """Force [N] on one belt at a deflection of 1/64 of the span.

    ``initial`` of a belt just put on, then from ``least`` to ``greatest``.
    """

    initial: float
    least: float
    greatest: float
    row: str
    source: str


@dataclass(frozen=True, slots=True)
class MetricDeflection:
    """Deflection over centre distance [-] that a ``force`` [N] on one belt is to cause.

    One for belts of every age. ``name`` is that of the row's belts, ``diameters`` [m] are its ends.
    """

    force: float
    deflection_ratio: float
    name: str
    diameters: tuple[float, float]
    source: str

    @property
    def row(self) -> str:
        """Which row it is, as it is printed."""
        deflection = self.deflection_ratio * _PER_CENTRE_MM
        return (
            f"{self.name}, {_ends(self.diameters, _MILLIMETRE)} mm, {self.force:g} N at "
            f"{deflection:g} mm for each {_PER_CENTRE_MM:g} mm of centre distance"
        )


def table_force(
    section: str, small_diameter: float, rpm: float, *, cogged: bool = False
) -> TableForce | None:
    """Look up the force of the common table.

    None outside the table.

    Parameters
    ----------
    section : str
        Such as ``"A"``, ``"AX"`` or ``"SPB"``; capitals or not.
    small_diameter : float [m]
        Diameter of the smaller pulley. One between two rows takes the smaller's, which loads the
        shafts less.
    rpm : float [rev/min]
        Speed of the smaller pulley.
    cogged : bool
        A cogged belt; sections named so need not say it.
    """
    name = section.strip().upper()
    table = load("deflection_tables")["pound"]
    rows = [row for row in table["rows"] if name in row["plain_sections"] + row["cogged_sections"]]
    rows = [row for row in rows if row["rpm"][0] <= _speed_of_row(rpm) <= row["rpm"][1]]
    row = _by_diameter(rows, "diameter_in", small_diameter / INCH)
    if row is None:
        return None
    column = "cogged" if cogged or name in row["cogged_sections"] else "plain"
    if not row[column]:
        return None
    new, used = row[column]
    note = row.get(f"{column}_note")
    return TableForce(
        used=used * _POUND_FORCE,
        new=new * _POUND_FORCE,
        name=f"section {name}, {column}",
        diameters=_scaled(row["diameter_in"], INCH),
        rpm=_scaled(row["rpm"], 1.0),
        source=f"{table['source']}; {note}" if note else table["source"],
    )


def _speed_of_row(rpm: float) -> float:
    """Whole turns a minute, as the rows have them."""
    return float(round(rpm)) if math.isfinite(rpm) else rpm


def _by_diameter(rows: list[dict[str, Any]], key: str, size: float) -> dict[str, Any] | None:
    """The last row that has begun at a size; None before the first and after the end of the last.

    Where one row ends and the next begins at the same size, that size is the end of the first.
    """
    begun = [row for row in rows if row[key][0] <= size * (1.0 + _ROUNDING)]
    within = [row for row in begun if size <= row[key][1] * (1.0 + _ROUNDING)]
    if within:
        return within[0]
    return begun[-1] if 0 < len(begun) < len(rows) else None


def _scaled(ends: list[float], size: float) -> tuple[float, float]:
    low, high = ends
    return low * size, high * size


def _ends(ends: tuple[float, float], size: float = 1.0) -> str:
    """The ends of a row in a unit of that size."""
    low, high = (f"{end / size:.4g}" for end in ends)
    return f"{low} and up" if math.isinf(ends[1]) else f"{low} to {high}"


def force_range(section: str, small_diameter: float) -> ForceRange | None:
    """Look up the force of the second, gentler table.

    None outside the table.

    Parameters
    ----------
    section : str
        ``"A"`` or ``"B"``; capitals or not.
    small_diameter : float [m]
        Diameter of the smaller pulley. One between two rows takes the smaller's.
    """
    name = section.strip().upper()
    table = load("deflection_tables")["compressor"]
    rows = [row for row in table["rows"] if row["section"] == name]
    row = _by_diameter(rows, "diameter_in", small_diameter / INCH)
    if row is None:
        return None
    return ForceRange(
        initial=row["initial"] * _POUND_FORCE,
        least=row["least"] * _POUND_FORCE,
        greatest=row["greatest"] * _POUND_FORCE,
        row=f"section {name}, {_ends(_scaled(row['diameter_in'], 1.0))} in",
        source=table["source"],
    )


def metric_deflection(section: str, small_diameter: float) -> MetricDeflection | None:
    """Look up the deflection of a narrow belt under its table's force.

    None outside the table.

    Parameters
    ----------
    section : str
        ``"SPZ"``, ``"SPA"``, ``"SPB"`` or ``"SPC"``; capitals or not.
    small_diameter : float [m]
        Diameter of the smaller pulley. One between two rows takes the smaller's, which loads the
        shafts less.
    """
    name = section.strip().upper()
    table = load("deflection_tables")["metric"]
    rows = [row for row in table["rows"] if row["section"] == name]
    row = _by_diameter(rows, "diameter_mm", small_diameter / _MILLIMETRE)
    if row is None:
        return None
    return MetricDeflection(
        force=row["force_N"],
        deflection_ratio=row["deflection_mm"] / _PER_CENTRE_MM,
        name=f"section {name}",
        diameters=_scaled(row["diameter_mm"], _MILLIMETRE),
        source=table["source"],
    )


def stretch_constant(section: str) -> Datum | None:
    """Y of a section [N]: what the stretch in the deflection test adds to the tension.

    None for a section without one.

    Parameters
    ----------
    section : str
        Such as ``"A"`` or ``"3V"``; capitals or not.
    """
    table = load("deflection_tables")["stretch"]
    pounds = table.get(section.strip().upper())
    if not isinstance(pounds, float):
        return None
    return Datum(pounds * _POUND_FORCE, table["source"], table["sure"])


def implied_tension(force: float, constant: float, span_over_length: float = 1.0) -> float:
    """Rest tension that a deflection force at 1/64 of the span stands for [N]: T = 16 P - Y t/L.

    Never below zero. The trade's P = (T + Y)/16 turned round (common practice). A table that prints
    both P and T implies a Y of some 3 lbf for 3V, 5 for 5V and 12 for 8V, less than the constants
    from memory, so that the tension comes out up to 2 % below the printed one.

    Parameters
    ----------
    force : float [N]
        Force P at mid-span of one belt.
    constant : float [N]
        Y of `stretch_constant`.
    span_over_length : float [-]
        Span over length of the belt, t/L, where the belt can creep round the pulleys and spread
        the stretch; 1 where it cannot.
    """
    tension = force / (4.0 * DEFLECTION_RATIO) - constant * span_over_length
    return max(0.0, tension)


def tension_under(force: float, ratio: float, stretch_stiffness: float) -> float:
    """Rest tension [N] that a force at any small deflection stands for: T = P t/4q - 2 EA (q/t)^2.

    Never below zero. Of a belt that does not creep: :func:`mid_span_force` of
    :mod:`mountcalc.formulas.belt_feel` turned round (common practice at q/t = 1/64).

    Parameters
    ----------
    force : float [N]
        Force P at mid-span of one belt.
    ratio : float [-]
        Deflection over span, q/t, above zero and small against 1.
    stretch_stiffness : float [N]
        EA of one belt, force per unit strain.
    """
    return max(0.0, force / (4.0 * ratio) - 2.0 * stretch_stiffness * ratio**2)
