"""How well a mount is made and known, where its file leaves that to other keys."""

from dataclasses import replace

import pytest
from invented_scenarios import BUILD, JACK_IN_BASE, LINK, changed

from mountcalc.scenario.reader import parse_scenario, read_scenario
from mountcalc.scenario.workmanship import Workmanship
from mountcalc.tolerance.known import belt_tolerance, known

INCH = 0.0254


def test_what_the_file_says_is_taken():
    scenario = parse_scenario(JACK_IN_BASE + BUILD)
    assert known(scenario) == scenario.build


def test_what_it_does_not_say_hangs_on_other_keys():
    scenario = read_scenario("scenarios/cider-mill.toml")
    found = known(scenario)
    assert found == replace(
        Workmanship(),
        belt_length=found.belt_length,
        weights=scenario.motor.weight_error,
        stiffness_factor=scenario.belt.stiffness_factor,
        turn_error=scenario.limits.turn_error,
        spring_rate=0.0,
    )
    assert known(read_scenario("scenarios/feed-mill.toml")).spring_rate == 0.1
    better = scenario.with_(belt={"stiffness_factor": 1.1}, motor={"weight_error": 0.02})
    assert (known(better).stiffness_factor, known(better).weights) == (1.1, 0.02)


@pytest.mark.parametrize(
    ("belt", "inches", "sure"),
    [
        # ANSI/RMA IP-20-1988, Machinery's Handbook 31, Table 8: 0.7 in from A38 to A85.
        ('designation = "A59"', 0.7, "published"),
        # The same belt by its pitch length: the number on it and 1.3 in.
        ('section = "A"\nlength = "60.3 in"', 0.7, "published"),
        # From memory, ANSI/RMA IP-23: 0.38 in short, 0.12 in long; the larger counts.
        ('designation = "4L380"', 0.38, "from memory"),
        ('section = "A"\nlength = "60.5 in"', 0.605, "estimate"),
        ('designation = "4L600"', 0.59, "estimate"),
    ],
)
def test_a_belt_is_as_long_as_its_tolerance_lets_it(belt, inches, sure):
    text = changed(JACK_IN_BASE, ('section = "A"', ""), ('length = "60.3 in"', belt))
    scenario = parse_scenario(text)
    found = belt_tolerance(scenario)
    assert found.value == pytest.approx(inches * INCH, rel=0.01)
    assert found.sure == sure
    assert known(scenario).belt_length == found.value


def test_a_belt_that_is_laced_where_it_lies_has_no_published_tolerance():
    scenario = parse_scenario(LINK.replace('section = "SPZ"', 'section = "SPZ"\njoint = "linked"'))
    assert belt_tolerance(scenario).sure == "estimate"
    assert belt_tolerance(parse_scenario(LINK)).source.startswith("ISO 4184")
