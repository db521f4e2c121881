"""What cures a judgement that fails: changed mounts, solved and judged again."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from mountcalc.check.changes import CHANGES, Change, hold_both_ways, spring_in_series
from mountcalc.check.evaluation import Evaluation, evaluate
from mountcalc.check.part_changes import other_boxes, other_parts
from mountcalc.check.results import NOTHING
from mountcalc.errors import MountError
from mountcalc.judgement import Judgement, Key, Verdict, key_of
from mountcalc.pages.amounts import turns_text

_RESET = "reset"
# What another place, load or size may cure; the rest has a change of its own or none.
_OF_LOADS = frozenset(
    {
        "setting",
        "grip",
        "plate",
        "adjuster-load",
        "hinge-load",
        "bearing-limit",
        "start-up-pressure",
        "service-pressure",
        "groove-direction",
        "cap-direction",
    }
)


@dataclass(frozen=True)
class Cure:
    """A change that was made and judged at its own gentlest setting, and what it puts right."""

    change: Change
    after: Evaluation
    rights: frozenset[Key]

    @property
    def sentence(self) -> str:
        """What to do, and how the mount is then set."""
        turns = self.after.point.turns
        if self.change.name == _RESET or turns is None:
            return self.change.sentence
        return f"{self.change.sentence} Then set it anew: {turns_text(turns)} turns from zero."


def with_cures(before: Evaluation) -> tuple[Judgement, ...]:
    """The judgements of a mount; those that fail say what was found to change it."""
    found = cures(before)
    said = {key: found[key].sentence if key in found else NOTHING for key in before.fails}
    return tuple(
        replace(one, what_to_change=said.get(key_of(one), "")) for one in before.judgements
    )


def cures(before: Evaluation) -> dict[Key, Cure]:
    """A cure for each judgement that fails and has one."""
    fails = before.fails
    best: dict[Key, Cure] = {}
    for change in _changes(before) if fails else ():
        try:
            after = evaluate(change.scenario)
        except MountError:
            continue
        if after.spoils(before):
            continue
        verdicts = {key_of(one): one.verdict for one in after.judgements}
        rights = frozenset(key for key in fails if verdicts.get(key, Verdict.PASS) is Verdict.PASS)
        for key in rights:
            if key not in best or len(rights) > len(best[key].rights):
                best[key] = Cure(change, after, rights)
        if best.keys() == fails.keys():
            break
    return best


def _changes(before: Evaluation) -> Iterator[Change]:
    """Changes worth a try, the easiest first."""
    point = before.point
    scenario, setting = point.scenario, point.setting
    if setting.open and setting.set_turns is not None and point.turns is not None:
        way = "Tighten" if point.turns < setting.set_turns else "Slacken"
        yield Change(_RESET, f"{way} to {turns_text(setting.set_turns)} turns.", scenario)
    yield from other_parts(before)
    if not any(name in _OF_LOADS for name, _, _ in before.fails):
        return
    snug = point.requirements.solved.travel.snug
    made = (make(scenario, snug) for make in CHANGES)
    yield from (change for change in made if change is not None)
    for held in (hold_both_ways(scenario), spring_in_series(point.requirements, setting)):
        if held is not None:
            yield held
    yield from other_boxes(before)
