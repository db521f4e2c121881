"""What each method would read at a mount with other stiffness, weights and turns: the model fitted.

Unknown are the natural logarithm of the belt's stiffness over the scenario's, the zero of each
session, and what is known beforehand to a standard deviation, its prior: the weights, how far the
belt creeps round the pulleys under a push, where a slip was read the traction of both pulleys,
and the turns of each setting. Errors of readings are one standard deviation each. Arrays have m
sets of parameters and n readings.
"""

from __future__ import annotations

import math
from dataclasses import replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from mountcalc.equilibrium.balance import Balance, Demand
from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.roots import stepped_roots
from mountcalc.equilibrium.solve import AT_REST, SolvedMount
from mountcalc.equilibrium.states import ZeroKind
from mountcalc.fit.readings import Reading, ReadingMethod
from mountcalc.formulas.belt import mid_span_force, mid_span_ratio, span_frequency
from mountcalc.record import Record
from mountcalc.scenario.model import Coil
from mountcalc.units import si_factor

Array = NDArray[np.float64]
Rows = NDArray[np.intp]

# What a rule or tape, and a calliper, leave open (our own choice).
RULE_ERROR = si_factor("in") / 32
CALLIPER_ERROR = 1e-4
SLIP_ERROR = 0.1
"""Share that the power is off at which a belt was seen to slip (estimate)."""
_FINEST = 1e-3  # share of itself that any push or count is off (our own choice), whatever is said
# 19 motors of 20 weigh within their error (as in [build]).
_ERRORS = 2.0
# Of the creep: from the whole stretch in the span to all of it round the pulleys, evenly.
_EVENLY = 1.0 / math.sqrt(3.0)
# A reading that grows with the tension is not told below this share of what was read.
_LEAST_SHARE = 1e-3
_STEP = 1e-5
_FAR = 7.0  # no belt is e^7 times as stiff as another
SHARES = (ReadingMethod.PUSH, ReadingMethod.SWINGS, ReadingMethod.SLIP)
"""Methods whose error is a share of the reading."""


class State(Record):
    """A belt and build at rest, arrays of shape (m, n): plate angle [rad] and tension [N]."""

    phi: Array
    tension: Array


class ReadingModel(Record):
    """Readings of one mount, with what their methods would read at others like it.

    ``session`` (n,) and ``setting`` (n,) number when and at which turns each was read, the latter
    -1 where the turns have no error: with the belt slack, and at the person's zero. ``solved`` has
    a rigid adjuster; ``give`` [m/N] is how far plate and adjuster give, besides a ``coil`` spring.
    """

    solved: SolvedMount
    readings: tuple[Reading, ...]
    session: Rows
    setting: Rows
    give: float = 0.0
    coil: Coil | None = None

    def repeated(self, times: int) -> ReadingModel:
        """The same readings so many times."""
        session, setting = np.tile(self.session, times), np.tile(self.setting, times)
        return replace(self, readings=self.readings * times, session=session, setting=setting)

    @property
    def gives(self) -> bool:
        """Whether anything gives between bolt and plate."""
        return bool(self.give) or self.coil is not None

    def _given(self, force: Array) -> Array:
        """How much that is under an axial force [m]."""
        if self.coil is None:
            return self.give * force
        stop = self.coil.stop
        return self.give * force + np.clip(force / self.coil.rate, -stop, stop)

    @property
    def size(self) -> int:
        """Number of parameters: two, the zeros, the creep, traction, the turns of each setting."""
        return int(self.first_setting + self.setting.max(initial=-1) + 1)

    @property
    def zeros(self) -> slice:
        """Where the zero of each session stands among the parameters."""
        return slice(1, self.weights)

    @property
    def weights(self) -> int:
        """Where the weights stand: in priors from what the scenario says; the creep is next."""
        return 2 + int(self.session.max())

    @property
    def first_setting(self) -> int:
        """Where the turns of the first setting stand."""
        return self.weights + 2 + self.reads_slip

    @property
    def reads_slip(self) -> bool:
        """Whether there is a traction to find: it stands behind the creep, as a logarithm.

        Of it nothing is known beforehand but a factor of e.
        """
        return self.of[ReadingMethod.SLIP].size > 0

    @property
    def traction(self) -> int:
        """Where the traction stands, if it is there."""
        return self.weights + 2

    def traction_times(self, parameters: Array) -> Array:
        """Traction over the scenario's [-], (m, 1)."""
        if not self.reads_slip:
            return np.ones((len(parameters), 1))
        return np.exp(np.clip(parameters[:, [self.traction]], -_FAR, _FAR))

    @cached_property
    def loaded(self) -> NDArray[np.bool_]:
        """Which readings were at some turns, (n,)."""
        return np.array([one.turns is not None for one in self.readings])

    @cached_property
    def turns(self) -> Array:
        """In the person's count, NaN with the belt slack, (n,)."""
        return np.array([one.turns if one.turns is not None else np.nan for one in self.readings])

    @cached_property
    def read(self) -> Array:
        """What was read, in SI; of a share, its logarithm, (n,)."""
        return self.scaled(np.array([one.value for one in self.readings]))

    @cached_property
    def of(self) -> dict[ReadingMethod, Rows]:
        """Readings of each method."""
        return {
            method: np.flatnonzero([one.method is method for one in self.readings])
            for method in ReadingMethod
        }

    @cached_property
    def is_share(self) -> NDArray[np.bool_]:
        """Of which the error is a share, (n,)."""
        return np.array([one.method in SHARES for one in self.readings])

    def scaled(self, values: Array) -> Array:
        """Readings (..., n) as they are compared: logarithms where the error is a share."""
        logs = np.log(np.maximum(values, 1e-300))
        return np.where(self.is_share, logs, values)

    def unscaled(self, values: Array) -> Array:
        """The way back of :meth:`scaled`."""
        return np.where(self.is_share, np.exp(np.where(self.is_share, values, 0.0)), values)

    @cached_property
    def errors(self) -> Array:
        """One standard deviation of each reading, as it is compared, (n,)."""
        found = np.array([error_of(one.method, self.solved) for one in self.readings])
        rows = self.of[ReadingMethod.SPRING]
        if self.coil is not None and rows.size:
            # All lengths share the error of its rate: many tell no more of that than one.
            pressed = np.minimum(np.abs(self.unpressed[rows] - self.read[rows]), self.coil.stop)
            shared = self.coil.rate_error / _ERRORS * math.sqrt(rows.size) * pressed
            found[rows] = np.hypot(math.sqrt(2.0) * self.coil.length_error, shared)
        return found

    @cached_property
    def unpressed(self) -> Array:
        """Lengths of the coil spring under no load, where it was read [m], (n,)."""
        free = 0.0 if self.coil is None else self.coil.free_length
        return np.array([free if one.at is None else one.at for one in self.readings])

    @cached_property
    def weights_error(self) -> float:
        """Standard deviation of the weights as a share [-]; 0 where there are none."""
        mount = self.solved.mount
        return mount.scenario.motor.weight_error / _ERRORS if mount.weight else 0.0

    def shares(self, parameters: Array) -> tuple[Array, Array, Array, Array]:
        """Stiffness [N], weights and creep [-] (m, 1), turns from the model's zero (m, n)."""
        stiffness = self.solved.mount.scenario.belt.stiffness * np.exp(
            np.clip(parameters[:, :1], -_FAR, _FAR)
        )
        weights = 1.0 + self.weights_error * parameters[:, [self.weights]]
        creep = parameters[:, [self.weights + 1]]
        turns = self.turns - parameters[:, self.zeros][:, self.session]
        error = self.solved.mount.scenario.limits.turn_error
        settings = np.c_[parameters[:, self.first_setting :], np.zeros(len(parameters))]
        return stiffness, weights, creep, turns + error * settings[:, self.setting]

    def predicted(self, parameters: Array) -> tuple[Array, Array]:
        """Readings as they are compared (n,), and their derivatives by the parameters (n, size)."""
        stiffness, weights, creep, turns = self.shares(parameters[np.newaxis])
        traction = self.traction_times(parameters[np.newaxis])
        steps = _STEP * np.eye(5 + self.reads_slip, 5, -1)
        by_stiffness, by_weights, by_creep, by_turns, by_traction = steps.T[..., np.newaxis]
        found = self.scaled(
            self.readings_at(
                stiffness * np.exp(by_stiffness),
                weights + by_weights,
                creep + by_creep,
                turns + by_turns,
                traction * np.exp(by_traction),
            )
        )
        slopes = (found[1:] - found[0]) / _STEP
        jacobian = np.zeros((found.shape[1], self.size))
        jacobian[:, 0] = slopes[0]
        every = np.arange(found.shape[1])
        jacobian[every, 1 + self.session] = -slopes[3]
        jacobian[:, self.weights] = slopes[1] * self.weights_error
        jacobian[:, self.weights + 1] = slopes[2]
        if self.reads_slip:
            jacobian[:, self.traction] = slopes[4]
        # The tip tells the turns that were made, wherever the zero is.
        tips = self.of[ReadingMethod.TIP]
        jacobian[tips, 1 + self.session[tips]] = 0.0
        there = np.flatnonzero(self.setting >= 0)
        by_error = slopes[3] * self.solved.mount.scenario.limits.turn_error
        jacobian[there, self.first_setting + self.setting[there]] = by_error[there]
        found[0, tips] += slopes[3, tips] * parameters[1 + self.session[tips]]
        return found[0], jacobian

    @cached_property
    def ends(self) -> tuple[float, float]:
        """Turns from zero at the slack and at the tight end of the travel."""
        travel = self.solved.travel
        return self.solved.turns_at(travel.slack_end), self.solved.turns_at(travel.tight_end)

    def _other(self, stiffness: Array, weights: Array, traction: Array | float) -> Mount:
        """Mounts with other belts [N], and times the weights and traction [-], (m, 1)."""
        mount = self.solved.mount
        return replace(
            mount,
            stiffness=stiffness,
            motor_weight=weights * mount.motor_weight,
            plate_weight=weights * mount.plate_weight,
            motor_traction=traction * mount.motor_traction,
            driven_traction=traction * mount.driven_traction,
        )

    def at_rest(
        self,
        stiffness: Array,
        weights: Array,
        turns: Array,
        demand: Demand = AT_REST,
        traction: Array | float = 1.0,
    ) -> State:
        """Mounts with other belts [N] and times as heavy [-], (m, 1), at rest at turns (m, n).

        Or under a demand, with times the traction [-]; the zero is found at rest all the same.
        Turns are from each one's own zero; NaN is the slack belt, at snug. Past an end of the
        travel is at the end; where nothing holds the plate, it is where the adjuster left it, the
        belt slack.
        """
        solved, mount = self.solved, self.solved.mount
        other = self._other(stiffness, weights, traction)
        balance, is_slack = Balance(other, solved.travel), np.isnan(turns)

        def carried(made: Array, demand: Demand = demand) -> tuple[Array, Array, Array]:
            """Plate angle and tension at turns of a rigid adjuster, and what it has to carry."""
            phi = np.where(
                is_slack, solved.travel.snug, solved.place(np.clip(made, *self.ends)).angle
            )
            path = mount.path(phi)
            tension = other.tension(path.length)
            moment = mount.count * tension * path.length_slope + other.weight_moment(phi)
            if demand is not AT_REST:
                moment = balance.net(balance.at(phi), demand)
            return phi, tension, moment / mount.adjuster(phi).extension_slope

        made, at_zero = np.nan_to_num(turns), np.zeros(stiffness.shape)
        if solved.zero.kind is ZeroKind.CONTACT:
            snug = np.full(stiffness.shape, solved.travel.snug)
            zero = balance.settle(balance.at(snug), AT_REST).phi
            zero = np.where(np.isfinite(zero), zero, solved.zero.plate_angle)
            moved = mount.adjuster(zero).extension - solved.zero_extension
            made = made + moved / solved.advance
        elif self.gives:
            at_zero = balance.borne(carried(0.0 * made, AT_REST)[2][:, :1])
        if self.gives:
            asked, at_zero = made, self._given(at_zero)

            def missing(made: Array) -> tuple[Array, Array]:
                """Turns that the give swallows and that were not asked, with their slope."""
                one, other = (
                    (self._given(balance.borne(carried(made + step)[2])) - at_zero) / solved.advance
                    for step in (0.0, _STEP)
                )
                return made + one - asked, 1.0 + (other - one) / _STEP

            ends = (np.full(made.shape, end) for end in self.ends)
            made = stepped_roots(missing, made, *ends)
        phi, tension, force = carried(made)
        if np.all(is_slack | (balance.borne(force) == force)):  # the adjuster carries the plate
            return State(phi, tension)
        settled = balance.settle(balance.at(phi), demand).phi
        is_lost = is_slack | np.isnan(settled)
        phi = np.where(is_lost, phi, settled)
        return State(phi, np.where(is_lost, 0.0, other.tension(mount.path(phi).length)))

    def readings_at(
        self,
        stiffness: Array,
        weights: Array,
        creep: Array,
        turns: Array,
        traction: Array | float = 1.0,
    ) -> Array:
        """What the methods read [SI], (m, n): parameters (m, 1), turns (m, n) from zero."""
        solved, belt = self.solved, self.solved.mount.scenario.belt
        turns = np.broadcast_to(turns, (len(stiffness), len(self.readings)))
        state = self.at_rest(stiffness, weights, turns)
        path = solved.mount.path(state.phi)
        span = np.sqrt(path.span_squared)
        at = np.array([one.at if one.at is not None else np.nan for one in self.readings])
        found, least = np.zeros(turns.shape), np.zeros(turns.shape)
        least[:, self.is_share] = _LEAST_SHARE * self.unscaled(self.read)[self.is_share]

        rows = self.of[ReadingMethod.BALANCE]
        lever = np.where(np.isnan(at[rows]), lever_of(solved), at[rows])
        moment = belt.count * state.tension * path.length_slope
        moment = moment + weights * solved.mount.weight_moment(state.phi)
        found[:, rows] = solved.travel.tightens * moment[:, rows] / lever
        rows = self.of[ReadingMethod.SPRING]
        if self.coil is not None and rows.size:
            slope = solved.mount.adjuster(state.phi[:, rows]).extension_slope
            force = np.abs(solved.balance.borne(moment[:, rows] / slope))
            found[:, rows] = self.unpressed[rows] - np.minimum(
                force / self.coil.rate, self.coil.stop
            )

        creeping = (not self.gives) * span / belt.length
        part = np.clip(0.5 * (1.0 + creeping) + 0.5 * (1.0 - creeping) * _EVENLY * creep, 0.01, 2.0)
        rows = self.of[ReadingMethod.PUSH]
        if rows.size:
            found[:, rows] = mid_span_force(
                state.tension[:, rows], stiffness, part[:, rows], at[rows] / span[:, rows]
            )
        rows = self.of[ReadingMethod.HUNG]
        if rows.size:
            across = at[rows] * level_of(solved)
            ratio = mid_span_ratio(across, state.tension[:, rows], stiffness, part[:, rows])
            found[:, rows] = ratio * span[:, rows]
        rows = self.of[ReadingMethod.SWINGS]
        if rows.size:
            found[:, rows] = span_frequency(state.tension[:, rows], belt.mass, span[:, rows])
        rows = self.of[ReadingMethod.CENTRES]
        found[:, rows] = path.center_distance[:, rows]
        rows = self.of[ReadingMethod.TIP]
        found[:, rows] = abs(solved.advance) * turns[:, rows]
        rows = self.of[ReadingMethod.SLIP]
        if rows.size:
            # At that load the strands are at their limit, as under a demand without end.
            limit = Demand(np.inf, solved.mount.centrifugal_tension)
            slipping = self.at_rest(stiffness, weights, turns[:, rows], limit, traction)
            balance = Balance(self._other(stiffness, weights, traction), solved.travel)
            there = replace(balance.at(slipping.phi), tension=slipping.tension)
            found[:, rows] = 2.0 * belt.count * solved.mount.belt_speed * there.half_pull(limit)
        return np.maximum(found, np.where(self.is_share, least, -np.inf))


def error_of(method: ReadingMethod, solved: SolvedMount) -> float:
    """One standard deviation of a reading, in SI or of its logarithm."""
    limits = solved.mount.scenario.limits
    return {
        ReadingMethod.BALANCE: limits.balance_error,
        ReadingMethod.PUSH: math.log1p(max(limits.push_error, _FINEST)),
        ReadingMethod.SWINGS: math.log1p(max(limits.hum_error, _FINEST)),
        ReadingMethod.HUNG: RULE_ERROR,
        ReadingMethod.CENTRES: RULE_ERROR,
        ReadingMethod.TIP: CALLIPER_ERROR,
        ReadingMethod.SLIP: math.log1p(SLIP_ERROR),
        ReadingMethod.SPRING: RULE_ERROR,
    }[method]


def lever_of(solved: SolvedMount) -> float:
    """From the hinge to where the adjuster bears as drawn [m]."""
    mount = solved.mount
    assert mount.bears_at is not None
    return math.hypot(mount.bears_at[0] - mount.hinge[0], mount.bears_at[1] - mount.hinge[1])


def level_of(solved: SolvedMount) -> float:
    """Cosine of the strand that is nearer to level, when snug [-]."""
    strands = solved.mount.strands(solved.travel.snug)
    return float(max(abs(strands.along_plus_x), abs(strands.along_minus_x)))
