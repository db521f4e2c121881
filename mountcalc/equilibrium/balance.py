"""What the plate rests on: the adjuster, the belt, or nothing.

A load asks each belt for a pull. Where the belt is too slack for it, it slips and carries
what it can. With the felt strand pulls at their lines of action and the weights, the net
moment on the plate is

    G(phi) = n [T1 - Tc]+ a1 + n [T2 - Tc]+ a2 + sum W y'(phi)      (clockwise positive)

Held by the adjuster at s(phi) = s the axial force is F = G / s'. If the adjuster cannot
carry that force the plate leaves it in the direction of the net moment (-G) and settles at
the first angle at which G = 0.

Where something gives between adjuster and plate, by g(F), and the adjuster's end is at s_adj, the
plate rests where s(phi) + g(F) = s_adj with F = G / s': in compression for an adjuster that pushes,
in tension for one that pulls. From where what gives carries nothing the plate moves to the first
such angle, or to the first at which G = 0 with the adjuster clear.
"""

from __future__ import annotations

from functools import cached_property
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from mountcalc.equilibrium.mount import Mount, Numbers, Pulls
from mountcalc.equilibrium.roots import bracketed_roots, chased_roots, roots_between_nodes
from mountcalc.equilibrium.states import State
from mountcalc.equilibrium.travel import Travel
from mountcalc.formulas.belt import strand_tensions
from mountcalc.linkage.kernels import AdjusterState
from mountcalc.record import Record
from mountcalc.scenario.model import Acts
from mountcalc.thresholds import EPS, ROUNDING

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]

# What an angle [rad] that was found from an extension may be off.
_ANGLE_ROUNDING = 256 * EPS

# What the place of an adjuster's end may be off [m].
_LENGTH_ROUNDING = 4 * EPS
_DEAD = 1e-30  # [m/rad]

_NODES = 1025
# Demands whose roots are remembered; more are those of single settings.
_MOST_REMEMBERED = 32


class Demand(Record):
    """What a load case asks of each belt.

    ``pull`` [N] may be infinite: all that the belt can carry; or an array, one for each setting.
    ``centrifugal`` [N] is the centrifugal tension at that moment.
    """

    pull: Numbers
    centrifugal: float


class Position(Record):
    """Plate angles with all that the balance needs there, whatever the demand."""

    phi: Array
    tension: Array
    pulls: Pulls
    weight: Array
    adjuster: AdjusterState | None

    def half_pull(self, demand: Demand) -> Array:
        """Half the pull that each belt delivers: what is asked, or what it can carry [N]."""
        felt = np.maximum(self.tension - demand.centrifugal, 0.0)
        half: Array = np.minimum(0.5 * demand.pull, felt * self.pulls.share)
        return half

    def felt(self, demand: Demand) -> tuple[Array, Array]:
        """Felt tight and slack tension of one belt, never below zero [N]."""
        tight, slack = strand_tensions(self.tension, 2.0 * self.half_pull(demand))
        return (
            np.maximum(tight - demand.centrifugal, 0.0),
            np.maximum(slack - demand.centrifugal, 0.0),
        )


class Settled(NamedTuple):
    """Where the plate is: state and plate angle [rad] (NaN in no balance), and what it carries.

    ``adjuster`` is the axial force [N], compression positive, 0 out of contact; ``at`` the
    position, of use only where the plate is held or riding.
    """

    state: NDArray[np.str_]
    phi: Array
    adjuster: Array
    at: Position


class Balance(Record):
    """The balance of one mount over its usable travel, or of many that share a scenario.

    Numbers of many mounts have the shape (m, 1).
    """

    mount: Mount
    travel: Travel

    def at(self, phi: Array, *mounts: NDArray[np.intp]) -> Position:
        """Everything that the balance needs at plate angles [rad]; of many, for some mounts."""
        mount = self.mount.rows(*mounts) if mounts else self.mount
        return Position(
            phi,
            mount.tension(mount.path(phi).length),
            mount.pulls(phi),
            mount.weight_moment(phi),
            mount.adjuster(phi) if mount.has_adjuster else None,
        )

    def net(self, at: Position, demand: Demand) -> Array:
        """G [N m], clockwise positive."""
        tight, slack = at.felt(demand)
        pulls = at.pulls
        return self.mount.count * (tight * pulls.tight_arm + slack * pulls.slack_arm) + at.weight

    def nothing(self, at: Position, demand: Demand) -> Array:
        """Net moment [N m] that is no more than rounding, of moments or of the angle itself.

        The sizes of the moments in play are summed, the weights at their full lever.
        """
        (tight, slack), mount, arms = at.felt(demand), self.mount, at.pulls
        sizes = mount.count * (tight * np.abs(arms.tight_arm) + slack * np.abs(arms.slack_arm))
        slope = (arms.tight_arm + arms.slack_arm) ** 2 * mount.count * mount.stiffness
        of_moments = ROUNDING * (sizes + mount.weight_scale + np.finfo(float).tiny)
        return np.maximum(of_moments, _ANGLE_ROUNDING * slope / mount.length)

    @cached_property
    def nodes(self) -> Position:
        """The usable travel, sampled once for every load case; snug is one of the nodes."""
        low, high, snug = (
            np.asarray(angle)
            for angle in (self.travel.low.angle, self.travel.high.angle, self.travel.snug)
        )
        span = np.linspace(0.0, 1.0, _NODES)
        phi = np.linspace(low, high, _NODES) if low.ndim == 0 else low + (high - low) * span
        return self.at(np.sort(np.append(phi, snug) if low.ndim == 0 else np.c_[phi, snug]))

    @cached_property
    def _known_roots(self) -> dict[Demand, Array]:
        return {}

    def roots(self, demand: Demand) -> Array:
        """All plate angles in the usable travel at which the free plate balances.

        Increasing, shape (r,); of many mounts (m, r), NaN where one has fewer.
        """
        if demand not in self._known_roots:
            if len(self._known_roots) >= _MOST_REMEMBERED:
                self._known_roots.clear()
            self._known_roots[demand] = roots_between_nodes(
                lambda phi, *mounts: self.net(self.at(phi, *mounts), demand),
                self.nodes.phi,
                self.net(self.nodes, demand),
            )
        return self._known_roots[demand]

    def settle(self, start: Position, demand: Demand, extension: Array | None = None) -> Settled:
        """Where the plate comes to rest under a demand, for each start.

        There a rigid adjuster holds the plate, or one that gives carries nothing whose end is at an
        ``extension`` [m].
        """
        left = self._left(start, demand, extension)
        left = np.where(np.abs(left) <= self._spare(start, demand, extension), 0.0, left)
        still, way, force = left == 0, -np.sign(left), np.zeros_like(left)
        held = np.zeros(left.shape, dtype=bool)
        if start.adjuster is not None and extension is None:
            force = left / start.adjuster.extension_slope + 0.0
            held = self.borne(force) == force
        phi, at = start.phi, start
        if not np.all(held | still):
            phi = np.where(held | still, phi, self._next_balance(phi, way, demand, extension))
            at = self.at(np.where(np.isfinite(phi), phi, start.phi))
        found = np.isfinite(phi)
        if extension is not None:
            assert at.adjuster is not None
            # From the moments: the length of what is stiff changes by less than rounding.
            force = self.borne(self.net(at, demand) / self._slope(at.adjuster))
            given = extension - at.adjuster.extension
            spare = self._spare(at, demand, extension)
            held = found & (np.abs(self.borne(given) - given) <= spare)
        state = np.select(
            [held, found & (at.tension > 0), ~found & (way == self.travel.tightens)],
            [State.HELD, State.RIDING, State.AT_STOP],
            State.NO_BALANCE,
        )
        there = np.where(state == State.NO_BALANCE, np.nan, phi)
        stopped = np.where(state == State.AT_STOP, self.travel.tight_angle, there)
        return Settled(state, stopped, np.where(held, force, 0.0), at)

    def borne(self, force: Array) -> Array:
        """What the adjuster can carry of a force, compression positive [N]."""
        acts = self.mount.scenario.adjuster.acts
        if acts is Acts.PUSH:
            return np.maximum(force, 0.0)
        return np.minimum(force, 0.0) if acts is Acts.PULL else force

    def _left(self, at: Position, demand: Demand, extension: Array | None) -> Array:
        """What moves the plate: the net moment of a free or rigidly held one [N m].

        Of one whose adjuster gives, how much too long it is there [m], of the moment's sign.
        """
        net = self.net(at, demand)
        if extension is None:
            return net
        assert at.adjuster is not None
        force, acts = net / self._slope(at.adjuster), self.mount.scenario.adjuster.acts
        left = at.adjuster.extension + self.mount.give(force) - extension
        # Where the adjuster cannot carry the force, the plate leaves it as if it were not there.
        free = force * self.mount.length / self.mount.stiffness
        if acts is Acts.PUSH:
            left = np.minimum(left, free)
        elif acts is Acts.PULL:
            left = np.maximum(left, free)
        return self.travel.extends * left

    def _slope(self, adjuster: AdjusterState) -> Array:
        """ds/dphi, next to nothing at a dead centre, where a force is without end."""
        slope: Array = self.travel.extends * np.maximum(np.abs(adjuster.extension_slope), _DEAD)
        return slope

    def _spare(self, at: Position, demand: Demand, extension: Array | None) -> Array:
        """Of that, what is no more than rounding."""
        nothing = self.nothing(at, demand)
        if extension is None:
            return nothing
        assert at.adjuster is not None
        force = nothing / np.abs(self._slope(at.adjuster))
        return self.mount.give(force) + _LENGTH_ROUNDING

    def has_several_places(self, demand: Demand, extension: Array) -> Bools:
        """Whether a plate whose adjuster gives has several places of rest, for each end of it.

        Of many mounts, for each mount whether it may have them at any.
        """
        if self.nodes.phi.ndim > 1:
            curve = self._ends_at_nodes(demand)
            rises, falls = curve[:, 1:] >= curve[:, :-1], curve[:, 1:] <= curve[:, :-1]
            monotonic: Bools = np.all(rises, axis=1) | np.all(falls, axis=1)
            return ~monotonic
        if self._curve(demand) is not None:
            return np.zeros(extension.shape, dtype=bool)
        signs = np.sign(self._left(self.nodes, demand, extension[:, np.newaxis]))
        several: Bools = np.count_nonzero(np.diff(signs, axis=1), axis=1) > 1
        for place in np.flatnonzero(several):
            row = signs[place]  # a node on a root is one change
            several[place] = np.count_nonzero(np.diff(row[row != 0])) > 1
        return several

    @cached_property
    def _known_curves(self) -> dict[Demand, tuple[Array, Array] | None]:
        return {}

    def _curve(self, demand: Demand) -> tuple[Array, Array] | None:
        """Of one mount, the adjuster's ends with the plate at rest at nodes, rising, and these.

        None where the plate may have several places of rest for one end.
        """
        if np.ndim(demand.pull):
            return None
        if demand not in self._known_curves:
            if len(self._known_curves) >= _MOST_REMEMBERED:
                self._known_curves.clear()
            curve, phi = self._ends_at_nodes(demand), self.nodes.phi
            if curve[0] > curve[-1]:
                curve, phi = curve[::-1], phi[::-1]
            rises = bool(np.all(curve[1:] >= curve[:-1]))
            self._known_curves[demand] = (curve, phi) if rises else None
        return self._known_curves[demand]

    def _root_on_curve(self, demand: Demand, extension: Array, curve: Array, phi: Array) -> Array:
        """The one place of rest for each end of an adjuster, NaN where there is none."""
        after, last = np.searchsorted(curve, extension), curve.size - 1
        inside = (after > 0) & (after <= last)
        after = np.clip(after, 1, last)
        # One node further to either side, where rounding does not touch the signs.
        ends = np.sort([phi[np.maximum(after - 2, 0)], phi[np.minimum(after + 1, last)]], axis=0)

        def left(angle: Array) -> Array:
            return self._left(self.at(angle), demand, extension)

        with np.errstate(invalid="ignore"):  # where the adjuster cannot carry it at either
            rise, step = curve[after] - curve[after - 1], phi[after] - phi[after - 1]
        if np.all((np.isfinite(rise) & (rise > 0)) | ~inside):
            with np.errstate(invalid="ignore", divide="ignore"):
                start = phi[after - 1] + step * (extension - curve[after - 1]) / rise
                slope = np.where(inside, self.travel.extends * rise / step, 1.0)
            found = chased_roots(left, np.where(inside, start, phi[after]), slope, *ends)
        else:
            found = bracketed_roots(left, *ends)
        found = np.where(inside, found, np.nan)
        for which, end in ((after == 1, phi[0]), (after == last, phi[-1])):
            if np.any(which):  # not moved past it by rounding
                at = self.at(np.full(extension.shape, end))
                left_there = np.abs(self._left(at, demand, extension))
                is_there = which & (left_there <= self._spare(at, demand, extension))
                found = np.where(is_there, end, found)
        return found

    def _ends_at_nodes(self, demand: Demand) -> Array:
        """Where the adjuster's end is with the plate at rest at each node [m].

        Without end where the adjuster cannot carry the plate, which leaves it there whatever gives.
        Where this is monotonic the plate has one place of rest for each place of the end.
        """
        nodes, acts = self.nodes, self.mount.scenario.adjuster.acts
        assert nodes.adjuster is not None
        force = self.net(nodes, demand) / self._slope(nodes.adjuster)
        end = nodes.adjuster.extension + self.mount.give(force)
        never = np.inf if acts is Acts.PULL else -np.inf
        return np.where(self.borne(force) == force, end, never)

    def _roots_of_giving(self, demand: Demand, extension: Array) -> Array:
        """The one place of rest of each of many mounts, NaN where there is none."""
        curve, phi = self._ends_at_nodes(demand), self.nodes.phi
        falls = (curve[:, :1] > curve[:, -1:]) * np.ones(extension.shape, dtype=bool)
        upwards = np.where(falls[:, :1], curve[:, ::-1], curve)
        pairs = zip(upwards, extension, strict=True)
        after = np.stack([np.searchsorted(row, wanted) for row, wanted in pairs])
        last = phi.shape[1] - 1
        after = np.where(falls, last + 1 - after, after)
        inside = (after > 0) & (after <= last)
        # One node further to either side, where rounding does not touch the signs.
        low, high = (np.clip(after + step * inside, 0, last) for step in (-2, 1))

        def left(angle: Array) -> Array:
            return self._left(self.at(angle), demand, extension)

        below, above = (np.take_along_axis(phi, at, axis=1) for at in (low, high))
        found = np.where(inside, bracketed_roots(left, below, above), np.nan)
        for end in (phi[:, :1], phi[:, -1:]):  # not moved past it by rounding
            is_there = np.abs(left(end)) <= self._spare(self.at(end), demand, extension)
            found = np.where(is_there, end, found)
        return found

    def _next_balance(
        self, start: Array, way: Array, demand: Demand, extension: Array | None
    ) -> Array:
        """The first balance from a start in a direction (+1 or -1); NaN where there is none."""
        if extension is None and np.ndim(demand.pull) == 0:
            roots = self.roots(demand)[..., np.newaxis, :]
        elif extension is not None and self.nodes.phi.ndim > 1:
            roots = self._roots_of_giving(demand, extension)[..., np.newaxis]
        elif extension is not None and (known := self._curve(demand)) is not None:
            roots = self._root_on_curve(demand, extension, *known)[..., np.newaxis]
        else:  # each setting has its own
            roots = self._roots_of_each(demand, extension)
        ahead = way[..., np.newaxis] * (roots - start[..., np.newaxis]) > 0
        first = np.min(np.where(ahead, roots, np.inf), axis=-1, initial=np.inf)
        last = np.max(np.where(ahead, roots, -np.inf), axis=-1, initial=-np.inf)
        found = np.where(way > 0, first, last)
        return np.where(np.isfinite(found), found, np.nan)

    def _roots_of_each(self, demand: Demand, extension: Array | None) -> Array:
        def asked(*settings: NDArray[np.intp]) -> tuple[Demand, Array | None]:
            rows = settings or (slice(None), np.newaxis)
            pull = demand.pull[rows] if isinstance(demand.pull, np.ndarray) else demand.pull
            ends = None if extension is None else extension[rows]
            return Demand(pull, demand.centrifugal), ends

        values = np.array(self._left(self.nodes, *asked()))
        # A plate at rest at an end of the travel is not moved past it by rounding.
        is_nothing = np.abs(values) <= self._spare(self.nodes, *asked())
        values[:, [0, -1]] = np.where(is_nothing, 0.0, values)[:, [0, -1]]
        return roots_between_nodes(
            lambda phi, *settings: self._left(self.at(phi), *asked(*settings)),
            self.nodes.phi,
            values,
        )
