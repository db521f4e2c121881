"""The swing for which parts are made, and lengths as a rule has them."""

import math
from dataclasses import replace
from pathlib import Path

import pytest

from mountcalc.belts.fitting import fit
from mountcalc.draw.build import Build, turned
from mountcalc.errors import MountError
from mountcalc.pages.amounts import bench_length, fine_length
from mountcalc.scenario.reader import read_scenario
from mountcalc.scenario.text.writing import Display

SCENARIOS = Path(__file__).parents[2] / "scenarios"


@pytest.fixture
def mill():
    return read_scenario(str(SCENARIOS / "cider-mill.toml"))


def distance(scenario, angle):
    shaft = turned(scenario.motor.shaft, scenario.plate.hinge, angle)
    return math.dist(shaft, scenario.driven.shaft)


def test_the_swing_uses_the_published_allowances_of_an_a60(mill):
    # 0.8 in to fit an A belt of the rows 60 to 85, 2 in to take it up (common practice).
    swing = Build(mill).swing
    snug = distance(mill, swing.snug)
    assert snug - distance(mill, swing.install) == pytest.approx(0.8 * 0.0254, rel=1e-9)
    assert distance(mill, swing.take_up) - snug == pytest.approx(2.0 * 0.0254, rel=1e-9)
    assert swing.notes == ()
    assert (swing.low, swing.high) == (swing.install, swing.take_up)


def test_a_short_travel_is_used_to_its_ends_and_said(mill):
    stops = (math.radians(-1), math.radians(6))
    short = replace(mill, plate=replace(mill.plate, travel=stops))
    swing = Build(short).swing
    assert (swing.install, swing.take_up) == pytest.approx(stops)
    there = fit(short, mill.belt.length, mill.belt.designation).install.there
    assert swing.notes[0] == (
        f"The travel gives {bench_length(there, Display.INCH)} on the centre distance to fit the "
        "belt, of 13/16 in wanted; drawn to the end of the travel."
    )
    assert "to take up the belt, of 2 in wanted" in swing.notes[1]


def test_a_length_without_a_name_gets_the_usual_shares(mill):
    belt = replace(mill.belt, designation=None, length=mill.belt.length + 0.011)
    swing = Build(replace(mill, belt=belt)).swing
    snug = distance(mill, swing.snug)
    assert snug - distance(mill, swing.install) == pytest.approx(0.015 * belt.length, rel=1e-9)


def test_a_length_that_has_a_name_gets_the_allowances_of_the_name(mill):
    assert (
        Build(replace(mill, belt=replace(mill.belt, designation=None))).swing == Build(mill).swing
    )


def test_a_belt_that_is_never_snug_is_refused(mill):
    with pytest.raises(MountError, match="belt"):
        assert Build(replace(mill, belt=replace(mill.belt, length=3 * mill.belt.length))).swing


def test_every_shipped_scenario_has_a_swing_in_its_travel(scenario_file):
    scenario = read_scenario(str(scenario_file))
    swing = Build(scenario).swing
    low, high = scenario.plate.travel
    assert low <= swing.low < swing.snug < swing.high <= high


@pytest.mark.parametrize(
    ("metres", "display", "text"),
    [
        (14.53125 * 0.0254, Display.INCH, "14 17/32 in"),
        (14.54 * 0.0254, Display.INCH, "14 17/32 in"),
        (0.5 * 0.0254, Display.INCH, "1/2 in"),
        (-2.25 * 0.0254, Display.INCH, "-2 1/4 in"),
        (-0.001 * 0.0254, Display.INCH, "0 in"),
        (2.999 * 0.0254, Display.INCH, "3 in"),
        (0.36906, Display.METRIC, "369.1 mm"),
        (-0.00001, Display.METRIC, "0.0 mm"),
    ],
)
def test_lengths_are_those_of_a_rule(metres, display, text):
    assert bench_length(metres, display) == text


@pytest.mark.parametrize(
    ("metres", "display", "text"),
    [
        # 30% of 1/4 in, half a millimetre, and 3 mm.
        (0.075 * 0.0254, Display.INCH, "5/64 in (0.075 in)"),
        (0.0005, Display.INCH, "1/64 in (0.020 in)"),
        (0.003, Display.INCH, "1/8 in (0.118 in)"),
        (0.0001, Display.INCH, "0.004 in"),
        (-0.0005, Display.INCH, "-1/64 in (-0.020 in)"),
        (0.0, Display.INCH, "0 in"),
        (3 / 32 * 0.0254, Display.INCH, "3/32 in"),
        (0.126 * 0.0254, Display.INCH, "1/8 in"),
        (0.0019, Display.METRIC, "1.9 mm"),
    ],
)
def test_small_lengths_are_told_finer_than_a_rule_shows(metres, display, text):
    assert fine_length(metres, display) == text
