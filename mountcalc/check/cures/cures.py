"""What cures a judgement that fails: changed mounts, solved and judged again."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from mountcalc.check.cures.changes import CURES, Change
from mountcalc.check.cures.holding_changes import hold_both_ways, spring_in_series
from mountcalc.check.cures.part_changes import other_boxes, other_parts
from mountcalc.check.judged import Judged, judge
from mountcalc.errors import MountError
from mountcalc.judgement.results import Judgement, Key, Verdict, key_of
from mountcalc.pages.turns import turns_text

__all__ = ["NOTHING", "Cure", "cures", "with_cures"]

_RESET = "reset"
NOTHING = "Nothing of what mountcalc knows does it by itself."
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
    judged: Judged
    rights: frozenset[Key]

    @property
    def sentence(self) -> str:
        """What to do, and how the mount is then set."""
        turns = self.judged.point.turns
        if self.change.name == _RESET or turns is None:
            return self.change.sentence
        return f"{self.change.sentence} Then set it anew: {turns_text(turns)} turns from zero."


def with_cures(judged: Judged, found: dict[Key, Cure]) -> tuple[Judgement, ...]:
    """The judgements of a mount; those that fail say what was found to change it."""
    said = {key: found[key].sentence if key in found else NOTHING for key in judged.fails}
    return tuple(
        replace(one, what_to_change=said.get(key_of(one), "")) for one in judged.judgements
    )


def cures(judged: Judged) -> dict[Key, Cure]:
    """A cure for each judgement that fails and has one."""
    fails = judged.fails
    best: dict[Key, Cure] = {}
    if not fails:
        return best
    for change in _changes(judged):
        try:
            after = judge(change.scenario)
        except MountError:
            continue
        if after.spoils(judged):
            continue
        verdicts = {key_of(one): one.verdict for one in after.judgements}
        rights = frozenset(key for key in fails if verdicts.get(key, Verdict.PASS) is Verdict.PASS)
        for key in rights:
            if key not in best or len(rights) > len(best[key].rights):
                best[key] = Cure(change, after, rights)
        if best.keys() == fails.keys():
            break
    return best


def _changes(judged: Judged) -> Iterator[Change]:
    """Changes worth a try, the easiest first."""
    point = judged.point
    scenario, setting = point.scenario, point.setting
    if setting.open and setting.set_turns is not None and point.turns is not None:
        way = "Tighten" if point.turns < setting.set_turns else "Slacken"
        yield Change(_RESET, f"{way} to {turns_text(setting.set_turns)} turns.", scenario)
    yield from other_parts(judged)
    if not any(name in _OF_LOADS for name, _, _ in judged.fails):
        return
    snug = point.promises.solved.travel.snug
    for make in CURES:
        if (change := make(scenario, snug)) is not None:
            yield change
    for made in (hold_both_ways(scenario), spring_in_series(point.promises, setting)):
        if made is not None:
            yield made
    yield from other_boxes(judged)
