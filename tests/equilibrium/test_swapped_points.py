"""A point whose x and y are swapped is told where it makes the belt too short or too long."""

from dataclasses import replace

import pytest
from invented_scenarios import JACK_IN_BASE, changed

from mountcalc.belts.fitting import snug_travel
from mountcalc.errors import MountError
from mountcalc.scenario.reader import parse_scenario
from mountcalc.table.table import tension_table

# The invented mill, drawn from a corner of the room: 30 in further to the right, 10 in higher.
AT_CORNER = changed(
    JACK_IN_BASE,
    ('shaft = ["0 in", "0 in"]', 'shaft = ["30 in", "10 in"]'),
    ('shaft = ["-20 in", "-4 in"]', 'shaft = ["10 in", "6 in"]'),
    ('center_of_mass = ["-20 in", "-4 in"]\n', ""),
    ('hinge = ["-23 1/2 in", "-13 in"]', 'hinge = ["6 1/2 in", "-3 in"]'),
    ('["-23 1/2 in", "-6 in"]', '["6 1/2 in", "4 in"]'),
    ('tip = ["-23 1/2 in", "-1 in"]', 'tip = ["6 1/2 in", "9 in"]'),
)


def told(*changes):
    with pytest.raises(MountError) as error:
        tension_table(parse_scenario(changed(AT_CORNER, *changes)), [0])
    return str(error.value)


def test_the_mill_itself_is_good():
    assert tension_table(parse_scenario(AT_CORNER), [0]).snug is not None


def test_the_motors_shaft():
    assert told(('["10 in", "6 in"]', '["6 in", "10 in"]')) == (
        'motor.shaft: x and y look swapped: with shaft = ["10 in", "6 in"] the belt becomes snug; '
        "as typed it is 1.55 in (39.3 mm) too short to become snug inside the travel"
    )


def test_the_driven_shaft():
    assert told(('["30 in", "10 in"]', '["10 in", "30 in"]')).startswith(
        'driven.shaft: x and y look swapped: with shaft = ["30 in", "10 in"] the belt becomes'
    )


def test_a_belt_that_is_only_too_short_is_told_as_before():
    assert told(('length = "60.3 in"', 'length = "56 in"')).startswith("belt.length: the belt is ")


def test_a_length_that_another_point_would_suit_is_only_one_that_does_not_fit():
    """Of the mill's own belt it would be told; of others that are judged in it nothing is."""
    scenario = parse_scenario(AT_CORNER)
    told_of = replace(scenario, belt=replace(scenario.belt, length=1.74))
    with pytest.raises(MountError, match="x and y look swapped"):
        snug_travel(told_of, 1.74)
    assert snug_travel(scenario, 1.74) is None
