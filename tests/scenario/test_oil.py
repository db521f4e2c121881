"""The oil of the bearings and its temperature."""

import math
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st
from invented_scenarios import LINK, changed
from messages import told

from mountcalc.scenario.reader import parse_scenario
from mountcalc.scenario.text.named import GRADES, WANTED_OIL, Oil, read_oil
from mountcalc.scenario.text.quantities import ValueTextError
from mountcalc.units import UnknownUnitError, kelvin


# NIST SP 811 (2008), B.8: the scales are exact by definition. Boiling and freezing water, the
# crossing of the two scales at -40, and absolute zero.
@pytest.mark.parametrize(
    ("reading", "scale", "expected"),
    [
        (0, "degC", 273.15),
        (32, "degF", 273.15),
        (100, "°C", 373.15),
        (212, "°F", 373.15),
        (-40, "deg C", 233.15),
        (-40, "deg F", 233.15),
        (-459.67, "F", 0),
        (-273.15, "celsius", 0),
        (300, "K", 300),
        (50, "℃", 323.15),
        (122, "℉", 323.15),
        (122, "Fahrenheit", 323.15),
    ],
)
def test_temperature(reading, scale, expected):
    assert kelvin(reading, scale) == pytest.approx(expected, abs=1e-10)


@pytest.mark.parametrize("scale", ["", "deg", "degR", "in", "°", "kelvins"])
def test_no_scale_of_temperature(scale):
    with pytest.raises(UnknownUnitError):
        kelvin(50, scale)


@pytest.mark.parametrize(
    ("text", "grade", "celsius"),
    [
        ("ISO VG 68 at 50 degC", 68, 50),
        ("VG 68, 122 degF", 68, 50),
        ("iso vg 68 AT 50 °c", 68, 50),
        ("  ISO VG68 @ 50°C  ", 68, 50),
        ("ISO 68 at 323.15 K", 68, 50),
        ("ISO-VG-68,50 degC", 68, 50),
        ("VG 2 at 0 degC", 2, 0),
        ("VG 2 at 32 degF", 2, 0),
        ("VG 1500 at 120 degC", 1500, 120),
        ("VG 1500 at 248 degF", 1500, 120),
        ("VG 32 at 48.9 degC", 32, 48.9),
    ],
)
def test_an_oil(text, grade, celsius):
    oil = read_oil(text)
    assert oil.grade == grade
    assert oil.temperature == pytest.approx(celsius + 273.15, abs=1e-9)


@pytest.mark.parametrize("grade", GRADES)
def test_every_grade(grade):
    assert read_oil(f"ISO VG {grade} at 40 degC") == Oil(float(grade), 313.15)


def test_grades_are_a_preferred_number_series():
    # ISO 3448: each grade some 50 % above the one before (six to a decade, rounded).
    assert (GRADES[0], GRADES[-1]) == (2, 1500)
    for smaller, larger in pairwise(GRADES):
        assert 1.35 < larger / smaller < 1.7


@pytest.mark.parametrize(
    ("value", "message"),
    [
        (68, f"{WANTED_OIL}, got 68"),
        (True, f"{WANTED_OIL}, got true"),
        ("", f'{WANTED_OIL}, got ""'),
        ("SAE 30 at 50 degC", f'{WANTED_OIL}, got "SAE 30 at 50 degC"'),
        ("68 at 50 degC", f'{WANTED_OIL}, got "68 at 50 degC"'),
        ("VG 68.5 at 50 degC", f'{WANTED_OIL}, got "VG 68.5 at 50 degC"'),
        ("VG 68 50 degC", f'{WANTED_OIL}, got "VG 68 50 degC"'),
        ("VG 68 at nan degC", f'{WANTED_OIL}, got "VG 68 at nan degC"'),
        ("VG ٦ at 50 degC", f'{WANTED_OIL}, got "VG ٦ at 50 degC"'),
        ("VG 68\n at 50 degC\x1b", f'unit of temperature not known: "degC\\x1b" (known: "degC", '
         f'"degF" and "K") in "VG 68\\n at 50 degC\\x1b"; {WANTED_OIL}'),
        ("x" * 100, f'{WANTED_OIL}, got "{"x" * 39}…"'),
        ("ISO VG 68", f'oil without its temperature: "ISO VG 68"; {WANTED_OIL}'),
        ("VG 68 at 50", f'temperature without a unit: "VG 68 at 50"; {WANTED_OIL}'),
        (
            "VG 68 at 50 deg",
            'unit of temperature not known: "deg" (known: "degC", "degF" and "K") in '
            f'"VG 68 at 50 deg"; {WANTED_OIL}',
        ),
        (
            "VG 68 at 48,9 degC",
            f'temperature not understood: "48,9" in "VG 68 at 48,9 degC"; {WANTED_OIL}',
        ),
        (
            "VG 70 at 50 degC",
            'no viscosity grade of ISO 3448 from 2 to 1500: 70 in "VG 70 at 50 degC" (near: 68; '
            "grades are 2, 3, 5, 7, 10, 15, 22, 32, 46, 68, 100, 150, 220, 320, 460, 680, 1000 "
            "and 1500)",
        ),
        (
            "VG 68 at 121 degC",
            "temperature from 0 degC to 120 degC (32 degF to 248 degF) wanted, "
            'got "121 degC"',
        ),
        (
            "VG 68, 31 °F",
            'temperature from 0 degC to 120 degC (32 degF to 248 degF) wanted, got "31 °F"',
        ),
        (
            "VG 68, -5 °C",
            'temperature from 0 degC to 120 degC (32 degF to 248 degF) wanted, got "-5 °C"',
        ),
    ],
)  # fmt: skip
def test_message(value, message):
    with pytest.raises(ValueTextError) as caught:
        read_oil(value)
    assert str(caught.value) == message


@given(
    st.text(max_size=40)
    | st.from_regex(
        r"(ISO )?VG [0-9]{1,4}( at |, )[-0-9.,e/]{1,12} ?(degC|°F|K|deg)", fullmatch=True
    )
)
def test_any_text_is_an_oil_within_bounds_or_told_on_one_line(text):
    oil, message = Oil(68.0, 300.0), ""
    try:
        oil = read_oil(text)
    except ValueTextError as error:
        message = str(error) or "\n"  # an empty text is not what we want
    assert oil.grade in GRADES
    assert math.isfinite(oil.temperature)
    assert 273 < oil.temperature < 394
    assert message.isprintable()
    assert len(message) < 400


PULLEY = 'pulley_position = "-60 mm"\n'


def test_the_oil_of_a_scenario():
    assert parse_scenario(LINK).driven.oil is None
    oil = 'oil = "VG 68, 122 degF"\n'
    driven = parse_scenario(changed(LINK, (PULLEY, PULLEY + oil))).driven
    assert driven.oil == Oil(68.0, pytest.approx(323.15))


def test_a_wrong_oil_in_a_scenario_is_one_line():
    assert told(changed(LINK, (PULLEY, PULLEY + 'oil = "VG 68"\n'))) == [
        f'driven.oil: oil without its temperature: "VG 68"; {WANTED_OIL}'
    ]
    assert told(changed(LINK, ("[motor]\n", '[motor]\noil = "VG 68, 50 °C"\n'))) == [
        "motor.oil: unknown key 'oil' here; it belongs in [driven]"
    ]
