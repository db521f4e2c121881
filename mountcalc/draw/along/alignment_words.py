"""Sentences about the pulleys' plane."""

from __future__ import annotations

import math

from mountcalc.drafting.told import Told
from mountcalc.draw.along.alignment import alignment
from mountcalc.draw.build import Build

__all__ = ["tell_alignment"]

_SAME = 1e-6  # [m]


def tell_alignment(told: Told, build: Build, center_distance: float) -> None:
    """Say whether both pulleys are in one plane."""
    middle = build.scenario.parts.along.motor_pulley
    wanted: dict[str, object] = {"motor.pulley_position": middle}
    if told.needs(wanted, "whether both pulleys are in one plane") or middle is None:
        return
    found = alignment(
        middle,
        build.scenario.driven.pulley_position,
        center_distance,
        build.scenario.belt.section,
    )
    told.facts |= {
        "pulley_offset": found.offset,
        "pulley_slant": found.angle,
        "pulley_offset_limit": found.limit,
    }
    if abs(found.offset) < _SAME:
        told.note(
            "The middles of the pulleys are in one plane. That the shafts are parallel is not "
            "shown here."
        )
        return
    offset = (
        f"The middles of the pulleys are {told.write(abs(found.offset))} out of one plane, "
        f"{math.degrees(found.angle):.2f} degrees over the {told.write(center_distance)} "
        "between the shafts"
    )
    limit = f"{told.write(found.limit)} ({found.source})"
    if found.ok:
        told.note(f"{offset}, within {limit}. That the shafts are parallel is not shown here.")
    else:
        told.caution(
            f"{offset}; the most is {limit}. Move the motor or one of the pulleys along its shaft."
        )
