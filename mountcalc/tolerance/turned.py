"""Many builds with their travel, their zero and the tension that turns put into their belts.

In closed form or with few roots, all builds at once; plates rest on adjusters or on belts.
"""

from __future__ import annotations

from dataclasses import replace
from functools import cached_property

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mountcalc.equilibrium.give import tension_over_extension
from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.roots import bracketed_roots, chased_roots, stepped_roots
from mountcalc.equilibrium.solve import SolvedMount, solve_mount
from mountcalc.equilibrium.travel import LEAST_BITE
from mountcalc.linkage.center_distance import center_distance, least_length
from mountcalc.record import Record
from mountcalc.requirements.held import Held
from mountcalc.scenario.model import Acts, AdjusterKind
from mountcalc.thresholds import ROUNDING
from mountcalc.tolerance.sample import Builds

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]

# Plate angles at which the travel of every build is looked at, and between snug and its tight end.
_NODES, _FEW = 17, 9
_NEAR = 1e-12  # [rad] roots: no tension tells them apart
_ASIDE = 1e-4  # [rad] over which a slope is taken that is only stepped by


class Turned(Record):
    """Builds ready for turns; arrays (count,) of plate angles [rad], NaN where there is none.

    ``slack_end`` and ``tight_end`` bound the travel that can be used, in which the belt is
    ``snug``; ``free`` is where belt and weights alone balance, tighter than that. ``held_at_snug``
    tells where the adjuster carries the plate there. ``advance`` [m] is by how much a turn that
    tightens lengthens the adjuster, signed.
    """

    builds: Builds
    held: Held
    slack_end: Array
    tight_end: Array
    snug: Array
    free: Array
    held_at_snug: Bools
    advance: float

    def take(self, which: NDArray[np.intp]) -> Turned:
        """Some of them."""
        arrays = ("slack_end", "tight_end", "snug", "free", "held_at_snug")
        picked = {name: getattr(self, name)[which] for name in arrays}
        return replace(self, builds=self.builds.take(which), held=self.held.take(which), **picked)

    @cached_property
    def zero(self) -> Array:
        """Plate angle from which the hand counts: snug, or contact where weight takes it there."""
        return np.where(self.held_at_snug, self.snug, self.free)

    @property
    def tightens(self) -> Array:
        """Sign of dL/dphi."""
        return self.held.tightens

    def extension(self, phi: Array) -> Array:
        """Of the adjuster from its face as built [m]; NaN where there is none."""
        mount = self.held.mount
        return mount.adjuster(phi).extension if mount.has_adjuster else np.full(phi.shape, np.nan)

    def out(self, phi: Array) -> Array:
        """How far the adjuster, or its spring's end, is out with the plate at rest there [m]."""
        mount = self.held.mount
        if not mount.gives or not mount.has_adjuster:
            return self.extension(phi)
        path, adjuster = mount.path(phi), mount.adjuster(phi)
        of_belt = self.held.count * mount.tension(path.length) * path.length_slope
        force = (of_belt + self.held.weights(phi).y_slope) / adjuster.extension_slope
        return adjuster.extension + mount.give(np.where(self.carries(force), force, 0.0))

    def carries(self, force: Array) -> Bools:
        """Which axial forces the adjuster carries, compression positive [N]."""
        return carried(self.held, force)

    def turns_at(self, phi: Array) -> Array:
        """Turns from zero with the plate at rest at plate angles, on the adjuster [-]."""
        return (self.out(phi) - self.out(self.zero)) / self.advance

    @property
    def zero_from_drawn(self) -> Array:
        """Turns from where the adjuster is set as drawn to zero [-], positive if they tighten."""
        return (self.out(self.zero) + self.builds.beyond) / self.advance

    def angle_after(self, turns: Array) -> Array:
        """Plate angle at which the adjuster is at turns [-], of any shape (..., count).

        NaN past an end of the travel.
        """
        wanted, mount = self.out(self.zero) + self.advance * turns, self.held.mount
        one, other = self.out(self.slack_end), self.out(self.tight_end)
        inside = (wanted >= np.minimum(one, other)) & (wanted <= np.maximum(one, other))
        # What lies past an end, or is no build at all, is looked for where there is an answer.
        sought, usable = np.where(inside, wanted, one), np.isfinite(one + other)
        start = self.slack_end + (sought - one) / (other - one) * (self.tight_end - self.slack_end)
        low = np.where(usable, np.minimum(self.slack_end, self.tight_end), 0.0)
        high = np.where(usable, np.maximum(self.slack_end, self.tight_end), 0.0)
        start = np.where(usable, start, 0.0)

        def excess(phi: Array) -> tuple[Array, Array]:
            at = mount.adjuster(phi)
            return (
                np.where(usable, at.extension - sought, 0.0),
                np.where(usable, at.extension_slope, 1.0),
            )

        ends = (np.broadcast_to(end, wanted.shape) for end in (low, high))
        if mount.gives:
            # From snug on, by what belt and weights ask for there.
            snug = np.where(usable, self.snug, 0.0)
            near = snug + _ASIDE * self.tightens * np.sign((sought - self.out(snug)) * self.advance)
            slope = (self.out(near) - self.out(snug)) / (near - snug)
            begin = np.broadcast_to(snug, wanted.shape)

            def miss(phi: Array) -> Array:
                return np.where(usable, self.out(phi) - sought, 0.0)

            return np.where(inside, chased_roots(miss, begin, slope, *ends), np.nan)
        return np.where(inside, stepped_roots(excess, start, *ends), np.nan)

    def at_rest(self, turns: Array) -> tuple[Array, Array]:
        """Tension of one strand at rest [N], and what a turn adds there [N], of shape (..., count).

        NaN past an end of the travel. Where the adjuster does not carry the plate, it rests on the
        belt; that has no tension where weights slacken it.
        """
        mount = self.held.mount
        if not mount.has_adjuster:
            tension, _ = np.broadcast_arrays(self.held.tension(self.free), turns)
            return tension, np.full(tension.shape, np.nan)
        phi = self.angle_after(turns)
        path, adjuster = mount.path(phi), mount.adjuster(phi)
        tension = mount.tension(path.length)
        moment = self.held.count * tension * path.length_slope + self.held.weights(phi).y_slope
        alone = np.nan_to_num(self.held.tension(self.free))
        carried = self.carries(moment / adjuster.extension_slope)
        per_turn = self.advance * tension_over_extension(mount, phi)
        gone = np.isnan(phi)
        return (
            np.where(carried | gone, tension, alone),
            np.where(gone, np.nan, np.where(carried & (tension > 0), per_turn, 0.0)),
        )


def carried(held: Held, force: Array) -> Bools:
    """Which axial forces adjusters carry, compression positive [N]."""
    acts = held.mount.scenario.adjuster.acts
    if acts is Acts.PUSH:
        return force >= 0.0
    return force <= 0.0 if acts is Acts.PULL else np.isfinite(force)


def rest_tensions(
    builds: Builds, turns: ArrayLike, *, as_missed: bool = False
) -> tuple[Array, Array]:
    """Tension of one strand at rest [N], and what a turn adds there [N], of shape (turns, count).

    ``turns`` [-] are counted from each build's own zero, ``as_missed`` with the hand's errors in
    zero and turns. As for :meth:`Turned.at_rest`; MountError where the drawing has no zero.
    """
    drawn, wanted = solve_mount(Mount.of(builds.scenario)), np.atleast_1d(turns)[:, np.newaxis]
    parts = []
    for some in builds.blocks():
        missed = some.hand.sum(axis=0) if as_missed else np.zeros(some.count)
        with np.errstate(invalid="ignore", divide="ignore"):
            parts.append(turned(some, drawn).at_rest(wanted + missed))
    tension, per_turn = (np.concatenate(part, axis=1) for part in zip(*parts, strict=True))
    return tension, per_turn


def turned(builds: Builds, drawn: SolvedMount) -> Turned:
    """Find travel and zero of every build; ``drawn`` is the mount as it is drawn, solved."""
    mount, scenario = builds.mount, builds.scenario
    radii = scenario.motor.pulley_radius, scenario.driven.pulley_radius
    length = np.maximum(mount.length, least_length(*radii))
    held = Held(
        mount,
        float(scenario.belt.count),
        mount.pull,
        mount.centrifugal_tension,
        center_distance(length, *radii),
        np.full(builds.count, float(drawn.travel.tightens)),
    )
    with np.errstate(invalid="ignore", divide="ignore"):
        snug = held.swing(held.snug)
        ends = _usable(held, snug)
        snug = np.where(np.isfinite(ends[1]), snug, np.nan)
        free = _free(held, snug, ends[1])
        held_at_snug = np.zeros(builds.count, dtype=bool)
        if mount.has_adjuster:
            weight = held.weights(snug).y_slope
            weight = np.where(np.abs(weight) <= ROUNDING * mount.weight_scale, 0.0, weight)
            held_at_snug = carried(held, weight / mount.adjuster(snug).extension_slope)
    advance = drawn.advance if mount.has_adjuster else np.nan
    return Turned(builds, held, *ends, snug, free, held_at_snug, advance)


def _usable(held: Held, snug: Array) -> tuple[Array, Array]:
    """Slack and tight end of the stretch about snug that can be used; NaN where snug is in none."""
    mount, scenario = held.mount, held.mount.scenario
    low, high = scenario.plate.travel
    touching = scenario.motor.pulley_radius + scenario.driven.pulley_radius
    jack = mount.has_adjuster and scenario.adjuster.kind is not AdjusterKind.LINK
    at_snug = mount.adjuster(snug) if mount.has_adjuster else None

    def clear(phi: Array) -> Array:
        """Above zero where nothing has ended yet, as `limits` of the ordinary travel has it."""
        path = mount.path(phi)
        found = [path.center_distance - touching, held.tightens * path.length_slope]
        if at_snug is not None:
            adjuster = mount.adjuster(phi)
            found.append(np.sign(at_snug.extension_slope) * adjuster.extension_slope)
            if jack:  # of the same sign, so that a narrow place between two nodes is no gap
                found.append(np.sign(at_snug.bite) * adjuster.bite - LEAST_BITE)
        least: Array = np.min(np.stack(found), axis=0)
        return least

    within = (snug >= low) & (snug <= high) & (clear(snug) > 0)
    nodes = np.linspace(low, high, _NODES)[:, np.newaxis]
    bad, (first, step) = ~(clear(nodes) > 0), (np.where(within, snug, 0.0), nodes[1, 0] - low)
    ends = []
    for way in (-held.tightens, held.tightens):
        end, ahead = np.where(way > 0, high, low), bad & (way * (nodes - snug) > 0)
        cut = within & np.any(ahead, axis=0)
        if np.any(cut):
            nearest = np.argmin(np.where(ahead, way * nodes, np.inf), axis=0)
            past = np.where(cut, nodes[nearest, 0], first)
            before = np.where(cut, way * np.maximum(way * (past - way * step), way * first), first)
            end = np.where(cut, bracketed_roots(clear, before, past, _NEAR), end)
        ends.append(np.where(within, end, np.nan))
    return ends[0], ends[1]


def _free(held: Held, snug: Array, end: Array) -> Array:
    """Where belt and weights balance at rest, going on from snug to the tight end; NaN if not."""

    def net(phi: Array) -> Array:
        path = held.mount.path(phi)
        tension = held.mount.tension(path.length)
        return held.tightens * (
            held.count * tension * path.length_slope + held.weights(phi).y_slope
        )

    nodes = snug + np.linspace(0.0, 1.0, _FEW)[:, np.newaxis] * (end - snug)
    values = net(nodes)
    found = (values[0] < 0) & np.any(values > 0, axis=0)
    if not np.any(found):
        return np.full(snug.shape, np.nan)
    at = np.where(found, np.argmax(values > 0, axis=0), 1)
    columns = np.arange(snug.size)
    # What has no root is left where it is snug.
    low = np.where(found, nodes[at - 1, columns], snug)
    high = np.where(found, nodes[at, columns], snug)
    root = bracketed_roots(net, np.nan_to_num(low), np.nan_to_num(high), _NEAR)
    return np.where(found, root, np.nan)
