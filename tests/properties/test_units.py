"""A file in inches and pounds, one in millimetres and newtons, and the mount itself agree."""

import pytest
from hypothesis import given, settings
from likeness import assert_alike
from random_mounts import TURNS, mounts
from scenario_text import INCH, METRIC, as_toml
from sizes import examples
from tables import table_or_other

from mountcalc.scenario.reader import parse_scenario
from mountcalc.table.table import tension_table


@settings(max_examples=examples(30, 5))
@given(mounts())
def test_inch_file_metric_file_and_mount_give_the_same_numbers(scenario):
    table = table_or_other(scenario)
    inch = tension_table(parse_scenario(as_toml(scenario, INCH)), TURNS)
    metric = tension_table(parse_scenario(as_toml(scenario, METRIC)), TURNS)
    assert_alike(table, inch)
    assert_alike(table, metric)
    assert_alike(inch, metric)


@settings(max_examples=examples(40))
@given(mounts())
def test_what_is_read_is_what_was_written(scenario):
    for units in (INCH, METRIC):
        read = parse_scenario(as_toml(scenario, units))
        assert read.belt.length == pytest.approx(scenario.belt.length, rel=1e-14)
        assert read.motor.weight == pytest.approx(scenario.motor.weight, rel=1e-14)
        assert read.motor.speed == pytest.approx(scenario.motor.speed, rel=1e-14)
        assert read.driven.power == pytest.approx(scenario.driven.power, rel=1e-14)
        assert read.belt.mass == pytest.approx(scenario.belt.mass, rel=1e-14)
        assert read.plate.travel == pytest.approx(scenario.plate.travel, rel=1e-14)
        assert [bearing.limit for bearing in read.driven.bearings] == pytest.approx(
            [bearing.limit for bearing in scenario.driven.bearings], rel=1e-13
        )
        assert read.motor.rotation is scenario.motor.rotation
        assert read.adjuster.acts is scenario.adjuster.acts
