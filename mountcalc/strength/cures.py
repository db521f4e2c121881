"""What cures boards and hardware that do not stand their loads: changes, solved again."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from mountcalc.errors import MountError
from mountcalc.judgement import Judgement, Verdict
from mountcalc.requirements.requirements import requirements_of
from mountcalc.scenario.model import Scenario
from mountcalc.strength.carried import Setup
from mountcalc.strength.changes import NAMES, remedies
from mountcalc.strength.strength import part_judgements

_BAD = {Verdict.FAIL, Verdict.CAUTION}


def strength_cures(setup: Setup, judgements: Sequence[Judgement]) -> dict[str, str]:
    """By the name of each judgement of strength that is not kept, what was found to cure it.

    A cure leaves nothing else worse than it was; of several that rights most, else the easiest.
    """
    bad = {one.name: one for one in judgements if one.name in NAMES and one.verdict in _BAD}
    best = dict[str, tuple[int, str]]()
    tried = list[Scenario]()
    for judgement in bad.values():
        for remedy in remedies(setup.scenario, judgement):
            if remedy.scenario in tried:
                continue
            tried.append(remedy.scenario)
            try:
                ways = requirements_of(remedy.scenario).ways
                after = part_judgements(replace(setup, scenario=remedy.scenario, ways=ways))
            except MountError:
                continue
            left = {one.name for one in after if one.verdict in _BAD}
            rights = bad.keys() - left
            if not left <= bad.keys():
                continue
            for name in rights:
                if len(rights) > best.get(name, (0, ""))[0]:
                    best[name] = len(rights), remedy.sentence
            if judgement.name in rights and len(rights) == len(bad):
                break
    return {name: sentence for name, (_, sentence) in best.items()}
