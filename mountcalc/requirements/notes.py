"""What a reader of the results must know: defaults, assumptions, cautions, stacked margins."""

from __future__ import annotations

import math

import numpy as np

from mountcalc.equilibrium.solve import SolvedMount
from mountcalc.equilibrium.states import State
from mountcalc.handbook.belts.sections import flat_material
from mountcalc.pages.page import CAUTIONS
from mountcalc.requirements.left_out import left_out
from mountcalc.requirements.results import Margin
from mountcalc.scenario.model import Scenario

__all__ = ["findings", "look_again", "margins", "notes"]

_ASSUMPTIONS = (
    "Hinge, plate and adjuster are taken as rigid and without friction; a wooden plate gives, and "
    "more turns are then needed for the same tension.",
    "Speeds are without creep; a loaded belt creeps, and the driven shaft turns 1 to 2 % slower "
    "(common practice).",
    "Starting is taken with the belt not yet up to speed (no centrifugal tension); the torque "
    "that spins up the motor's own rotor is left out.",
)


def notes(solved: SolvedMount) -> tuple[str, ...]:
    """All notes: findings and defaults first, then assumptions, then cautions."""
    return (
        *findings(solved),
        left_out(solved),
        *_ASSUMPTIONS,
        look_again(solved.mount.scenario),
        *CAUTIONS,
    )


def look_again(scenario: Scenario) -> str:
    """When to look at a new belt again."""
    if flat_material(scenario.belt.section or "") is not None:
        return (
            "A new flat belt stretches, leather for weeks: look again each day of use until it "
            "stays (common practice)."
        )
    return (
        "A new belt loses tension as it beds in: look again after 8 and after 24 hours of running "
        "(common practice)."
    )


def findings(solved: SolvedMount) -> tuple[str, ...]:
    """What is special about this mount: defaults taken, travel cut off, speeds exceeded."""
    scenario = solved.mount.scenario
    found = [*scenario.notes, *solved.travel.notes]
    most = scenario.driven.max_speed
    if most is not None and solved.mount.driven_speed > most:
        found.append(
            f"The driven shaft turns at {_rpm(solved.mount.driven_speed):.0f} rpm, faster than the "
            f"{_rpm(most):.0f} rpm given as its maximum."
        )
    if solved.zero.state is State.AT_STOP:
        found.append("Weight alone drives the plate to the tight end of the travel.")
    if solved.zero.state is State.NO_BALANCE:
        found.append(
            "Weight alone does not tighten this belt: the weights pull the plate away from the "
            "tight side."
        )
    return tuple(found)


def _rpm(speed: float) -> float:
    return speed * 60 / (2 * math.pi)


def margins(solved: SolvedMount) -> tuple[Margin, ...]:
    """The stack of margins: every factor that lies between the physics and the advice."""
    mount = solved.mount
    scenario = mount.scenario
    share = float(mount.pulls(np.asarray(solved.travel.snug)).share)
    stack = [
        Margin(
            "starting pull",
            scenario.driven.starting_factor,
            "starting is reckoned with this many times the running pull",
        ),
        Margin(
            "tension ratio at slip",
            (1 + share) / (1 - share),
            "tight over slack tension (both less the centrifugal part) at which the belt slips, "
            "from traction and wrap",
        ),
        Margin(
            "belt stiffness",
            scenario.belt.stiffness_factor,
            "the belt may be this many times softer or stiffer than reckoned: the low-high range",
        ),
    ]
    if scenario.driven.power > 0:
        stack.insert(
            0,
            Margin(
                "motor rating",
                scenario.motor.power / scenario.driven.power,
                "rated power over the power reckoned with; an overloaded motor pulls more",
            ),
        )
    by_factor: dict[float, list[str]] = {}
    for bearing in scenario.driven.bearings:
        factor = round(bearing.starting_limit / bearing.limit, 6)
        by_factor.setdefault(factor, []).append(bearing.name)
    stack += [
        Margin(
            f"starting limit of {' and '.join(names)}",
            factor,
            "a bearing may carry this many times its limit for the moment of starting",
        )
        for factor, names in by_factor.items()
    ]
    return tuple(stack)
