"""Solve a mount for turns of its adjuster: state, position and forces of every load case."""

from __future__ import annotations

import math
from functools import cached_property
from typing import NamedTuple

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mountcalc.equilibrium.balance import Balance, Demand, Position, Settled
from mountcalc.equilibrium.grip import Grip, find_grip, has_several_ways
from mountcalc.equilibrium.mount import Mount, Numbers
from mountcalc.equilibrium.roots import stepped_roots
from mountcalc.equilibrium.states import State, ZeroKind
from mountcalc.equilibrium.travel import End, EndReason, Travel, usable_travel
from mountcalc.linkage.center_distance import center_distance
from mountcalc.linkage.kernels import swing_to
from mountcalc.record import Record
from mountcalc.thresholds import ROUNDING

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]

AT_REST = Demand(pull=0.0, centrifugal=0.0)
# A turn that asks for less than this past the end of the travel [m] is at the end.
_LENGTH_ROUNDING = 1e-12
# A belt that slips has been asked for a hair more than its grip.
_JUST_OVER = 1.0 + 1e-6
# Share of the way from snug to a dead centre of the adjuster that a spring is not taken to: the
# force that holds the plate there grows without end.
_SHORT_OF_DEAD_CENTRE = 0.01


class AdjusterPosition(Record):
    """Where the adjuster holds the plate at some turns, if it does.

    ``turns`` [-], ``extension`` [m] and ``angle`` [rad] have one entry a turn; ``inside`` is
    False where the travel ends first (``angle`` is then that of the end). Behind a spring it is
    where the spring's end is, and the angle at which the spring would carry nothing. ``at`` is the
    plate there.
    """

    turns: Array
    extension: Array
    angle: Array
    inside: Bools
    at: Position


class CaseSolution(Record):
    """One load case over all turns; NaN where the state leaves nothing to say.

    ``tight`` and ``slack`` [N] are one belt's, centrifugal part included; ``shaft_force`` [N]
    (shape (..., 2)) is what all belts together pull the driven shaft with, as it feels it;
    ``hinge`` [N] (..., 2) the hinge's reaction on the plate.
    """

    state: NDArray[np.str_]
    phi: Array
    tension: Array
    pull: Array
    tight: Array
    slack: Array
    shaft_force: Array
    adjuster: Array
    hinge: Array
    grip: Grip
    slips: Bools


class Cases(NamedTuple):
    """The three load cases over the same turns."""

    rest: CaseSolution
    running: CaseSolution
    starting: CaseSolution


class Reference(Record):
    """Zero, where turns are counted from: the position that a hand can find.

    ``plate_angle`` [rad] is NaN only where there is no adjuster and weight finds no balance;
    ``state`` is that at rest there.
    """

    kind: ZeroKind
    plate_angle: float
    state: State


class SolvedMount(Record):
    """A mount with its usable travel and its zero: ready for any turns and any load.

    Behind a spring, zero is where a rigid adjuster has it, by the plate: at snug the spring already
    carries what holds the plate there.
    """

    mount: Mount
    travel: Travel
    balance: Balance
    zero: Reference

    @cached_property
    def zero_extension(self) -> float:
        """Extension of the adjuster at zero [m]; behind a spring, where the spring's end is."""
        return self._extension(self.zero.plate_angle)

    @property
    def advance(self) -> float:
        """Change of extension for one turn that tightens [m], signed."""
        advance = self.mount.scenario.adjuster.advance_per_turn
        assert advance is not None
        return self.travel.turn_sign * advance

    def turns_at(self, end: End) -> float:
        """Turns to an end of the usable travel with the plate at rest, a hair before a dead one."""
        turns = (self._end_extension(end) - self.zero_extension) / self.advance
        return turns * (1 - ROUNDING) if end.is_dead else turns

    def extension_at(self, angle: ArrayLike) -> Array:
        """Where the adjuster, or its spring's end, is with the plate at rest at angles [m].

        Of a plate that it cannot carry there, where it touches.
        """
        adjuster = self.mount.adjuster(angle)
        if not self.mount.gives:
            return adjuster.extension
        at = self.balance.at(np.asarray(angle))
        with np.errstate(divide="ignore", invalid="ignore"):  # at a dead centre none holds it
            force = self.balance.net(at, AT_REST) / adjuster.extension_slope
        return adjuster.extension + self.mount.give(self.balance.borne(force))

    def _extension(self, angle: float) -> float:
        extension = self.extension_at(angle)
        # Of many mounts, their array.
        return float(extension) if extension.ndim == 0 else extension  # type: ignore[return-value]

    def _end_extension(self, end: End) -> float:
        angle = end.angle
        if self.mount.gives and end.reason is EndReason.ADJUSTER_DEAD_CENTRE:
            angle += _SHORT_OF_DEAD_CENTRE * (self.travel.snug - angle)
        return self._extension(angle)

    @cached_property
    def _end_extensions(self) -> tuple[float, float]:
        return self._end_extension(self.travel.low), self._end_extension(self.travel.high)

    def with_stiffness(self, stiffness: Numbers) -> SolvedMount:
        """The same mount with another belt stiffness [N], its zero found anew."""
        return self.with_mount(self.mount.with_stiffness(stiffness))

    def with_mount(self, mount: Mount) -> SolvedMount:
        """Another mount with the same linkage and belt length, which have the same travel."""
        balance = Balance(mount, self.travel)
        return SolvedMount(mount, self.travel, balance, _zero(balance))

    def angle_for(self, tension: ArrayLike) -> Array:
        """Plate angle [rad] at which one strand of one belt has a rest tension [N], of any shape.

        From snug to the tight end of the travel, and one of these for what lies beyond.
        """
        mount, snug, end = self.mount, self.travel.snug, self.travel.tight_angle
        most = mount.tension(mount.path(end).length)
        wanted = np.clip(tension, 0.0, most)
        motor, driven = mount.scenario.motor, mount.scenario.driven
        length = mount.length * (1.0 + wanted / mount.stiffness)
        apart = center_distance(length, motor.pulley_radius, driven.pulley_radius)
        with np.errstate(invalid="ignore"):
            both = swing_to(apart, *mount.hinge, *mount.motor_shaft, *mount.driven_shaft)
        phi = both.counter_clockwise if self.travel.tightens > 0 else both.clockwise
        phi = phi + math.tau * np.round((snug - phi) / math.tau)
        return np.where(wanted >= most, end, np.clip(phi, min(snug, end), max(snug, end)))

    def place(self, turns: ArrayLike) -> AdjusterPosition:
        """Where the adjuster holds the plate at turns [-] from zero, one entry a turn.

        A single one without an adjuster. MountError where a dead centre lies between zero and one
        of the turns; a spring gives way there.
        """
        travel, turn = self.travel, np.atleast_1d(np.asarray(turns, dtype=float))
        if not self.mount.has_adjuster:
            angle = np.atleast_1d(np.asarray(self.zero.plate_angle))
            nothing, inside = np.full(angle.shape, np.nan), np.ones(angle.shape, dtype=bool)
            at = self.balance.at(np.where(np.isfinite(angle), angle, travel.snug))
            return AdjusterPosition(nothing, nothing, angle, inside, at)
        extension = self.zero_extension + self.advance * turn
        one, other = self._end_extensions
        inside = (extension >= np.minimum(one, other) - _LENGTH_ROUNDING) & (
            extension <= np.maximum(one, other) + _LENGTH_ROUNDING
        )
        if not self.mount.gives:
            self._refuse_dead_centre(turn, extension, inside)
        angle = self._angle_at(extension)
        if not self.mount.gives:
            # Found from its extension, zero would be off by the rounding of an angle.
            angle = np.where(turn == 0, self.zero.plate_angle, angle)
        return AdjusterPosition(turn, extension, angle, inside, self.balance.at(angle))

    def _angle_at(self, extension: Array) -> Array:
        """Plate angle at which the adjuster has an extension, that of an end for what lies beyond.

        Between dead centres the extension is monotonic: the root lies between two nodes.
        """
        mount, ends = self.mount, (self.travel.low.angle, self.travel.high.angle)

        def excess(phi: Array) -> tuple[Array, Array]:
            adjuster = mount.adjuster(phi)
            return adjuster.extension - wanted, adjuster.extension_slope

        if np.ndim(ends[0]):  # many mounts
            one, other = (mount.adjuster(end).extension for end in ends)
            wanted = np.clip(extension, np.minimum(one, other), np.maximum(one, other))
            low, high = (np.broadcast_to(end, wanted.shape) for end in ends)
            start = low + (wanted - one) / (other - one) * (high - low)
            return stepped_roots(excess, start, low, high)
        nodes = self.balance.nodes
        assert nodes.adjuster is not None
        known, phi = nodes.adjuster.extension, nodes.phi
        if known[-1] < known[0]:
            known, phi = known[::-1], phi[::-1]
        wanted = np.clip(extension, known[0], known[-1])
        at = np.clip(np.searchsorted(known, wanted), 1, known.size - 1)
        start = np.interp(wanted, known, phi)
        return stepped_roots(excess, start, *np.sort([phi[at - 1], phi[at]], axis=0))

    def _refuse_dead_centre(self, turn: Array, extension: Array, inside: Bools) -> None:
        if np.all(inside):
            return
        for end in (end for end in (self.travel.low, self.travel.high) if end.is_dead):
            at = self._extension(end.angle)
            past = ~inside & ((extension > at) if at > self.zero_extension else (extension < at))
            if np.any(past):
                limit = (at - self.zero_extension) / self.advance
                raise self.mount.error(
                    "turns",
                    f"between zero and {turn[past][0]:g} turns, at {limit:.2f} turns and a "
                    f"plate angle of {math.degrees(end.angle):.2f} deg, {end.reason.value}; ask "
                    "for fewer turns, or move the hinge or the adjuster so that this lies outside "
                    "the travel",
                )

    def at_rest(self, turns: ArrayLike) -> CaseSolution:
        """The mount at rest at turns [-] from zero, its grip not told."""
        return self.case(self.place(turns), AT_REST, with_grip=False)

    @property
    def demands(self) -> dict[str, Demand]:
        """What rest, running and starting ask of the belts.

        The belt has not come up to speed as it starts: no centrifugal tension there.
        """
        mount = self.mount
        starting = mount.scenario.driven.starting_factor * mount.pull
        return {
            "rest": AT_REST,
            "running": Demand(mount.pull, mount.centrifugal_tension),
            "starting": Demand(starting, 0.0),
        }

    def cases(self, placed: AdjusterPosition, *, with_grip: bool = True) -> Cases:
        """Rest, running and starting; with no balance at rest there is none in the others."""
        rest = self.case(placed, AT_REST, with_grip=False)
        lost = rest.state == State.NO_BALANCE
        others = (
            self.case(placed, self.demands[name], with_grip=with_grip, lost=lost)
            for name in ("running", "starting")
        )
        return Cases(rest, *others)

    def case(
        self,
        placed: AdjusterPosition,
        demand: Demand,
        *,
        with_grip: bool = True,
        lost: Bools | None = None,
    ) -> CaseSolution:
        """Solve one load case, one entry for each place in which the adjuster holds the plate.

        Without the grip, it is NaN, and slip is still told; ``lost`` says where there is no balance
        whatever this case asks for.
        """
        balance, mount, start, shape = self.balance, self.mount, placed.at, placed.angle.shape
        extension = placed.extension if mount.gives else None
        several = np.zeros(shape, dtype=bool)
        is_somewhere = bool(np.all(np.isfinite(placed.angle)))
        if is_somewhere:
            settled = balance.settle(start, demand, extension)
            if extension is None and demand.pull:
                several = has_several_ways(balance, start, demand)
        else:  # no adjuster, and weight alone finds no balance
            state = np.full(shape, self.zero.state.value)
            settled = Settled(state, placed.angle, np.zeros(shape), start)
        grip = Grip(np.full(shape, np.nan))
        if np.any(several) or (with_grip and (is_somewhere or not mount.pull)):
            grip = find_grip(balance, start, demand, several, extension)
        slips: Bools = 2.0 * settled.at.half_pull(demand) < demand.pull
        if np.any(several):
            delivered = grip.value * mount.pull
            slips = np.where(several, delivered < demand.pull, slips)
            # What slips on one of several ways is settled at the pull that it delivers.
            again = several & slips & (settled.state != State.NO_BALANCE)
            if mount.has_adjuster and np.any(again):
                pull = np.where(again, delivered * _JUST_OVER, demand.pull)
                settled = balance.settle(start, Demand(pull, demand.centrifugal))
        state = settled.state
        if lost is not None:
            state = np.where(lost, State.NO_BALANCE, state)
            value = np.where(lost & ~np.isposinf(grip.value), 0.0, grip.value)
            grip = Grip(value, grip.reason)
        state = np.where(placed.inside, state, State.BEYOND_TRAVEL)
        return self._solution(settled._replace(state=state), demand, grip, slips)

    def _solution(self, settled: Settled, demand: Demand, grip: Grip, slips: Bools) -> CaseSolution:
        """Forces where the plate rests on something."""
        at, force, state = settled.at, settled.adjuster, settled.state
        loaded = (state == State.HELD) | (state == State.RIDING)
        blank = np.where(loaded, 1.0, np.nan)
        pair, half = blank[..., np.newaxis], at.half_pull(demand)
        tight, slack = at.felt(demand)
        on_motor = self.mount.count * (
            tight[..., np.newaxis] * at.pulls.tight + slack[..., np.newaxis] * at.pulls.slack
        )
        hinge = -on_motor
        hinge[..., 1] += self.mount.weight
        if at.adjuster is not None:
            hinge = hinge - np.stack([force * at.adjuster.force_x, force * at.adjuster.force_y], -1)
        return CaseSolution(
            state=state,
            phi=np.where(loaded | (state == State.AT_STOP), settled.phi, np.nan),
            tension=blank * at.tension,
            pull=blank * 2.0 * half,
            tight=blank * (at.tension + half),
            slack=blank * (at.tension - half),
            shaft_force=pair * -on_motor,
            adjuster=blank * force,
            hinge=pair * hinge,
            grip=grip,
            slips=loaded & slips,
        )


def solve_mount(mount: Mount) -> SolvedMount:
    """Find a mount's usable travel and its zero, whether its adjuster is rigid or has a spring.

    MountError where the belt never becomes snug, or turns have no zero.
    """
    travel = usable_travel(mount)
    balance = Balance(mount, travel)
    return SolvedMount(mount, travel, balance, _zero(balance))


def _zero(balance: Balance) -> Reference:
    """Snug where the adjuster carries the plate there; else contact.

    That is where weight and belt balance and the adjuster, just touching, carries nothing.
    """
    settled = balance.settle(balance.at(np.array([balance.travel.snug])), AT_REST)
    state, angle = State(str(settled.state[0])), float(settled.phi[0])
    if state is State.HELD:
        return Reference(ZeroKind.SNUG, balance.travel.snug, state)
    if not balance.mount.has_adjuster or state is State.RIDING:
        return Reference(ZeroKind.CONTACT, angle, state)
    acts = balance.mount.scenario.adjuster.acts
    carry = f"an adjuster that can only {acts}" if acts is not None else "the adjuster"
    if state is State.AT_STOP:
        end = math.degrees(balance.travel.tight_end.angle)
        raise balance.mount.error(
            "adjuster.acts",
            f"{carry} does not hold the plate back, and weight alone drives it to "
            f"the tight end of the travel ({end:.2f} deg): turns have no zero. Let the plate open "
            "further, bring the weights nearer to the hinge, or use an adjuster that holds the "
            "plate back",
        )
    raise balance.mount.error(
        "adjuster.acts",
        f"{carry} cannot carry the plate where the belt is snug, and the weights "
        "swing the plate the way that slackens the belt: it is never tightened. Put the adjuster "
        'on the other side of the plate, or let it act the other way (acts = "push", "pull" or '
        '"both")',
    )
