"""What a good scenario becomes: SI values, defaults, notes."""

import math

import pytest
from invented_scenarios import BASES, JACK_IN_BASE, JACK_IN_PLATE, LINK, WEIGHT_ALONE

from mountcalc.scenario.driven import When
from mountcalc.scenario.model import Acts, AdjusterKind, Rotation
from mountcalc.scenario.reader import parse_scenario, read_scenario
from mountcalc.scenario.text.writing import Display

INCH, LBF = 0.0254, 4.4482216152605


def test_every_value_of_the_inch_scenario():
    scenario = parse_scenario(JACK_IN_BASE, "dir/mill.toml")
    assert scenario.title == "Invented mill"
    assert scenario.source == "dir/mill.toml"
    assert scenario.display is Display.INCH
    driven, motor, belt, plate = scenario.driven, scenario.motor, scenario.belt, scenario.plate
    assert driven.shaft == (0, 0)
    assert driven.pulley_radius == pytest.approx(4.5 * INCH)
    assert driven.pulley_position == pytest.approx(-3 * INCH)
    assert driven.power == pytest.approx(0.4 * 745.6998715822702)
    assert driven.starting_factor == 1.5
    assert driven.max_speed == pytest.approx(20 * math.pi)
    assert driven.traction == 0.3
    assert motor.shaft == pytest.approx((-20 * INCH, -4 * INCH))
    assert motor.pulley_radius == pytest.approx(1.5 * INCH)
    assert motor.speed == pytest.approx(57.5 * math.pi)
    assert motor.rotation is Rotation.CCW
    assert motor.weight == pytest.approx(28 * LBF)
    assert motor.traction == 0.51
    assert belt.section == "A"
    assert belt.stiffness == pytest.approx(12000 * LBF)
    assert (belt.stiffness_factor, belt.mass, belt.count) == (2, 0.1, 1)
    assert plate.travel == pytest.approx((-math.pi / 15, math.pi / 15))
    assert plate.weight == pytest.approx(6 * LBF)
    load = driven.loads[0]
    assert (load.name, load.direction, load.when) == ("cutter head", (0, -1), When.ALWAYS)
    assert load.force == pytest.approx(30 * LBF)
    adjuster = scenario.adjuster
    assert adjuster.kind is AdjusterKind.JACK_IN_BASE
    assert adjuster.tip == pytest.approx((-23.5 * INCH, -INCH))
    assert (adjuster.axis, adjuster.face) == pytest.approx((math.pi, math.pi / 2))
    assert adjuster.advance_per_turn == pytest.approx(INCH / 16)
    assert (adjuster.base_pin, adjuster.plate_pin) == (None, None)


def test_bearing_limits_are_loads():
    first, second = parse_scenario(JACK_IN_BASE).driven.bearings
    assert first.limit == pytest.approx(25 * 1.25 * 3 * LBF)
    assert first.starting_limit == pytest.approx(50 * 1.25 * 3 * LBF)
    assert first.limit_given_as_pressure
    assert second.limit == pytest.approx(90 * LBF)
    assert second.starting_limit == pytest.approx(180 * LBF)
    assert not second.limit_given_as_pressure
    assert first.projected_area == pytest.approx(1.25 * 3 * INCH**2)


def test_defaults_are_taken_and_noted():
    scenario = parse_scenario(LINK, "somewhere/lathe.toml")
    assert scenario.title == "lathe"
    assert scenario.driven.power == scenario.motor.power
    assert scenario.driven.starting_factor == 2
    assert scenario.motor.center_of_mass == scenario.motor.shaft
    assert [bearing.name for bearing in scenario.driven.bearings] == ["bearing 1", "bearing 2"]
    assert scenario.driven.bearings[0].starting_limit == 2 * scenario.driven.bearings[0].limit
    assert scenario.driven.traction == scenario.motor.traction == 0.5123
    assert scenario.plate.weight == 0
    assert scenario.adjuster.acts is Acts.BOTH
    notes = "\n".join(scenario.notes)
    for words in (
        "the motor's rated power of 370 W is taken",
        "twice the running torque is taken",
        "36400 N is taken for section SPZ, an estimate (that of the like-sized section 3V)",
        "It may well be 2 times less or more",
        "0.072 kg/m is taken for section SPZ, from memory",
        "0.5123 is taken, as for a V-belt in a grooved pulley, published (Shigley's",
        "1.5 mm, as the nut of an eye-bolt does; a turnbuckle with opposite threads moves two",
        "MPTA 401",
    ):
        assert words in notes


def test_notes_are_in_the_units_of_the_display():
    inch = parse_scenario(LINK.replace('"metric"', '"inch"'))
    assert "8180 lbf is taken for section SPZ" in "\n".join(inch.notes)
    assert "0.0591 in, as the nut" in "\n".join(inch.notes)


def test_nothing_is_noted_where_everything_is_given():
    text = JACK_IN_BASE.replace('limit = "90 lbf"', 'limit = "90 lbf"\nstarting_limit = "99 lbf"')
    text = text.replace("count = 1", "count = 1\nstiffness_factor = 1.2")
    assert parse_scenario(text).notes == ()


def test_a_motor_too_small_for_the_machine_is_noted():
    scenario = parse_scenario(JACK_IN_BASE.replace('power = "0.4 hp"', 'power = "0.6 hp"'))
    assert any(
        note == "The motor is rated at 0.5 hp, below the 0.6 hp that the machine takes."
        for note in scenario.notes
    )


def test_kinds_of_adjuster():
    assert parse_scenario(JACK_IN_PLATE).adjuster.acts is Acts.PUSH
    none = parse_scenario(WEIGHT_ALONE).adjuster
    assert (none.kind, none.acts, none.advance_per_turn) == (AdjusterKind.NONE, None, None)
    given = parse_scenario(LINK + 'advance_per_turn = "3 mm"\nacts = "pull"\n')
    assert given.adjuster.advance_per_turn == pytest.approx(0.003)
    assert given.adjuster.acts is Acts.PULL
    assert not any("turnbuckle" in note for note in given.notes)
    left = parse_scenario(LINK.replace("M10x1.5", "M10x1.5-LH"))
    assert not left.adjuster.thread.right_handed


def test_a_section_of_ones_own_is_a_label_when_all_is_given():
    belt = parse_scenario(JACK_IN_BASE.replace('section = "A"', 'section = "round leather"')).belt
    assert belt.section == "round leather"
    without = parse_scenario(JACK_IN_BASE.replace('section = "A"\n', "")).belt
    assert without.section is None


def test_zero_power_and_massless_belts_are_allowed():
    text = JACK_IN_BASE.replace('"0.4 hp"', '"0 W"').replace('"0.1 kg/m"', '"0 kg/m"')
    scenario = parse_scenario(text)
    assert (scenario.driven.power, scenario.belt.mass) == (0, 0)


@pytest.mark.parametrize("kind", BASES)
def test_a_file_reads_like_its_text(kind, tmp_path):
    path = tmp_path / f"{kind}.toml"
    for data in (
        BASES[kind].encode(),
        b"\xef\xbb\xbf" + BASES[kind].encode(),
        BASES[kind].replace("\n", "\r\n").encode(),
    ):
        path.write_bytes(data)
        assert read_scenario(path) == parse_scenario(BASES[kind], str(path))


def test_a_mount_a_thousand_times_as_large_is_still_read():
    text = LINK.replace(' mm"', ' m"').replace('"0.4 m"', '"400 m"')
    text = text.replace('thread = "M10x1.5"', 'advance_per_turn = "1.5 m"')
    assert parse_scenario(text).belt.length == 1650
