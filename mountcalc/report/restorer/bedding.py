"""The log of the first year: when to look, what to read, what a belt then has."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

from mountcalc.card import BenchCard
from mountcalc.check import find_set_point
from mountcalc.report.restorer.results import Expected, Log, LogRow
from mountcalc.requirements.methods import readings_at
from mountcalc.requirements.readings import readings_of
from mountcalc.requirements.requirements import Requirements, weight_keeps
from mountcalc.requirements.results import Method, MethodName, Setting
from mountcalc.scenario.model import Scenario
from mountcalc.setting import method_label
from mountcalc.strength.carried import Setup
from mountcalc.strength.seasons import TIMES, Slackening, slackening_of

FEELS = ("5 min", "15 min", "30 min", "1 h")
"""When the boxes are felt on the first run."""
_FEEL = "Stop, unplug, feel both boxes, write down how warm."


def bedding_log(scenario: Scenario, card: BenchCard) -> Log:
    """The rows of the log; what is expected where a bolt or link holds the plate."""
    point = find_set_point(scenario)
    setting, requirements = point.setting, point.requirements
    way = reads_tension(setting)
    span = None if card.bedded is None else card.bedded.span
    read = "reading" if point.has_adjuster else "plate stands at"
    if way is not None:
        read = method_label(scenario, way, readings_of(way, scenario).unit, span)
    looks = [
        LogRow(_short(one.when), f"{one.sentence[:1].upper()}{one.sentence[1:]}.")
        for one in card.look_again
    ]
    set_it, back = "Write down turns and reading.", "Read, and bring the belt back."
    if setting.set_turns is None:
        back = "Read, and write it down: this mount has no setting to bring the belt back to."
    days = dict(_expected(requirements, setting, way))
    if not point.has_adjuster or weight_keeps(scenario):
        days = {}
        set_it = back = "Write down where the plate stands, and that it is clear of its stop."
    a_day, a_month, a_year = (LogRow(name, back, *days.get(name, ())) for name, _ in TIMES)
    rows = (
        LogRow("as set", set_it, *days.get("", ())),
        *(LogRow(f"{one} of running", _FEEL, feel=True) for one in FEELS),
        a_day,
        *looks[:-1],
        a_month,
        *(LogRow(one.when, back) for one in looks[-1:]),
        a_year,
    )
    return Log(read, point.has_adjuster, rows)


def _short(when: str) -> str:
    """When to look, as short as a cell wants it."""
    return when.removeprefix("then ").removeprefix("after ").split(",")[0]


def reads_tension(setting: Setting) -> Method | None:
    """The leading method that shows what a belt has lost: turns stay as they were set."""
    return next((one for one in setting.methods if one.name is not MethodName.TURNS), None)


def _expected(
    requirements: Requirements, setting: Setting, way: Method | None
) -> Iterator[tuple[str, tuple[Expected | None, Expected | None]]]:
    """By when, what a bedded and a new belt have that nobody touched; "" is as they are set."""
    old, new = setting.set_tension, setting.new_tension
    if old is None or setting.set_turns is None:
        return
    scenario = requirements.scenario
    slackening = slackening_of(Setup.at(requirements, setting, setting.set_turns))
    bedding = scenario.limits.bedding
    per_turn = None if slackening is None else slackening.turns_back

    def expected(low: float, high: float) -> Expected:
        reading = ""
        if way is not None:
            first, last = readings_at(requirements, way, setting.tension_min or 0.0, (low, high))
            shown = readings_of(
                replace(way, aim=first, new_aim=last, not_below=None, never_above=None), scenario
            )
            reading = shown.aim if shown.aim == shown.new_aim else f"{shown.aim} to {shown.new_aim}"
        return Expected(low, high, reading, None if per_turn is None else per_turn(low))

    yield "", (expected(old, old), None if new is None else expected(new, new))
    if slackening is None:  # nothing is known of the plate: it is taken not to creep
        slackening = Slackening(old, ((old, old),) * len(TIMES), math.inf)
    news = [None] * len(TIMES) if new is None else slackening.of_new(new, bedding)
    for (when, _), kept, fresh in zip(TIMES, slackening.left, news, strict=True):
        yield when, (expected(*kept), None if fresh is None else expected(*fresh))
