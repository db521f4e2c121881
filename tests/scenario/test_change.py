"""A scenario with other keys is what a file with these keys is: values, notes and refusals."""

import math
import tomllib
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from invented_scenarios import BASES, FULL, JACK_IN_BASE, LINK, changed

from mountcalc.errors import InputError, ScenarioError
from mountcalc.scenario.reader import parse_scenario, parse_search, read_scenario

SHIPPED = sorted((Path(__file__).parents[2] / "scenarios").glob("*.toml"))
INCH = 0.0254


def refused(scenario, **tables):
    with pytest.raises(ScenarioError) as caught:
        scenario.with_(**tables)
    assert isinstance(caught.value, InputError)
    return [f"{one.key}: {one.text}" for one in caught.value.problems]


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_nothing_changed_is_the_same_scenario_with_its_notes(path):
    scenario = read_scenario(path)
    assert scenario.with_() == scenario
    assert parse_scenario(tomllib.loads(path.read_text(encoding="utf-8"))).notes == scenario.notes


@pytest.mark.parametrize(
    ("change", "tables"),
    [
        (('length = "60.3 in"', 'length = "61 in"'), {"belt": {"length": "61 in"}}),
        (('section = "A"\n', ""), {"belt": {"section": None}}),
        (('thread = "3/8-16"', 'thread = "M10"'), {"adjuster": {"thread": "M10"}}),
        (("starting_factor = 1.5\n", ""), {"driven": {"starting_factor": None}}),
        (('stiffness = "12000 lbf"\n', ""), {"belt": {"stiffness": None}}),
        (("Invented mill", "Another"), {"title": "Another"}),
    ],
)
def test_a_change_is_that_of_the_file_with_its_notes_made_anew(change, tables):
    before, after = JACK_IN_BASE, changed(JACK_IN_BASE, change)
    assert parse_scenario(before).with_(**tables) == parse_scenario(after)


def test_bare_numbers_for_quantities_are_in_si():
    told = parse_scenario(LINK).with_(
        belt={"stiffness": 50_000, "count": 2, "traction": 0.4},
        plate={"hinge": (0.6, np.float64(-0.3)), "travel": np.radians([-9, 9])},
    )
    assert (told.belt.stiffness, told.belt.count, told.belt.traction) == (50e3, 2, 0.4)
    assert told.plate.hinge == (0.6, -0.3)
    assert told.plate.travel == pytest.approx((-math.radians(9), math.radians(9)))


@pytest.mark.parametrize(
    ("tables", "message"),
    [
        ({"belt": {"stiffness": 0.0}}, "belt.stiffness: force above zero wanted, got"),
        ({"belt": {"stiffness": math.nan}}, "belt.stiffness: force wanted (such as"),
        ({"motor": {"weight": -3}}, "motor.weight: weight or force zero or more wanted, got"),
        (
            {"driven": {"traction": math.nan}},
            "driven.traction: number above 0 to 5 wanted, got nan",
        ),
        ({"limits": {"gripp": 2}}, "limits.gripp: unknown key 'gripp'; did you mean 'grip'?"),
        ({"belt": 3}, "belt: table [belt] wanted, got 3"),
        ({"plate": {"hinge": [0.1, 10**400]}}, "plate.hinge: y: number without a unit"),
        ({"motor": {"shaft": None}}, "motor.shaft: missing: point wanted"),
    ],
)
def test_what_cannot_be_is_refused_by_its_key(tables, message):
    (line,) = refused(parse_scenario(JACK_IN_BASE), **tables)
    assert line.startswith(message)
    assert "\n" not in line


def test_one_way_to_say_a_thing_takes_the_other_out():
    mill = parse_scenario(JACK_IN_BASE)
    bought = mill.with_(belt={"designation": "A59"})
    assert str(bought.belt.designation) == "A59"
    assert bought.with_(belt={"length": "61 in"}).belt.designation is None
    told = mill.with_(driven={"pulley_outside_diameter": "9 in"}).driven.pulley_radius
    assert told < mill.driven.pulley_radius == 4.5 * INCH


def test_lists_of_tables_change_one_by_one_or_are_replaced():
    mill = parse_scenario(JACK_IN_BASE)
    first, second = mill.with_(driven={"bearing": [{}, {"name": "shop end"}]}).driven.bearings
    assert first == mill.driven.bearings[0]
    assert second == replace(mill.driven.bearings[1], name="shop end")
    assert mill.with_(driven={"load": []}).driven.loads == ()
    one = refused(mill, driven={"bearing": [{}]})
    assert "driven.bearing: exactly two [[driven.bearing]] wanted, found 1" in one


@pytest.mark.parametrize("name", BASES)
def test_what_was_replaced_since_is_kept(name):
    scenario = parse_scenario(BASES[name])
    heavy = replace(scenario, motor=replace(scenario.motor, weight=321.0))
    told = heavy.with_(limits={"grip": 1.5})
    assert told.motor.weight == pytest.approx(321.0, rel=1e-12)
    assert told.limits.grip == 1.5
    assert told.driven.power == pytest.approx(scenario.driven.power, rel=1e-12)


def test_the_text_reads_as_the_same_and_a_search_may_be_tables():
    scenario = parse_scenario(FULL)
    assert parse_scenario(scenario.to_toml()).parts.frame == scenario.parts.frame
    path = next(path for path in SHIPPED if path.stem == "fretsaw-bench")
    text = path.read_text(encoding="utf-8")
    assert parse_search(tomllib.loads(text)).space == parse_search(text).space
