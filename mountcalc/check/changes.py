"""Changes to a mount that may open its range: each a sentence and the scenario that it makes.

A change that cannot be made to a mount (no such part, not allowed, nothing left to gain) is None.
``snug`` [rad] is the plate angle at which a new belt is to be snug as the present one is.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace
from functools import partial
from typing import Any

import numpy as np

from mountcalc.equilibrium.give import plate_stiffness
from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.solve import SolvedMount
from mountcalc.equilibrium.states import State, ZeroKind
from mountcalc.handbook.belts.sections import heavier_section, section
from mountcalc.pages.amounts import (
    POWER,
    RATE,
    at_most,
    force_text,
    length_text,
    power_text,
    rate_text,
    shown_length,
    significant,
)
from mountcalc.record import Record
from mountcalc.requirements.requirements import Requirements, weight_alone_of
from mountcalc.requirements.results import Setting
from mountcalc.scenario.model import Acts, Adjuster, AdjusterKind, Coil, Rotation, Scenario
from mountcalc.scenario.text.threads import finer_thread
from mountcalc.scenario.text.wording import listed
from mountcalc.scenario.text.writing import Display, Vector
from mountcalc.thresholds import ROUNDING, SETTLED
from mountcalc.units import si_factor

_STEP = {Display.INCH: ("in", 0.25), Display.METRIC: ("mm", 5.0)}
_FURTHER = 0.25  # of the centre distance
# What a turn does with the spring, of what it does without.
_SHARE_OF_A_TURN = 0.25
# What a spring may be pressed in more than it is at the most turns.
_SPARE_TRAVEL = 1.25


class Change(Record):
    """What to do, in words, and the mount that comes of it.

    ``is_finer`` marks a change that makes turns finer and leaves the tensions as they are.
    """

    name: str
    sentence: str
    scenario: Scenario
    is_finer: bool = False


def changed(scenario: Scenario, part: str, **values: Any) -> Scenario:  # noqa: ANN401 (any key)
    """The mount with some values of one part, such as the motor, changed."""
    return replace(scenario, **{part: replace(getattr(scenario, part), **values)})


def in_steps(value: float, display: Display) -> float:
    """A size [m] rounded up to one of those that pulleys and boxes are made in."""
    unit, step = _STEP[display]
    step *= si_factor(unit)
    return math.ceil(value / step - ROUNDING) * step


def larger_pulleys(scenario: Scenario, snug: float, times: float = 1.25) -> Change | None:
    """Both pulleys larger at the same ratio, the belt snug where it was."""
    motor, driven, display = scenario.motor, scenario.driven, scenario.display
    small = 2 * min(motor.pulley_radius, driven.pulley_radius)
    factor = in_steps(max(times * small, small * (1 + SETTLED)), display) / small
    radii = factor * motor.pulley_radius, factor * driven.pulley_radius
    larger = snug_at(_with_radii(scenario, *radii), snug)
    if larger is None:
        return None
    on_motor, on_driven = (
        length_text(2 * part.pulley_radius, display) for part in (larger.motor, larger.driven)
    )
    return Change(
        "larger-pulleys",
        f"Fit larger pulleys at the same ratio: {on_motor} on the motor and {on_driven} on "
        f"the driven shaft (pitch diameters), with a belt of {_belt_length(larger)}. The belt "
        "runs faster and needs less pull for the same power.",
        larger,
    )


def _with_radii(scenario: Scenario, motor: float, driven: float) -> Scenario:
    """Pulleys of other pitch radii [m], their diameters as they are told."""
    motor, driven = (shown_length(2 * one, scenario.display) / 2 for one in (motor, driven))
    return changed(changed(scenario, "motor", pulley_radius=motor), "driven", pulley_radius=driven)


def snug_at(scenario: Scenario, angle: float) -> Scenario | None:
    """The same with the belt that is snug at a plate angle [rad]; None if the pulleys overlap."""
    path = float(Mount.of(scenario).path(angle).length)
    if not math.isfinite(path):
        return None
    length = shown_length(path, scenario.display)
    return changed(scenario, "belt", length=length, designation=None)


def _belt_length(scenario: Scenario) -> str:
    return f"about {length_text(scenario.belt.length, scenario.display)} pitch length"


def slower_driven(scenario: Scenario, snug: float) -> Change | None:
    """A driven pulley so large that its shaft keeps to its greatest speed."""
    most, motor = scenario.driven.max_speed, scenario.motor
    assert most is not None, "asked where a greatest speed is passed"
    diameter = in_steps(2 * motor.pulley_radius * motor.speed / most, scenario.display)
    slower = snug_at(_with_radii(scenario, motor.pulley_radius, diameter / 2), snug)
    if slower is None:
        return None
    return Change(
        "slower-driven",
        f"Fit a driven pulley of {length_text(diameter, scenario.display)} pitch diameter, with a "
        f"belt of {_belt_length(slower)}.",
        slower,
    )


def heavier_belt(scenario: Scenario, _snug: float) -> Change | None:
    """The next heavier section, snug where it was."""
    heavier = heavier_section(scenario.belt.section or "")
    if heavier is None:
        return None
    return Change(
        "heavier-section",
        f"Fit pulleys of the same pitch diameters for section {heavier.name}, and a belt of it.",
        changed(
            scenario,
            "belt",
            section=heavier.name,
            stiffness=heavier.stiffness.value,
            mass=heavier.mass.value,
            designation=None,
            width=heavier.width,
            thickness=heavier.height,
        ),
    )


def one_more_belt(scenario: Scenario, _snug: float) -> Change | None:
    """One more belt of a section that runs in grooves."""
    if section(scenario.belt.section or "") is None:
        return None
    count = scenario.belt.count + 1
    return Change(
        "one-more-belt",
        f"Run {count} equal belts side by side, on pulleys with {count} grooves.",
        changed(scenario, "belt", count=count),
    )


def further_apart(scenario: Scenario, snug: float) -> Change | None:
    """Motor, hinge and adjuster further away along the line of centres, with a longer belt."""
    start, end = scenario.driven.shaft, scenario.motor.shaft
    apart = math.dist(start, end)
    step = shown_length(_FURTHER * apart, scenario.display)
    along = [step * (to - at) / apart for at, to in zip(start, end, strict=True)]

    def moved(part: str, *names: str) -> dict[str, Vector]:
        """The points that a part has, further out."""
        points = {name: getattr(getattr(scenario, part), name) for name in names}
        return {
            name: (at[0] + along[0], at[1] + along[1])
            for name, at in points.items()
            if at is not None
        }

    further = changed(scenario, "motor", **moved("motor", "shaft", "center_of_mass"))
    further = changed(further, "plate", **moved("plate", "hinge", "center_of_mass"))
    pins = moved("adjuster", "tip", "base_pin", "plate_pin")
    snug_there = snug_at(changed(further, "adjuster", **pins), snug)
    if snug_there is None:
        return None
    return Change(
        "further-apart",
        f"Move motor, hinge and adjuster {length_text(step, scenario.display)} "
        f"further from the driven shaft along the line of centres, with a belt of "
        f"{_belt_length(snug_there)}.",
        snug_there,
    )


def other_rotation(scenario: Scenario, _snug: float) -> Change | None:
    """The motor the other way round, where that is allowed and it does not reverse anyway."""
    if not scenario.may_change.rotation or scenario.motor.reverses:
        return None
    rotation = Rotation.CW if scenario.motor.rotation is Rotation.CCW else Rotation.CCW
    return Change(
        "other-rotation",
        f"Let the motor run the other way ({rotation}, facing its pulley): tight and slack strand "
        "change places.",
        changed(scenario, "motor", rotation=rotation),
    )


def loads_elsewhere(scenario: Scenario, _snug: float) -> Change | None:
    """Every load of the driven shaft at mid-span, where they may be moved."""
    loads, bearings = scenario.driven.loads, scenario.driven.bearings
    middle = 0.5 * (bearings[0].position + bearings[1].position)
    moved = tuple(replace(load, position=middle) if load.on is None else load for load in loads)
    if not scenario.may_change.loads or moved == loads:
        return None
    names = listed((f'"{load.name}"' for load in loads if load.on is None), "and")
    return Change(
        "loads-elsewhere",
        f"Move {names} to the middle between the bearings.",
        changed(scenario, "driven", loads=moved),
    )


def lower_demand(scenario: Scenario, _snug: float, share: float = 0.75) -> Change | None:
    """The machine asked for less power."""
    asked = scenario.driven.power
    if asked == 0:
        return None
    power = at_most(share * asked, POWER, scenario.display)
    return Change(
        "lower-demand",
        f"Ask the machine for {power_text(power, scenario.display)} instead of "
        f"{power_text(asked, scenario.display)}: feed it less, or take lighter cuts.",
        changed(scenario, "driven", power=power),
    )


def nearer_pulley(scenario: Scenario, _snug: float, share: float = 0.5) -> Change | None:
    """The pulley that share of its overhang nearer; between the bearings, towards the middle."""
    driven, display = scenario.driven, scenario.display
    low, high = sorted(bearing.position for bearing in driven.bearings)
    at = driven.pulley_position
    is_between = low < at < high
    goal = 0.5 * (low + high) if is_between else min(max(at, low), high)
    shift = shown_length(share * (goal - at), display)
    if shift == 0:
        return None
    where = "towards the middle between the bearings"
    if not is_between:
        left = length_text(abs(at + shift - goal), display)
        where = f"nearer to its bearing, to {left} from the bearing's middle"
    loads = tuple(
        load if load.on is None else replace(load, position=at + shift) for load in driven.loads
    )
    return Change(
        "nearer-pulley",
        f"Move the driven pulley {length_text(abs(shift), display)} {where}, and the motor's "
        "pulley with it.",
        changed(scenario, "driven", pulley_position=at + shift, loads=loads),
    )


def finer_screw(scenario: Scenario, _snug: float) -> Change | None:
    """The next finer standard thread of the same diameter."""
    thread, advance = scenario.adjuster.thread, scenario.adjuster.advance_per_turn
    finer = None if thread is None else finer_thread(thread)
    if thread is None or finer is None or advance is None:
        return None
    advance *= finer.pitch / thread.pitch
    return Change(
        "finer-thread",
        f"Use a screw of {finer.name} instead of {thread.name}: the tensions stay, each "
        "turn does less.",
        changed(scenario, "adjuster", thread=finer, advance_per_turn=advance),
        is_finer=True,
    )


def weight_alone_change(scenario: Scenario, _snug: float) -> Change | None:
    """No adjuster at all: the weights set the tension."""
    if scenario.adjuster.kind is AdjusterKind.NONE:
        return None
    return Change(
        "weight-alone",
        "Leave the adjuster off and let the weights of motor and plate tension the belt.",
        weight_alone_of(scenario),
    )


_Make = Callable[[Scenario, float], Change | None]

CHANGES: tuple[_Make, ...] = (
    other_rotation,
    loads_elsewhere,
    nearer_pulley,
    lower_demand,
    larger_pulleys,
    one_more_belt,
    heavier_belt,
    further_apart,
    finer_screw,
    partial(lower_demand, share=0.5),
    partial(larger_pulleys, times=1.75),
    partial(nearer_pulley, share=0.8),
    weight_alone_change,
)
"""What may cure a judgement or widen a range: the easiest first, then in a stronger dose."""


def spring_in_series(requirements: Requirements, setting: Setting) -> Change | None:
    """A spring between adjuster and plate with which one turn adds a quarter of what it did.

    Seen from the adjuster the plate is itself a spring of stiffness K = dF/ds. With k in
    series the plate takes k / (k + K) of what the adjuster moves; a quarter asks for k = K / 3, and
    behind parts that give c a newton for k = K / 3 (1 + K c). One that is pressed both ways is no
    coil spring, but what gives as much.
    """
    scenario, solved = requirements.scenario, requirements.solved
    adjuster, display = scenario.adjuster, scenario.display
    is_told = adjuster.coil is not None or isinstance(adjuster.spring, float)
    if not solved.mount.has_adjuster or is_told:
        return None
    last = requirements.last_turn
    asked = (setting.set_turns, setting.turns_min, 0.5 * last)
    turns = next(one for one in asked if one is not None)
    own = _stiffness_at_adjuster(solved, min(turns, last))
    if own is None:
        return None
    unit = RATE.size(display)
    share = _SHARE_OF_A_TURN / (1 - _SHARE_OF_A_TURN)
    given = 0.0 if solved.mount.spring is None else 1.0 / float(solved.mount.spring)
    stiffness = significant(own * share / (1.0 + own * given) / unit) * unit
    most = last if setting.turns_max is None else setting.turns_max
    force = max(
        float(np.nan_to_num(np.abs(case.adjuster), nan=0.0)[0])
        for cases in requirements.cases(most)
        for case in cases
    )
    if force == 0:
        return None
    stop = in_steps(_SPARE_TRAVEL * force / stiffness, display)
    made, travel = changed(scenario, "adjuster", spring=1.0 / (given + 1.0 / stiffness)), ""
    if adjuster.acts is not Acts.BOTH:
        made = changed(scenario, "adjuster", coil=Coil(stiffness, 2.0 * stop, stop))
        travel = f", {length_text(stop, display)} of travel"
    return Change(
        "spring",
        f"Put a spring of {rate_text(stiffness, display)}{travel} between adjuster and plate, for "
        f"loads up to {force_text(force, display)}: each turn adds about a quarter of what it did, "
        "and a belt that beds in loses less.",
        made,
        is_finer=True,
    )


def _stiffness_at_adjuster(solved: SolvedMount, turns: float) -> float | None:
    """dF/ds of the held plate at rest [N/m], or None where it is not held or does not resist."""
    if turns < 0:
        return None
    case = solved.at_rest([turns])
    if case.state[0] != State.HELD:
        return None
    slope = float(plate_stiffness(solved.mount, case.phi)[0])
    return slope if slope > 0 else None


def hold_both_ways(scenario: Scenario) -> Change | None:
    """An adjuster that holds the plate whichever way it wants to go."""
    adjuster = scenario.adjuster
    if adjuster.kind is AdjusterKind.NONE or adjuster.acts is Acts.BOTH:
        return None
    sentence = f"Let the adjuster hold the plate both ways ({_both_ways(adjuster)})."
    change = changed(scenario, "adjuster", acts=Acts.BOTH)
    return Change("hold-both-ways", sentence, change)


def hold_back(requirements: Requirements) -> Change | None:
    """An adjuster that holds the plate back as well, where weight alone over-tightens."""
    change = hold_both_ways(requirements.scenario)
    rides = requirements.solved.zero.kind is ZeroKind.CONTACT
    if change is None or not rides or requirements.worst(np.zeros(1))[0] <= 1.0:
        return None
    sentence = (
        "Weight alone already over-tightens the belt: let the adjuster hold the plate back as well "
        f"({_both_ways(requirements.scenario.adjuster)}), and back it off."
    )
    return replace(change, name="hold-back", sentence=sentence)


def _both_ways(adjuster: Adjuster) -> str:
    """Hardware that holds both ways, and what to type."""
    hardware = "a screw with a nut on each side, or with a pinned end"
    if adjuster.kind is AdjusterKind.LINK:
        hardware = "a link that can push as well as pull"
    return f'{hardware}; acts = "both"'
