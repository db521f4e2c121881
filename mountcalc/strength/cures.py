"""What cures boards and hardware that do not stand their loads: changes, solved again."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import partial

from mountcalc.equilibrium.mount import Mount
from mountcalc.errors import MountError
from mountcalc.judgement import Judgement, Verdict
from mountcalc.requirements.requirements import requirements_of
from mountcalc.requirements.setting import gentlest_setting
from mountcalc.scenario.model import Scenario
from mountcalc.strength.carried import Setup
from mountcalc.strength.changes import NAMES, SEASON, Remedy, remedies
from mountcalc.strength.strength import part_judgements

_BAD = {Verdict.FAIL, Verdict.CAUTION}


def strength_cures(setup: Setup, judgements: Sequence[Judgement]) -> dict[str, str]:
    """By the name of each judgement of strength that is not kept, what was found to cure it.

    A cure leaves nothing else worse than it was; of several that rights most, else the easiest.
    Against the seasons all that works is told, of springs the first: none is less work than others.
    """
    was = {one.name for one in judgements if one.verdict in _BAD}
    bad = {one.name: one for one in judgements if one.name in NAMES and one.verdict in _BAD}
    best, seasonal = dict[str, tuple[int, str]](), dict[str, str]()
    tried = list[Scenario]()
    for judgement in bad.values():
        for remedy in map(partial(_gives_otherwise, setup), remedies(setup, judgement)):
            if remedy.scenario in tried:
                continue
            tried.append(remedy.scenario)
            anew = " Then set it anew." if remedy.is_set_anew else ""
            left = _left(setup, remedy)
            if left is None or not left <= was:
                continue
            rights = bad.keys() - left
            if judgement.name == SEASON and SEASON in rights:
                kind = "spring" if remedy.scenario.adjuster.coil else remedy.sentence
                seasonal.setdefault(kind, remedy.sentence + anew)
            for name in rights:
                if len(rights) > best.get(name, (0, ""))[0]:
                    best[name] = len(rights), remedy.sentence + anew
            if judgement.name in rights and len(rights) == len(bad) and judgement.name != SEASON:
                break
    found = {name: sentence for name, (_, sentence) in best.items()}
    return found | ({SEASON: " Or: ".join(seasonal.values())} if seasonal else {})


def _gives_otherwise(setup: Setup, remedy: Remedy) -> Remedy:
    """The remedy, with another setting where its parts give otherwise and that is reckoned with."""
    gives = Mount.of(remedy.scenario).spring
    return remedy._replace(is_set_anew=remedy.is_set_anew or gives != setup.ways[0].mount.spring)


def _left(setup: Setup, remedy: Remedy) -> set[str] | None:
    """What is not kept of the changed mount; None where it has no setting."""
    try:
        requirements = requirements_of(remedy.scenario)
        again = replace(setup, scenario=remedy.scenario, ways=requirements.ways)
        if remedy.is_set_anew:
            setting = gentlest_setting(remedy.scenario)
            if not setting.open:
                return None
            again = Setup.at(requirements, setting, setting.set_turns)
        after = part_judgements(again)
    except MountError:
        return None
    return {one.name for one in after if one.verdict in _BAD}
