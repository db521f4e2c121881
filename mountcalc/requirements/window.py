"""The turns between the wanted grip and the first limit, and what decides either end."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from mountcalc.equilibrium.roots import bracketed_roots
from mountcalc.equilibrium.states import State
from mountcalc.errors import MountError
from mountcalc.pages.amounts import percent
from mountcalc.record import Record
from mountcalc.requirements.requirements import Requirements
from mountcalc.requirements.results import Governs, Ruler
from mountcalc.scenario.text.wording import listed
from mountcalc.thresholds import SETTLED

Array = NDArray[np.float64]

_SAMPLES = 257
_LEVELS = 2
_FEW = 33
_NEAR = 1e-12  # [-] turns that no tension tells apart: what rounding leaves of a belt's strain
# Past this many times what is wanted, how much more makes no difference to a crossing.
_FAR = 10.0

NEVER_GRIPS = "the wanted grip is not reached in the travel: {share:.0f} % of it is the most"
WITHOUT_END = "the mount, {case}, tightens itself to the end of its travel"
COMES_FREE = "at {turns:.2f} turns the adjuster comes free, and more turns add nothing"
TRAVEL_ENDS = "the travel ends first"
STIFF_TOO = "with the stiffest belt, too"
STIFF_LIMIT = "but the stiffest belt has {limited} at its limit at {turns:.2f} turns"
STIFF_UNKNOWN = "which cannot be told of the stiffest belt"
UNKNOWN = "no limit is known of {parts}"
OVER_BY_WEIGHT = (
    "the weights tighten the belt so much at zero that {limited} is at {share} % of its limit"
)
OVER_WHEN_SLACK = "{what} alone bring {limited} to {share} % of its limit before the belt pulls"
NO_CURE_BY_TENSION = (
    ", and no tension takes that off: bring them below {less:.0f} % of what they are, or have "
    "{limited} bear more"
)
LOADS = "the loads on the shaft"
WEIGHTS = "the weights of motor and plate"


class Window(Record):
    """The turns that keep grip and limits: from the fewest with grip to the most within limits.

    ``free`` [-] is where an adjuster that holds the plate back comes free, None where it does not.
    """

    fewest: float | None
    most: float | None
    free: float | None
    governs: Governs


def find_window(requirements: Requirements) -> Window:
    """The fewest turns with the wanted grip, and the most within all limits."""
    last = requirements.last_turn
    fewest, most = first_reach(requirements.grip, last), first_reach(requirements.worst, last)
    free = free_turns(requirements)
    least = min_reason = None
    relieved = None if most != 0 or fewest is None else _relieved(requirements, fewest)
    if relieved is not None:
        fewest, least = relieved
        most = first_reach(requirements.worst, last, fewest + SETTLED)
    if fewest is None:
        best = float(np.max(requirements.grip(np.linspace(0.0, last, _SAMPLES))))
        min_reason = NEVER_GRIPS.format(share=100 * best)
    elif least is None:
        margins = requirements.grip_margins(fewest)
        least = Ruler(min(margins, key=lambda name: float(margins[name][0])), None)
    greatest, max_reason = (
        (None, _why_no_limit(requirements, free))
        if most is None
        else _first_limit(requirements, most)
    )
    return Window(fewest, most, free, Governs(least, greatest, min_reason, max_reason))


def _relieved(requirements: Requirements, fewest: float) -> tuple[float, Ruler | None] | None:
    """Where the belt's pull has taken off what the weights break at zero, and what that was."""
    turns = first_reach(
        lambda turn: np.maximum(2.0 - requirements.worst(turn), 0.0), requirements.last_turn, fewest
    )
    if turns is None:
        return None
    return turns, None if turns == fewest else requirements.nearest_limit(turns)[0]


def _first_limit(requirements: Requirements, most: float) -> tuple[Ruler, str | None]:
    """What is at its limit, and what else is to be said of it."""
    # A hair further, where a mount jumps into what breaks it.
    limited, share = requirements.nearest_limit(min(most + SETTLED, requirements.last_turn))
    if not np.isfinite(share):
        case = "at rest" if limited.case == "rest" else limited.case
        return Ruler(limited.case, None), WITHOUT_END.format(case=case)
    if most > 0.0 or share <= 1.0:
        return limited, None
    # Over at zero: weight tightens the belt too much, or it is over without the belt.
    ruler, name = limited, limited.limited
    by_loads = [one for one, slack in requirements.slack.items() if slack > 1.0]
    if not by_loads and requirements.tension(0.0)[0] > 0:
        return ruler, OVER_BY_WEIGHT.format(limited=name, share=percent(share))
    travel = requirements.shares(np.linspace(0.0, requirements.last_turn, _FEW))
    if by_loads:
        limited = max(by_loads, key=lambda one: float(np.min(travel[one])))
        share, name = requirements.slack[limited], limited.limited
    what = LOADS if by_loads else WEIGHTS
    text = OVER_WHEN_SLACK.format(what=what, limited=name, share=percent(share))
    if np.min(travel[limited]) > 1.0:
        text += NO_CURE_BY_TENSION.format(less=np.floor(100 / share), limited=name)
    return ruler, text


def _why_no_limit(requirements: Requirements, free: float | None) -> str:
    """Why no limit is reached, for the stiffest belt, too; and of what none is known."""
    ends = TRAVEL_ENDS if free is None else COMES_FREE.format(turns=free)
    limits, parts = requirements.scenario.limits, ["the motor's own bearings"]
    parts += [
        f"the {name}"
        for name, limit in (("adjuster", limits.adjuster), ("hinge", limits.hinge))
        if limit is None
    ]
    turns, stiffest = None, STIFF_TOO
    try:
        stiff = requirements.with_stiffness_times(requirements.scenario.belt.stiffness_factor)
        turns = first_reach(stiff.worst, stiff.last_turn)
        relieved = _relieved(stiff, 0.0) if turns == 0 else None
        if relieved is not None:  # as in find_window
            turns = first_reach(stiff.worst, stiff.last_turn, relieved[0] + SETTLED)
    except MountError:
        stiffest = STIFF_UNKNOWN
    if turns is not None:
        limited = _first_limit(stiff, turns)[0].limited or "the mount"
        stiffest = STIFF_LIMIT.format(limited=limited, turns=turns)
    return f"{ends}, {stiffest}; {UNKNOWN.format(parts=listed(parts, 'or'))}"


def first_reach(
    function: Callable[[Array], Array], last: float, first: float = 0.0
) -> float | None:
    """Fewest turns from ``first`` to ``last`` at which a function reaches 1, or None."""
    low, high = first, last
    for _ in range(_LEVELS):
        turns = np.linspace(low, high, _SAMPLES)
        reached = np.flatnonzero(function(turns) >= 1.0)
        if reached.size == 0:
            return None
        index = int(reached[0])
        if index == 0:
            return float(turns[0])
        low, high = float(turns[index - 1]), float(turns[index])
    root = bracketed_roots(
        lambda turns: np.minimum(function(turns), _FAR) - 1.0,
        np.array([low]),
        np.array([high]),
        _NEAR,
    )
    return float(root[0])


def free_turns(requirements: Requirements) -> float | None:
    """Turns at which an adjuster that holds the plate back comes free, or None."""

    def rides(turns: Array) -> Array:
        rest = requirements.solved.at_rest(turns)
        return np.where((rest.state == State.RIDING) & (turns > 0), np.inf, 0.0)

    last = requirements.last_turn
    return first_reach(rides, last) if rides(np.linspace(0.0, last, 17)).any() else None
