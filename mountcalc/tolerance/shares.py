"""Which error matters most: shares of variance to first order, by exact derivatives.

Each answer hangs on places of rest, which conditions define: the belt is just snug, or moments
balance, or the adjuster has been turned so far. Their derivatives by every error follow from those
of the conditions (implicit differentiation), which the generated kernels give.

In the following L, s and y are the belt's path, the adjuster's extension from where it is drawn
and heights of the weights [m], a dash is d/dphi, G = n T L' + sum W y' is the net moment at rest
[N m] and h = s + G/(s' K) where the adjuster is, or the end of its spring of stiffness K [m].
"""

from __future__ import annotations

from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.solve import SolvedMount, solve_mount
from mountcalc.equilibrium.states import State, ZeroKind
from mountcalc.linkage import kernels, partials
from mountcalc.record import Record
from mountcalc.scenario.model import AdjusterKind, Scenario
from mountcalc.tolerance.sample import CUT_OFF, deviations

Array = NDArray[np.float64]

ERRORS = {
    "hinge_x": "hinge",
    "hinge_y": "hinge",
    "bears_at_x": "bolt",
    "bears_at_y": "bolt",
    "base_pin_x": "bolt",
    "base_pin_y": "bolt",
    "motor_shaft_x": "shaft",
    "motor_shaft_y": "shaft",
    "driven_shaft_x": "shaft",
    "driven_shaft_y": "shaft",
    "belt_length": "belt_length",
    "motor_weight": "weights",
    "plate_weight": "weights",
    "stiffness": "stiffness_factor",
    "motor_traction": "traction_factor",
    "driven_traction": "traction_factor",
    "zero": "turn_error",
    "turns": "turn_error",
    "spring_rate": "spring_rate",
    "give": "give_factor",
}
"""Every number that may be off, and the key of ``[build]`` that says by how much.

Points and lengths are in metres, all others in shares of themselves (stiffness, tractions and
give: in natural logarithms), zero and turns in turns."""

SOURCES = tuple(dict.fromkeys(ERRORS.values()))
"""The keys of ``[build]``."""

_WITHIN_CUT = 0.9973002039367398
"""Share of normal numbers within three standard deviations (tables of the normal distribution)."""
_AT = {name: at for at, name in enumerate(ERRORS)}
_STEP = 1e-3  # [-] turns over which a spring's tension per turn is told from two tensions


class Shares(Record):
    """Three answers and what each error does to them, to first order.

    ``zero`` [-] where the hand finds zero, in turns from where the adjuster is set as drawn;
    ``per_turn`` [N] what a turn adds to a strand at the set turns, and ``tension`` [N] there at
    rest. ``derivatives`` (3, errors) has them in that order by each of ``ERRORS``, ``variances``
    (3, sources) what each of ``SOURCES`` adds to the square of their standard deviations. NaN
    where there is no adjuster, but for the tension.
    """

    zero: float
    per_turn: float
    tension: float
    derivatives: Array
    variances: Array

    @property
    def deviations(self) -> Array:
        """Standard deviations of the three."""
        result: Array = np.sqrt(self.variances.sum(axis=1))
        return result


def shares_of(scenario: Scenario, turns: float) -> Shares:
    """What errors do to a mount that is set at turns from its zero; MountError without a zero."""
    solved = solve_mount(Mount.of(scenario))
    values, derivatives = _answers(solved, turns)
    spread = np.square(derivatives * _deviations(scenario))
    variances = np.stack(
        [spread[:, [source == one for source in ERRORS.values()]].sum(axis=1) for one in SOURCES],
        axis=1,
    )
    return Shares(*values, derivatives, variances)


def _deviations(scenario: Scenario) -> Array:
    """Standard deviation of each error, cut off as the builds' are."""
    # Of a normal number that is drawn again beyond the cut: 1 - 2 c f(c) / (2 F(c) - 1).
    density = np.exp(-0.5 * CUT_OFF**2) / np.sqrt(2.0 * np.pi)
    within = 1.0 - 2.0 * CUT_OFF * density / _WITHIN_CUT
    drawn = deviations(scenario)
    return np.array([np.sqrt(within) * drawn[source] for source in ERRORS.values()])


class _Moving:
    """A number with its derivatives by the plate angle and then by each error."""

    def __init__(self, value: float, by: Array) -> None:
        self.value, self.by = float(value), by

    def __add__(self, other: _Moving) -> _Moving:
        return _Moving(self.value + other.value, self.by + other.by)

    def __mul__(self, other: _Moving) -> _Moving:
        return _Moving(self.value * other.value, self.value * other.by + other.value * self.by)

    def __truediv__(self, other: _Moving) -> _Moving:
        value = self.value / other.value
        return _Moving(value, (self.by - value * other.by) / other.value)

    def times(self, factor: float) -> _Moving:
        return _Moving(factor * self.value, factor * self.by)

    def moved(self, moves: Array) -> Array:
        """By each error, the plate angle moving along."""
        result: Array = self.by[1:] + self.by[0] * moves
        return result

    @property
    def keeps(self) -> Array:
        """How the plate angle moves where this stays what it is."""
        result: Array = -self.by[1:] / self.by[0]
        return result


class _Rest(NamedTuple):
    """A mount at rest at a plate angle: the belt's stretch L - L0, T, G, h and T'/s' [N/m].

    The last is None with a spring, h without an adjuster, too.
    """

    stretch: _Moving
    tension: _Moving
    moment: _Moving
    out: _Moving | None
    per_length: _Moving | None


def _answers(solved: SolvedMount, turns: float) -> tuple[tuple[float, float, float], Array]:
    """Zero, tension per turn and tension at the set turns, and their derivatives."""
    mount, none = solved.mount, np.full(len(ERRORS), np.nan)
    zero = _rest(mount, float(solved.zero.plate_angle))
    at_zero = (zero.stretch if solved.zero.kind is ZeroKind.SNUG else zero.moment).keeps
    if zero.out is None:
        moved = zero.tension.moved(at_zero)
        return (np.nan, np.nan, zero.tension.value), np.stack([none, none, moved])
    advance, by_zero = solved.advance, zero.out.moved(at_zero)

    def at(turn: float) -> tuple[_Rest, Array, bool]:
        """The mount at turns from zero, how its angle moves, and whether it is held."""
        rest = solved.at_rest(turn)
        there = _rest(mount, float(rest.phi[0]))
        if rest.state[0] != State.HELD or there.out is None:
            return there, there.moment.keeps, False
        further = by_zero - there.out.by[1:]
        further[[_AT["zero"], _AT["turns"]]] += advance
        return there, further / there.out.by[0], True

    there, moves, held = at(turns)
    per_turn, by_per_turn = 0.0, np.zeros(moves.shape)
    if held and there.per_length is not None:
        per_turn = advance * there.per_length.value
        by_per_turn = advance * there.per_length.moved(moves)
    elif held and there.out is not None:  # of its slope over the turns: no third derivatives
        per_turn = advance * there.tension.by[0] / there.out.by[0]
        ends = [at(turns + way * _STEP)[:2] for way in (-1, 1)]
        low, high = (one.tension.moved(move) for one, move in ends)
        by_per_turn = (high - low) / (2.0 * _STEP)
    values = zero.out.value / advance, per_turn, there.tension.value
    return values, np.stack([by_zero / advance, by_per_turn, there.tension.moved(moves)])


def _rest(mount: Mount, phi: float) -> _Rest:
    """The mount at rest at a plate angle, with all derivatives."""
    scenario = mount.scenario
    radii = scenario.motor.pulley_radius, scenario.driven.pulley_radius
    drive = (*mount.hinge, *mount.motor_shaft, *mount.driven_shaft, *radii)
    path, by_path = mount.path(phi), partials.belt_path_partials(phi, *drive)
    # The plate hangs on the hinge's pin, with all that is fixed to it.
    points = {"hinge": "HM", "motor_shaft": "M", "driven_shaft": "D"}
    length = _moving(path.length, path.length_slope, by_path, "length", points)
    slope = _moving(path.length_slope, by_path.length_curvature, by_path, "length_slope", points)
    free = _own("belt_length", mount.length, 1.0)
    stiffness = _own("stiffness", mount.stiffness, mount.stiffness)
    stretch = length + free.times(-1.0)
    tension = stiffness * stretch / free
    if stretch.value <= 0.0:
        tension = tension.times(0.0)
    moment = (tension * slope).times(mount.count)
    for name, center, weight in (
        ("motor", mount.motor_center, mount.motor_weight),
        ("plate", mount.plate_center, mount.plate_weight),
    ):
        place = kernels.plate_point(phi, *mount.hinge, *center)
        by_place = partials.plate_point_partials(phi, *mount.hinge, *center)
        moves = {"hinge": "HP"} | ({"motor_shaft": "P"} if name == "motor" else {})
        lever = _moving(place.y_slope, by_place.y_curvature, by_place, "y_slope", moves)
        moment = moment + lever * _own(f"{name}_weight", weight, weight)
    if not mount.has_adjuster:
        return _Rest(stretch, tension, moment, None, None)
    extension, lever = _adjuster(mount, phi)
    if not mount.gives:
        return _Rest(stretch, tension, moment, extension, stiffness * slope / free / lever)
    force = moment / lever
    size = np.asarray(force.value)
    by_force = float(mount.compliance(size)) * force.by
    if mount.spring is not None:
        by_force[1 + _AT["give"]] -= force.value / float(mount.spring)
    if mount.coil is not None:
        rate, stop = map(float, mount.coil)
        by_force[1 + _AT["spring_rate"]] -= force.value / rate * (abs(force.value) < rate * stop)
    given = _Moving(float(mount.give(size)), by_force)
    return _Rest(stretch, tension, moment, extension + given, None)


def _adjuster(mount: Mount, phi: float) -> tuple[_Moving, _Moving]:
    """The extension from where the adjuster is drawn, and its slope over the plate angle."""
    kind, state = mount.scenario.adjuster.kind, mount.adjuster(phi)
    assert mount.bears_at is not None
    found: partials.JackPartials | partials.LinkPartials
    if kind is AdjusterKind.LINK:
        assert mount.base_pin is not None
        points = {"hinge": "HQ", "bears_at": "Q", "base_pin": "B"}
        found = partials.link_partials(phi, *mount.hinge, *mount.bears_at, *mount.base_pin)
    else:
        assert mount.axis is not None
        assert mount.normal is not None
        jack = (*mount.hinge, *mount.bears_at, *mount.axis, *mount.normal)
        if kind is AdjusterKind.JACK_IN_BASE:  # the face moves with the hinge, or the tip back
            points = {"hinge": "-T", "bears_at": "T"}
            found = partials.jack_in_base_partials(phi, *jack)
        else:
            points = {"hinge": "HT", "bears_at": "T"}
            found = partials.jack_in_plate_partials(phi, *jack)
    return (
        _moving(state.extension, state.extension_slope, found, "extension", points),
        _moving(state.extension_slope, found.extension_curvature, found, "extension_slope", points),
    )


def _own(error: str, value: Any, by: Any) -> _Moving:  # noqa: ANN401  # numbers of one mount
    """What hangs on one error alone."""
    slopes = np.zeros(1 + len(ERRORS))
    slopes[1 + _AT[error]] = by
    return _Moving(value, slopes)


def _moving(value: Array, slope: Array, found: Any, name: str, points: dict[str, str]) -> _Moving:  # noqa: ANN401  # partials of any kernel
    """What hangs on the plate angle and on points, by a kernel's partial derivatives.

    ``points`` tells which points of the kernel move with an error's, "-" in the other direction.
    """
    by = np.zeros(1 + len(ERRORS))
    by[0] = slope
    for point, letters in points.items():
        for axis in "xy":
            moved = sum(getattr(found, f"{name}_{one}_{axis}") for one in letters.lstrip("-"))
            by[1 + _AT[f"{point}_{axis}"]] = -moved if letters[0] == "-" else moved
    return _Moving(float(value), by)
