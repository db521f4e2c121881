"""``[limits]``, ``[may_change]`` and a drive that runs both ways: values, defaults, messages."""

import pytest
from invented_scenarios import JACK_IN_BASE, LIMITS, LINK, REVERSING, WEIGHT_ALONE, changed
from messages import told

from mountcalc.scenario.model import Limits, MayChange, Rotation
from mountcalc.scenario.reader import parse_scenario

LBF = 4.4482216152605
LOAD_WANTED = 'load wanted (such as "200 lbf" or "900 N")'


def test_every_limit():
    limits = parse_scenario(JACK_IN_BASE + LIMITS).limits
    assert limits.grip == 1.4
    assert limits.starting_grip == 1.1
    assert limits.bedding == 1.25
    assert limits.turn_error == 0.25
    assert limits.adjuster == pytest.approx(200 * LBF)
    assert limits.hinge == pytest.approx(980.665)
    assert limits.balance_error == pytest.approx(LBF)
    assert (limits.push_error, limits.hum_error) == (0.05, 0.02)
    assert parse_scenario(JACK_IN_BASE).motor.weight_error == 0.1


@pytest.mark.parametrize("add", ["", "[limits]\n", "[limits]\n[may_change]\n"])
def test_defaults(add):
    scenario = parse_scenario(LINK + add)
    assert scenario.limits == Limits()
    assert scenario.limits == Limits(1.3, None, 1.3, 0.125, None, None, LBF / 2, 0.1, 0.08)
    assert scenario.may_change == MayChange(rotation=False, loads=False)
    assert scenario.notes == parse_scenario(LINK).notes


def test_one_limit_leaves_the_others_at_their_defaults():
    assert parse_scenario(LINK + "[limits]\nturn_error = 0\n").limits == Limits(turn_error=0)


def test_what_may_change():
    scenario = parse_scenario(LINK + "[may_change]\nloads = true\n")
    assert scenario.may_change == MayChange(rotation=False, loads=True)
    scenario = parse_scenario(LINK + "[may_change]\nrotation = true\nloads = false\n")
    assert scenario.may_change == MayChange(rotation=True, loads=False)


def test_a_wanted_grip_below_one_is_noted():
    before = parse_scenario(LINK).notes
    scenario = parse_scenario(LINK + "[limits]\ngrip = 0.9\nstarting_grip = 0.5\n")
    assert [note for note in scenario.notes if note not in before] == [
        "The wanted grip of 0.9 is below 1: the belt may slip running.",
        "The wanted starting grip of 0.5 is below 1: the belt may slip as it starts.",
    ]


def test_a_drive_that_runs_both_ways():
    motor = parse_scenario(LINK).motor
    assert (motor.rotation, motor.reverses) == (Rotation.CW, False)
    before = parse_scenario(LINK).notes
    scenario = parse_scenario(LINK.replace('"cw"', '"both"'))
    assert (scenario.motor.rotation, scenario.motor.reverses) == (Rotation.CCW, True)
    note = (
        "The drive runs both ways: what one table shows is counter-clockwise; settings keep "
        "grip and limits both ways."
    )
    assert [one for one in scenario.notes if one not in before] == [note]
    assert "The drive runs both ways, so there is no other rotation to change to." in (
        parse_scenario(REVERSING).notes
    )


@pytest.mark.parametrize(
    ("line", "message"),
    [
        ("grip = 0", "limits.grip: number above 0 to 20 wanted, got 0"),
        ("grip = -1.3", "limits.grip: number above 0 to 20 wanted, got -1.3"),
        ("grip = nan", "limits.grip: number above 0 to 20 wanted, got nan"),
        ("grip = true", "limits.grip: plain number wanted (above 0 to 20), got true"),
        (
            'grip = "1.3"',
            "limits.grip: plain number wanted (above 0 to 20), without quotes or unit, "
            'got "1.3"',
        ),
        ("starting_grip = 0", "limits.starting_grip: number above 0 to 20 wanted, got 0"),
        ("starting_grip = []", "limits.starting_grip: plain number wanted (above 0 to 20), "
         "got an empty list"),
        ("bedding = 0.9", "limits.bedding: number from 1 to 3 wanted, got 0.9"),
        ("bedding = 3.5", "limits.bedding: number from 1 to 3 wanted, got 3.5"),
        ("turn_error = -0.1", "limits.turn_error: number from 0 to 10 wanted, got -0.1"),
        ("turn_error = 11", "limits.turn_error: number from 0 to 10 wanted, got 11"),
        (
            'turn_error = "1/8 turn"',
            "limits.turn_error: plain number wanted (from 0 to 10), without quotes or unit, "
            'got "1/8 turn"',
        ),
        ("push_error = 0.6", "limits.push_error: number from 0 to 0.5 wanted, got 0.6"),
        ("hum_error = -1", "limits.hum_error: number from 0 to 0.5 wanted, got -1"),
        ("balance_error = 0.5", f"limits.balance_error: number without a unit: 0.5; {LOAD_WANTED}"),
        ("adjuster = 200", f"limits.adjuster: number without a unit: 200; {LOAD_WANTED}"),
        ('adjuster = "0 N"', 'limits.adjuster: load above zero wanted, got "0 N"'),
        ('hinge = "3 in"', f'limits.hinge: {LOAD_WANTED}, got a length: "3 in"'),
        ('hinge = "25 psi"', f'limits.hinge: {LOAD_WANTED}, got a pressure: "25 psi"'),
        ("gripp = 1.3", "limits.gripp: unknown key 'gripp'; did you mean 'grip'?"),
        (
            "turn-error = 0.1",
            "limits.turn-error: unknown key 'turn-error'; did you mean 'turn_error'?",
        ),
        (
            "colour = 1",
            "limits.colour: unknown key 'colour'; known are grip, starting_grip, bedding, "
            "turn_error, adjuster, hinge, balance_error, push_error and hum_error",
        ),
        (
            'clearance = "1 mm"',
            "limits.clearance: unknown key 'clearance' here; it belongs in [guard], [search] or "
            "[[driven.bearing]]",
        ),
    ],
)  # fmt: skip
def test_a_wrong_limit_is_one_line(line, message):
    assert told(JACK_IN_BASE + f"[limits]\n{line}\n") == [message]


@pytest.mark.parametrize(
    ("line", "message"),
    [
        ("rotation = 1", "may_change.rotation: true or false wanted, got 1"),
        (
            'rotation = "yes"',
            'may_change.rotation: true or false wanted, without quotes, got "yes"',
        ),
        ("loads = []", "may_change.loads: true or false wanted, got an empty list"),
        ("load = true", "may_change.load: unknown key 'load' here; it belongs in [driven]"),
        ("rotaton = true", "may_change.rotaton: unknown key 'rotaton'; did you mean 'rotation'?"),
    ],
)
def test_a_wrong_permission_is_one_line(line, message):
    assert told(JACK_IN_BASE + f"[may_change]\n{line}\n") == [message]


@pytest.mark.parametrize(
    ("add", "message"),
    [
        ("[limit]\ngrip = 1.3\n", "limit: unknown key 'limit'; did you mean 'limits'?"),
        (
            "[may-change]\nloads = true\n",
            "may-change: unknown key 'may-change'; did you mean 'may_change'?",
        ),
        ("[[limits]]\ngrip = 1.3\n", "limits: table [limits] wanted, got a list of 1"),
        ("[[may_change]]\n", "may_change: table [may_change] wanted, got a list of 1"),
    ],
)
def test_a_wrong_table_is_one_line(add, message):
    assert told(JACK_IN_BASE + add) == [message]


def test_a_wrong_value_in_a_misspelt_table_of_limits_is_found_too():
    assert told(JACK_IN_BASE + "[limit]\ngrip = 0\n") == [
        "limit: unknown key 'limit'; did you mean 'limits'?",
        "limit.grip: number above 0 to 20 wanted, got 0",
    ]


def test_no_adjuster_has_no_limit():
    assert told(WEIGHT_ALONE + '[limits]\nadjuster = "200 N"\n') == [
        'limits.adjuster: an adjuster of kind "none" carries no load'
    ]
    assert parse_scenario(WEIGHT_ALONE + '[limits]\nhinge = "200 N"\n').limits.hinge == 200


def test_rotation_is_one_of_three_words():
    text = changed(JACK_IN_BASE, ('rotation = "ccw"', 'rotation = "bth"'))
    assert told(text) == [
        'motor.rotation: "ccw", "cw" or "both" wanted (as seen facing the motor\'s pulley; a '
        'nameplate may mean the other end), got "bth"; did you mean "both"?'
    ]
