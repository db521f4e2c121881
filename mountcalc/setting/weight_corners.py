"""What weight alone keeps, though weights and the belt's stiffness are not known exactly."""

from __future__ import annotations

from dataclasses import dataclass, replace

from mountcalc.check import weight_alone_of
from mountcalc.equilibrium.states import State
from mountcalc.errors import MountError
from mountcalc.requirements.promises import Promises, promises_of
from mountcalc.scenario.model import Scenario

__all__ = ["WeightCorners", "weight_corners"]


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
            promises_of(_weighing(free, 1 + sign * error)).with_stiffness_times(stiffness)
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


def _rides(promises: Promises) -> bool:
    cases = [case for way in promises.ways for case in way.cases(way.place(0.0), with_grip=False)]
    return all(case.state[0] == State.RIDING for case in cases)


def _grips(promises: Promises) -> bool:
    return all(margin[0] >= 1.0 for margin in promises.grip_margins(0.0).values())
