"""What the weights alone do to the belt, with the adjuster off and the plate free."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from itertools import pairwise

import numpy as np

from mountcalc.check import weight_alone_of
from mountcalc.equilibrium.many import zeros_of_many
from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.roots import bracketed_roots
from mountcalc.equilibrium.solve import SolvedMount
from mountcalc.equilibrium.states import State
from mountcalc.errors import MountError
from mountcalc.pages.amounts import force_text, length_text
from mountcalc.requirements.requirements import Requirements, requirements_of
from mountcalc.requirements.results import Setting, WeightAlone
from mountcalc.requirements.setting import gentlest_setting
from mountcalc.scenario.model import AdjusterKind, Scenario

__all__ = ["WeightCorners", "weight_alone", "weight_corners"]

# How far the hinge is moved in the search, in distances of hinge and motor shaft.
_FARTHEST = 2.0
# Places of the hinge that are tried between as drawn and the farthest, on either side.
_PLACES = 60
# Of the wanted tension: a place that gives it no nearer than this does not give it.
_MISS = 1e-6
_LEAVE = {
    AdjusterKind.NONE: "Leave it to the weight",
    AdjusterKind.LINK: "Leave the link unpinned",
    AdjusterKind.JACK_IN_BASE: "Leave the bolt clear",
    AdjusterKind.JACK_IN_PLATE: "Leave the bolt clear",
}
# Of a tension: what a page does not show.
_MORE = 1.01
# A shift [m] that nobody could mark out.
_SAME_PLACE = 1e-4


def weight_alone(scenario: Scenario, setting: Setting | None = None) -> WeightAlone:
    """The tension that the weights alone put on the belt, and where the hinge would have to be."""
    setting = gentlest_setting(scenario) if setting is None else setting
    requirements = requirements_of(weight_alone_of(scenario))
    state, tension = requirements.solved.zero.state, _rest_tension(requirements.solved)
    wanted = setting.tension_min if setting.set_tension is None else setting.set_tension
    shift = None if wanted is None else _hinge_shift(requirements.solved, wanted)
    over = _over_tightens(scenario, requirements, tension, setting)
    corners = weight_corners(scenario)
    return WeightAlone(
        tension=tension,
        tension_sentence=_tension_sentence(scenario, state, tension),
        wanted_tension=wanted,
        hinge_shift=shift,
        hinge_sentence=_hinge_sentence(scenario, wanted, shift),
        over_tightens=over,
        over_tightens_sentence=_over_sentence(requirements, over, corners) if tension else None,
        keeps=corners.keeps,
        keeps_sentence=_keeps_sentence(scenario, tension, setting) if corners.keeps else None,
    )


def _rest_tension(solved: SolvedMount) -> float:
    """Rest tension of one strand of one belt, plate free or driven to its stop [N]."""
    state = solved.zero.state
    if state is State.NO_BALANCE:
        return 0.0
    angle = solved.travel.tight_end.angle if state is State.AT_STOP else solved.zero.plate_angle
    return float(solved.mount.tension(solved.mount.path(angle).length))


def _over_tightens(
    scenario: Scenario, requirements: Requirements, tension: float, setting: Setting
) -> bool | None:
    """Whether a limit is broken; at the stop, as it would be with the adjuster there."""
    if requirements.solved.zero.state is State.AT_STOP:
        if scenario.adjuster.kind is AdjusterKind.NONE:
            return None
        return setting.tension_max is not None and tension > setting.tension_max
    if tension == 0:
        return False
    return bool(requirements.worst(np.zeros(1))[0] > 1.0)


def _excess(free: SolvedMount, shifts: np.ndarray, wanted: float) -> np.ndarray:
    """Rest tension with the hinge alone moved to the right [m], less the wanted one [N].

    NaN where the plate lies at a stop, or the belt tightens the other way than as drawn: past
    that dead centre it is another mount.
    """
    scenario, (x, y) = free.mount.scenario, free.mount.scenario.plate.hinge
    mounts = replace(free.mount, hinge=(x + shifts[:, np.newaxis], np.full((shifts.size, 1), y)))

    def alone(row: int) -> Mount:
        hinge = x + float(shifts[row]), y
        return Mount.of(replace(scenario, plate=replace(scenario.plate, hinge=hinge)))

    found = zeros_of_many(mounts, shifts.size, alone)
    is_this = (found.state != State.AT_STOP) & (found.tightens == free.travel.tightens)
    return np.where(is_this, found.tension - wanted, np.nan)


def _hinge_shift(free: SolvedMount, wanted: float) -> float | None:
    """The least shift of the hinge [m] with which the weights give a tension [N], or None."""
    plate, motor = free.mount.scenario.plate, free.mount.scenario.motor
    farthest = _FARTHEST * math.dist(plate.hinge, motor.shaft)
    places = np.linspace(-farthest, farthest, 2 * _PLACES + 1)
    values = _excess(free, places, wanted)
    pairs = zip(pairwise(places), pairwise(values), strict=True)
    brackets = [ends for ends, excess in pairs if excess[0] * excess[1] <= 0]
    for low, high in sorted(brackets, key=lambda ends: min(abs(ends[0]), abs(ends[1]))):
        root = bracketed_roots(
            lambda shift: _excess(free, shift, wanted), np.array([low]), np.array([high])
        )
        if abs(_excess(free, root, wanted)[0]) <= _MISS * wanted:
            return float(root[0])
    return None


def _tension_sentence(scenario: Scenario, state: State, tension: float) -> str:
    if state is State.NO_BALANCE:
        return "With the adjuster off the weights slacken the belt: they put no tension on it."
    amount = force_text(tension, scenario.display)
    if state is State.AT_STOP:
        return (
            "With the adjuster off the weights drive the plate to the tight end of its travel, "
            f"where the belt has {amount} on each strand; only the stop keeps it from more."
        )
    return f"The most that the weights alone can ever put on this belt is {amount} on each strand."


def _hinge_sentence(scenario: Scenario, wanted: float | None, shift: float | None) -> str:
    if wanted is None:
        return "There is no tension to set, so no place of the hinge to look for."
    amount = force_text(wanted, scenario.display)
    if shift is None:
        reach = _FARTHEST * math.dist(scenario.plate.hinge, scenario.motor.shaft)
        return (
            f"No place of the hinge on its own level was found within "
            f"{length_text(reach, scenario.display)}, motor as drawn, where the weights put "
            f"{amount} on each strand."
        )
    if abs(shift) < _SAME_PLACE:
        return f"The hinge is where the weights put {amount} on each strand."
    side = "right" if shift > 0 else "left"
    return (
        f"For {amount} on each strand by weight alone the hinge would have to be "
        f"{length_text(abs(shift), scenario.display)} further to the {side}, on its own level, "
        "with the motor as drawn."
    )


def _keeps_sentence(scenario: Scenario, tension: float, setting: Setting) -> str:
    amount, error = force_text(tension, scenario.display), scenario.motor.weight_error
    more, gentlest = "", setting.set_tension
    if gentlest is not None and tension > _MORE * gentlest:
        more = f", more than the {force_text(gentlest, scenario.display)} of the gentlest setting"
    return (
        f"{_LEAVE[scenario.adjuster.kind]}: weight alone puts {amount} on each strand{more}, keeps "
        f"a grip of {scenario.limits.grip:g} and every known limit, and goes on doing so as the "
        f"belt stretches, for weights {100 * error:.0f} % off and the softest and stiffest belt."
    )


def _over_sentence(
    requirements: Requirements,
    over: bool | None,  # noqa: FBT001  # a finding
    corners: WeightCorners,
) -> str:
    if over is None:
        return "Whether weight alone over-tightens the belt cannot be told: it ends at the stop."
    if over:
        shares = requirements.shares(0.0)
        limited = max(shares, key=lambda key: float(shares[key][0]))
        if max(requirements.slack.values()) > 1.0:
            return f"Then {limited.ruler.limited} is over its limit, as by the loads on the shaft."
        grips = min(float(value[0]) for value in requirements.grip_margins(np.zeros(1)).values())
        then = "An adjuster has to hold the plate back" if grips >= 1.0 else "Held back, it slips"
        return (
            f"Weight alone already over-tightens the belt: {limited.ruler.limited} is over its "
            f"limit. {then}."
        )
    error = f"{100 * requirements.scenario.motor.weight_error:.0f} % heavier"
    if corners.within:
        return f"It keeps every known limit, with weights {error} and the stiffest belt, too."
    return f"It keeps every known limit as weighed; {error} it would not."


@dataclass(frozen=True, slots=True)
class WeightCorners:
    """The lightest and the heaviest weights with the softest and the stiffest belt.

    ``grips`` says whether the plate rides on the belt in every case with the wanted grip,
    ``within`` whether every known limit is kept.
    """

    grips: bool
    within: bool

    @property
    def keeps(self) -> bool:
        """Whether weight alone will do."""
        return self.grips and self.within


def weight_corners(scenario: Scenario) -> WeightCorners:
    """Solve the mount without its adjuster at all four corners."""
    error, factor = scenario.motor.weight_error, scenario.belt.stiffness_factor
    free = weight_alone_of(scenario)
    try:
        corners = [
            requirements_of(_weighing(free, 1 + sign * error)).with_stiffness_times(stiffness)
            for sign in (-1, 1)
            for stiffness in (1 / factor, factor)
        ]
    except MountError:
        return WeightCorners(grips=False, within=False)
    return WeightCorners(
        grips=all(_rides(one) and _grips(one) for one in corners),
        within=all(one.worst(0.0)[0] <= 1.0 for one in corners),
    )


def _weighing(scenario: Scenario, times: float) -> Scenario:
    """The same with weights of motor and plate so many times what is given."""
    motor, plate = scenario.motor, scenario.plate
    return replace(
        scenario,
        motor=replace(motor, weight=times * motor.weight),
        plate=replace(plate, weight=times * plate.weight),
    )


def _rides(requirements: Requirements) -> bool:
    cases = [
        case for way in requirements.ways for case in way.cases(way.place(0.0), with_grip=False)
    ]
    return all(case.state[0] == State.RIDING for case in cases)


def _grips(requirements: Requirements) -> bool:
    return all(margin[0] >= 1.0 for margin in requirements.grip_margins(0.0).values())
