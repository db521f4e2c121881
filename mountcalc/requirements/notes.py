"""What a reader of the results must know: defaults, assumptions, cautions, stacked margins."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

import numpy as np

from mountcalc.equilibrium.solve import SolvedMount
from mountcalc.equilibrium.states import State
from mountcalc.handbook.belts.sections import Joint, flat_material
from mountcalc.pages.page import CAUTIONS, Note, Side
from mountcalc.requirements.left_out import left_out
from mountcalc.requirements.results import Margin
from mountcalc.scenario.model import Belt, Scenario

__all__ = ["margins", "notes", "stretches_for_long", "told"]

_ASSUMPTIONS = (
    Note(
        "rigid",
        Side.MODEL,
        "Hinge, plate and adjuster are taken as rigid and without friction; a wooden plate gives, "
        "and more turns are then needed for the same tension.",
    ),
    Note(
        "creep",
        Side.MODEL,
        "Speeds are without creep; a loaded belt creeps, and the driven shaft turns 1 to 2 % "
        "slower (common practice).",
    ),
    Note(
        "starting",
        Side.MODEL,
        "Starting is taken with the belt not yet up to speed (no centrifugal tension); the torque "
        "that spins up the motor's own rotor is left out.",
    ),
)
_CAUTIONS = tuple(
    Note(name, Side.CAUTION, text)
    for name, text in zip(("unplug", "block", "guard", "wiring", "look"), CAUTIONS, strict=True)
)


def notes(solved: SolvedMount) -> tuple[Note, ...]:
    """All notes: of the mount first, then of the model, then care and cautions."""
    return (
        *_of_the_mount(solved),
        *left_out(solved),
        *_ASSUMPTIONS,
        _look_again(solved.mount.scenario),
        *_CAUTIONS,
    )


def told(notes: Iterable[Note]) -> list[str]:
    """What a page lists as notes: all but the cautions, which it ends in."""
    return [note.text for note in notes if note.side is not Side.CAUTION]


def _look_again(scenario: Scenario) -> Note:
    """When to look at a new belt again."""
    if stretches_for_long(scenario.belt):
        text = (
            "A new flat or link belt stretches, leather for weeks: look again each day of use "
            "until it stays (common practice)."
        )
    else:
        text = (
            "A new belt loses tension as it beds in: look again after 8 and after 24 hours of "
            "running (common practice)."
        )
    return Note("look-again", Side.CARE, text)


def stretches_for_long(belt: Belt) -> bool:
    """Whether a belt is to be looked at each day of use: flat ones, and those of links."""
    return flat_material(belt.section or "") is not None or belt.joint is Joint.LINKED


def _of_the_mount(solved: SolvedMount) -> Iterator[Note]:
    """What is special about this mount: defaults taken, travel cut off, speeds exceeded."""
    scenario = solved.mount.scenario
    yield from (Note("taken", Side.MOUNT, text) for text in scenario.notes)
    yield from (Note("travel", Side.MOUNT, text) for text in solved.travel.notes)
    driven, most = solved.mount.driven_speed, scenario.driven.max_speed
    if most is not None and driven > most:
        text = (
            f"The driven shaft turns at {_rpm(driven):.0f} rpm, faster than the {_rpm(most):.0f} "
            "rpm given as its maximum."
        )
        yield Note("too-fast", Side.MOUNT, text, (driven, most))
    if solved.zero.state is State.AT_STOP:
        text = "Weight alone drives the plate to the tight end of the travel."
        yield Note("driven-to-stop", Side.MOUNT, text)
    if solved.zero.state is State.NO_BALANCE:
        text = (
            "Weight alone does not tighten this belt: the weights pull the plate away from the "
            "tight side."
        )
        yield Note("no-balance", Side.MOUNT, text)


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
