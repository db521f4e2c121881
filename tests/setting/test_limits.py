"""All limits count alike: what ``setting`` calls the most is what ``check`` passes."""

import re
import sys
from dataclasses import replace

import pytest

from mountcalc import read_scenario
from mountcalc.check.evaluation import evaluate
from mountcalc.judgement import Verdict
from mountcalc.requirements.results import Part
from mountcalc.requirements.setting import gentlest_setting
from mountcalc.setting.advice import advise
from mountcalc.setting.page import setting_text
from mountcalc.table import tension_table
from mountcalc.table.page import table_text
from mountcalc.units import si_factor

HERE = 1e-4


def limited(path, **limits):
    scenario = read_scenario(path)
    limits = {name: value * si_factor("lbf") for name, value in limits.items()}
    return replace(scenario, limits=replace(scenario.limits, **limits))


def load_on(case, part):
    return abs(case.adjuster) if part == "adjuster" else case.hinge


# Above what each carries at the fewest turns, below what it carries at the bearing's limit.
@pytest.mark.parametrize(("part", "limit"), [("adjuster", 30.0), ("hinge", 31.0)])
def test_an_adjuster_or_a_hinge_at_its_limit_ends_the_range(cider, part, limit):
    scenario = limited(cider, **{part: limit})
    setting = gentlest_setting(scenario)
    free = gentlest_setting(read_scenario(cider))
    assert free.turns_min < setting.turns_max < free.turns_max
    assert (setting.governs.max.part, setting.governs.max.bearing) == (Part(part), None)
    here = tension_table(scenario, [setting.turns_max]).rows[0]
    worst = max(load_on(case, part) for case in here.cases.values())
    assert worst == pytest.approx(limit * si_factor("lbf"), rel=1e-6)
    error = scenario.limits.turn_error
    for side, verdict in ((-1, Verdict.PASS), (1, Verdict.FAIL)):
        judged = evaluate(scenario, setting.turns_max - error + side * HERE).judgements
        assert {one.verdict for one in judged if one.name == f"{part}-load"} == {verdict}


def test_the_first_limit_is_named_on_the_pages(cider, monkeypatch):
    monkeypatch.setattr(sys.modules["mountcalc.setting.advice"], "solved_remedies", lambda _: ())
    scenario = limited(cider, adjuster=30.0)
    page = setting_text(scenario, advise(scenario), more=True)
    assert "with more, the adjuster is over its limit, starting" in " ".join(page.split())
    table = table_text(scenario, tension_table(scenario), more=True)
    assert "the adjuster is over its limit, starting." in " ".join(table.split())
    assert "adjuster 30.0" in table
    assert any("LIMIT" in line and "LIMIT?" not in line for line in table.splitlines())
    assert re.search(r"3\d\.\d\*$", table, re.MULTILINE)


def test_a_limit_below_what_the_grip_wants_closes_the_range(cider):
    setting = gentlest_setting(limited(cider, adjuster=20.0))
    assert not setting.open
    assert setting.why_not_open.startswith("the adjuster is at its limit before the belt grips")


def test_what_the_belt_takes_off_a_hinge_is_no_reason_to_call_it_closed(cider):
    """Over its limit with the belt slack, the hinge is within it once the belt pulls."""
    limit = 29.8 * si_factor("lbf")
    scenario = limited(cider, hinge=29.8)
    here = [max(case.hinge for case in row.cases.values()) for row in rows(scenario, 0.0, 1.4)]
    assert here[0] > limit > here[1]
    setting = gentlest_setting(scenario)
    assert setting.turns_min < setting.set_turns < setting.turns_max
    assert "hinge" not in (setting.why_not_open or "")
    ends = rows(scenario, setting.turns_min, setting.turns_max)
    assert all(max(case.hinge for case in row.cases.values()) <= limit * 1.001 for row in ends)
    assert setting.governs.max.part is Part.HINGE


def rows(scenario, *turns):
    return tension_table(scenario, turns).rows
