"""Every judgement there is of a mount, and what cures those that fail: changes, judged again."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from mountcalc.check.bearing_report import bearing_notes, bearing_reports
from mountcalc.check.changes import CHANGES, Change, hold_both_ways, spring_in_series
from mountcalc.check.evaluation import Evaluation, evaluate, setup_of
from mountcalc.check.part_changes import other_boxes, other_parts
from mountcalc.check.quiet_changes import OTHERWISE, QUIETED, quieter
from mountcalc.check.results import NOTHING, Check
from mountcalc.errors import MountError
from mountcalc.judgement import Judgement, Key, Verdict, key_of
from mountcalc.pages.amounts import turns_text
from mountcalc.record import Record
from mountcalc.scenario.model import Scenario
from mountcalc.strength.carried import carried
from mountcalc.strength.changes import NAMES
from mountcalc.strength.cures import strength_cures

# What another place, load or size may cure; the rest has a change of its own or none.
_OF_LOADS = frozenset(
    {"setting", "grip", "plate", "adjuster-load", "hinge-load", "bearing-limit",
     "start-up-pressure", "service-pressure", "groove-direction", "cap-direction"}
)  # fmt: skip
_BAD = {Verdict.FAIL, Verdict.CAUTION}


def check(scenario: Scenario, turns: float | None = None) -> Check:
    """Judge a mount at turns, or at the gentlest setting; see :func:`mountcalc.check`."""
    evaluation = evaluate(scenario, turns)
    reports = bearing_reports(evaluation.point)
    notes = (note for report in reports for note in bearing_notes(report, scenario.display))
    return Check(
        title=scenario.title,
        turns=evaluation.point.turns,
        turns_reason=evaluation.point.reason,
        ok=not evaluation.fails,
        judgements=(*with_cures(evaluation), *notes),
        bearings=reports,
        loads=tuple(one.load for one in carried(setup_of(evaluation.point))),
    )


def with_cures(before: Evaluation) -> tuple[Judgement, ...]:
    """The judgements of a mount; those that fail say what was found to change it."""
    found = cures(before)
    said = {key: found[key].sentence if key in found else NOTHING for key in before.fails}
    made = strength_cures(setup_of(before.point), before.judgements)
    made |= {
        one.name: _quieted(before, one)
        for one in before.judgements
        if one.name in QUIETED and one.verdict in _BAD
    }
    return tuple(
        replace(one, what_to_change=made.get(one.name) or said.get(key_of(one)) or _left_to(one))
        for one in before.judgements
    )


def _left_to(judgement: Judgement) -> str:
    """What is said of a part that no change to it was found to help."""
    if judgement.verdict not in _BAD or judgement.name not in NAMES:
        return ""
    return " ".join(filter(None, [NOTHING, OTHERWISE.get(judgement.name)]))


def _quieted(before: Evaluation, judgement: Judgement) -> str:
    """The easiest that cures a judgement and leaves nothing else worse, or what is left to do."""
    bad = {key_of(one) for one in before.judgements if one.verdict in _BAD}
    for change in quieter(before, judgement.name):
        is_same = change.scenario is before.point.scenario
        try:
            after = evaluate(change.scenario, getattr(change, "turns", None))
        except MountError:
            continue
        left = {key_of(one) for one in after.judgements if one.verdict in _BAD}
        if left <= bad - {key_of(judgement)} and not after.spoils(before):
            turns = after.point.turns
            anew = "" if is_same or turns is None or turns == before.point.turns else _anew(turns)
            return change.sentence + anew
    return " ".join(filter(None, [NOTHING, OTHERWISE.get(judgement.name)]))


def _anew(turns: float) -> str:
    return f" Then set it anew: {turns_text(turns)} turns from zero."


class Cure(Record):
    """A change that was made and judged at its own gentlest setting: in words, what it rights."""

    change: Change
    sentence: str
    rights: frozenset[Key]


def cures(before: Evaluation) -> dict[Key, Cure]:
    """A cure for each judgement that fails and has one: the easiest that rights most."""
    fails, best = before.fails, dict[Key, Cure]()
    for change in _changes(before) if fails else ():
        try:
            after = evaluate(change.scenario)
        except MountError:
            continue
        if after.spoils(before):
            continue
        verdicts = {key_of(one): one.verdict for one in after.judgements}
        rights = frozenset(key for key in fails if verdicts.get(key, Verdict.PASS) is Verdict.PASS)
        turns, sentence = after.point.turns, change.sentence
        if change.scenario is not before.point.scenario and turns is not None:
            sentence += _anew(turns)
        for key in rights:
            if key not in best or len(rights) > len(best[key].rights):
                best[key] = Cure(change, sentence, rights)
        if best.keys() == fails.keys():
            break
    return best


def _changes(before: Evaluation) -> Iterator[Change]:
    """Changes worth a try, the easiest first."""
    point = before.point
    scenario, setting = point.scenario, point.setting
    if setting.open and setting.set_turns is not None and point.turns is not None:
        way = "Tighten" if point.turns < setting.set_turns else "Slacken"
        yield Change("reset", f"{way} to {turns_text(setting.set_turns)} turns.", scenario)
    yield from other_parts(before)
    if not any(name in _OF_LOADS for name, _, _ in before.fails):
        return
    snug = point.requirements.solved.travel.snug
    yield from filter(None, (make(scenario, snug) for make in CHANGES))
    yield from filter(None, [hold_both_ways(scenario)])
    yield from filter(None, [spring_in_series(point.requirements, setting)])
    yield from other_boxes(before)
