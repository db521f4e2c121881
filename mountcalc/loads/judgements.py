"""What is judged of a mount along the shafts, and of what shakes it: cautions and notes."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import NamedTuple

import numpy as np

from mountcalc.equilibrium.give import unsaid_give
from mountcalc.equilibrium.solve import SolvedMount
from mountcalc.handbook.belts.sections import section
from mountcalc.handbook.machine import pulley_slant
from mountcalc.handbook.rows import datum, load
from mountcalc.judgement import Judgement, Key, Measure, Topic, Verdict, key_of, weakest
from mountcalc.loads.board import beam_of
from mountcalc.loads.body import bodies
from mountcalc.loads.loads import space_loads
from mountcalc.loads.results import Mode, Shaking, SpaceLoads, Stiffness
from mountcalc.loads.shaking import PLATE, shaking
from mountcalc.loads.space import racking, share_out
from mountcalc.pages.amounts import (
    ANGLE,
    FORCE,
    FREQUENCY,
    LENGTH,
    NUMBER,
    RATE,
    percent,
    rate_text,
    turns_text,
)
from mountcalc.scenario.boards import board_sizes
from mountcalc.scenario.hardware import Giving
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.text.wording import listed
from mountcalc.structure.give import softness_of
from mountcalc.structure.made import plate_of
from mountcalc.thresholds import ROUNDING

_STATICS = "statics of the plate"
_QUARTER = 0.25  # turns
# Of what pulleys may be out of plane, what one of two bolts may be ahead of the other (estimate).
_AHEAD = 0.25
_STEPS = (1.0, 0.5, 0.25, 0.125, 0.0625)
_PAIR = 2
_WORST_FIRST = (Verdict.FAIL, Verdict.CAUTION, Verdict.PASS, Verdict.NOTE)


def _when(case: str) -> str:
    return "at rest" if case == "rest" else case


def loads_judgements(
    ways: Sequence[SolvedMount], turns: float | None, stiffness: Stiffness
) -> tuple[Judgement, ...]:
    """Everything that is judged along the shafts, and of shaking; nothing where nothing rests.

    Parameters
    ----------
    ways : sequence of SolvedMount
        The mount, for each rotation that it runs in.
    turns : float or None [-]
        From zero; without an adjuster it counts for nothing.
    stiffness : Stiffness
        What gives way.
    """
    scenario = ways[0].mount.scenario
    cases = [case for way in ways for case in space_loads(way, turns, stiffness)]
    found = list[Judgement]()
    if cases:
        found += _tilt(scenario, cases, stiffness)
        found += _bend(scenario, ways, turns, stiffness)
        found += _gives(ways[0], turns)
        found += _hinges(scenario, cases)
        found += _bolts(scenario, ways[0], turns, cases, stiffness)
    plate = plate_of(scenario)
    softness = None if plate is None else softness_of(scenario, plate)
    for way in ways:
        shaken = shaking(way, turns, softness)
        if shaken is not None:
            found += [*_modes(shaken), *_ripple(scenario, shaken), *_start(scenario, shaken)]
    worst = dict[Key, Judgement]()
    for one in found:  # of both rotations
        before = worst.setdefault(key_of(one), one)
        if _WORST_FIRST.index(one.verdict) < _WORST_FIRST.index(before.verdict):
            worst[key_of(one)] = one
    return tuple(worst.values())


def _tilt(
    scenario: Scenario, cases: Sequence[SpaceLoads], stiffness: Stiffness
) -> Iterator[Judgement]:
    """The pulley's tilt by what gives, and what is left of it where it was aligned under load."""
    belt = scenario.belt.section
    most = pulley_slant(v_belt=belt is not None and section(belt) is not None)
    topic = Topic("pulley-tilt", "common practice", sure=weakest(most.sure, "estimate"))
    if math.isinf(stiffness.twisting) and math.isinf(stiffness.hinge):
        sentence = (
            "how far the belt tilts the motor's pulley is not told: it takes the plate's thickness "
            "and a material that is known"
        )
        yield topic.judge(Measure(ANGLE, None), sentence)
        return
    worst, limit = max(cases, key=lambda one: one.tilt), math.atan(most.value)
    rest = [one for one in cases if one.case == "rest"] or [worst]
    left = max(
        math.hypot(one.tilt_along - rest[0].tilt_along, one.tilt_out - rest[0].tilt_out)
        for one in cases
    )
    display = scenario.display
    tilts, most_text, after = (ANGLE.text(one, display, 2) for one in (worst.tilt, limit, left))
    sentence = f"{_when(worst.case)}, the motor's pulley tilts by {tilts}; {most_text} may pass"
    if worst.tilt > limit:
        sentence += f". Aligned under load, {after} is left"
    yield topic.judge(Measure.at_most(ANGLE, worst.tilt, limit), sentence)


def _bend(
    scenario: Scenario, ways: Sequence[SolvedMount], turns: float | None, stiffness: Stiffness
) -> Iterator[Judgement]:
    """How far the plate bends between hinge and bolt, at first and in the end."""
    if math.isinf(stiffness.bending) or not scenario.adjuster.places:
        return
    sizes, row, found = board_sizes(scenario), load("along_shafts")["bend"], list[_Bend]()
    for body in (body for way in ways for body in bodies(way, turns)):
        loads = share_out(body, stiffness, sizes.leaf_length, scenario.adjuster.acts)
        beam = beam_of(body, loads, sizes.thickness)
        most = max(abs(beam.deflection(at, stiffness.bending)) for at in beam.stations.values())
        found.append(_Bend(most, body.case, abs(body.meets[0])))
    first, display = max(found), scenario.display
    stays = max([one for one in found if one.case == "rest"] or [first])
    last = stays.size * (1.0 + stiffness.creep)
    limits = first.span / row["first"], stays.span / row["last"]
    bends, ends, now, later = (LENGTH.text(one, display, 2) for one in (first.size, last, *limits))
    sentence = (
        f"{_when(first.case)}, the plate bends by {bends}, in the end by {ends}; {now} and {later} "
        "are usual"
    )
    measures = [
        Measure.at_most(LENGTH, value, limit)
        for value, limit in zip((first.size, last), limits, strict=True)
    ]
    worst = max(measures, key=lambda one: one.share or 0.0)
    yield Topic("plate-deflection", row["source"], sure=row["sure"]).judge(worst, sentence)


def _gives(solved: SolvedMount, turns: float | None) -> Iterator[Judgement]:
    """What the parts give, and what that leaves of a turn where it is not reckoned with."""
    mount, display = solved.mount, solved.mount.scenario.display
    body = next((one for one in bodies(solved, turns) if one.case == "rest"), None)
    if body is None or not body.bolts or not body.belts.force.any():
        return  # a slack belt bends nothing
    topic = Topic("plate-give", "energy of the parts, Castigliano")
    if mount.scenario.adjuster.spring is Giving.PARTS:
        given = mount.parts_give
        assert given is not None, "the rules ask for a board"
        most = given.parts[0]
        sentence = (
            f"{listed((one.name for one in given.parts), 'and')} give by "
            f"{rate_text(given.stiffness, display)} together at the bolt, {most.name} by "
            f"{percent(most.share)} % of it"
        )
        yield topic.judge(Measure(RATE, given.stiffness), sentence)
    unsaid = unsaid_give(mount, body.plate_angle)
    if unsaid is not None:
        told, rate = percent(unsaid.share), rate_text(unsaid.give.stiffness, display)
        sentence = (
            f"plate, bolt and hinges give by {rate} at the bolt and are taken as rigid: a turn "
            f'adds {told} % of what is said. adjuster.stiffness = "parts" has that in all tensions'
        )
        yield topic.judge(Measure(RATE, unsaid.give.stiffness), sentence)


class _Bend(NamedTuple):
    """A bend [m] of a plate that spans so much [m] from hinge to bolt."""

    size: float
    case: str
    span: float


def _hinges(scenario: Scenario, cases: Sequence[SpaceLoads]) -> Iterator[Judgement]:
    """The hinge that carries most, where that is more than all of them together."""
    topic, display = Topic("hinges-apart", _STATICS), scenario.display
    found = list[tuple[float, float, int, str]]()
    for one in cases:
        forces = np.array([hinge.force for hinge in one.hinges])
        sizes, whole = np.hypot(*forces.T), float(np.hypot(*forces.sum(axis=0)))
        most = int(np.argmax(sizes))
        found.append((float(sizes[most]), whole, most + 1, one.case))
    size, whole, number, case = max(found)
    if size <= whole * (1 + ROUNDING):
        return
    carried, together = (FORCE.text(one, display, 2) for one in (size, whole))
    sentence = (
        f"{_when(case)}, the belt pulls beside the hinges, which pull against one another: number "
        f"{number}, counted from the motor's far end, carries {carried}, all together {together}. "
        "Hinges further apart carry less"
    )
    yield topic.judge(Measure(FORCE, size), sentence)


def _bolts(
    scenario: Scenario,
    solved: SolvedMount,
    turns: float | None,
    cases: Sequence[SpaceLoads],
    stiffness: Stiffness,
) -> Iterator[Judgement]:
    """How two bolts share, how they rack the plate, and how to bring them up together."""
    body = next(bodies(solved, turns))
    found = racking(body, stiffness, board_sizes(scenario).leaf_length)
    advance = scenario.adjuster.advance_per_turn
    if found is None or advance is None:
        return
    belt = scenario.belt.section
    limit = math.atan(pulley_slant(v_belt=belt is not None and section(belt) is not None).value)
    per_turn, display = found.pulley * advance, scenario.display
    step = next((one for one in _STEPS if one * per_turn <= _AHEAD * limit), _STEPS[-1])
    tilts = ANGLE.text(_QUARTER * per_turn, display, 2)
    racks = ANGLE.text(_QUARTER * found.plate * advance, display, 2)
    rules = (
        f"a quarter turn more on one of the two bolts racks the plate by {racks} and tilts the "
        f"motor's pulley by {tilts}. Bring both up until each just touches, mark their heads, then "
        f"turn one and the other by {turns_text(step)} of a turn or less"
    )
    topic = Topic("two-bolts", _STATICS, sure="estimate")
    loose = [_when(one.case) for one in cases if one.loose]
    if loose:
        sentence = (
            f"{listed(dict.fromkeys(loose), 'and')}, one of the two bolts carries nothing, for the "
            "belt twists the plate off it. Stand both nearer to the motor's pulley and further "
            f"apart, which may take a wider plate, or use one; {rules}"
        )
        yield topic.judge(Measure(NUMBER, None, verdict=Verdict.FAIL), sentence)
        return
    shares = [
        max(abs(bolt.force) for bolt in one.bolts) / total
        for one in cases
        if (total := abs(sum(bolt.force for bolt in one.bolts))) > 0
    ]
    if shares:
        most = percent(max(shares))
        rules = f"the more loaded of the two bolts carries {most} % of their force; {rules}"
    yield topic.judge(Measure(NUMBER, None), rules)


def _modes(shaken: Shaking) -> Iterator[Judgement]:
    """Natural frequencies near something that shakes: of a strand, which can be seen, a note."""
    rule = datum("shaking", load("shaking")["apart"])
    pace = {one.name: f"{one.frequency:.3g} Hz" for one in shaken.shakers}
    for mode in shaken.modes:
        is_plate = mode.name == PLATE
        name = "plate-shaking" if is_plate else "strand-shaking"
        topic = Topic(name, rule.source, subject="" if is_plate else mode.name, sure="estimate")
        met = [one for one in shaken.meetings if one.mode == mode.name]
        near = listed(
            (f"{'half ' if one.times > 1 else ''}{one.shaker} ({pace[one.shaker]})" for one in met),
            "and",
        )
        if math.isinf(mode.frequency):
            sentence = (
                "how the plate swings is not told: bolt and board are taken as rigid, or weightless"
            )
            yield topic.judge(Measure(FREQUENCY, None), sentence)
        elif is_plate:
            where = f"near {near}; {_moved(mode)}" if met else "clear of all that shakes it"
            verdict = Verdict.FAIL if met else Verdict.PASS
            sentence = f"{mode.name}, with the motor on it, swings at {_range(mode)}, {where}"
            yield topic.judge(Measure(FREQUENCY, mode.frequency, verdict=verdict), sentence)
        elif met:
            sentence = (
                f"{mode.name} swings at {_range(mode)}, near {near}, and may flap: another tension "
                "or another span moves it"
            )
            yield topic.judge(Measure(FREQUENCY, mode.frequency), sentence)


def _range(mode: Mode) -> str:
    """Its frequency, with the softest and the stiffest belt where that makes a difference."""
    found = f"{mode.frequency:.3g} Hz"
    low, high = (f"{one:.3g}" for one in (mode.low, mode.high))
    return found if low == high else f"{found} ({low} to {high}, softest to stiffest belt)"


def _moved(mode: Mode) -> str:
    """What moves the plate's frequency most."""
    most = sorted(mode.moves, key=lambda name: -abs(mode.moves[name]))[:2]
    told = (
        f"of {name} moves it {10.0 * abs(mode.moves[name]):.2g} % "
        f"{'up' if mode.moves[name] > 0 else 'down'}"
        for name in most
    )
    return f"a tenth more {listed(told, 'and')}"


def _ripple(scenario: Scenario, shaken: Shaking) -> Iterator[Judgement]:
    """Whether the bolt keeps contact as the torque swings."""
    found, display = shaken.ripple, scenario.display
    if found is None or found.held <= 0:
        return
    rule = datum("shaking", load("shaking")["ripple"])
    topic = Topic("bolt-ripple", rule.source, case="running", sure="estimate")
    force, held = (FORCE.text(one, display, 2) for one in (found.force, found.held))
    sentence = (
        f"running, the bolt's force of {held} swings by {force} to both sides, "
        f"{found.frequency:.0f} times a second as the motor hums"
    )
    if found.loses_contact:
        sentence += (
            ": the plate leaves its bolt each time and rattles; a spring or a bolt that also "
        )
        sentence += "holds back keeps it there"
    elif found.force >= found.held:
        sentence += ": it turns round each time and knocks in the thread's play"
    yield topic.judge(Measure.at_most(FORCE, found.force, found.held), sentence)


def _start(scenario: Scenario, shaken: Shaking) -> Iterator[Judgement]:
    """Whether the plate leaves its bolt while the rotor speeds up."""
    found, display = shaken.start, scenario.display
    if found is None:
        return
    topic = Topic("start-lift", "a bound: all of the motor's torque at once", sure="estimate")
    if found.lifts:
        sentence = (
            "as the rotor speeds up, its inertia may throw the plate off its bolt for a moment: "
            "let the bolt hold back, too, or let a stop catch the plate"
        )
        yield topic.judge(Measure(NUMBER, None, verdict=Verdict.FAIL), sentence)
        return
    bolt, hinge = (FORCE.text(abs(one), display, 2) for one in (found.bolt, found.hinge))
    sentence = (
        f"as the rotor speeds up, its inertia may bring the bolt's force to {bolt} and that of all "
        f"hinges together to {hinge}"
    )
    yield topic.judge(Measure(FORCE, abs(found.bolt)), sentence)
