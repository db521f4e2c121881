"""Mounts of which all is said that strength is judged by, and their judgements by name."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from invented_scenarios import WELL_MADE

from mountcalc import parse_scenario
from mountcalc.check import evaluate
from mountcalc.check.evaluation import setup_of
from mountcalc.judgement import Judgement
from mountcalc.loads import Part, PartLoad, Wood
from mountcalc.scenario.model import Scenario
from mountcalc.strength.carried import Setup, carried
from mountcalc.strength.strength import part_judgements

SOUND = {
    "plate": {"joined": "glued", "grain": "from-hinge"},
    "hinge": {"into_plate": "face", "into_base": "face", "screw": "#10 x 1 1/2 in"},
    "wood": {"room": "heated"},
}


def made(**tables: Any) -> Scenario:
    """A mount that stands what it carries, with other keys."""
    both = {name: SOUND.get(name, {}) | tables.get(name, {}) for name in SOUND | tables}
    return parse_scenario(WELL_MADE).with_(**both)


def setup(scenario: Scenario) -> Setup:
    """Where a mount is judged."""
    return setup_of(evaluate(scenario).point)


def by_name(at: Setup) -> Mapping[str, Judgement]:
    """Its judgements along the shafts, of shaking and of strength."""
    return {one.name: one for one in part_judgements(at)}


def loads_of(at: Setup, part: Part, on: Wood | None = None) -> list[tuple[PartLoad, str]]:
    """What one kind of part carries, and when."""
    return [
        (one.load, one.when)
        for one in carried(at)
        if one.load.part is part and on in {None, one.load.on}
    ]
