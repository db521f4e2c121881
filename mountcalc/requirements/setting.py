"""The gentlest setting: between slip and the bearings' limits."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from mountcalc.pages.amounts import percent
from mountcalc.requirements.fineness import fineness
from mountcalc.requirements.idle import IDLE, idle_sentence, idles
from mountcalc.requirements.methods.aim import Aim, Ends, find_aim
from mountcalc.requirements.methods.spring_balance import spring_balance
from mountcalc.requirements.promises import Promises, promises_of
from mountcalc.requirements.results import Governs, Setting
from mountcalc.requirements.tension_steps import tension_steps
from mountcalc.requirements.window import WITHOUT_END, Window, find_window
from mountcalc.scenario.model import Scenario

__all__ = ["gentlest_setting"]

Array = NDArray[np.float64]

NO_ADJUSTER = "there is no adjuster: weight alone sets the tension"


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
    promises = promises_of(scenario)
    if not promises.solved.mount.has_adjuster:
        return _without_adjuster(promises)
    idle, window = idles(scenario), find_window(promises)
    if idle:
        governs = replace(window.governs, min=None, min_reason=IDLE)
        window = replace(window, fewest=None, governs=governs)
    fewest, most = window.fewest, window.most
    if fewest is None or _never_kept(window):
        why = idle_sentence(scenario) if idle else _why_not_open(window)
        aim = Aim.none(why)
    else:
        end = promises.last_turn if most is None else most
        aim = find_aim(promises, Ends(fewest, most, end, window.free))
    old, new = aim.tension, aim.new_tension
    return Setting(
        title=scenario.title,
        turns_min=fewest,
        turns_max=most,
        tension_min=_tension(promises, fewest),
        tension_max=_tension(promises, most),
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
        fineness=fineness(promises, fewest, most, aim.turns, aim.methods),
        spring_balance=spring_balance(promises.solved, old, new),
        slips_at_start=_slips_at_start(promises, aim.turns),
        steps=tension_steps(promises, (fewest, aim.turns, aim.new_turns), aim.methods),
        methods=aim.methods,
    )


def _tension(promises: Promises, turns: float | None) -> float | None:
    if turns is None:
        return None
    tension = float(promises.tension(np.array([turns]))[0])
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


def _slips_at_start(promises: Promises, aim: float | None) -> bool | None:
    if aim is None:
        return None
    turn = np.array([aim])
    return any(bool(way.cases(way.place(turn)).starting.slips[0]) for way in promises.ways)


def _without_adjuster(promises: Promises) -> Setting:
    """Weight alone: one tension, which keeps the promises or does not."""
    scenario, turn = promises.scenario, np.zeros(1)
    margins, shares = promises.grip_margins(turn), promises.shares(turn)
    grips = min(float(value[0]) for value in margins.values())
    limited = max(shares, key=lambda key: float(shares[key][0]))
    over, case = float(shares[limited][0]), limited.case
    keeps = grips >= 1.0 and over <= 1.0
    tension = _tension(promises, 0.0)
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
        fineness=fineness(promises, None, None, None, ()),
        spring_balance=None,
        slips_at_start=_slips_at_start(promises, 0.0),
        steps=(),
        methods=(),
    )
