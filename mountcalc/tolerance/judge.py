"""Whether many builds keep what is wanted of the mount: zero, grip, limits, room for the belt.

Builds whose adjuster holds the plate where it counts are judged all together, in closed form but
for where the first limit lies. The others go through the ordinary solver one by one, so many of
them as is asked for: they are drawn like the rest, so that some stand for all.
"""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from mountcalc.belts import belt_name, room_wanted
from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.roots import bracketed_roots
from mountcalc.equilibrium.solve import solve_mount
from mountcalc.errors import MountError
from mountcalc.requirements.held import Columns, carrying
from mountcalc.requirements.requirements import requirements_of
from mountcalc.requirements.setting import idles
from mountcalc.requirements.window import find_window
from mountcalc.scenario.model import Scenario
from mountcalc.thresholds import ROUNDING
from mountcalc.tolerance.sample import Builds
from mountcalc.tolerance.turned import Turned, turned

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]

_MOST_ALONE = 100
# Plate angles from zero to the tight end at which limits are looked at, besides where their loads
# have kinks.
_NODES = 9
_NEAR = 1e-12  # [rad] of where a limit is reached


class Judged(Columns):
    """What is found of builds, arrays (count,).

    ``zero`` [-] is where the hand finds zero, in turns from where the adjuster is set as drawn,
    positive if they tighten; NaN where it is not reached in the travel. ``goes_on`` and
    ``takes_up`` tell whether the plate leaves the room that a new belt, and one that stretches,
    wants. ``fewest`` and ``most`` turns from a build's own zero keep grip and limits: infinite
    where grip or limit is not reached in the travel. Both are NaN, and ``open`` means nothing,
    where ``known`` is False: builds that were to go through the ordinary solver and did not.
    ``alone`` tells which did or were to.
    """

    zero: Array
    goes_on: Bools
    takes_up: Bools
    fewest: Array
    most: Array
    open: Bools
    known: Bools
    alone: Bools

    @property
    def reached(self) -> Bools:
        """Where zero is found in the travel."""
        return np.isfinite(self.zero)

    def share(self, good: Bools) -> float:
        """Share of builds that are good, those looked at one by one standing for all such [-]."""
        together, looked_at = ~self.alone, self.alone & self.known
        kept = float(np.count_nonzero(good & together))
        if np.any(looked_at):
            kept += np.count_nonzero(self.alone) * float(np.mean(good[looked_at]))
        return kept / good.size

    @cached_property
    def promised(self) -> Bools:
        """Where all is kept: the range is open, a new belt goes on and can be taken up."""
        return self.open & self.goes_on & self.takes_up


def judged(builds: Builds, most_alone: int = _MOST_ALONE) -> Judged:
    """Judge builds, at most so many one by one; MountError where the drawing has no zero."""
    drawn = solve_mount(Mount.of(builds.scenario))
    parts = []
    for some in builds.blocks():
        with np.errstate(invalid="ignore", divide="ignore"):
            parts.append(_together(turned(some, drawn)))
    found = Judged.joined(parts)
    fewest, most = found.fewest.copy(), found.most.copy()
    is_open, is_known = found.open.copy(), found.known.copy()
    for row in np.flatnonzero(found.alone)[:most_alone]:
        fewest[row], most[row], is_open[row] = _alone(builds.alone(int(row)))
        is_known[row] = True
    if idles(builds.scenario):  # no tension follows from what the machine takes
        is_open = np.zeros_like(is_open)
    return replace(found, fewest=fewest, most=most, open=is_open, known=is_known)


def _alone(scenario: Scenario) -> tuple[float, float, bool]:
    """Fewest and most turns of one build, and whether the range is open, by the ordinary solver."""
    try:
        requirements = requirements_of.__wrapped__(scenario)  # none of them comes again
        if not requirements.solved.mount.has_adjuster:
            is_open = requirements.grip(0.0)[0] >= 1.0 and requirements.worst(0.0)[0] <= 1.0
            return math.nan, math.nan, bool(is_open)
        window = find_window(requirements)
    except MountError:
        return math.nan, math.nan, False
    fewest = math.inf if window.fewest is None else window.fewest
    most = math.inf if window.most is None else window.most
    return fewest, most, most != 0 and fewest <= most and math.isfinite(fewest)


def _together(turned: Turned) -> Judged:
    """Judge those that can be in closed form, and mark the others."""
    held, zero, end, tightens = turned.held, turned.zero, turned.tight_end, turned.tightens
    mount, scenario = held.mount, held.mount.scenario
    belts = mount, held.pull, held.centrifugal, held.snug
    install, take_up = room_wanted(
        scenario.belt.joint, scenario.belt.length, belt_name(scenario.belt)
    )
    near, far = (mount.path(at).center_distance for at in (turned.slack_end, end))
    reached = np.isfinite(zero)
    blank = np.full(zero.shape, np.nan)
    found = Judged(
        zero=turned.zero_from_drawn,
        goes_on=reached & (held.snug - near >= install.value * (1.0 - ROUNDING)),
        takes_up=reached & (far - held.snug >= take_up.value * (1.0 - ROUNDING)),
        fewest=blank,
        most=blank,
        open=np.zeros(zero.shape, dtype=bool),
        known=~reached,
        alone=reached,
    )
    if not mount.has_adjuster or mount.spring is not None:
        return found
    # Where the belts have the wanted grip, and where they stop slipping under their loads.
    limits = scenario.limits
    marks = [(limits.grip, limits.starting_grip or 0.0), (1.0, 0.0), (0.0, 1.0)]
    grip, *kinks = (held.swing(carrying(*belts, times)[1]) for times in marks)

    def between(phi: Array) -> Array:
        return zero + tightens * np.clip(tightens * (phi - zero), 0.0, tightens * (end - zero))

    within = tightens * (end - grip) >= 0
    floor = between(grip)
    even = zero + np.linspace(0.0, 1.0, _NODES)[:, np.newaxis] * (end - zero)
    nodes = np.concatenate([even, [floor], [between(kink) for kink in kinks]])
    nodes = np.sort(tightens * nodes, axis=0) * tightens
    first = _first_limit(turned, nodes)
    fewest = np.where(within, np.maximum(turned.turns_at(floor), 0.0), np.inf)
    most = np.where(np.isfinite(first), turned.turns_at(first), np.inf)
    is_open = within & (fewest <= most)
    # What decides must be held: the grip, and a limit or, without one, the end.
    decides = [floor, np.where(np.isfinite(first), first, end)]
    plain = reached & _holds(turned, np.stack(decides)) & ~(most <= 0)
    return replace(
        found,
        fewest=np.where(plain, fewest, np.nan),
        most=np.where(plain, most, np.nan),
        open=plain & is_open,
        known=plain | ~reached,
        alone=reached & ~plain,
    )


def _holds(turned: Turned, phi: Array) -> Bools:
    """Whether the adjuster carries the plate at all of some plate angles, whatever the pull."""
    held, strung = turned.held, turned.held.strung(phi)
    sign = np.sign(held.mount.adjuster(phi).extension_slope)
    holds = np.ones(phi.shape, dtype=bool)
    for load in (*held.cases(), *held.promised()):
        moment = held.pulled(strung, load).moment
        nothing = ROUNDING * (np.abs(moment) + np.abs(strung.weight))
        left = moment + strung.weight
        holds &= turned.carries(np.where(np.abs(left) <= nothing, 0.0, sign * left))
    every: Bools = np.all(holds, axis=0)
    return every


def _first_limit(turned: Turned, nodes: Array) -> Array:
    """Plate angle at which held plates first have something at its limit; NaN where none is.

    ``nodes`` go from zero to the tight end. Loads are linear in the tension but for their kinks,
    so that their sizes are convex in between.
    """
    worst = _worst(turned, nodes)
    over = worst >= 1.0
    some = np.flatnonzero(np.any(over, axis=0))
    at = np.argmax(over[:, some], axis=0)
    found = np.full(nodes.shape[1], np.nan)
    low, high = nodes[np.maximum(at - 1, 0), some], nodes[at, some]
    few = replace(turned, held=turned.held.take(some))
    found[some] = bracketed_roots(
        lambda phi: np.minimum(_worst(few, phi), 10.0) - 1.0, low, high, _NEAR
    )
    return found


def _worst(turned: Turned, phi: Array) -> Array:
    """Greatest share of any limit in any case at plate angles, the plate being held [-]."""
    held, strung = turned.held, turned.held.strung(phi)
    limits, adjuster = held.mount.scenario.limits, held.mount.adjuster(phi)
    worst = np.zeros(phi.shape)
    for load in held.cases():
        pulled = held.pulled(strung, load)
        worst = np.maximum(worst, held.share_of_limit(pulled, load))
        force = (pulled.moment + strung.weight) / adjuster.extension_slope
        if limits.adjuster is not None:
            worst = np.maximum(worst, np.abs(force) / limits.adjuster)
        if limits.hinge is not None:
            worst = np.maximum(worst, held.hinge(pulled, adjuster, force) / limits.hinge)
    return worst
