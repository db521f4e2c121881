"""The part of the travel that a mount can use, found by looking at it step by step."""

from __future__ import annotations

from dataclasses import dataclass
from itertools import pairwise

import numpy as np
from scipy.optimize import brentq
from slow_geometry import SlowMount

from mountcalc.scenario.model import AdjusterKind

__all__ = ["Refusal", "SlowTravel", "find_travel"]

_STEPS = 4001
# A jack whose axis lies this flat on its face (cosine) is refused.
_FLAT = 0.05


class Refusal(Exception):  # noqa: N818 (an answer, not a fault)
    """The mount cannot do what was asked; the text is one of a few words."""


@dataclass(frozen=True)
class SlowTravel:
    """Usable plate angles; ``dead`` holds those of its ends that are no stop."""

    low: float
    high: float
    snug: float
    tightens: int
    extends: int
    dead: tuple[float, ...]

    @property
    def tight_end(self) -> float:
        """Where the belt is tightest."""
        return self.high if self.tightens > 0 else self.low


def find_travel(mount: SlowMount) -> SlowTravel:
    """The stretch without a dead centre in which the belt becomes snug, nearest to the drawing."""
    has_adjuster = mount.scenario.adjuster.kind is not AdjusterKind.NONE
    low, high = mount.scenario.plate.travel
    cuts: dict[float, bool] = {low: False, high: False}
    for check, is_dead in _checks(mount):
        cuts |= dict.fromkeys(_changes(check, low, high), is_dead)
    ends = sorted(cuts)
    found = []
    for start, end in pairwise(ends):
        snug = _snug(mount, start, end)
        if snug is not None:
            found.append((max(start, -end, 0.0), abs(snug), start, end, snug))
    if not found:
        raise Refusal("never snug")
    *_, start, end, snug = min(found)
    middle = (start + end) / 2
    return SlowTravel(
        start,
        end,
        snug,
        int(np.sign(mount.center_distance_slope(middle))),
        int(np.sign(mount.lever(middle).slope)) if has_adjuster else 0,
        tuple(cut for cut in (start, end) if cuts[cut]),
    )


def _checks(mount: SlowMount):
    """What must keep its sign, and whether the mount is dead (not just stopped) beyond."""
    motor, driven = mount.scenario.motor, mount.scenario.driven
    yield lambda at: mount.center_distance(at) - motor.pulley_radius - driven.pulley_radius, False
    yield mount.center_distance_slope, True
    kind = mount.scenario.adjuster.kind
    if kind is not AdjusterKind.NONE:
        yield lambda at: mount.lever(at).slope, True
        if kind is not AdjusterKind.LINK:
            yield lambda at: mount.lever(at).bite - _FLAT, True


def _changes(check, low: float, high: float) -> list[float]:
    steps = np.linspace(low, high, _STEPS)
    positive = check(steps) > 0
    return [
        float(brentq(check, steps[i], steps[i + 1], xtol=1e-15, rtol=1e-14))
        for i in np.flatnonzero(positive[1:] != positive[:-1])
    ]


def _snug(mount: SlowMount, start: float, end: float) -> float | None:
    middle = np.asarray((start + end) / 2)
    checks = list(_checks(mount))
    walls = [checks[0], *checks[3:]]
    if any(check(middle) <= 0 for check, _ in walls):
        return None
    free = mount.scenario.belt.length

    def excess(angle: float) -> float:
        return float(mount.path(np.asarray(angle))) - free

    if excess(start) * excess(end) > 0:
        return None
    return float(brentq(excess, start, end, xtol=1e-15, rtol=1e-14))
