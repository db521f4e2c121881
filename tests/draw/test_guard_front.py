"""The guard's front where the driven shaft passes it, and what the guard's sheet says along the
shafts, by plain sums of the scenario's positions."""

import math
from dataclasses import replace

import pytest

from mountcalc.draw.build import Build
from mountcalc.draw.guard.panel import guard_panel
from mountcalc.scenario.parts import AlongShafts
from mountcalc.scenario.reader import read_scenario

MM, INCH = 1e-3, 0.0254


@pytest.fixture
def mill(cider):
    return read_scenario(str(cider))


@pytest.fixture
def lathe(cider):
    return read_scenario(str(cider.with_name("wood-lathe.toml")))


def front(scenario):
    (note,) = (one for one in guard_panel(Build(scenario)).notes if one.startswith("The front, "))
    return note


def with_guard(scenario, **changed):
    parts = scenario.parts
    return replace(scenario, parts=replace(parts, guard=replace(parts.guard, **changed)))


def with_end(scenario, end):
    parts = scenario.parts
    return replace(scenario, parts=replace(parts, along=replace(parts.along, driven_shaft_end=end)))


def test_a_pulley_between_bearings_opens_the_front_for_its_shaft(lathe):
    # A journal of 32 mm and 12 mm around it.
    assert "with an opening for the driven shaft, which passes it: 56.0 mm across" in front(lathe)
    (said,) = (
        one for one in guard_panel(Build(lathe)).cautions if one.startswith("The front's gap")
    )
    # The strip ends 45 mm from the panel's back at 87 mm, the pulleys at 60 mm. ISO 13857, Table 4:
    # a slot of 10 mm to 12 mm wants 100 mm.
    assert "is 12.0 mm wide" in said
    assert "wants 100.0 mm" in said
    assert "the nearest pulley's side is 18.0 mm from the front" in said
    assert said.endswith("fix a collar to the front around it.")


def test_a_front_in_a_bearing_is_open_for_its_housing(lathe):
    # 70 mm of strip from 87 mm end at 17 mm; the front bearing reaches from 25 mm to -25 mm.
    note = front(with_guard(lathe, strip_width=70 * MM))
    assert "the housing of bearing 'headstock front'" in note
    # Twice 32 mm, and 12 mm all round.
    assert "88.0 mm across" in note
    assert "measure the housing" in note


def test_an_end_behind_the_front_leaves_it_closed(mill):
    # The strip ends 1 5/8 in + 3 3/4 in from the first bearing's middle, the shaft at 4 1/2 in.
    assert front(mill).endswith("without openings: the driven shaft ends 7/8 in behind it.")
    assert not any("front" in one for one in guard_panel(Build(mill)).cautions if "gap" in one)


def test_an_end_beyond_the_strip_opens_the_front(mill):
    note = front(with_end(mill, -5.5 * INCH))
    # 1 1/4 in of journal and 1/2 in around it.
    assert "with an opening for the driven shaft, which passes it: 2 1/4 in across" in note
    (said,) = (
        one
        for one in guard_panel(Build(with_end(mill, -5.5 * INCH))).cautions
        if one.startswith("The front's gap")
    )
    # From 5 3/8 in back to the driven pulley's front at 4 in.
    assert "the nearest pulley's side is 1 3/8 in from the front" in said


def test_an_unknown_end_is_told(mill):
    assert "is not known (driven.shaft_end" in front(with_end(mill, None))
    nothing = replace(mill, parts=replace(mill.parts, along=AlongShafts()))
    assert "is not known (driven.shaft_end" in front(nothing)


def test_between_bearings_the_front_is_open_though_nothing_else_is_known(lathe):
    nothing = replace(lathe, parts=replace(lathe.parts, along=AlongShafts()))
    assert "with an opening for the driven shaft" in front(nothing)
    (said,) = (
        one for one in guard_panel(Build(nothing)).cautions if one.startswith("The front's gap")
    )
    assert said.endswith("measure from the front to the nearest pulley.")


def test_a_shaft_that_goes_on_to_a_bearing_does_not_widen_the_strip(lathe):
    # Its end, 150 mm before the first bearing, is far outside the guard.
    notes = guard_panel(Build(with_end(lathe, -150 * MM))).notes
    assert any("shaft end are 42.0 mm" in note for note in notes)


def test_a_panel_in_the_driven_pulley_is_warned_of_on_the_guards_sheet(lathe):
    # The pulleys reach from 60 mm to 80 mm; the panel, 4 mm thick, from 72 mm to 76 mm.
    cautions = guard_panel(Build(with_guard(lathe, position=74 * MM))).cautions
    (said,) = (one for one in cautions if one.startswith("At guard.position the panel"))
    assert "reaches 8.0 mm past the back of the driven pulley" in said
    assert not any("At guard.position" in one for one in guard_panel(Build(lathe)).cautions)


@pytest.mark.parametrize("name", ["mill", "lathe"])
def test_what_the_outline_does_not_cover_of_the_travel_is_told(name, request):
    scenario = request.getfixturevalue(name)
    swing, travel = Build(scenario).swing, [math.degrees(one) for one in scenario.plate.travel]
    (note,) = (one for one in guard_panel(Build(scenario)).notes if "plate.travel" in one)
    install, take_up = math.degrees(swing.install), math.degrees(swing.take_up)
    past = {
        "install": min(abs(install - end) for end in travel),
        "take-up": min(abs(take_up - end) for end in travel),
    }
    for end, angle in past.items():
        assert f"{angle:.1f} deg past {end}" in note
    assert "the plate is not to swing further" in note


def test_a_travel_that_is_covered_is_not_spoken_of(lathe):
    swing = Build(lathe).swing
    short = replace(lathe, plate=replace(lathe.plate, travel=(swing.low, swing.high)))
    assert not any("plate.travel)" in note for note in guard_panel(Build(short)).notes)


def test_fixing_screws_go_into_what_is_behind_the_panel(mill):
    (note,) = (
        one for one in guard_panel(Build(mill)).notes if "into blocks or a batten behind" in one
    )
    # 3/4 in of clearance less 3 mm of air, to 1/32 in.
    assert "no more than 5/8 in wide" in note
