"""A mount with every judgement that it can fail: the one verdict that all commands share."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from mountcalc.belts import own_belt
from mountcalc.check.bearing_judgements import bearing_judgements
from mountcalc.check.judgements import drive_judgements
from mountcalc.check.other_belts import other_belts
from mountcalc.check.set_point import SetPoint, find_set_point
from mountcalc.judgement.measures import NUMBER, Measure, Topic
from mountcalc.judgement.results import Judgement, Key, Verdict, key_of
from mountcalc.scenario.clashes import clashes
from mountcalc.scenario.model import Scenario

__all__ = ["Judged", "judge"]


@dataclass(frozen=True)
class Judged:
    """A mount solved at its set point, and what it comes to there."""

    point: SetPoint
    judgements: tuple[Judgement, ...]

    @property
    def fails(self) -> dict[Key, Judgement]:
        """What fails."""
        return {key_of(one): one for one in self.judgements if one.verdict is Verdict.FAIL}

    def spoils(self, before: Judged) -> bool:
        """Whether anything fails, or parts clash, that did not before."""
        if self.fails.keys() - before.fails.keys():
            return True
        was, now = (
            {one.key for one in clashes(judged.point.scenario)} for judged in (before, self)
        )
        return bool(now - was)


def judge(scenario: Scenario, turns: float | None = None) -> Judged:
    """Judge a mount."""
    point, belt = find_set_point(scenario, turns), own_belt(scenario)
    bedded = (
        *drive_judgements(point),
        *(() if belt is None else belt.judgements),
        *bearing_judgements(point),
    )
    others = other_belts(point, bedded, asked=turns is not None)
    judgements = (*bedded, *others, *_drawn(scenario))
    return Judged(point, judgements)


def _drawn(scenario: Scenario) -> Iterator[Judgement]:
    """What looks wrong of points and sizes, some of which are estimates."""
    topic = Topic("drawn", "points and sizes against each other", sure="estimate")
    for one in clashes(scenario):
        yield topic.judge(Measure(NUMBER, None, verdict=Verdict.FAIL), one.text)
