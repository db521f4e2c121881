"""What time does to a set belt: the plate goes on giving, and wood between hinge and bolt moves."""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterator

import numpy as np

from mountcalc.equilibrium.states import State
from mountcalc.formulas.wood import creep_after, force_left, movement
from mountcalc.handbook.wood import creep_in_time, crosswise, moisture, wood
from mountcalc.judgement import Judgement, Measure, Topic, Verdict
from mountcalc.pages.amounts import FORCE, LENGTH, in_figures, percent
from mountcalc.record import Record
from mountcalc.scenario.hardware import Member
from mountcalc.scenario.model import AdjusterKind, Scenario
from mountcalc.scenario.text.wording import listed
from mountcalc.strength.carried import Setup
from mountcalc.strength.giving import give_of_plate
from mountcalc.structure.made import Plate, plate_of

_DAY = 86400.0
TIMES = (("a day", _DAY), ("a month", 30.0 * _DAY), ("a year", 365.25 * _DAY))
"""When what is left is told: in words, and in seconds."""
_STEP = 1e-3  # of a turn


class Slackening(Record):
    """What is left of a tension [N] at rest after each of `TIMES`, least and most.

    ``per_turn`` [N] is what a turn of the adjuster adds.
    """

    tension: float
    left: tuple[tuple[float, float], ...]
    per_turn: float

    def of_new(self, tension: float, bedding: float) -> tuple[tuple[float, float], ...]:
        """The same of a new belt set to a tension [N], as it beds in and the plate creeps.

        It loses what it was set tighter by; a day may have done all of it or nothing.
        """
        (_, whole), *_ = self.left
        kept = [(low / self.tension, high / self.tension) for low, high in self.left]
        lows = [tension / bedding * low for low, _ in kept]
        highs = [
            tension * whole / self.tension,
            *(tension / bedding * high for _, high in kept[1:]),
        ]
        return tuple(zip(lows, highs, strict=True))

    def turns_back(self, tension: float) -> float:
        """Turns that bring a tension [N] that has fallen back to the setting's."""
        return max(self.tension - tension, 0.0) / self.per_turn


def over_time(setup: Setup) -> Iterator[Judgement]:
    """What is left of the tension, and what the seasons do to it."""
    plate, slackening = plate_of(setup.scenario), slackening_of(setup)
    if plate is not None and slackening is not None:
        yield _left(setup, plate, slackening)
        yield from _new_belt(setup, slackening)
    if setup.scenario.parts.wood.pieces:
        yield from _season(setup)


def slackening_of(setup: Setup) -> Slackening | None:
    """Tension at rest with the bolt locked; None where no bolt holds the plate, or all is rigid."""
    plate = plate_of(setup.scenario)
    if plate is None:
        return None
    solved, turns, give = setup.ways[0], setup.turns, give_of_plate(setup, plate)
    if turns is None or give is None:
        return None
    case = solved.at_rest([turns, turns - _STEP])
    if not np.all(case.state == State.HELD):
        return None
    force, tension = (-np.diff(one)[0] / _STEP for one in (case.adjuster, case.tension))
    rate = force / solved.advance
    if not rate > 0 or not tension > 0:
        return None
    # Behind a spring the plate's own give is part of what its rate stands for.
    rest = 1.0 / rate
    if solved.mount.spring is not None:
        rest = max(rest - give.per_newton, 0.0)
    time, at = creep_in_time(), float(case.tension[0])
    left = list[tuple[float, float]]()
    for _, seconds in TIMES:
        grown = creep_after(plate.creep, seconds, time.whole, [time.fast, time.slow])
        lost = (
            case.adjuster[0]
            * (1.0 - force_left(rest, give.per_newton, give.under_load, grown))
            * tension
            / force
        )
        left.append((float(max(at - lost[0], 0.0)), float(max(at - lost[1], 0.0))))
    return Slackening(at, tuple(left), float(tension))


def _left(setup: Setup, plate: Plate, slackening: Slackening) -> Judgement:
    """Whether a belt that nobody looks at for a year has the tension that grips."""
    display, least = setup.scenario.display, setup.least_tension
    tension, left = slackening.tension, slackening.left
    shares = [
        f"{percent(low / tension)} to {percent(high / tension)} % after {when}"
        for (when, _), (low, high) in zip(TIMES, left, strict=True)
    ]
    sentence = (
        f"{plate.wood.name} creeps: of {FORCE.text(tension, display)} a strand it leaves "
        f"{listed(shares, 'and')}"
    )
    measure, worst = Measure(FORCE, left[-1][0]), left[-1][0]
    if least is not None and tension >= least:
        measure = Measure.at_least(FORCE, worst, least)
        sentence += f"; {FORCE.text(least, display)} are wanted"
    turns = [in_figures(slackening.turns_back(low), 2) for low, _ in left]
    sentence += f". Then up to {listed(turns, 'and')} turns restore it"
    return Topic("tension-left", "power law", sure="estimate").judge(measure, sentence)


def _new_belt(setup: Setup, slackening: Slackening) -> Iterator[Judgement]:
    """What a new belt comes down to as it beds in, within days of running, and the plate creeps."""
    new, bedding, display = setup.new_tension, setup.scenario.limits.bedding, setup.scenario.display
    if new is None:
        return
    left = slackening.of_new(new, bedding)
    said = [
        f"{FORCE.number(low, display)} to {FORCE.text(high, display)} after {when}"
        for (when, _), (low, high) in zip(TIMES, left, strict=True)
    ]
    least = left[-1][0]
    turns = in_figures(slackening.turns_back(least), 2)
    sentence = (
        f"a new belt set to {FORCE.text(new, display)} a strand has {listed(said, 'and')}, as it "
        f"beds in and the plate creeps: look after a day of running, then as with an old one; up "
        f"to {turns} turns bring it to its setting"
    )
    topic = Topic("new-belt-left", "limits.bedding; power law of wood's creep, estimate")
    yield topic.judge(Measure(FORCE, least), sentence)


def _season(setup: Setup) -> Iterator[Judgement]:
    """How far wood across its grain moves the bolt against the plate, beside the whole range."""
    scenario = setup.scenario
    axis = _axis(scenario)
    if axis is None:
        return
    said = scenario.parts.wood
    dry, damp = (one.value for one in moisture(said.room.value))
    low = dry if said.moisture_from is None else said.moisture_from
    high = damp if said.moisture_to is None else said.moisture_to
    moved, unknown, wood_names = 0.0, list[str](), list[str]()
    for piece in said.pieces:
        board = wood(piece.material)
        if board is None:
            unknown.append(piece.material)
            continue
        grown = float(movement(piece.length, crosswise(board, piece.cut).value, low, high))
        along = math.cos(piece.direction - axis)
        moved += grown * along * (1.0 if piece.part is Member.BASE else -1.0)
        wood_names.append(f"{LENGTH.text(piece.length, scenario.display)} of {board.name}")
    source = "Wood Handbook, coefficients for dimensional change"
    topic = Topic("season", source, sure="from memory")
    if unknown:
        sentence = f"nothing is known of how {listed(unknown, 'and')} moves with moisture"
        yield topic.judge(Measure(LENGTH, None, verdict=Verdict.NOTE), sentence)
        return
    if scenario.adjuster.kind is AdjusterKind.JACK_IN_PLATE:
        moved = -moved
    size, width = abs(moved), setup.range_width
    sentence = (
        f"from {in_figures(low)} to {in_figures(high)} % of moisture {listed(wood_names, 'and')} "
        f"across the grain {'tightens' if moved > 0 else 'slackens'} the belt as much as "
        f"{LENGTH.text(size, scenario.display)} of the bolt"
    )
    if not width:  # no range, or one without width
        yield topic.judge(Measure(LENGTH, size), sentence)
        return
    sentence += f"; the whole range is {LENGTH.text(width, scenario.display)} wide"
    yield topic.judge(Measure.at_most(LENGTH, size, width), sentence)


def _axis(scenario: Scenario) -> float | None:
    """The way the adjuster moves as it gets longer [rad]; None without one."""
    adjuster = scenario.adjuster
    if adjuster.axis is not None:
        return adjuster.axis
    if adjuster.base_pin is None or adjuster.plate_pin is None:
        return None
    return cmath.phase(complex(*adjuster.plate_pin) - complex(*adjuster.base_pin))
