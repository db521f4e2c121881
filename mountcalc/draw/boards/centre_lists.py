"""Centres of holes as a list of distances from the datum edges, for marking out without a print."""

from __future__ import annotations

from collections.abc import Iterable

from mountcalc.drafting.items import Point
from mountcalc.draw.boards.hinge_leaves import Leaf
from mountcalc.pages.bench_lengths import bench_length
from mountcalc.scenario.model import Display

__all__ = ["fixing_note", "in_units", "numbers", "screw_note"]

_UNITS = {Display.INCH: ("in", "inches"), Display.METRIC: ("mm", "mm")}


def screw_note(leaves: Iterable[Leaf], side: str, display: Display) -> str:
    """Where the hinges' screws go."""
    rows: dict[str, list[float]] = {}
    for leaf in leaves:
        for across, up in leaf.screws:
            rows.setdefault(bench_length(up, display), []).append(across)
    listed = "; ".join(
        f"{numbers(rows[row], display)} ({row} from the hinged edge)"
        for row in sorted(rows, key=lambda row: len(rows[row]), reverse=True)
    )
    return f"Screw centres, in {_UNITS[display][1]} from the {side} datum edge: {listed}."


def fixing_note(centres: Iterable[Point], side: str, display: Display) -> str:
    """Where the guard's fixing holes go."""
    listed = "; ".join(numbers(centre, display) for centre in centres)
    return (
        f"Fixing holes, in {_UNITS[display][1]} from the {side} and from the lower datum edge: "
        f"{listed}."
    )


def in_units(display: Display) -> str:
    """The unit of a list of numbers."""
    return f"in {_UNITS[display][1]}"


def numbers(lengths: Iterable[float], display: Display) -> str:
    """Lengths without their unit, with commas."""
    unit = f" {_UNITS[display][0]}"
    return ", ".join(bench_length(one, display).removesuffix(unit) for one in lengths)
