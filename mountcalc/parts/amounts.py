"""Lengths as they are asked for in a shop."""

from __future__ import annotations

from mountcalc.pages.amounts import bench_length
from mountcalc.scenario.text.writing import Display


def short(length: float, display: Display) -> str:
    """A length [m] as drawings have it, whole millimetres without a decimal."""
    return bench_length(length, display).replace(".0 mm", " mm")


def two_lengths(one: float, other: float, display: Display) -> str:
    """Two lengths [m] with their unit once."""
    return f"{short(one, display).rpartition(' ')[0]} x {short(other, display)}"
