"""The gentlest setting: between slip and the bearings' limits."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import lru_cache

import numpy as np

from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.states import State
from mountcalc.formulas.belt import least_tension
from mountcalc.pages.amounts import force_text, percent, power_text, turns_to_set
from mountcalc.requirements.methods import Range, ranked_ranges, spring_balance, told_of
from mountcalc.requirements.requirements import Requirements, requirements_of
from mountcalc.requirements.results import Governs, MethodName, Sensitivity, Setting, Step
from mountcalc.requirements.window import WITHOUT_END, find_window
from mountcalc.scenario.driven import IDLE_SHARE
from mountcalc.scenario.model import Scenario

_STEP = 1e-4  # [-] turns over which a slope is taken: rounding and bend both leave little of it

IDLE = "no grip is asked for"
TOO_NARROW = "the range is narrower than a hand can set: less than {turns:g} turns"
NOT_SURE = (
    "the range is narrower than any method tells: by {method}, {means}. The setting is its middle; "
    "what a reading is off is lost to grip or to a limit"
)
NOT_HELD = "the adjuster does not hold the plate past the turn where the belt becomes snug"
NO_ADJUSTER = "there is no adjuster: weight alone sets the tension"


@lru_cache(maxsize=256)
def gentlest_setting(scenario: Scenario) -> Setting:
    """Where to set the adjuster so that the belt grips and the bearings are spared.

    The range of turns, the set point for an old and a new belt, and how fine it is; MountError
    where the mount cannot be solved.
    """
    requirements, limits = requirements_of(scenario), scenario.limits
    if not requirements.solved.mount.has_adjuster:
        return _without_adjuster(requirements)
    idle, window = idles(scenario), find_window(requirements)
    governs, fewest, most = window.governs, window.fewest, window.most
    if idle:
        governs, fewest = replace(governs, min=None, min_reason=IDLE), None
    setting = Setting(
        title=scenario.title,
        turns_min=fewest,
        turns_max=most,
        tension_min=_tension(requirements, fewest),
        tension_max=_tension(requirements, most),
        free_turns=window.free,
        governs=governs,
        grip_wanted=limits.grip,
        turn_error=limits.turn_error,
    )
    if idle:
        setting = replace(setting, why_not_open=_idle_sentence(scenario))
    elif fewest is None or most == 0:
        why = (governs.min_reason if fewest is None else governs.max_reason) or ""
        setting = replace(setting, why_not_open=why)
    elif most is not None and most < fewest:
        limited = (governs.max.limited if governs.max else "") or "the mount"
        why = f"{limited} is at its limit before the belt grips: no setting keeps grip and limits"
        setting = replace(setting, why_not_open=why)
    else:
        setting = _with_aim(requirements, setting)
    return replace(
        setting,
        sensitivity=_sensitivity(requirements, setting),
        spring_balance=spring_balance(
            requirements.solved, setting.set_tension, setting.new_tension
        ),
        slips_at_start=_slips_at_start(requirements, setting.set_turns),
        steps=_tension_steps(requirements, setting),
    )


def _tension(requirements: Requirements, turns: float | None) -> float | None:
    if turns is None:
        return None
    tension = float(requirements.tension(turns)[0])
    return tension if math.isfinite(tension) else None


def _slips_at_start(requirements: Requirements, turns: float | None) -> bool | None:
    if turns is None:
        return None
    return any(bool(cases.starting.slips[0]) for cases in requirements.cases(turns))


def _without_adjuster(requirements: Requirements) -> Setting:
    """Weight alone: one tension, which keeps the requirements or does not."""
    scenario = requirements.scenario
    grips, tension = float(requirements.grip(0.0)[0]), _tension(requirements, 0.0)
    (limited, over), why = requirements.nearest_limit(0.0), None
    case = limited.case
    if grips < 1.0:
        why = f"weight alone gives {grips * scenario.limits.grip:.2f} of the pull that is needed"
    elif not np.isfinite(over):
        why = WITHOUT_END.format(case="at rest" if case == "rest" else case)
    elif over > 1.0:
        why = f"weight alone loads {limited.limited} to {percent(over)} % of its limit ({case})"
    return Setting(
        title=scenario.title,
        set_tension=tension,
        new_tension=tension,
        open=why is None,
        why_not_open=why,
        governs=Governs(None, None, NO_ADJUSTER, NO_ADJUSTER),
        grip_wanted=scenario.limits.grip,
        turn_error=scenario.limits.turn_error,
        slips_at_start=_slips_at_start(requirements, 0.0),
    )


def _sensitivity(requirements: Requirements, setting: Setting) -> Sensitivity:
    """Judge the range between the fewest and the most turns."""
    way, fewest, most = requirements.solved, setting.turns_min, setting.turns_max
    width = center_range = per_turn = None
    if fewest is not None and most is not None:
        width = most - fewest
        phi = way.at_rest([fewest, most]).phi
        apart = float(np.diff(way.mount.path(phi).center_distance)[0])
        center_range = apart if math.isfinite(apart) else None
    if setting.set_turns is not None:  # what one turn adds, by a small step to the tight side
        tension = requirements.tension([setting.set_turns, setting.set_turns + _STEP])
        slope = float(np.diff(tension)[0]) / _STEP
        per_turn = max(slope, 0.0) if math.isfinite(slope) else None
    factor = requirements.scenario.belt.stiffness_factor
    turns = [one for one in setting.methods if one.name is MethodName.TURNS]
    trusted = bool(turns) and turns[0].trustworthy
    return Sensitivity(
        turns_range=width,
        extension_range=None if width is None else width * abs(way.advance),
        center_range=center_range,
        tension_per_turn_low=None if per_turn is None else per_turn / factor,
        tension_per_turn_high=None if per_turn is None else per_turn * factor,
        turns_can_be_trusted=trusted,
        why_not=() if trusted else tuple(one.why for one in turns),
    )


def _tension_steps(requirements: Requirements, setting: Setting) -> tuple[Step, ...]:
    """Rest tensions from the bare pull of the load up to a new belt's setting."""
    fewest, aim, new = setting.turns_min, setting.set_turns, setting.new_turns
    if fewest is None or aim is None or new is None:
        return ()
    limits, way = requirements.scenario.limits, requirements.solved
    wanted, mount, steps = f"{limits.grip:g} times the running pull", way.mount, []
    if limits.starting_grip is not None:
        wanted += f", and {limits.starting_grip:g} times the starting pull,"
    case = way.case(way.place(fewest), way.demands["running"], with_grip=False)
    if case.state[0] == State.HELD and mount.pull > 0:
        share = min(float(one.mount.pulls(case.phi).share[0]) for one in requirements.ways)
        slipping = float(least_tension(mount.pull, share, 0.0))
        physics = (
            (
                "half the pull",
                0.5 * mount.pull,
                "with less the slack strand would have to push",
            ),
            (
                "traction and wrap",
                slipping,
                "with less the belt slips on the pulley that holds it least",
            ),
            (
                "belt in motion",
                slipping + mount.centrifugal_tension,
                "the belt's own motion takes this much of its tension off the pulleys",
            ),
        )
        steps += [
            Step(name, tension, is_physics=True, sentence=sentence)
            for name, tension, sentence in physics
        ]
    reasons = (
        (
            "wanted grip",
            f"{wanted} may come before it slips"
            if fewest > 0
            else "zero itself gives more grip than is wanted",
        ),
        ("hand and reading", f"{setting.methods[0].name.words} and lock nut may be off"),
        (
            "bedding in",
            f"a new belt loses tension: {limits.bedding:g} times, if limits and weights allow",
        ),
    )
    steps += [
        Step(name, float(tension), is_physics=False, sentence=sentence)
        for tension, (name, sentence) in zip(
            requirements.tension([fewest, aim, new]), reasons, strict=True
        )
        if np.isfinite(tension)
    ]
    return tuple(steps)


def _with_aim(requirements: Requirements, setting: Setting) -> Setting:
    """A setting whose range of turns is known, with its set point and the methods."""
    fewest, most, free = setting.turns_min, setting.turns_max, setting.free_turns
    assert fewest is not None, "only what grips has a set point"
    end = requirements.last_turn if most is None else most
    error = requirements.scenario.limits.turn_error
    ranges, low, high = _certain(requirements, fewest, most, (fewest + error, end - error))
    lead, why = ranges[0], None
    turns = _turns_at(requirements, lead.tension(lead.aim))
    if low > high:
        low, high, turns = fewest, end, 0.5 * (fewest + end)
        why = TOO_NARROW.format(turns=2 * error)
    elif not lead.trustworthy:
        low, high = fewest, end
        why = NOT_SURE
    if free is not None:  # more turns change nothing
        low, high = min(low, free), min(high, free)
    reckoned = min(max(turns, low), high)
    printed = turns_to_set(reckoned, low, high)
    at = reckoned if printed is None else printed
    new_at = new_belt_turns(requirements, at, max(high, at))
    old, new = requirements.tension(np.array([at, new_at])).tolist()
    if not math.isfinite(old):
        return replace(setting, why_not_open=NOT_HELD)
    every = [told_of(requirements, one, (old, new), lead) for one in ranges]
    # Turns past those that free the bolt show no more: they are no way to such a tension.
    methods = tuple(one for one in every if math.isfinite(one.aim + one.new_aim + one.tension_low))
    if why is NOT_SURE:
        why = NOT_SURE.format(method=methods[0].name.words, means=methods[0].why)
    return replace(
        setting,
        aim_turns=reckoned,
        set_turns=at,
        set_tension=old,
        new_turns=new_at,
        new_tension=new,
        open=why is None,
        why_not_open=why,
        methods=methods,
    )


def certain_most(
    requirements: Requirements, fewest: float, most: float | None, end: float
) -> float:
    """The most turns [-] that hand and leading method are certain to keep within the limits."""
    error = requirements.scenario.limits.turn_error
    return _certain(requirements, fewest, most, (fewest, end - error))[2]


def _certain(
    requirements: Requirements, fewest: float, most: float | None, by_hand: tuple[float, float]
) -> tuple[list[Range], float, float]:
    """All ranges; then turns between which hand, lock nut and the leading reading may err."""
    ends = np.array([fewest, requirements.last_turn if most is None else most])
    least, greatest = requirements.tension(ends).tolist()
    ranges = ranked_ranges(requirements, least, None if most is None else greatest)
    (low, high), lead = by_hand, ranges[0]
    if lead.trustworthy:
        low = max(low, _turns_at(requirements, lead.tension(lead.not_below)))
        if math.isfinite(lead.never_above):
            tension = lead.tension(lead.never_above)
            high = min(high, _turns_at(requirements, tension))
    return ranges, low, high


def _turns_at(requirements: Requirements, tension: float) -> float:
    return min(float(requirements.turns_for(tension)[0]), requirements.last_turn)


def new_belt_turns(requirements: Requirements, turns: float, most: float) -> float:
    """Turns for a new belt: as much tighter as it is to lose, if that is certain to be allowed."""
    old = float(requirements.tension(turns)[0])
    wanted = _turns_at(requirements, requirements.scenario.limits.bedding * old)
    wanted = min(max(wanted, turns), most)
    printed = turns_to_set(wanted, turns, most)
    return wanted if printed is None else printed


def idles(scenario: Scenario) -> bool:
    """Whether the machine asks for no power to speak of, so that no tension follows from it."""
    return scenario.driven.power < IDLE_SHARE * scenario.motor.power


def _idle_sentence(scenario: Scenario) -> str:
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
