"""Which of many layouts will do, in closed form, and why the others will not."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mountcalc.equilibrium.travel import LEAST_BITE
from mountcalc.linkage import kernels
from mountcalc.place.feasible.clearances import clear, clear_of_motor, written_stops
from mountcalc.place.feasible.drives import Drives, belt_room, drives_of
from mountcalc.place.feasible.layouts import (
    END_MARGIN,
    KINDS,
    LINK,
    Layouts,
    bears_on_its_side,
    layouts_from,
    with_tips_out,
)
from mountcalc.place.feasible.reasons import Reason
from mountcalc.place.feasible.set_point import find_zeros, set_points
from mountcalc.place.feasible.statics import Statics, compliance_of
from mountcalc.record import Record
from mountcalc.requirements.held import Columns, Strung
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.search import Search, SearchSpace
from mountcalc.thresholds import ROUNDING

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]
Ints = NDArray[np.intp]

CHUNK = 16384
"""Layouts judged at a time: numpy's calls cost little and arrays stay in the processor's cache."""

# Places on the first axis of arrays over a travel, and of those over the hand's error.
_INSTALL, _SNUG, _TAKE_UP = range(3)
_LOOSE, _SET = range(2)
_TRAVEL, _HAND = ("install", "snug", "take_up"), ("loose", "set", "tight")


class Measures(Columns):
    """What is known of layouts that will do.

    Plate angles [rad] at ``install``, ``snug``, ``zero`` (where turns are counted from; ``contact``
    where that is not snug), ``loose``, ``set`` and ``tight`` (a hand's error apart) and
    ``take_up``. ``set_turns`` [-]; ``of_weight`` where weight alone gives the wanted grip.
    Tensions [N] of one strand at rest, ``set_tension`` and ``tension_per_turn``, and
    ``tension_per_length`` [N/m] of bolt. ``grip_low`` [-] is the grip where it is loose;
    ``worst_share`` [-] of a bearing's limit at the set point, ``worst_share_tight`` over the
    hand's error; ``adjuster`` and ``hinge`` [N] at rest at the set point, compression positive;
    ``adjuster_most`` and ``hinge_most`` [N], sizes, over all cases and the hand's error.
    ``bolt_travel`` [m] between install and take-up.
    """

    install: Array
    snug: Array
    zero: Array
    loose: Array
    set: Array
    tight: Array
    take_up: Array
    contact: Bools
    of_weight: Bools
    set_turns: Array
    set_tension: Array
    tension_per_turn: Array
    tension_per_length: Array
    grip_low: Array
    worst_share: Array
    worst_share_tight: Array
    adjuster: Array
    adjuster_most: Array
    hinge: Array
    hinge_most: Array
    bolt_travel: Array


class Feasible(Record):
    """Every layout's ``reason`` code, and of the feasible ones place, layout and measures.

    ``kept`` are the indices of the feasible ones among all, increasing.
    """

    reason: NDArray[np.uint8]
    kept: Ints
    layouts: Layouts
    measures: Measures


class Feasibility(Record):
    """Judges layouts around a mount in what a search may try, with its belts."""

    scenario: Scenario
    space: SearchSpace
    drives: Drives

    @classmethod
    def of(cls, search: Search) -> Feasibility:
        """That of a search, with the room that its belts want."""
        scenario, space = search.scenario, search.space
        return cls(scenario, space, drives_of(scenario, space, *belt_room(scenario, space)))

    def room(self, layouts: Layouts, install: Array, take_up: Array) -> Ints:
        """Why each layout's bolt does not clear its motor, or a part a keep-out; 0 where all do."""
        reason, space = np.zeros(len(layouts), dtype=np.intp), self.space
        # From stop to stop as they are written.
        low, high = written_stops(install, take_up)
        if len(layouts) and not space.bolt_beside_motor:
            clears = clear_of_motor(layouts, (low, high), space, space.clearance)
            reason[~clears] = Reason.MOTOR_IN_THE_WAY
        some, search = np.flatnonzero(reason == 0), Search(self.scenario, space)
        ends = low[some], high[some]
        first = clear(layouts.take(some), ends, space.keep_outs, search, space.clearance)
        reason[some] = np.where(first < 0, 0, Reason.KEEP_OUT + first)
        return reason

    def samples(self, unit: ArrayLike) -> Feasible:
        """Judge the layouts of the points of a sample; only the feasible ones are kept."""
        points = np.asarray(unit, dtype=float)
        return self._in_blocks(
            len(points), lambda some: layouts_from(points[some], self.space, self.scenario)
        )

    def layouts(self, layouts: Layouts) -> Feasible:
        """Judge layouts of any kinds."""
        return self._in_blocks(len(layouts), layouts.take)

    def _in_blocks(self, count: int, block: Callable[[slice], Layouts]) -> Feasible:
        """Judge so many, a few at a time; one empty block where there are none."""
        starts = range(0, max(count, 1), CHUNK)
        parts = [self._block(block(slice(start, start + CHUNK))) for start in starts]
        return Feasible(
            np.concatenate([part.reason for part in parts]),
            np.concatenate([part.kept + at for part, at in zip(parts, starts, strict=True)]),
            Layouts.joined([part.layouts for part in parts]),
            Measures.joined([part.measures for part in parts]),
        )

    def _block(self, layouts: Layouts) -> Feasible:
        """Judge a few, from the cheapest test to the dearest."""
        short = layouts.plate_length <= self.space.plate_length
        reason = np.where(short, Reason.FEASIBLE, Reason.PLATE_LENGTH)
        standing = layouts.foot - 0.5 * self.space.motor_feet >= END_MARGIN
        reason = np.where(standing, reason, Reason.FEET_PAST_HINGE)
        reason = np.where(layouts.fault == 0, reason, layouts.fault).astype(np.uint8)
        some = np.flatnonzero(reason == 0)
        layouts = layouts.take(some)
        statics = Statics(self.scenario, self.space, layouts, self.drives.of(layouts.belt))
        left = _Left(statics, {"place": some}, reason)
        # The domain of every root is guarded: what is out of reach fails as a NaN.
        with np.errstate(invalid="ignore", divide="ignore"):
            for test in (_swings, _turns, _settles, _holds, _bears):
                test(left)
            reasons = self.room(left.statics.layouts, left["install"], left["take_up"])
            left.keep(reasons == 0, reasons)
            _measures(left)
        measures = Measures(**{name: left[name] for name in Measures.__match_args__})
        return Feasible(reason, left["place"], left.statics.layouts, measures)


@dataclass
class _Left:
    """The layouts that have passed so far, what was found of them, and why the others failed.

    What was found are arrays by name whose last axis is that of the layouts, in the end those of
    :class:`Measures`.
    """

    statics: Statics
    found: dict[str, NDArray[Any]]
    reason: NDArray[np.uint8]
    strung: Strung | None = None

    def __getitem__(self, name: str) -> NDArray[Any]:
        return self.found[name]

    def stacked(self, names: Sequence[str]) -> Array:
        """Several of what was found, on a first axis."""
        return np.stack([self.found[name] for name in names])

    def keep(self, good: Bools, reason: ArrayLike) -> None:
        """Drop those that are not good, for a reason."""
        if good.all():
            return
        codes = np.broadcast_to(reason, good.shape)
        self.reason[self["place"][~good]] = codes[~good]
        which = np.flatnonzero(good)
        self.statics = self.statics.take(which)
        self.found = {name: values[..., which] for name, values in self.found.items()}
        self.strung = self.strung and self.strung.take(which)


def _swings(left: _Left) -> None:
    """The swing reaches from install to take-up with the wanted leverage."""
    for name, reason in (("install", Reason.INSTALL), ("take_up", Reason.TAKE_UP)):
        phi = left.statics.held.swing(getattr(left.statics.drives, name))
        left.found[name] = phi
        left.keep(np.isfinite(phi), reason)
    statics = left.statics
    drives, layouts, scenario = statics.drives, statics.layouts, statics.scenario
    left.found["snug"], ends = statics.held.swing(drives.snug), left.stacked(_TRAVEL[::2])
    # |dL/dphi| over the greatest that any swing of this motor arm could give [-]. Along a swing
    # it rises and then falls, so that it is least at an end.
    distance = np.stack(np.broadcast_arrays(drives.install, drives.take_up))
    radii = scenario.motor.pulley_radius, scenario.driven.pulley_radius
    per_distance = kernels.open_belt(distance, *radii).length_slope
    slope = layouts.tightens * statics.held.mount.path(ends).length_slope
    leverage = np.min(slope / (per_distance * np.abs(layouts.motor - layouts.hinge)), axis=0)
    left.keep((leverage >= statics.space.leverage) & (leverage > 0), Reason.DEAD_CENTRE)


def _turns(left: _Left) -> None:
    """The bolt works all the way, and is long enough for it."""
    statics, phi = left.statics, left.stacked(_TRAVEL)
    space, ends = statics.space, phi[::2]
    layouts = with_tips_out(statics.layouts, ends, space, statics.scenario)
    left.statics = statics = replace(statics, layouts=layouts)
    at = statics.adjuster(phi)
    sign = np.sign(at.extension_slope)
    works = np.all(sign == sign[_INSTALL], axis=0) & (sign[_INSTALL] != 0)
    # Of the same sign as drawn: past a right angle the tip would come from behind the face.
    drawn = statics.adjuster(np.zeros(phi.shape[1])).bite
    bites = np.all(at.bite * np.sign(drawn) > LEAST_BITE, axis=0) | (layouts.kind == LINK)
    works &= bites & bears_on_its_side(layouts, ends, space)
    travel = np.abs(at.extension[_TAKE_UP] - at.extension[_INSTALL])
    left.found |= {"bolt_travel": travel, "slope": at.extension_slope[_SNUG]}
    left.keep(works, Reason.ADJUSTER_GEOMETRY)
    longest = np.array([space.most_travel(kind) for kind in KINDS])[left.statics.layouts.kind]
    left.keep(left["bolt_travel"] <= longest, Reason.THREAD_LENGTH)


def _settles(left: _Left) -> None:
    """There is a zero, and a set point before full take-up."""
    zero, contact = find_zeros(left.statics, left["snug"], left["take_up"], left["slope"])
    left.found |= {"zero": zero, "contact": contact}
    left.keep(~np.isnan(zero), Reason.LEAVES_ADJUSTER)
    statics, zero, contact = left.statics, left["zero"], left["contact"]
    tightens = statics.layouts.tightens
    loose = statics.held.swing(statics.drives.loose)
    of_weight = contact & ((zero - loose) * tightens >= 0)
    left.found |= {"of_weight": of_weight, "loose": np.where(of_weight, zero, loose)}
    within = (left["take_up"] - left["loose"]) * tightens >= 0
    left.keep(within, Reason.TAKE_UP)
    hand, turns, reached = set_points(
        left.statics, left.stacked(_TRAVEL), left["zero"], left["loose"], ~left["contact"]
    )
    left.found |= {"set_turns": turns, **dict(zip(_HAND, hand, strict=True))}
    left.keep(reached, Reason.TAKE_UP)


def _holds(left: _Left) -> None:
    """The adjuster carries the plate at every pull, all over the hand's error.

    Its force is linear in the pull, so that the ends of the range of pulls tell.
    """
    statics = left.statics
    left.strung = strung = statics.held.strung(left.stacked(_HAND))
    sign = statics.carries * np.sign(left["slope"])
    held = np.ones(strung.tension.shape, dtype=bool)
    for load in (*statics.held.cases(), *statics.held.promised()):
        moment = statics.held.pulled(strung, load).moment
        nothing = ROUNDING * (np.abs(moment) + np.abs(strung.weight))
        held &= sign * (moment + strung.weight) >= -nothing
    left.keep(np.all(held, axis=0), Reason.LEAVES_ADJUSTER)


def _bears(left: _Left) -> None:
    """Adjuster, hinge and bearings are within their limits, all over the hand's error."""
    statics, strung = left.statics, left.strung
    assert strung is not None
    adjuster = statics.adjuster(left.stacked(_HAND))
    most = np.zeros((3, *strung.tension.shape))
    for load in statics.held.cases():
        pulled = statics.held.pulled(strung, load)
        force = (pulled.moment + strung.weight) / adjuster.extension_slope
        hinge = statics.held.hinge(pulled, adjuster, force)
        if load.name == "rest":
            left.found |= {"adjuster": force[_SET], "hinge": hinge[_SET]}
        most = np.maximum(most, [np.abs(force), hinge, statics.held.share_of_limit(pulled, load)])
    left.found |= {"worst_share": most[2, _SET], "slope": adjuster.extension_slope[_SET]}
    limits = statics.scenario.limits
    bounds = (
        ("adjuster_most", limits.adjuster, Reason.ADJUSTER_LOAD),
        ("hinge_most", limits.hinge, Reason.HINGE_LOAD),
        ("worst_share_tight", 1.0, Reason.BEARING),
    )
    left.found |= {name: one for (name, *_), one in zip(bounds, most.max(axis=1), strict=True)}
    for name, limit, reason in bounds:
        if limit is not None:
            left.keep(left[name] <= limit, reason)
    left.keep(_bearings_before(left) <= 1.0, Reason.BEARING)


def _bearings_before(left: _Left) -> Array:
    """Worst share of a bearing's limit from zero turns to the set point.

    The load vector is linear in the tension but for a kink where the belt stops slipping under
    the load: its size is greatest at zero, at a kink or at the set point. The adjuster may let
    the plate go on the way, but then it rides at a tension that lies between as well.
    """
    statics, drives, zero = left.statics, left.statics.drives, left["zero"]
    assert left.strung is not None
    at_zero, loose = statics.held.tension(zero), left.strung.tension[_LOOSE]
    phi = [zero]
    for tension, distance in zip(drives.kinks, drives.kinks_at, strict=True):
        inside = (tension > at_zero) & (tension < loose)
        phi.append(np.where(inside, statics.held.swing(distance), zero))
    strung = statics.held.strung(np.stack(phi))
    shares = [
        statics.held.share_of_limit(statics.held.pulled(strung, load), load)
        for load in statics.held.cases()
    ]
    worst: Array = np.max(np.stack(shares), axis=(0, 1))
    return worst


def _measures(left: _Left) -> None:
    """What else is told of the layouts that have passed."""
    statics, strung = left.statics, left.strung
    assert strung is not None
    drives, layouts = statics.drives, statics.layouts
    # The arms of the two strands add up to the slope of the belt's path.
    per_length = drives.stiffness / drives.length * np.abs(strung.arm_sum[_SET] / left["slope"])
    adjuster, own = statics.scenario.adjuster, drives.stiffness / drives.length
    compliance = compliance_of(statics)
    compliance += 0.0 if adjuster.coil is None else 1.0 / adjuster.coil.rate
    # Of what the bolt moves, the plate takes what the belt's own stiffness there leaves it.
    of_belt = statics.scenario.belt.count * per_length**2 / own
    per_length = per_length / (1.0 + of_belt * compliance)
    pitches = np.array([thread.pitch for thread in statics.space.threads])
    pull, felt = drives.pull, strung.tension[_LOOSE] - drives.centrifugal
    grip = 2.0 * felt * strung.share[_LOOSE] / np.where(pull > 0, pull, 1.0)
    left.found |= {
        "set_tension": strung.tension[_SET],
        "tension_per_turn": per_length * pitches[layouts.thread],
        "tension_per_length": per_length,
        "grip_low": np.where(pull > 0, grip, np.inf),
    }
