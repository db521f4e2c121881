"""Changes to how the adjuster holds the plate: through a spring, or back as well.

Unlike the changes of parts and places these follow from the mount as it is solved.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from mountcalc.check.cures.changes import Change
from mountcalc.equilibrium.solve import SolvedMount
from mountcalc.equilibrium.states import State, ZeroKind
from mountcalc.pages.amounts import force_text, rate_text, significant
from mountcalc.requirements.promises import Promises
from mountcalc.requirements.results import Setting
from mountcalc.scenario.model import Acts, AdjusterKind, Scenario
from mountcalc.units import si_factor

__all__ = ["hold_back", "hold_both_ways", "spring_in_series"]

# What a turn does with the spring, of what it does without.
_SHARE_OF_A_TURN = 0.25
_STEP = 1e-3
_RATE_UNIT = {"inch": "lbf/in", "metric": "N/mm"}


def spring_in_series(promises: Promises, setting: Setting) -> Change | None:
    """A spring with which one turn adds a quarter of what it did.

    Notes
    -----
    Seen from the adjuster the plate is itself a spring of stiffness K = dF/ds. With k in
    series the plate takes k / (k + K) of what the adjuster moves; a quarter asks for k = K / 3.
    """
    scenario, solved = promises.scenario, promises.solved
    if not solved.mount.has_adjuster or scenario.adjuster.spring is not None:
        return None
    last = promises.last_turn
    turns = next(
        (one for one in (setting.set_turns, setting.turns_min) if one is not None), 0.5 * last
    )
    own = _stiffness_at_adjuster(solved, min(turns, last - _STEP))
    if own is None:
        return None
    unit = si_factor(_RATE_UNIT[scenario.display])
    stiffness = own * _SHARE_OF_A_TURN / (1 - _SHARE_OF_A_TURN)
    stiffness = significant(stiffness / unit) * unit
    adjuster = replace(scenario.adjuster, spring=stiffness)
    most = _greatest_force(promises, last if setting.turns_max is None else setting.turns_max)
    return Change(
        "spring",
        f"Put a spring of {rate_text(stiffness, scenario.display)} between adjuster and plate, "
        f"for loads up to {force_text(most, scenario.display)}: each turn adds about a quarter of "
        "what it did, and a belt that beds in loses less.",
        replace(scenario, adjuster=adjuster),
        is_finer=True,
    )


def _stiffness_at_adjuster(solved: SolvedMount, turns: float) -> float | None:
    """dF/ds of the held plate at rest [N/m], or None where it is not held or does not resist."""
    if turns < 0:
        return None
    placement = solved.place(np.array([turns, turns + _STEP]))
    case = solved.case(placement, solved.demands["rest"])
    if not np.all(case.state == State.HELD):
        return None
    slope = float(np.diff(case.adjuster)[0] / np.diff(placement.extension)[0])
    return slope if math.isfinite(slope) and slope > 0 else None


def _greatest_force(promises: Promises, turns: float) -> float:
    """Greatest adjuster force in any case and either rotation [N]."""
    forces = [
        np.nan_to_num(np.abs(case.adjuster), nan=0.0)
        for way in promises.ways
        for case in way.cases(way.place(np.array([turns])))
    ]
    return float(np.max(forces))


def hold_back(promises: Promises) -> Change | None:
    """An adjuster that holds the plate back as well, where weight alone over-tightens."""
    scenario, solved = promises.scenario, promises.solved
    if scenario.adjuster.kind is AdjusterKind.NONE or scenario.adjuster.acts is Acts.BOTH:
        return None
    rides = solved.zero.kind is ZeroKind.CONTACT
    if not rides or promises.worst(np.zeros(1))[0] <= 1.0:
        return None
    return Change(
        "hold-back",
        _hold_back_sentence(scenario),
        replace(scenario, adjuster=replace(scenario.adjuster, acts=Acts.BOTH)),
    )


def hold_both_ways(scenario: Scenario) -> Change | None:
    """An adjuster that holds the plate whichever way it wants to go."""
    if scenario.adjuster.kind is AdjusterKind.NONE or scenario.adjuster.acts is Acts.BOTH:
        return None
    return Change(
        "hold-both-ways",
        f'Let the adjuster hold the plate both ways ({_how(scenario)}; acts = "both").',
        replace(scenario, adjuster=replace(scenario.adjuster, acts=Acts.BOTH)),
    )


def _hold_back_sentence(scenario: Scenario) -> str:
    return (
        "Weight alone already over-tightens the belt: let the adjuster hold the plate back as well "
        f'({_how(scenario)}; acts = "both"), and back it off.'
    )


def _how(scenario: Scenario) -> str:
    if scenario.adjuster.kind is AdjusterKind.LINK:
        return "a link that can push as well as pull"
    return "a screw with a nut on each side, or with a pinned end"
