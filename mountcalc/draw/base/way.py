"""Ways in the drawing's plane as they are set out: level, upright, or so far for so far."""

from __future__ import annotations

import math

from mountcalc.draw.build import Build
from mountcalc.pages.bench_lengths import bench_length
from mountcalc.scenario.model import Display, Vector
from mountcalc.units import si_factor

__all__ = ["side_of", "way_of"]

_STRAIGHT = math.sin(math.radians(0.25))
_BESIDE = 0.02  # [m] that a shaft is to stand beside the hinge to tell a side by it
_UNIT = {Display.INCH: si_factor("in"), Display.METRIC: 10 * si_factor("mm")}


def way_of(build: Build, way: Vector) -> str:
    """A direction from the hinge's axis in words that hold in a mirrored copy too."""
    across, up = way
    vertical = "up" if up > 0 else "down"
    if abs(across) < _STRAIGHT:
        return f"straight {vertical}"
    side = side_of(build, across)
    if abs(up) < _STRAIGHT:
        return f"level, {side}"
    unit = _UNIT[build.display]
    least = bench_length(unit, build.display)
    if abs(up) >= abs(across):
        run = bench_length(unit * abs(up / across), build.display)
        return f"{vertical}, {least} {side} for every {run}"
    run = bench_length(unit * abs(across / up), build.display)
    return f"{side}, {least} {vertical} for every {run}"


def side_of(build: Build, across: float) -> str:
    """Which side that is, by the shaft that stands beside the hinge."""
    hinge = build.scenario.plate.hinge[0]
    driven, motor = (
        shaft[0] - hinge for shaft in (build.scenario.driven.shaft, build.scenario.motor.shaft)
    )
    by_driven = abs(driven) >= min(_BESIDE, abs(motor))
    name, offset = ("driven", driven) if by_driven else ("motor's", motor)
    where = "towards" if across * offset >= 0 else "away from"
    return f"{where} the {name} shaft"
