"""Which of many layouts will do, in closed form, and why the others will not."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, fields, replace
from typing import Any, TypeVar

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
from mountcalc.place.feasible.set_point import carries_sign, find_zeros, set_points
from mountcalc.place.feasible.statics import Statics, Strung
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.search import Search, SearchSpace

__all__ = ["CHUNK", "Clear", "Feasibility", "Feasible", "Measures"]

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]
Ints = NDArray[np.intp]
# Arrays by name whose last axis is that of the layouts.
_Columns = dict[str, NDArray[Any]]

Clear = Callable[[Layouts, Array, Array], Ints]
"""Layouts and their plate angles at install and take-up [rad] to the index of the first keep-out
that is in the way, -1 where none is."""

CHUNK = 16384
"""Layouts judged at a time: numpy's calls cost little and arrays stay in the processor's cache."""

# Of the moments in play: less than this is rounding (as in the equilibrium of one mount).
_ROUNDING = 1e-9
# Places on the first axis of arrays over a travel, and of those over the hand's error.
_INSTALL, _SNUG, _TAKE_UP = range(3)
_LOOSE, _SET, _TIGHT = range(3)


@dataclass(frozen=True, slots=True)
class Measures:
    """What is known of layouts that will do, one entry each.

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

    def take(self, which: Ints | Bools) -> Measures:
        """Those of some layouts."""
        return Measures(*(getattr(self, field.name)[which] for field in fields(self)))


@dataclass(frozen=True, slots=True)
class Feasible:
    """Every layout's ``reason`` code, and of the feasible ones place, layout and measures.

    ``kept`` are the indices of the feasible ones among all, increasing.
    """

    reason: NDArray[np.uint8]
    kept: Ints
    layouts: Layouts
    measures: Measures

    @staticmethod
    def joined(parts: Sequence[Feasible]) -> Feasible:
        """The verdicts of parts that follow each other as one."""
        starts = np.cumsum([0, *(part.reason.size for part in parts[:-1])])
        return Feasible(
            np.concatenate([part.reason for part in parts]),
            np.concatenate([part.kept + start for part, start in zip(parts, starts, strict=True)]),
            _joined([part.layouts for part in parts]),
            _joined([part.measures for part in parts]),
        )


_Some = TypeVar("_Some", Layouts, Measures)


def _joined(parts: Sequence[_Some]) -> _Some:
    """Columns of parts, end to end."""
    names = [field.name for field in fields(parts[0])]
    whole = (np.concatenate([getattr(part, name) for part in parts]) for name in names)
    return type(parts[0])(*whole)


@dataclass(frozen=True)
class Feasibility:
    """Judges layouts of one search.

    Parameters
    ----------
    scenario : Scenario
        The mount that the search starts from: its drive, weights and limits.
    space : SearchSpace
        What it may try.
    drives : Drives
        Its belts.
    clear : Clear, optional
        Judges what has passed all else against the keep-outs.
    """

    scenario: Scenario
    space: SearchSpace
    drives: Drives
    clear: Clear | None = None

    @classmethod
    def of(cls, search: Search) -> Feasibility:
        """That of a search, with the room that its belts want and its keep-outs."""
        scenario, space = search.scenario, search.space
        drives = drives_of(scenario, space, *belt_room(scenario, space))

        def first_met(layouts: Layouts, install: Array, take_up: Array) -> Ints:
            # From stop to stop as they are written.
            ends = written_stops(install, take_up)
            return clear(layouts, ends, space.keep_outs, search, space.clearance)

        return cls(scenario, space, drives, first_met)

    def room(self, layouts: Layouts, install: Array, take_up: Array) -> Ints:
        """Why each layout's bolt does not clear its motor, or a part a keep-out; 0 where all do."""
        reason = np.zeros(len(layouts), dtype=np.intp)
        if len(layouts) and not self.space.bolt_beside_motor:
            ends = written_stops(install, take_up)
            clears = clear_of_motor(layouts, ends, self.space, self.space.clearance)
            reason[~clears] = Reason.MOTOR_IN_THE_WAY
        some = np.flatnonzero(reason == 0)
        if some.size and self.clear is not None:
            first = self.clear(layouts.take(some), install[some], take_up[some])
            reason[some] = np.where(first < 0, 0, Reason.KEEP_OUT + first)
        return reason

    def samples(self, unit: ArrayLike) -> Feasible:
        """Feasibility the layouts of the points of a sample; only the feasible ones are kept."""
        points = np.asarray(unit, dtype=float)
        blocks = (points[at : at + CHUNK] for at in _starts(len(points)))
        return Feasible.joined(
            [self._block(layouts_from(block, self.space, self.scenario)) for block in blocks]
        )

    def layouts(self, layouts: Layouts) -> Feasible:
        """Feasibility layouts of any kinds."""
        blocks = (layouts.take(slice(at, at + CHUNK)) for at in _starts(len(layouts)))
        return Feasible.joined([self._block(block) for block in blocks])

    def _block(self, layouts: Layouts) -> Feasible:
        """Feasibility a few, from the cheapest test to the dearest."""
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
            reasons = self.room(left.statics.layouts, *left.columns["phi"][::2])
            left.keep(reasons == 0, reasons)
            measures = _measures(left)
        return Feasible(reason, left.columns["place"], left.statics.layouts, measures)


@dataclass
class _Left:
    """The layouts that have passed so far, what was found of them, and why the others failed."""

    statics: Statics
    columns: _Columns
    reason: NDArray[np.uint8]

    def __len__(self) -> int:
        return len(self.columns["place"])

    def keep(self, good: Bools, reason: ArrayLike) -> None:
        """Drop those that are not good, for a reason."""
        if good.all():
            return
        codes = np.broadcast_to(reason, good.shape)
        self.reason[self.columns["place"][~good]] = codes[~good]
        which = np.flatnonzero(good)
        self.statics = self.statics.take(which)
        self.columns = {name: values[..., which] for name, values in self.columns.items()}


def _starts(count: int) -> range:
    """Where the blocks of so many layouts begin; one empty block where there are none."""
    return range(0, max(count, 1), CHUNK)


def _swings(left: _Left) -> None:
    """The swing reaches from install to take-up with the wanted leverage."""
    for name, reason in (("install", Reason.INSTALL), ("take_up", Reason.TAKE_UP)):
        phi = left.statics.swing(getattr(left.statics.drives, name))
        left.columns[name] = phi
        left.keep(np.isfinite(phi), reason)
    # Along a swing the leverage rises and then falls, so that it is least at an end.
    ends = np.stack([left.columns.pop("install"), left.columns.pop("take_up")])
    leverage = np.min(_leverage(left.statics, ends), axis=0)
    left.columns["phi"] = np.stack([ends[0], left.statics.swing(left.statics.drives.snug), ends[1]])
    least = left.statics.space.leverage
    left.keep((leverage >= least) & (leverage > 0), Reason.DEAD_CENTRE)


def _leverage(statics: Statics, ends: Array) -> Array:
    """|dL/dphi| over the greatest that any swing of this motor arm could give [-]."""
    layouts, drives, scenario = statics.layouts, statics.drives, statics.scenario
    distance = np.stack(np.broadcast_arrays(drives.install, drives.take_up))
    radii = scenario.motor.pulley_radius, scenario.driven.pulley_radius
    per_distance = kernels.open_belt(distance, *radii).length_slope
    arm = np.hypot(layouts.motor_x - layouts.hinge_x, layouts.motor_y - layouts.hinge_y)
    return layouts.tightens * statics.mount.path(ends).length_slope / (per_distance * arm)


def _turns(left: _Left) -> None:
    """The bolt works all the way, and is long enough for it."""
    statics, phi = left.statics, left.columns["phi"]
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
    left.columns |= {"extension": at.extension, "slope": at.extension_slope}
    left.keep(works, Reason.ADJUSTER_GEOMETRY)
    longest = np.array([space.most_travel(kind) for kind in KINDS])[left.statics.layouts.kind]
    extension = left.columns["extension"]
    travel = np.abs(extension[_TAKE_UP] - extension[_INSTALL])
    left.keep(travel <= longest, Reason.THREAD_LENGTH)


def _settles(left: _Left) -> None:
    """There is a zero, and a set point before full take-up."""
    _, snug, take_up = left.columns["phi"]
    zero, contact = find_zeros(left.statics, snug, take_up, left.columns["slope"][_SNUG])
    left.columns |= {"zero": zero, "contact": contact}
    left.keep(~np.isnan(zero), Reason.LEAVES_ADJUSTER)
    statics, zero, contact = left.statics, left.columns["zero"], left.columns["contact"]
    tightens = statics.layouts.tightens
    loose = statics.swing(statics.drives.loose)
    of_weight = contact & ((zero - loose) * tightens >= 0)
    left.columns |= {"of_weight": of_weight, "loose": np.where(of_weight, zero, loose)}
    within = (left.columns["phi"][_TAKE_UP] - left.columns["loose"]) * tightens >= 0
    left.keep(within, Reason.TAKE_UP)
    at = left.columns
    phi, turns, reached = set_points(
        left.statics, at["phi"], at["zero"], at["loose"], ~at["contact"]
    )
    left.columns |= {"set": phi, "turns": turns}
    left.keep(reached, Reason.TAKE_UP)


def _holds(left: _Left) -> None:
    """The adjuster carries the plate at every pull, all over the hand's error.

    Its force is linear in the pull, so that the ends of the range of pulls tell.
    """
    statics = left.statics
    strung = statics.strung(left.columns["set"])
    sign = carries_sign(statics.layouts) * np.sign(left.columns["slope"][_SNUG])
    held = np.ones(strung.tension.shape, dtype=bool)
    for load in (*statics.cases(), *statics.promised()):
        moment = statics.pulled(strung, load).moment
        nothing = _ROUNDING * (np.abs(moment) + np.abs(strung.weight))
        held &= sign * (moment + strung.weight) >= -nothing
    left.columns["strung"] = np.stack(strung)
    left.keep(np.all(held, axis=0), Reason.LEAVES_ADJUSTER)


def _bears(left: _Left) -> None:
    """Adjuster, hinge and bearings are within their limits, all over the hand's error."""
    statics = left.statics
    adjuster = statics.adjuster(left.columns["set"])
    strung = Strung(*left.columns["strung"])
    most = [np.zeros(strung.tension.shape) for _ in range(3)]
    for load in statics.cases():
        pulled = statics.pulled(strung, load)
        force = (pulled.moment + strung.weight) / adjuster.extension_slope
        hinge = statics.hinge(pulled, adjuster, force)
        if load.name == "rest":
            left.columns |= {"force": force[_SET], "hinge": hinge[_SET]}
        here = np.abs(force), hinge, statics.share_of_limit(pulled, load)
        most = [np.maximum(one, other) for one, other in zip(most, here, strict=True)]
    left.columns["share"] = most[2][_SET]
    left.columns["slope"] = adjuster.extension_slope[_SET]
    left.columns["most"] = np.max(np.stack(most), axis=1)
    limits = statics.scenario.limits
    for place, limit, reason in (
        (0, limits.adjuster, Reason.ADJUSTER_LOAD),
        (1, limits.hinge, Reason.HINGE_LOAD),
        (2, 1.0, Reason.BEARING),
    ):
        if limit is not None:
            left.keep(left.columns["most"][place] <= limit, reason)
    left.keep(_bearings_before(left) <= 1.0, Reason.BEARING)


def _bearings_before(left: _Left) -> Array:
    """Worst share of a bearing's limit from zero turns to the set point.

    The load vector is linear in the tension but for a kink where the belt stops slipping under
    the load: its size is greatest at zero, at a kink or at the set point. The adjuster may let
    the plate go on the way, but then it rides at a tension that lies between as well.
    """
    statics, drives, zero = left.statics, left.statics.drives, left.columns["zero"]
    at_zero, loose = statics.tension(zero), Strung(*left.columns["strung"]).tension[_LOOSE]
    phi = [zero]
    for tension, distance in (
        (drives.running_kink, drives.running_kink_at),
        (drives.starting_kink, drives.starting_kink_at),
    ):
        inside = (tension > at_zero) & (tension < loose)
        phi.append(np.where(inside, statics.swing(distance), zero))
    strung = statics.strung(np.stack(phi))
    shares = [
        statics.share_of_limit(statics.pulled(strung, load), load) for load in statics.cases()
    ]
    worst: Array = np.max(np.stack(shares), axis=(0, 1))
    return worst


def _measures(left: _Left) -> Measures:
    """What is told of the layouts that have passed."""
    statics, at = left.statics, left.columns
    drives, layouts = statics.drives, statics.layouts
    strung = Strung(*at["strung"])
    # The arms of the two strands add up to the slope of the belt's path.
    per_length = drives.stiffness / drives.length * np.abs(strung.arm_sum[_SET] / at["slope"])
    pitches = np.array([thread.pitch for thread in statics.space.threads])
    pull, felt = drives.pull, strung.tension[_LOOSE] - drives.centrifugal
    grip = 2.0 * felt * strung.share[_LOOSE] / np.where(pull > 0, pull, 1.0)
    return Measures(
        install=at["phi"][_INSTALL],
        snug=at["phi"][_SNUG],
        zero=at["zero"],
        loose=at["set"][_LOOSE],
        set=at["set"][_SET],
        tight=at["set"][_TIGHT],
        take_up=at["phi"][_TAKE_UP],
        contact=at["contact"],
        of_weight=at["of_weight"],
        set_turns=at["turns"],
        set_tension=strung.tension[_SET],
        tension_per_turn=per_length * pitches[layouts.thread],
        tension_per_length=per_length,
        grip_low=np.where(pull > 0, grip, np.inf),
        worst_share=at["share"],
        worst_share_tight=at["most"][2],
        adjuster=at["force"],
        adjuster_most=at["most"][0],
        hinge=at["hinge"],
        hinge_most=at["most"][1],
        bolt_travel=np.abs(at["extension"][_TAKE_UP] - at["extension"][_INSTALL]),
    )
