"""``[build]``: how well a mount is made and known: values, defaults, messages."""

import pytest
from invented_scenarios import BUILD, JACK_IN_BASE, LINK
from messages import told

from mountcalc.scenario.reader import parse_scenario
from mountcalc.scenario.workmanship import Workmanship

INCH = 0.0254
LENGTH_WANTED = 'length wanted (such as "1/16 in" or "1.5 mm")'


def test_every_key():
    build = parse_scenario(JACK_IN_BASE + BUILD).build
    lengths = (build.hinge, build.bolt, build.shaft, build.belt_length)
    assert lengths == pytest.approx((INCH / 32, 0.002, INCH / 8, 0.7 * INCH))
    assert (build.weights, build.stiffness_factor) == (0.05, 1.5)
    assert (build.traction_factor, build.turn_error) == (1.2, 0.0625)
    assert (build.spring_rate, build.give_factor) == (0.05, 1.3)


@pytest.mark.parametrize("add", ["", "[build]\n"])
def test_defaults(add):
    scenario = parse_scenario(LINK + add)
    sixteenth = INCH / 16
    assert scenario.build == Workmanship()
    assert (scenario.build.hinge, scenario.build.bolt, scenario.build.shaft) == (sixteenth,) * 3
    assert scenario.build.traction_factor == 1.25
    assert scenario.notes == parse_scenario(LINK).notes


def test_what_hangs_on_other_keys_is_left_to_them():
    build = parse_scenario(LINK + '[build]\nhinge = "0 mm"\n').build
    assert build == Workmanship(hinge=0.0)
    asked = (build.belt_length, build.weights, build.stiffness_factor, build.turn_error)
    assert (*asked, build.spring_rate) == (None,) * 5


@pytest.mark.parametrize(
    ("line", "message"),
    [
        ("hinge = 0.0625", f"build.hinge: number without a unit: 0.0625; {LENGTH_WANTED}"),
        ('hinge = "-1 mm"', 'build.hinge: length zero or more wanted, got "-1 mm"'),
        ('bolt = "5 in"', 'build.bolt: length of at most 100 mm (3.94 in) wanted, got "5 in"'),
        ('shaft = "1 lbf"', f'build.shaft: {LENGTH_WANTED}, got a force: "1 lbf"'),
        ("belt_length = true", f"build.belt_length: {LENGTH_WANTED}, got true"),
        ("weights = 0.6", "build.weights: number from 0 to 0.5 wanted, got 0.6"),
        ("stiffness_factor = 0.5", "build.stiffness_factor: number from 1 to 20 wanted, got 0.5"),
        ("traction_factor = nan", "build.traction_factor: number from 1 to 3 wanted, got nan"),
        ("turn_error = -1", "build.turn_error: number from 0 to 10 wanted, got -1"),
        ('hinges = "1 mm"', "build.hinges: unknown key 'hinges'; did you mean 'hinge'?"),
        (
            "colour = 1",
            "build.colour: unknown key 'colour'; known are hinge, bolt, shaft, belt_length, "
            "weights, stiffness_factor, traction_factor, turn_error, spring_rate and give_factor",
        ),
        ("thread = 1", "build.thread: unknown key 'thread' here; it belongs in [adjuster]"),
    ],
)
def test_a_wrong_error_is_one_line(line, message):
    assert told(JACK_IN_BASE + f"[build]\n{line}\n") == [message]


@pytest.mark.parametrize(
    ("text", "message"),
    [
        (JACK_IN_BASE + "[[build]]\n", "build: table [build] wanted, got a list of 1"),
        ('build = "well"\n' + JACK_IN_BASE, 'build: table [build] wanted, got "well"'),
        (JACK_IN_BASE + "[bild]\n", "bild: unknown key 'bild'; did you mean 'build'?"),
    ],
)
def test_a_wrong_table_is_one_line(text, message):
    assert told(text) == [message]
