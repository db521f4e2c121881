"""Every layout that is written is open in `setting`, ok in `belts` and passes `check`."""

import dataclasses
from pathlib import Path

from hypothesis import Phase, event, given, settings
from hypothesis import strategies as st
from search_spaces import ALL
from sizes import examples

from mountcalc.belts.choice import choose_belt
from mountcalc.check.check import check
from mountcalc.console.choices import Prefer
from mountcalc.judgement import Verdict
from mountcalc.place.as_scenario import layout_files
from mountcalc.place.search.search import find_layouts
from mountcalc.requirements.setting import gentlest_setting
from mountcalc.scenario.reader import parse_scenario
from mountcalc.scenario.search import Search

SAMPLES, COUNT = 256, 2


@st.composite
def searches(draw):
    """A search of those of these tests with other loads, limits and errors."""
    scenario, space = ALL[draw(st.sampled_from(sorted(ALL)))]()
    driven, belt = scenario.driven, scenario.belt
    if belt.designation and belt.designation.pitch_length != belt.length:
        belt = dataclasses.replace(belt, designation=None)
    scale = draw(st.floats(0.7, 2.0))
    bearings = tuple(
        dataclasses.replace(one, limit=scale * one.limit, starting_limit=scale * one.starting_limit)
        for one in driven.bearings
    )
    driven = dataclasses.replace(
        driven,
        bearings=bearings,
        max_speed=None,
        power=draw(st.floats(0.4, 1.1)) * driven.power,
    )
    limits = dataclasses.replace(
        scenario.limits, bedding=draw(st.floats(1.0, 1.6)), adjuster=None, hinge=None
    )
    belt = dataclasses.replace(belt, stiffness_factor=draw(st.floats(1.05, 2.0)))
    motor = dataclasses.replace(scenario.motor, power=max(scenario.motor.power, driven.power))
    scenario = dataclasses.replace(scenario, driven=driven, limits=limits, belt=belt, motor=motor)
    seed = draw(st.integers(0, 1000))
    return Search(scenario, dataclasses.replace(space, samples=SAMPLES, seed=seed, belts=()))


@settings(max_examples=examples(4), deadline=None, phases=(Phase.generate,))
@given(searches(), st.sampled_from(Prefer))
def test_place_setting_belts_and_check_agree_on_every_file_that_is_written(search, prefer):
    found = find_layouts(search, prefer, COUNT)
    texts, _ = layout_files(search, found.placement, found.scenarios, Path("layouts"), "layout")
    event(f"layouts: {min(len(texts), 1)}")
    for text in texts.values():
        scenario = parse_scenario(text.decode() if isinstance(text, bytes) else text)
        assert gentlest_setting(scenario).open
        choice, checked = choose_belt(scenario), check(scenario)
        (yours,) = [one for one in choice.belts if one.is_yours]
        assert yours.ok, yours.why_not
        fails = [one.sentence for one in checked.judgements if one.verdict is Verdict.FAIL]
        assert checked.ok, fails
        # One computation: check has the very judgements that belts has.
        assert [one for one in checked.judgements if one in yours.judgements] == list(
            yours.judgements
        )
