"""A mount with every judgement that it can fail: the one verdict that all commands share."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator
from contextlib import suppress
from dataclasses import replace
from functools import lru_cache

from mountcalc.belts import own_belt
from mountcalc.check.judgements import OURS, bearing_judgements, drive_judgements
from mountcalc.check.set_point import SetPoint, find_set_point
from mountcalc.errors import MountError
from mountcalc.judgement import Judgement, Key, Measure, Topic, Verdict, key_of
from mountcalc.pages.amounts import NUMBER, in_figures, percent
from mountcalc.record import Record
from mountcalc.scenario.clashes import clashes
from mountcalc.scenario.model import Scenario
from mountcalc.strength.carried import Setup
from mountcalc.strength.strength import part_judgements
from mountcalc.table import words
from mountcalc.thresholds import SETTLED

_OF_SETTING = {"grip", "plate", "adjuster-load", "hinge-load", "spring-travel"}
_WORST_FIRST = (Verdict.FAIL, Verdict.CAUTION, Verdict.PASS, Verdict.NOTE)


class Evaluation(Record):
    """A mount solved at its set point, and what it comes to there."""

    point: SetPoint
    judgements: tuple[Judgement, ...]

    @property
    def fails(self) -> dict[Key, Judgement]:
        """What fails."""
        return {key_of(one): one for one in self.judgements if one.verdict is Verdict.FAIL}

    def spoils(self, before: Evaluation) -> bool:
        """Whether anything fails, or parts clash, that did not before."""
        if self.fails.keys() - before.fails.keys():
            return True
        was, now = ({one.key for one in clashes(each.point.scenario)} for each in (before, self))
        return bool(now - was)


@lru_cache(maxsize=64)
def evaluate(scenario: Scenario, turns: float | None = None) -> Evaluation:
    """Judge a mount."""
    point, belt = find_set_point(scenario, turns), own_belt(scenario)
    found = [*drive_judgements(point)]
    found += () if belt is None else belt.judgements
    found += bearing_judgements(point)
    if point.turns is not None and point.turns == point.setting.set_turns:
        found += _new_belt(point, {key_of(one) for one in found if one.verdict is Verdict.FAIL})
    if point.turns is not None and turns is not None:
        # At the gentlest setting such belts are among what grip and limits are judged with.
        found += _softest_and_stiffest(point, point.turns)
    drawn = Topic("drawn", "points and sizes against each other", sure="estimate")
    amiss = Measure(NUMBER, None, verdict=Verdict.FAIL)
    found += (drawn.judge(amiss, one.text) for one in clashes(scenario))
    if scenario.keep_outs:
        sentence = "keep-outs are not judged here: mountcalc draw says what comes into one"
        found.append(Topic("keep-out", "the scenario").judge(Measure(NUMBER, None), sentence))
    found += part_judgements(setup_of(point))
    return Evaluation(point, tuple(found))


def setup_of(point: SetPoint) -> Setup:
    """What boards and hardware are judged at."""
    return Setup.at(point.requirements, point.setting, point.turns)


def _new_belt(point: SetPoint, failed: Collection[Key]) -> Iterator[Judgement]:
    """The worst of grip, plate and loads where a new belt is set, but for what failed before.

    Where all is well there: whether a hand that misses a new belt's turns breaks a limit, and
    whether it is tight enough. Both are cautions: bedding and error are estimates.
    """
    setting, requirements = point.setting, point.requirements
    turns, old, new = setting.new_turns, setting.set_tension, setting.new_tension
    if turns is None or not old or new is None:
        return
    times = in_figures(new / old)
    says = f"a new belt is set to {words.counted_turns(turns)}, {times} times the tension"
    there = point.at(turns)
    drive = (one for one in drive_judgements(there) if one.name in _OF_SETTING)
    worst = min(
        (one for one in (*drive, *bearing_judgements(there)) if key_of(one) not in failed),
        key=lambda one: (_WORST_FIRST.index(one.verdict), -(one.share or 0.0)),
    )
    if worst.verdict in {Verdict.FAIL, Verdict.CAUTION}:
        sure = "estimate" if worst.verdict is Verdict.CAUTION else ""
        measure = Measure(NUMBER, worst.share, 1.0, worst.share, Verdict.FAIL)
        sentence = f"{says}: {worst.sentence}"
        yield Topic("new-belt", worst.source, sure=sure).judge(measure, sentence)
        return
    error, wanted = setting.turn_error, point.scenario.limits.bedding
    farther = [min(turns + error, requirements.last_turn)]
    past = float(requirements.worst(farther)[0])
    most, measure = float(requirements.tension(farther)[0]) / old, _share(past)
    if past > 1 + SETTLED:
        says += f"; {in_figures(error)} turns more break a limit"
    elif most < wanted * (1 - SETTLED):
        measure = Measure(NUMBER, most, wanted, wanted / most, Verdict.FAIL)
        reached, aim = next(  # with as many figures as it takes to tell them apart
            pair
            for digits in range(3, 17)
            if len(set(pair := (f"{most:.{digits}g}", f"{wanted:.{digits}g}"))) > 1
        )
        says += (
            f", at most {reached} with the hand's error, where {aim} are wanted: "
            "set it again as it beds in"
        )
    yield Topic("new-belt", OURS, sure="estimate").judge(measure, says)


def _share(worst: float) -> Measure:
    """The worst share of a limit [-]; infinite where the plate is at its stop."""
    if math.isfinite(worst):
        return Measure.at_most(NUMBER, worst, 1.0)
    return Measure(NUMBER, None, 1.0, verdict=Verdict.FAIL)


def _softest_and_stiffest(point: SetPoint, turns: float) -> Iterator[Judgement]:
    """Grip of the softest belt and limits of the stiffest at the same turns: cautions."""
    factor, wanted = point.scenario.belt.stiffness_factor, point.scenario.limits.grip
    of_factor = Topic("softest-belt", "belt.stiffness_factor", sure="estimate")
    with suppress(MountError):
        soft = point.requirements.with_stiffness_times(1 / factor)
        grip = wanted * float(soft.grip(turns)[0])
        yield of_factor.judge(
            Measure.at_least(NUMBER, grip, wanted),
            f"the softest belt carries {in_figures(grip)} times the pull that is needed at the "
            f"same turns; {in_figures(wanted)} times is wanted",
        )
    with suppress(MountError):
        stiff = point.requirements.with_stiffness_times(factor)
        share = float(stiff.worst([min(turns, stiff.last_turn)])[0])
        says = "tightens to the end of the travel"
        if math.isfinite(share):
            says = f"uses up {percent(share)} % of a limit"
        yield replace(of_factor, name="stiffest-belt").judge(
            _share(share), f"the stiffest belt {says} at the same turns"
        )
