"""The gentlest setting: between slip and the bearings' limits."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import lru_cache

import numpy as np
from numpy.typing import NDArray

from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.states import State
from mountcalc.formulas.belt import least_tension
from mountcalc.pages.amounts import force_text, percent, power_text
from mountcalc.requirements.methods import Aim, Ends, find_aim
from mountcalc.requirements.requirements import Requirements, requirements_of
from mountcalc.requirements.results import (
    Governs,
    Method,
    MethodName,
    Sensitivity,
    Setting,
    Step,
)
from mountcalc.requirements.spring_balance import spring_balance
from mountcalc.requirements.window import WITHOUT_END, Window, find_window
from mountcalc.scenario.model import IDLE_SHARE, Limits, Scenario

__all__ = ["gentlest_setting", "idles"]

Array = NDArray[np.float64]

IDLE = "no grip is asked for"
NO_ADJUSTER = "there is no adjuster: weight alone sets the tension"


@lru_cache(maxsize=256)
def gentlest_setting(scenario: Scenario) -> Setting:
    """Where to set the adjuster so that the belt grips and the bearings are spared.

    Parameters
    ----------
    scenario : Scenario
        The mount; its ``limits`` say what is promised.

    Returns
    -------
    Setting
        The range of turns, the set point for an old and a new belt, and how fine it is.

    Raises
    ------
    MountError
        Where the mount cannot be solved.
    """
    requirements = requirements_of(scenario)
    if not requirements.solved.mount.has_adjuster:
        return _without_adjuster(requirements)
    idle, window = idles(scenario), find_window(requirements)
    if idle:
        governs = replace(window.governs, min=None, min_reason=IDLE)
        window = replace(window, fewest=None, governs=governs)
    fewest, most = window.fewest, window.most
    if fewest is None or _never_kept(window):
        why = idle_sentence(scenario) if idle else _why_not_open(window)
        aim = Aim.none(why)
    else:
        end = requirements.last_turn if most is None else most
        aim = find_aim(requirements, Ends(fewest, most, end, window.free))
    old, new = aim.tension, aim.new_tension
    return Setting(
        title=scenario.title,
        turns_min=fewest,
        turns_max=most,
        tension_min=_tension(requirements, fewest),
        tension_max=_tension(requirements, most),
        aim_turns=aim.reckoned,
        set_turns=aim.turns,
        set_tension=old,
        new_turns=aim.new_turns,
        new_tension=new,
        free_turns=window.free,
        open=aim.why_not_open is None,
        why_not_open=aim.why_not_open,
        governs=window.governs,
        grip_wanted=scenario.limits.grip,
        turn_error=scenario.limits.turn_error,
        sensitivity=_sensitivity(requirements, fewest, most, aim.turns, aim.methods),
        spring_balance=spring_balance(requirements.solved, old, new),
        slips_at_start=_slips_at_start(requirements, aim.turns),
        steps=_tension_steps(requirements, (fewest, aim.turns, aim.new_turns), aim.methods),
        methods=aim.methods,
    )


def _tension(requirements: Requirements, turns: float | None) -> float | None:
    if turns is None:
        return None
    tension = float(requirements.tension(np.array([turns]))[0])
    return tension if math.isfinite(tension) else None


def _never_kept(window: Window) -> bool:
    """Whether no turn keeps both promises: the bearings give out before the belt grips."""
    if window.fewest is None or window.most is None:
        return window.fewest is None
    return window.most < window.fewest or window.most == 0


def _why_not_open(window: Window) -> str:
    """Why no turn keeps both promises."""
    if window.fewest is None:
        return window.governs.min_reason or ""
    if window.most == 0:
        return window.governs.max_reason or ""
    ruler = window.governs.max
    limited = "the mount" if ruler is None else ruler.limited or "the mount"
    return f"{limited} is at its limit before the belt grips: no setting keeps both promises"


def _slips_at_start(requirements: Requirements, aim: float | None) -> bool | None:
    if aim is None:
        return None
    turn = np.array([aim])
    return any(bool(way.cases(way.place(turn)).starting.slips[0]) for way in requirements.ways)


def _without_adjuster(requirements: Requirements) -> Setting:
    """Weight alone: one tension, which keeps the promises or does not."""
    scenario, turn = requirements.scenario, np.zeros(1)
    margins, shares = requirements.grip_margins(turn), requirements.shares(turn)
    grips = min(float(value[0]) for value in margins.values())
    limited = max(shares, key=lambda key: float(shares[key][0]))
    over, case = float(shares[limited][0]), limited.case
    keeps = grips >= 1.0 and over <= 1.0
    tension = _tension(requirements, 0.0)
    why = None
    if grips < 1.0:
        why = f"weight alone gives {grips * scenario.limits.grip:.2f} of the pull that is needed"
    elif not np.isfinite(over):
        why = WITHOUT_END.format(case="at rest" if case == "rest" else case)
    elif over > 1.0:
        part = limited.ruler.limited
        why = f"weight alone loads {part} to {percent(over)} % of its limit ({case})"
    return Setting(
        title=scenario.title,
        turns_min=None,
        turns_max=None,
        tension_min=None,
        tension_max=None,
        aim_turns=None,
        set_turns=None,
        set_tension=tension,
        new_turns=None,
        new_tension=tension,
        free_turns=None,
        open=keeps,
        why_not_open=why,
        governs=Governs(None, None, NO_ADJUSTER, NO_ADJUSTER),
        grip_wanted=scenario.limits.grip,
        turn_error=scenario.limits.turn_error,
        sensitivity=_sensitivity(requirements, None, None, None, ()),
        spring_balance=None,
        slips_at_start=_slips_at_start(requirements, 0.0),
        steps=(),
        methods=(),
    )


def _sensitivity(
    requirements: Requirements,
    fewest: float | None,
    most: float | None,
    aim: float | None,
    methods: tuple[Method, ...],
) -> Sensitivity:
    """Judge the range between the fewest and the most turns."""
    solved = requirements.solved
    width = None if fewest is None or most is None else most - fewest
    advance = abs(solved.advance) if solved.mount.has_adjuster else math.nan
    per_turn = _per_turn(requirements, aim)
    factor = requirements.scenario.belt.stiffness_factor
    turns = [one for one in methods if one.name is MethodName.TURNS]
    trusted = bool(turns) and turns[0].trustworthy
    return Sensitivity(
        turns_range=width,
        extension_range=None if width is None else width * advance,
        center_range=_center_range(requirements, fewest, most),
        tension_per_turn_low=None if per_turn is None else per_turn / factor,
        tension_per_turn_high=None if per_turn is None else per_turn * factor,
        turns_can_be_trusted=trusted,
        why_not=() if trusted else tuple(one.why for one in turns),
    )


def _per_turn(requirements: Requirements, aim: float | None) -> float | None:
    """Tension that one turn adds at the set point [N], by a small step to the tight side."""
    if aim is None:
        return None
    step = 1e-4
    tension = requirements.tension(np.array([aim, aim + step]))
    slope = float(tension[1] - tension[0]) / step
    return max(slope, 0.0) if math.isfinite(slope) else None


def _center_range(
    requirements: Requirements, fewest: float | None, most: float | None
) -> float | None:
    if fewest is None or most is None:
        return None
    way = requirements.solved
    phi = way.case(way.place(np.array([fewest, most])), way.demands["rest"]).phi
    distance = way.mount.path(phi).center_distance
    width = float(distance[1] - distance[0])
    return width if math.isfinite(width) else None


def _tension_steps(
    requirements: Requirements,
    at: tuple[float | None, float | None, float | None],
    methods: tuple[Method, ...],
) -> tuple[Step, ...]:
    """Rest tensions from the bare pull of the load up to a new belt's setting."""
    fewest, aim, new = at
    if fewest is None or aim is None or new is None:
        return ()
    limits = requirements.scenario.limits
    steps = _physics(requirements, fewest)
    tensions = requirements.tension(np.array([fewest, aim, new]))
    reasons = (
        (
            "wanted grip",
            f"{_wanted(limits)} may come before it slips"
            if fewest > 0
            else "zero itself gives more grip than is wanted",
        ),
        ("hand and reading", f"{methods[0].name}, and lock nut, may be off"),
        (
            "bedding in",
            f"a new belt loses tension: {limits.bedding:g} times, if limits and weights allow",
        ),
    )
    steps += [
        Step(name, float(tension), is_physics=False, sentence=sentence)
        for tension, (name, sentence) in zip(tensions, reasons, strict=True)
        if np.isfinite(tension)
    ]
    return tuple(steps)


def _wanted(limits: Limits) -> str:
    text = f"{limits.grip:g} times the running pull"
    if limits.starting_grip is not None:
        text += f", and {limits.starting_grip:g} times the starting pull,"
    return text


def _physics(requirements: Requirements, fewest: float) -> list[Step]:
    solved = requirements.solved
    mount = solved.mount
    case = solved.case(solved.place(np.array([fewest])), solved.demands["running"])
    if case.state[0] != State.HELD or mount.pull == 0:
        return []
    share = min(float(way.mount.pulls(case.phi).share[0]) for way in requirements.ways)
    slipping = float(least_tension(mount.pull, share, 0.0))
    moving = slipping + mount.centrifugal_tension
    return [
        Step(
            "half the pull",
            0.5 * mount.pull,
            is_physics=True,
            sentence="with less the slack strand would have to push",
        ),
        Step(
            "traction and wrap",
            slipping,
            is_physics=True,
            sentence="with less the belt slips on the pulley that holds it least",
        ),
        Step(
            "belt in motion",
            moving,
            is_physics=True,
            sentence="the belt's own motion takes this much of its tension off the pulleys",
        ),
    ]


def idles(scenario: Scenario) -> bool:
    """Whether the machine asks for no power to speak of, so that no tension follows from it."""
    return scenario.driven.power < IDLE_SHARE * scenario.motor.power


def idle_sentence(scenario: Scenario) -> str:
    """What the belt of such a machine wants."""
    display = scenario.display
    own = force_text(Mount.of(scenario).centrifugal_tension, display)
    asked = power_text(scenario.driven.power, display)
    return (
        f"the machine takes {asked} (driven.power), from which no tension follows. A belt that "
        "only idles wants its slack just taken up, as at zero, and no more than keeps it from "
        f"flapping; its own motion takes {own} on each strand. Give the power that the machine "
        "takes at work to be told a setting"
    )
