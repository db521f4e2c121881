"""Cautions that go with every guard and every view, from the data file."""

from __future__ import annotations

import math

from mountcalc.draw.build import Build, turned
from mountcalc.draw.pulley_rims import rim_radii
from mountcalc.handbook.rows import load
from mountcalc.scenario.model import Display
from mountcalc.units import si_factor

__all__ = ["closing", "reminders", "view_caution"]

_LEVEL = math.radians(20.0)  # up to which a line of shafts counts as horizontal (estimate)
_LOW = 42 * si_factor("in")  # 29 CFR 1910.219(e)(1)
_BELTS = ("level belt", "low belt", "inclined belt")


def reminders(build: Build, *topics: str) -> tuple[str, ...]:
    """Reminders with their sources."""
    here = _of_belt(build)
    return tuple(
        f"{_text(row, build.display)} ({row['source']}"
        + (")." if row["sure"] == "published" else f", {row['sure']}).")
        for row in load("guarding")["reminder"]
        if (row["topic"] not in _BELTS or row["topic"] == here)
        and (not topics or ("belt" if row["topic"] in _BELTS else row["topic"]) in topics)
    )


def _text(row: dict[str, str], display: Display) -> str:
    return row["text"] if display is Display.INCH else row.get("metric", row["text"])


def _of_belt(build: Build) -> str:
    """Which reminder is for how the belt lies at snug."""
    driven, floor = build.scenario.driven.shaft, build.scenario.parts.base.floor
    motor = turned(build.scenario.motor.shaft, build.scenario.plate.hinge, build.swing.snug)
    across, up = abs(motor[0] - driven[0]), abs(motor[1] - driven[1])
    if math.atan2(up, across) > _LEVEL:
        return "inclined belt"
    shafts = zip((motor, driven), rim_radii(build), strict=True)
    top = max(at[1] + radius for at, radius in shafts)
    return "low belt" if floor is not None and top - floor <= _LOW else "level belt"


def closing() -> str:
    """Who decides."""
    text: str = load("guarding")["closing"]["text"]
    return text


def view_caution() -> str:
    """What a view is not for."""
    text: str = load("guarding")["view"]["text"]
    return text
