"""Outside radii of the pulleys, from their pitch radii."""

from __future__ import annotations

import math

from mountcalc.draw.build import Build, once
from mountcalc.handbook.belts.grooves import outside_less_pitch
from mountcalc.handbook.belts.sections import section
from mountcalc.scenario.model import Belt, PulleyFace

__all__ = ["assumed_width", "rim_radii"]

# Width of a pulley whose width is not given: so many widths of its belts (estimate).
_WIDTHS = 1.6
_BELT_WIDTH = 0.013  # [m] of a belt of which nothing is known (estimate)


@once
def rim_radii(build: Build) -> tuple[float, float]:
    """Outside radii of the motor's and the driven pulley."""
    motor, driven, belt = build.scenario.motor, build.scenario.driven, build.scenario.belt
    return (
        _rim(motor.pulley_radius, motor.pulley_face, belt),
        _rim(driven.pulley_radius, driven.pulley_face, belt),
    )


def assumed_width(belt: Belt) -> float:
    """Width [m] with which a pulley is drawn where the scenario gives none (estimate)."""
    known = None if belt.section is None else section(belt.section)
    width = known.width if known is not None else belt.width or _BELT_WIDTH
    return _WIDTHS * width * belt.count


def _rim(pitch_radius: float, face: PulleyFace, belt: Belt) -> float:
    known = None if belt.section is None else section(belt.section)
    if known is None:
        return max(0.5 * pitch_radius, pitch_radius - 0.5 * (belt.thickness or 0.0))
    if face is PulleyFace.FLAT:
        return max(0.5 * pitch_radius, pitch_radius - known.inside_to_pitch.value / math.tau)
    over = outside_less_pitch(known.name)
    return pitch_radius + (0.0 if over is None else 0.5 * over.value)
