"""Whether many builds keep what is wanted of the mount: zero, grip, limits, room for the belt.

Builds whose adjuster holds the plate where it counts are judged all together, in closed form but
for where the first limit lies. The others go through the ordinary solver one by one, so many of
them as is asked for: they are drawn like the rest, so that some stand for all.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.roots import bracketed_roots
from mountcalc.equilibrium.solve import solve_mount
from mountcalc.errors import MountError
from mountcalc.linkage.kernels import AdjusterState
from mountcalc.record import Record
from mountcalc.requirements.held import Columns, Held, Load, Strung, carrying
from mountcalc.requirements.requirements import requirements_of
from mountcalc.requirements.setting import idles
from mountcalc.requirements.swing import belt_name, room_wanted
from mountcalc.requirements.window import find_window
from mountcalc.scenario.model import Scenario
from mountcalc.thresholds import ROUNDING
from mountcalc.tolerance.sample import Builds
from mountcalc.tolerance.turned import Turned, turned

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]

_MOST_ALONE = 100
_LEAST_SURE = 0.5 / 0.01  # greatest deviation of one of two answers over that of a share [-]
# Plate angles from zero to the tight end at which limits are looked at, besides where their loads
# have kinks.
_NODES = 9
_NEAR = 1e-12  # [rad] of where a limit is reached
# Past so many times a limit, how much more makes no difference to where it is reached.
_FAR = 10.0


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
        return float(kept / good.size)

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
    # As many as tell the share of all builds to one in a hundred.
    enough = min(most_alone, math.ceil((_LEAST_SURE * np.mean(found.alone)) ** 2))
    for row in np.flatnonzero(found.alone)[:enough]:
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
    mount = held.mount
    goes_on, takes_up = _rooms(turned)
    reached = np.isfinite(zero)
    blank = np.full(zero.shape, np.nan)
    found = Judged(
        zero=turned.zero_from_drawn,
        goes_on=goes_on,
        takes_up=takes_up,
        fewest=blank,
        most=blank,
        open=np.zeros(zero.shape, dtype=bool),
        known=~reached,
        alone=reached,
    )
    if not mount.has_adjuster:
        return found
    if mount.gives:
        return _behind_spring(turned, found)
    rides, grips = _Rides.of(turned), _grips(held)

    def between(phi: Array) -> Array:
        return zero + tightens * np.clip(tightens * (phi - zero), 0.0, tightens * (end - zero))

    # Where there is grip: with the adjuster there, or at zero already where the plate rides so far.
    fewest, plain = np.zeros(zero.shape), reached
    for load in held.wanted():
        grip = grips[load.name]
        at_zero = tightens * (rides.angles[load] - grip) >= 0
        turns = np.where(tightens * (end - grip) >= 0, turned.turns_at(grip), np.inf)
        fewest = np.where(at_zero, fewest, np.maximum(fewest, turns))
        plain = plain & (at_zero | rides.hold(between(grip), (load, Load("rest", 0.0, 1.0))))
    nodes = _nodes(turned, [between(one) for one in grips.values()])
    first = _first_limit(turned, rides, nodes)
    most = np.where(np.isfinite(first), turned.turns_at(first), np.inf)
    # A limit must be reached held or riding or, without one, the end.
    plain = plain & rides.keep(np.where(np.isfinite(first), first, end)) & ~(most <= 0)
    return replace(
        found,
        fewest=np.where(plain, fewest, np.nan),
        most=np.where(plain, most, np.nan),
        open=plain & np.isfinite(fewest) & (fewest <= most),
        known=plain | ~reached,
        alone=reached & ~plain,
    )


def rooms_of(builds: Builds) -> tuple[Bools, Bools]:
    """Where a new belt goes on, and where it can be taken up when it has stretched."""
    drawn, parts = solve_mount(Mount.of(builds.scenario)), []
    for some in builds.blocks():
        with np.errstate(invalid="ignore", divide="ignore"):
            parts.append(_rooms(turned(some, drawn)))
    goes_on, takes_up = (np.concatenate(part) for part in zip(*parts, strict=True))
    return goes_on, takes_up


def _rooms(turned: Turned) -> tuple[Bools, Bools]:
    held, belt = turned.held, turned.held.mount.scenario.belt
    install, take_up = room_wanted(belt.joint, belt.length, belt_name(belt))
    near, far = (held.mount.path(at).center_distance for at in (turned.slack_end, turned.tight_end))
    reached = np.isfinite(turned.zero)
    return (
        reached & (held.snug - near >= install.value * (1.0 - ROUNDING)),
        reached & (far - held.snug >= take_up.value * (1.0 - ROUNDING)),
    )


def _grips(held: Held) -> dict[str, Array]:
    """Plate angles at which belts have the wanted grip, by what it is wanted for.

    And at which they stop slipping under the loads as they are.
    """
    belts, limits = (held.mount, held.pull, held.centrifugal, held.snug), held.mount.scenario.limits
    times = {
        "running": (limits.grip, 0.0),
        "starting": (0.0, limits.starting_grip or 0.0),
        "runs": (1.0, 0.0),
        "starts": (0.0, 1.0),
    }
    return {name: held.swing(carrying(*belts, one)[1]) for name, one in times.items()}


def _nodes(turned: Turned, marks: Sequence[Array]) -> Array:
    """Plate angles from zero to the tight end, evenly and at marks in between."""
    zero, end, way = turned.zero, turned.tight_end, turned.tightens
    even = zero + np.linspace(0.0, 1.0, _NODES)[:, np.newaxis] * (end - zero)
    nodes: Array = np.sort(way * np.concatenate([even, marks]), axis=0) * way
    return nodes


def _behind_spring(turned: Turned, found: Judged) -> Judged:
    """Judge builds whose adjuster gives: under each load the plate is elsewhere.

    Turns follow in closed form from where the plate is under a load, so that grip and limits are
    sought there. What gives so much that a plate may have several places of rest is left alone.
    """
    held, zero, end, way = turned.held, turned.zero, turned.tight_end, turned.tightens
    last, reached = turned.turns_at(end), np.isfinite(zero)
    at_zero = turned.out(zero)

    def under(load: Load, phi: Array) -> tuple[Array, Array, Bools]:
        """Turns with plates at angles under a load, share of the limits, and whether it is held."""
        strung, adjuster = held.strung(phi), held.mount.adjuster(phi)
        moment = held.pulled(strung, load).moment
        left, sizes = moment + strung.weight, np.abs(moment) + np.abs(strung.weight)
        force = np.where(np.abs(left) <= ROUNDING * sizes, 0.0, left) / adjuster.extension_slope
        turns = (adjuster.extension + held.mount.give(force) - at_zero) / turned.advance
        return turns, _share(held, load, strung, adjuster), turned.carries(force)

    def between(phi: Array) -> Array:
        return zero + way * np.clip(way * (phi - zero), 0.0, way * (end - zero))

    grips = _grips(held)
    nodes = _nodes(turned, [between(one) for one in grips.values()])
    fewest, most, plain = np.zeros(zero.shape), np.full(zero.shape, np.inf), reached
    for load in held.wanted():
        # Short of the grip the plate may be at its stop: there it grips whatever the load.
        turns, _, is_held = under(load, grips[load.name])
        plain = plain & is_held & (way * (end - grips[load.name]) >= 0)
        fewest = np.maximum(fewest, np.where(turns <= last, turns, np.inf))
    for load in held.cases():
        turns, share, is_held = under(load, nodes)
        asked = (turns >= 0) & (turns <= last)
        plain = plain & np.all(np.diff(turns, axis=0) >= 0, axis=0) & np.all(is_held | ~asked, 0)
        # What a load takes to its stop before the turns end is over every limit there.
        stop = turns[-1]
        most = np.fmin(most, np.where(stop < last * (1.0 - ROUNDING), stop, np.inf))
        over = share >= 1.0
        some = np.flatnonzero(np.any(over, axis=0) & reached)
        at, few = np.argmax(over[:, some], axis=0), held.take(some)
        low, high = nodes[np.maximum(at - 1, 0), some], nodes[at, some]

        def excess(phi: Array, few: Held = few, load: Load = load) -> Array:
            share = _share(few, load, few.strung(phi), few.mount.adjuster(phi))
            return np.minimum(share, _FAR) - 1.0

        first = np.full(zero.shape, np.nan)
        first[some] = bracketed_roots(excess, low, high, _NEAR)
        turns, _, is_held = under(load, first)
        plain = plain & (np.isnan(first) | (turns > last) | ((turns > 0) & is_held))
        most = np.fmin(most, np.where(turns <= last, turns, np.inf))
    return replace(
        found,
        fewest=np.where(plain, fewest, np.nan),
        most=np.where(plain, most, np.nan),
        open=plain & np.isfinite(fewest) & (fewest <= most),
        known=plain | ~reached,
        alone=reached & ~plain,
    )


class _Rides(Record):
    """Where plates ride that a load takes off their adjuster at zero, to the tight side.

    ``angles`` are plate angles, for each load zero itself where the adjuster carries the plate and
    past the end of the travel where nothing stops it; NaN where it goes the other way. More turns
    change nothing there until the adjuster reaches it.
    """

    turned: Turned
    angles: Mapping[Load, Array]

    @classmethod
    def of(cls, turned: Turned) -> _Rides:
        """Find where plates ride under their cases and the pulls that are promised."""
        held = turned.held
        return cls(turned, {one: _ride(turned, one) for one in (*held.cases(), *held.wanted())})

    @cached_property
    def some(self) -> bool:
        """Whether any plate rides."""
        return any(np.any(angle != self.turned.zero) for angle in self.angles.values())

    def reached(self, load: Load, phi: Array) -> Array:
        """Plate angles with the adjuster at some, no less tight than where it rides."""
        way = self.turned.tightens
        result: Array = way * np.fmin(
            np.maximum(way * phi, way * self.angles[load]), way * self.turned.tight_end
        )
        return result

    def keep(self, phi: Array) -> Bools:
        """Whether plates are held or ride in every case, adjusters at plate angles."""
        zero, way, keeps = self.turned.zero, self.turned.tightens, np.ones(phi.shape, dtype=bool)
        for load in self.turned.held.cases():
            ridden = self.angles[load]
            rides = (ridden != zero) & (way * (ridden - phi) >= 0)
            keeps &= ~np.isnan(ridden) & (rides | self.hold(phi, (load,)))
        return keeps

    def hold(self, phi: Array, loads: Iterable[Load]) -> Bools:
        """Whether adjusters at plate angles carry the plate under loads."""
        held, strung = self.turned.held, self.turned.held.strung(phi)
        sign, holds = np.sign(held.mount.adjuster(phi).extension_slope), np.ones(phi.shape, bool)
        for load in loads:
            moment = held.pulled(strung, load).moment
            left, sizes = moment + strung.weight, np.abs(moment) + np.abs(strung.weight)
            left = np.where(np.abs(left) <= ROUNDING * sizes, 0.0, sign * left)
            holds &= self.turned.carries(left)
        return holds


def _ride(turned: Turned, load: Load) -> Array:
    """Where one load has plates ride, as in :class:`_Rides`."""
    held, zero, end, way = turned.held, turned.zero, turned.tight_end, turned.tightens

    def left(phi: Array, held: Held) -> Array:
        strung = held.strung(phi)
        moment: Array = held.pulled(strung, load).moment + strung.weight
        return moment

    at_zero, sizes = left(zero, held), np.abs(held.weights(zero).y_slope)
    at_zero = np.where(np.abs(at_zero) <= ROUNDING * sizes, 0.0, at_zero)
    lost = ~turned.carries(at_zero / held.mount.adjuster(zero).extension_slope)
    lost &= np.isfinite(zero)
    angle = np.where(lost, np.nan, zero)
    some = np.flatnonzero(lost & (way * at_zero < 0))
    if not some.size:
        return angle
    few, from_zero, ways = held.take(some), zero[some], way[some]
    nodes = from_zero + np.linspace(0.0, 1.0, _NODES)[:, np.newaxis] * (end[some] - from_zero)
    stops = ways * left(nodes, few) > 0
    stops[0] = False
    found, at = np.any(stops, axis=0), np.maximum(np.argmax(stops, axis=0), 1)
    low, high = (nodes[one, np.arange(some.size)] for one in (at - 1, at))
    # No root is sought where nothing stops it.
    root = bracketed_roots(lambda phi: left(phi, few), np.where(found, low, high), high, _NEAR)
    angle[some] = np.where(found, root, ways * np.inf)
    return angle


def _first_limit(turned: Turned, rides: _Rides, nodes: Array) -> Array:
    """Plate angle at which something is first at its limit; NaN where nothing is.

    ``nodes`` go from zero to the tight end. Loads are linear in the tension but for their kinks,
    so that their sizes are convex in between.
    """
    worst = _worst(turned, rides, nodes)
    over = worst >= 1.0
    some = np.flatnonzero(np.any(over, axis=0))
    at = np.argmax(over[:, some], axis=0)
    found = np.full(nodes.shape[1], np.nan)
    low, high = nodes[np.maximum(at - 1, 0), some], nodes[at, some]
    few = turned.take(some)
    angles = {load: angle[some] for load, angle in rides.angles.items()}
    found[some] = bracketed_roots(
        lambda phi: np.minimum(_worst(few, _Rides(few, angles), phi), _FAR) - 1.0, low, high, _NEAR
    )
    return found


def _worst(turned: Turned, rides: _Rides, phi: Array) -> Array:
    """Greatest share of any limit in any case, adjusters at plate angles [-]."""
    held, worst = turned.held, np.zeros(phi.shape)
    strung, adjuster = held.strung(phi), held.mount.adjuster(phi)
    for load in held.cases():
        if rides.some:
            there = rides.reached(load, phi)
            strung, adjuster = held.strung(there), held.mount.adjuster(there)
        worst = np.maximum(worst, _share(held, load, strung, adjuster))
        worst = np.where(np.isinf(rides.angles[load]), np.inf, worst)
    return worst


def _share(held: Held, load: Load, strung: Strung, adjuster: AdjusterState) -> Array:
    """Greatest share of any limit under one load [-]."""
    limits, pulled = held.mount.scenario.limits, held.pulled(strung, load)
    worst = held.share_of_limit(pulled, load)
    force = (pulled.moment + strung.weight) / adjuster.extension_slope
    if limits.adjuster is not None:
        worst = np.maximum(worst, np.abs(force) / limits.adjuster)
    if limits.hinge is not None:
        worst = np.maximum(worst, held.hinge(pulled, adjuster, force) / limits.hinge)
    return worst
