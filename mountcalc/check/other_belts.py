"""What is judged of other belts at a setting: a new one, and one as soft or stiff as it may be."""

from __future__ import annotations

from collections.abc import Collection, Iterator, Sequence

import numpy as np

from mountcalc.check.bearing_judgements import bearing_judgements
from mountcalc.check.judgements import drive_judgements
from mountcalc.check.set_point import SetPoint
from mountcalc.errors import MountError
from mountcalc.judgement.measures import NUMBER, Measure, Topic, figures
from mountcalc.judgement.results import Judgement, Key, Verdict, key_of
from mountcalc.pages.turns import turns_text
from mountcalc.requirements.promises import Promises

__all__ = ["other_belts"]

# What rounding leaves of a share or a tension [-].
_ROUNDING = 1e-6
_OF_SETTING = {"grip", "plate", "adjuster-load", "hinge-load"}
_ORDER = (Verdict.FAIL, Verdict.CAUTION, Verdict.PASS, Verdict.NOTE)
_STIFFNESS = "belt.stiffness_factor"


def other_belts(
    point: SetPoint, bedded: Sequence[Judgement], *, asked: bool
) -> Iterator[Judgement]:
    """Judge a new belt at its own setting, and softest and stiffest belt at turns asked for.

    At the gentlest setting belts as soft and as stiff as may be are among what grip and limits are
    judged with there.
    """
    if point.turns is None:
        return
    if point.turns == point.setting.set_turns:
        yield from _new(point, {key_of(one) for one in bedded if one.verdict is Verdict.FAIL})
    if asked:
        yield from _softest_and_stiffest(point, point.turns)


def _new(point: SetPoint, failed: Collection[Key]) -> Iterator[Judgement]:
    """The worst of grip, plate and loads where a new belt is set, but for what failed before."""
    setting = point.setting
    turns, old, new = setting.new_turns, setting.set_tension, setting.new_tension
    if turns is None or not old or new is None:
        return
    says = f"a new belt is set to {turns_text(turns)} turns, {figures(new / old)} times the tension"
    there = point.at(turns)
    judged = [one for one in drive_judgements(there) if one.name in _OF_SETTING]
    judged += bearing_judgements(there)
    added = [one for one in judged if key_of(one) not in failed]
    worst = min(added, key=lambda one: (_ORDER.index(one.verdict), -(one.share or 0.0)))
    if worst.verdict in {Verdict.FAIL, Verdict.CAUTION}:
        sure = "estimate" if worst.verdict is Verdict.CAUTION else ""
        topic = Topic("new-belt", worst.source, sure=sure)
        measure = Measure(NUMBER, worst.share, 1.0, worst.share, Verdict.FAIL)
        yield topic.judge(measure, f"{says}: {worst.sentence}")
        return
    yield _beyond(point, says, turns, old)


def _beyond(point: SetPoint, says: str, turns: float, old: float) -> Judgement:
    """Whether a hand that misses a new belt's turns breaks a limit, and whether it is tight enough.

    Both are cautions: bedding and error are estimates.
    """
    error, wanted = point.setting.turn_error, point.scenario.limits.bedding
    promises = point.promises
    farther = [min(turns + error, promises.last_turn)]
    past, times = float(promises.worst(farther)[0]), float(promises.tension(farther)[0]) / old
    topic = Topic("new-belt", "the scenario, or the default where it is silent", sure="estimate")
    if past > 1 + _ROUNDING:
        measure = Measure(NUMBER, None, 1.0, None, Verdict.FAIL)
        if np.isfinite(past):
            measure = Measure.at_most(NUMBER, past, 1.0)
        return topic.judge(measure, f"{says}; {figures(error)} turns more break a limit")
    if times < wanted * (1 - _ROUNDING):
        measure = Measure(NUMBER, times, wanted, wanted / times, Verdict.FAIL)
        again = (
            f"{says}, {figures(times)} with the hand's error, where {figures(wanted)} are wanted: "
            "set it again as it beds in"
        )
        return topic.judge(measure, again)
    return topic.judge(Measure.at_most(NUMBER, past, 1.0), says)


def _softest_and_stiffest(point: SetPoint, turns: float) -> Iterator[Judgement]:
    """Grip of the softest belt and limits of the stiffest at the same turns: cautions."""
    factor, wanted = point.scenario.belt.stiffness_factor, point.scenario.limits.grip
    soft, stiff = (_at(point.promises, times) for times in (1 / factor, factor))
    if soft is not None:
        grip = wanted * min(float(one[0]) for one in soft.grip_margins([turns]).values())
        yield Topic("softest-belt", _STIFFNESS, sure="estimate").judge(
            Measure.at_least(NUMBER, grip, wanted),
            f"as soft as the belt may be, it has {figures(grip)} times the pull that is needed at "
            f"the same turns; {figures(wanted)} times is wanted",
        )
    if stiff is not None:
        share = float(stiff.worst([min(turns, stiff.last_turn)])[0])
        says = "tightens to the end of the travel"
        if np.isfinite(share):
            says = f"uses up {figures(100 * share)} % of a limit"
        measure = Measure(NUMBER, None, 1.0, verdict=Verdict.FAIL)
        yield Topic("stiffest-belt", _STIFFNESS, sure="estimate").judge(
            Measure.at_most(NUMBER, share, 1.0) if np.isfinite(share) else measure,
            f"as stiff as the belt may be, it {says} at the same turns",
        )


def _at(promises: Promises, times: float) -> Promises | None:
    try:
        return promises.with_stiffness_times(times)
    except MountError:
        return None
