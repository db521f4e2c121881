"""Changes against what shakes, knocks, lifts or turns by itself, the easiest first.

Other turns of the mount as it stands are among them; all are judged again as a whole.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator
from dataclasses import replace

import numpy as np

from mountcalc.check.changes import (
    Change,
    changed,
    finer_screw,
    heavier_belt,
    hold_both_ways,
    in_steps,
    one_more_belt,
    snug_at,
    spring_in_series,
)
from mountcalc.check.evaluation import Evaluation, setup_of
from mountcalc.errors import MountError
from mountcalc.handbook.hardware import fact
from mountcalc.judgement import Judgement, Verdict
from mountcalc.loads import loads_judgements
from mountcalc.pages.amounts import bench_length, length_text, shown_length, turns_text
from mountcalc.requirements.requirements import requirements_of
from mountcalc.scenario.boards import board_sizes
from mountcalc.scenario.drawn_plate import plate_line
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.text.writing import Display
from mountcalc.strength.carried import Setup, stiffness_of
from mountcalc.strength.changes import thicker
from mountcalc.strength.strength import strength_judgements
from mountcalc.structure.made import plate_of
from mountcalc.thresholds import ROUNDING
from mountcalc.units import STANDARD_GRAVITY, si_factor

_TRIES = 5  # places of the range of turns that are looked at
_THICKER = (1.15, 0.85, 1.3, 1.5, 2.0)
_WEIGHTS = (0.25, 0.5, 1.0)  # of the motor's
_MOST_WEIGHT = 25.0  # [kg] more is another mount (our own choice)
_NEARER = (-0.15, 0.15, -0.3, 0.3)  # of the way from hinge to motor
_WIDER = (1.25, 1.5, 2.0)
_MEASURED = 1.2  # times that readings leave open of the belt's stiffness (estimate)
_THREE = 3
# What changes little with the turns, and what tells it.
_FORETOLD: dict[str, Callable[[Setup], Iterable[Judgement]]] = {
    "plate-shaking": lambda at: loads_judgements(at.ways, at.turns, stiffness_of(at.scenario)),
    "hinge-knock": strength_judgements,
}


class Quieter(Change):
    """A change, or other ``turns`` [-] of the same mount."""

    turns: float | None = None


def quieter(before: Evaluation, name: str) -> Iterator[Change]:
    """What may cure a judgement of what shakes, knocks, lifts or turns by itself."""
    for change in _MAKERS[name](before):
        if change is not None and (name not in _FORETOLD or _may_cure(before, change, name)):
            yield change


def _may_cure(before: Evaluation, change: Change, name: str) -> bool:
    """Whether it does at the same turns: cheap to tell, and most changes do not."""
    setup = setup_of(before.point)
    turns = change.turns if isinstance(change, Quieter) else setup.turns
    try:
        ways = requirements_of(change.scenario).ways
        there = replace(setup, scenario=change.scenario, ways=ways, turns=turns)
        found = _FORETOLD[name](there)
    except MountError:
        return False
    return Verdict.CAUTION not in {one.verdict for one in found if one.name == name}


def _calmer(before: Evaluation) -> Iterator[Change | None]:
    """Turns, the board, weight, the motor's place, the belt, a spring, three phases, readings."""
    scenario = before.point.scenario
    yield from _other_turns(before)
    plate, display = plate_of(scenario), scenario.display
    for times in _THICKER if plate is not None else ():
        assert plate is not None
        thickness = in_steps(times * plate.thickness, display)
        if thickness == plate.thickness:
            continue
        made = thicker(scenario, plate.thickness, thickness, "")
        yield Change("thicker-plate", made.sentence, made.scenario)
    yield from _heavier(scenario)
    snug = before.point.requirements.solved.travel.snug
    for share in _NEARER:
        yield _nearer(scenario, snug, share)
    yield from _wider_belts(scenario)
    yield one_more_belt(scenario, snug)
    yield heavier_belt(scenario, snug)
    yield spring_in_series(before.point.requirements, before.point.setting)
    yield _three_phases(scenario)
    if scenario.belt.stiffness_factor > _MEASURED:
        yield Change(
            "fit",
            "Take readings at the machine (mountcalc fit): with the belt's stiffness known to "
            f"{_MEASURED:g} times, and if it is as it is taken here, the plate's swing is clear.",
            changed(scenario, "belt", stiffness_factor=_MEASURED),
        )


def _other_turns(before: Evaluation) -> Iterator[Change]:
    """Other turns within the range, those nearest to the setting first."""
    setting, scenario = before.point.setting, before.point.scenario
    low, high, at = setting.turns_min, setting.turns_max, before.point.turns
    if not setting.open or low is None or high is None or at is None:
        return
    error, step = setting.turn_error, 1.0 / 16.0
    places = {round(one / step) * step for one in np.linspace(low + error, high - error, _TRIES)}
    for turns in sorted(places, key=lambda one: abs(one - at)):
        if low + error <= turns <= high - error:
            words = f"Set it to {turns_text(turns)} turns from zero instead."
            yield Quieter("other-turns", words, scenario, turns=turns)


def _heavier(scenario: Scenario) -> Iterator[Change]:
    """Weights fixed to the plate where its own centre of mass is."""
    for share in _WEIGHTS:
        unit = "lb" if scenario.display is Display.INCH else "kg"
        number = max(round(share * scenario.motor.weight / STANDARD_GRAVITY / si_factor(unit)), 1)
        if number * si_factor(unit) > _MOST_WEIGHT:
            return
        more = number * si_factor(unit) * STANDARD_GRAVITY
        yield Change(
            "heavier-plate",
            f"Fix {number} {unit} more to the plate, spread so that its centre of mass stays.",
            changed(scenario, "plate", weight=scenario.plate.weight + more),
        )


def _nearer(scenario: Scenario, snug: float, share: float) -> Change | None:
    """The motor along the plate, with the belt that is snug there at the same plate angle."""
    line, motor = plate_line(scenario), scenario.motor
    away = math.dist(motor.shaft, scenario.plate.hinge)
    step = shown_length(share * away, scenario.display)
    by = (step * line.along[0], step * line.along[1])
    moved = {
        name: (at[0] + by[0], at[1] + by[1])
        for name, at in (("shaft", motor.shaft), ("center_of_mass", motor.center_of_mass))
    }
    there = snug_at(changed(scenario, "motor", **moved), snug)
    if there is None:
        return None
    way = "away from" if share > 0 else "towards"
    return Change(
        "motor-along-plate",
        f"Move the motor {length_text(abs(step), scenario.display)} along the plate, {way} the "
        f"hinge, with a belt of about {length_text(there.belt.length, scenario.display)} pitch "
        "length.",
        there,
    )


def _wider_belts(scenario: Scenario) -> Iterator[Change]:
    """A flat belt that is wider, and so stiffer."""
    belt = scenario.belt
    if belt.width is None or not (belt.section or "").startswith("flat"):
        return
    for times in _WIDER:
        width = in_steps(times * belt.width, scenario.display)
        grown = width / belt.width
        yield Change(
            "wider-belt",
            f"Fit a belt {length_text(width, scenario.display)} wide, on pulleys that are as wide.",
            changed(
                scenario,
                "belt",
                width=width,
                stiffness=grown * belt.stiffness,
                mass=grown * belt.mass,
            ),
        )


def _three_phases(scenario: Scenario) -> Change | None:
    if scenario.motor.phases == _THREE:
        return None
    return Change(
        "three-phases",
        "Run it from three phases, whose torque does not pulse: another motor, or a converter and "
        "a motor for it.",
        changed(scenario, "motor", phases=_THREE),
    )


def _pressed(before: Evaluation) -> Iterator[Change | None]:
    """A plate that stays on its bolt: held both ways, by a spring, tighter, by weight."""
    yield from _other_turns(before)
    yield spring_in_series(before.point.requirements, before.point.setting)
    yield hold_both_ways(before.point.scenario)
    yield from _heavier(before.point.scenario)
    yield _three_phases(before.point.scenario)


def _one_way(before: Evaluation) -> Iterator[Change | None]:
    """Hinges that are pushed one way: further apart, bolts by the belt, tighter, weight."""
    scenario = before.point.scenario
    yield from _other_turns(before)
    yield from _apart(scenario)
    yield from _towards_pulley(scenario)
    yield from _heavier(scenario)
    yield spring_in_series(before.point.requirements, before.point.setting)


def _apart(scenario: Scenario) -> Iterator[Change]:
    """Hinges at the ends of the plate, and of a wider one."""
    sizes, parts, display = board_sizes(scenario), scenario.parts, scenario.display
    if len(sizes.hinges) < 2:  # noqa: PLR2004  # one alone is not apart from any
        return
    for times in (1.0, 1.25, 1.5, 2.0):
        width = sizes.width if times == 1.0 else in_steps(times * sizes.width, display)
        end = 0.5 * (width - sizes.leaf_length)
        across = tuple(float(one) for one in np.linspace(-end, end, len(sizes.hinges)))
        if across[-1] <= sizes.hinges[-1] * (1 + ROUNDING):
            continue
        hinges, plate = replace(parts.hinges, across=across), replace(parts.plate, width=width)
        words = "" if times == 1.0 else f", of a plate {bench_length(width, display)} wide"
        yield Change(
            "hinges-apart",
            f"Set the hinges at the very ends of the plate{words}.",
            replace(scenario, parts=replace(parts, hinges=hinges, plate=plate)),
        )


def _towards_pulley(scenario: Scenario) -> Iterator[Change]:
    """Bolts nearer to the motor's pulley; two of them as one."""
    adjuster, sizes, display = scenario.adjuster, board_sizes(scenario), scenario.display
    end, places = 0.5 * sizes.width - sizes.pad, adjuster.places
    if not places:
        return
    middle = sum(places) / len(places)
    if adjuster.bolts:
        yield Change(
            "one-bolt",
            "Use one bolt, in the middle between the two.",
            changed(scenario, "adjuster", bolts=(), across=middle),
        )
    for share in (0.5, 1.0):
        at = middle + shown_length(share * (end - middle), display)
        if at <= middle * (1 + ROUNDING):
            continue
        yield Change(
            "bolt-across",
            f"Set {'one bolt instead of the two' if adjuster.bolts else 'the bolt'} "
            f"{length_text(abs(at), display)} from the middle of the plate's width, "
            f"{'towards' if at > 0 else 'away from'} the motor's pulley.",
            changed(scenario, "adjuster", bolts=(), across=at),
        )


def _together(before: Evaluation) -> Iterator[Change | None]:
    """Two bolts that both bear."""
    yield from _towards_pulley(before.point.scenario)
    yield from _apart(before.point.scenario)


def _holding(before: Evaluation) -> Iterator[Change | None]:
    """A thread that the load does not turn back."""
    scenario, dry = before.point.scenario, fact("friction", "dry").value
    yield finer_screw(scenario, 0.0)
    rubbed = replace(scenario.parts.bolt, friction=dry)
    yield Change(
        "dry-thread",
        f"Clean the thread and leave it dry, for a friction of about {dry:g}.",
        replace(scenario, parts=replace(scenario.parts, bolt=rubbed)),
    )


_MAKERS: dict[str, Callable[[Evaluation], Iterator[Change | None]]] = {
    "plate-shaking": _calmer,
    "bolt-ripple": _pressed,
    "start-lift": _pressed,
    "hinge-knock": _one_way,
    "two-bolts": _together,
    "bolt-holding": _holding,
}
QUIETED = frozenset(_MAKERS)
"""The judgements that these changes may cure."""
OTHERWISE = {
    "plate-shaking": "A frequency so near wants another layout, or another motor.",
    "hinge-knock": "Hinges whose pins fit without play would keep quiet.",
    "bolt-holding": "Its lock nut alone holds it.",
    "bolt-stress": "A thicker bolt would.",
    "bolt-buckling": "A thicker bolt would.",
    "screws-in-plate": "Larger hinges would, or another board.",
    "screws-in-base": "Larger hinges would, or another board.",
    "tension-left": "Steel in the place of the board would, or a spring.",
    "season": "Steel between hinge and bolt would.",
}
"""What is left where nothing that was tried cures it."""
