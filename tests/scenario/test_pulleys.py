"""Pulleys by pitch, datum or outside diameter, by a flat rim, or by a tape; belts by their name.

What a groove or a rim adds is that of the groove table (ANSI/RMA IP-20-1988 in Machinery's
Handbook 31, Table 9: outside diameter = datum diameter + 0.250 in for section A) and of the
designation rule (datum length of an A belt 1.3 in over its inside length).
"""

import math

import pytest
from invented_scenarios import JACK_IN_BASE, changed
from messages import told

from mountcalc.handbook.belts.sections import Joint, Shock, Torque
from mountcalc.scenario.pulleys import PulleyFace
from mountcalc.scenario.reader import parse_scenario

INCH = 0.0254
FLAT_BELT = (
    ('section = "A"', 'section = "flat leather"\nwidth = "40 mm"\nthickness = "5 mm"'),
    ('stiffness = "12000 lbf"\n', ""),
    ('mass = "0.1 kg/m"\n', ""),
    ("traction = 0.51\n", ""),
    ("traction = 0.3\n", ""),
)


def pitch(motor_key, *changes):
    text = changed(JACK_IN_BASE, ('pulley_diameter = "3 in"', motor_key), *changes)
    motor = parse_scenario(text).motor
    return 2 * motor.pulley_radius / INCH, motor.pulley_face


@pytest.mark.parametrize(
    ("key", "inches", "face"),
    [
        ('pulley_diameter = "3 in"', 3.0, PulleyFace.GROOVED),
        ('pulley_diameter = "3 in"\npulley_face = "flat"', 3.0, PulleyFace.FLAT),
        ('pulley_datum_diameter = "3 in"', 3.0, PulleyFace.GROOVED),
        ('pulley_outside_diameter = "3.25 in"', 3.0, PulleyFace.GROOVED),
        ('pulley_outside_circumference = "10.2101761 in"', 3.0, PulleyFace.GROOVED),
        ('pulley_rim_diameter = "3 in"', 3 + 1.3 / math.pi, PulleyFace.FLAT),
        ('pulley_rim_circumference = "9.42477796 in"', 3 + 1.3 / math.pi, PulleyFace.FLAT),
    ],
)
def test_a_pulley_of_section_a_however_it_was_measured(key, inches, face):
    found, on = pitch(key)
    assert found == pytest.approx(inches, rel=1e-7)
    assert on is face


@pytest.mark.parametrize("key", ["pulley_rim_diameter", "pulley_rim_circumference"])
def test_a_flat_belt_runs_a_thickness_over_its_rim(key):
    size = 80.0 if key.endswith("diameter") else 80.0 * math.pi
    rim = ('pulley_diameter = "9 in"', 'pulley_rim_diameter = "200 mm"')
    found, face = pitch(f'{key} = "{size:.9f} mm"', rim, *FLAT_BELT)
    assert found == pytest.approx(85.0 / 25.4)
    assert face is PulleyFace.FLAT


def test_a_v_belt_on_a_flat_rim_has_less_traction_there():
    text = changed(
        JACK_IN_BASE,
        ('pulley_diameter = "9 in"', 'pulley_rim_diameter = "8.586 in"'),
        ("traction = 0.3\n", ""),
        ("traction = 0.51\n", ""),
    )
    scenario = parse_scenario(text)
    assert scenario.driven.traction == pytest.approx(0.29, abs=0.005)
    assert scenario.motor.traction == pytest.approx(0.5123)
    assert sum("as for a V-belt" in note for note in scenario.notes) == 2


def test_a_flat_belt_takes_its_values_from_material_and_size():
    scenario = parse_scenario(changed(JACK_IN_BASE, *FLAT_BELT))
    assert scenario.belt.section == "flat leather"
    assert scenario.belt.stiffness == pytest.approx(100e6 * 0.04 * 0.005)  # Khurmi: 100 N/mm2
    assert 0.15 < scenario.belt.mass < 0.25
    assert scenario.motor.pulley_face is PulleyFace.FLAT


@pytest.mark.parametrize("joint", ["laced", "linked"])
def test_a_joined_belt_is_softer(joint):
    plain, joined = (
        parse_scenario(changed(JACK_IN_BASE, ('stiffness = "12000 lbf"\n', line)))
        for line in ("", f'joint = "{joint}"\n')
    )
    assert joined.belt.joint is Joint(joint)
    assert joined.belt.stiffness < plain.belt.stiffness


@pytest.mark.parametrize(
    ("name", "section", "length"),
    [
        ("A59", "A", 60.3 * INCH),
        ("a 60", "A", 61.3 * INCH),
        ("4L560", "4L", 55.3 * INCH),
        ("SPZ 1250", "SPZ", 1.25),
    ],
)
def test_a_belt_by_its_designation(name, section, length):
    text = changed(
        JACK_IN_BASE, ('section = "A"\n', f'designation = "{name}"\n'), ('length = "60.3 in"\n', "")
    )
    belt = parse_scenario(text).belt
    assert belt.section == section
    assert belt.designation is not None
    assert belt.length == pytest.approx(length, abs=1e-6)


def test_what_the_machine_asks_of_the_belt():
    torque = ("[motor]\n", '[motor]\ntorque = "high"\n')
    by_shock, by_factor, by_both = (
        changed(JACK_IN_BASE, torque, ("max_speed", f"{lines}max_speed"))
        for lines in (
            'shock = "medium"\n',
            "service_factor = 1.4\n",
            'shock = "medium"\nservice_factor = 1.4\n',
        )
    )
    scenario = parse_scenario(by_shock)
    assert scenario.motor.torque is Torque.HIGH
    assert (scenario.driven.shock, scenario.driven.service_factor) == (Shock.MEDIUM, None)
    scenario = parse_scenario(by_factor)
    assert (scenario.driven.shock, scenario.driven.service_factor) == (None, 1.4)
    (line,) = told(by_both)
    assert "driven.service_factor: leave one out: shock is there to look" in line


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ('pulley_diameter = "3 in"', "", "motor.pulley_diameter: missing: length wanted"),
        (
            'pulley_diameter = "3 in"',
            'pulley_diameter = "3 in"\npulley_outside_diameter = "3.25 in"',
            "motor.pulley_outside_diameter: the pulley has a size already",
        ),
        (
            'pulley_diameter = "3 in"',
            'pulley_outside_diameter = "3 in"\npulley_face = "flat"',
            'motor.pulley_face: "flat" does not go with pulley_outside_diameter',
        ),
        (
            'pulley_diameter = "3 in"',
            'pulley_outside_diameter = "0.2 in"',
            "motor.pulley_outside_diameter: so small a pulley has no pitch diameter",
        ),
        (
            'section = "A"',
            'designation = "A59"',
            "belt.length: the designation gives the length: leave one of the two out",
        ),
        ('length = "60.3 in"', "", "belt.length: missing: length wanted"),
        (
            'section = "A"\ncount = 1\nlength = "60.3 in"',
            'section = "B"\ndesignation = "A59"',
            'belt.section: the designation "A59" is of section "A", got "B"',
        ),
        (
            'section = "A"\ncount = 1\nlength = "60.3 in"',
            'designation = "Q59"',
            "belt.designation: ",
        ),
        (
            'section = "A"\ncount = 1\nlength = "60.3 in"',
            "designation = 59",
            "belt.designation: designation of a belt wanted",
        ),
    ],
)
def test_mistakes(old, new, message):
    lines = told(changed(JACK_IN_BASE, (old, new)))
    assert any(message in line for line in lines), lines


def test_an_unknown_section_says_nothing_of_a_rim():
    text = changed(
        JACK_IN_BASE,
        ('section = "A"', 'section = "rope"'),
        ('pulley_diameter = "3 in"', 'pulley_rim_diameter = "3 in"'),
    )
    (line,) = told(text)
    assert "motor.pulley_rim_diameter: where the pitch line" in line
    assert "belt.thickness" in line


def test_a_flat_belt_wants_its_size_and_flat_rims():
    bare = changed(JACK_IN_BASE, *FLAT_BELT[1:], ('section = "A"', 'section = "flat leather"'))
    lines = told(bare)
    assert ["belt.width: missing" in line for line in lines].count(True) == 1
    assert ["belt.thickness: missing" in line for line in lines].count(True) == 1
    grooved = changed(
        JACK_IN_BASE, *FLAT_BELT, ('pulley_diameter = "3 in"', 'pulley_outside_diameter = "3 in"')
    )
    (line,) = told(grooved)
    assert "flat leather runs on flat rims, not in grooves" in line
