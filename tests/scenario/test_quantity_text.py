"""Numbers as a shop writes them, and what a wrong one is told."""

import math
from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mountcalc.scenario.text.quantities import (
    ANGLE_KIND,
    DISTANCE,
    LIMIT,
    LOAD,
    MASS_PER_LENGTH,
    POSITION,
    POWER,
    ROTATION_SPEED,
    ValueTextError,
    read_quantity,
)

INCH = 0.0254
LENGTH_WANTED = 'length wanted (such as "14 1/2 in" or "370 mm")'


@pytest.mark.parametrize(
    ("text", "inches"),
    [
        ("14.5 in", 14.5),
        ("14 1/2 in", 14.5),
        ("14-1/2 in", 14.5),
        ("14  1/2in", 14.5),
        ("14½ in", 14.5),
        ("14 ½ in", 14.5),
        ("14⅞ in", 14.875),
        ("1/2 in", 0.5),
        ("1⁄2 in", 0.5),
        ("½ in", 0.5),
        ("-14 1/2 in", -14.5),
        ("−14 1/2 in", -14.5),
        ("+3 in", 3),
        (".5 in", 0.5),
        ("5. in", 5),
        ("1e-3 in", 1e-3),
        ("2.5E2 in", 250),
        ('14 1/2"', 14.5),
        ("5'", 60),
        ("5' 3 1/2\"", 63.5),
        ("15''", 15),
        ("1' 3''", 15),
        ("1' 3\"", 15),
        ("5 ft 3 1/2 in", 63.5),
        ("-5 ft 3 1/2 in", -63.5),
        ("5 ft3in", 63),
        ("2 yd 1 ft 1 in", 85),
        ("370 mm", 370 / 25.4),
        ("1 m 5 mm", 1005 / 25.4),
    ],
)
def test_length(text, inches):
    assert read_quantity(text, POSITION) == pytest.approx(inches * INCH, rel=1e-14)


@given(st.integers(0, 200), st.integers(0, 63), st.sampled_from([2, 4, 8, 16, 32, 64]))
def test_every_mixed_number_is_whole_plus_fraction(whole, top, bottom):
    top %= bottom
    exact = Fraction(whole) + Fraction(top, bottom)
    for text in (f"{whole} {top}/{bottom} in", f"{whole}-{top}/{bottom} in"):
        assert read_quantity(text, POSITION) == pytest.approx(float(exact) * INCH, rel=1e-14)


@pytest.mark.parametrize(
    ("text", "kind", "value"),
    [
        ("28 lb", LOAD, 28 * 4.4482216152605),
        ("28 lbf", LOAD, 28 * 4.4482216152605),
        ("2 lb 4 oz", LOAD, 2.25 * 4.4482216152605),
        ("10 kg", LOAD, 98.0665),
        ("0 N", LOAD, 0),
        ("1725 rpm", ROTATION_SPEED, 1725 * math.pi / 30),
        ("28.75 rev/s", ROTATION_SPEED, 1725 * math.pi / 30),
        ("100 rad/s", ROTATION_SPEED, 100),
        ("3/4 hp", POWER, 0.75 * 745.6998715822702),
        ("0 W", POWER, 0),
        ("0.12 kg/m", MASS_PER_LENGTH, 0.12),
        ("0.07 lb/ft", MASS_PER_LENGTH, 0.07 * 0.45359237 / 0.3048),
        ("0.07 lbf/ft", MASS_PER_LENGTH, 0.07 * 0.45359237 / 0.3048),
        ("-15 deg", ANGLE_KIND, -math.pi / 12),
        ("15° 30 arcmin", ANGLE_KIND, math.radians(15.5)),
        ("25 psi", LIMIT, 25 * 6894.757293168361),
        ("40 kg", LIMIT, 392.266),
    ],
)
def test_other_kinds(text, kind, value):
    assert read_quantity(text, kind) == pytest.approx(value, rel=1e-14)


@pytest.mark.parametrize(
    ("value", "kind", "message"),
    [
        ("12 lbf", DISTANCE, f'{LENGTH_WANTED}, got a force: "12 lbf"'),
        ("14 1/2", DISTANCE, f'number without a unit: "14 1/2"; {LENGTH_WANTED}'),
        (9, DISTANCE, f"number without a unit: 9; {LENGTH_WANTED}"),
        (math.nan, DISTANCE, f"{LENGTH_WANTED}, got nan, which is no finite number"),
        (-math.inf, DISTANCE, f"{LENGTH_WANTED}, got -inf, which is no finite number"),
        ("nan in", DISTANCE, f'{LENGTH_WANTED}, got "nan in", which is no finite number'),
        ("inf m", DISTANCE, f'{LENGTH_WANTED}, got "inf m", which is no finite number'),
        (True, DISTANCE, f"{LENGTH_WANTED}, got true"),
        ([], DISTANCE, f"{LENGTH_WANTED}, got an empty list"),
        ({"a": 1}, DISTANCE, f"{LENGTH_WANTED}, got a table"),
        (10**400, DISTANCE, f"number without a unit: a huge number; {LENGTH_WANTED}"),
        ("", DISTANCE, f'{LENGTH_WANTED}, got ""'),
        ("about 3 in", DISTANCE, f'{LENGTH_WANTED}, got "about 3 in"'),
        ("-3 in", DISTANCE, 'length above zero wanted, got "-3 in"'),
        ("0 in", DISTANCE, 'length above zero wanted, got "0 in"'),
        ("1e-9 in", DISTANCE, 'length too small: "1e-9 in"'),
        ("1e9 in", DISTANCE, 'length too large: "1e9 in"'),
        ("1e999 in", DISTANCE, 'number too large: "1e999 in"'),
        ("-1e9 in", POSITION, 'length above -10 km wanted, got "-1e9 in"'),
        ("1/0 in", DISTANCE, 'fraction with a zero below the line: "1/0 in"'),
        ("14 5/2 in", DISTANCE, 'the fraction of a mixed number is less than one: "14 5/2 in"'),
        (
            "14 inhc",
            DISTANCE,
            f'unit not known: "inhc" (near: "inch" or "in") in "14 inhc"; {LENGTH_WANTED}',
        ),
        (
            "1,725 rpm",
            ROTATION_SPEED,
            'comma in a number: "1,725 rpm"; write 1725 without it, or 1.725 with a point',
        ),
        (
            "30 Hz",
            ROTATION_SPEED,
            'speed of rotation wanted (such as "1725 rpm"), got a frequency: "30 Hz"',
        ),
        (
            "50 %",
            ANGLE_KIND,
            'angle wanted (such as "-15 deg" or "0.2 rad"), got a plain ratio: "50 %"',
        ),
        ("-3 lb", LOAD, 'weight or force zero or more wanted, got "-3 lb"'),
        (
            "5 ft 3 lb",
            DISTANCE,
            f'parts of different kinds in one value: "5 ft 3 lb"; {LENGTH_WANTED}',
        ),
        (
            "3 in 5 ft",
            DISTANCE,
            f'parts not from the larger unit to the smaller: "3 in 5 ft"; {LENGTH_WANTED}',
        ),
        ("5 ft -3 in", DISTANCE, f'number and unit not understood: "5 ft -3 in"; {LENGTH_WANTED}'),
        (
            "9" * 200 + " in",
            DISTANCE,
            f'text too long for a quantity: "{"9" * 39}…"; {LENGTH_WANTED}',
        ),
        (
            "__import__('os') in",
            DISTANCE,
            f"{LENGTH_WANTED}, got \"__import__('os') in\"",
        ),
        (
            "3 in\n\x1b[0m",
            DISTANCE,
            f'number and unit not understood: "3 in\\n\\x1b[0m"; {LENGTH_WANTED}',
        ),
    ],
)
def test_message(value, kind, message):
    with pytest.raises(ValueTextError) as caught:
        read_quantity(value, kind)
    assert str(caught.value) == message


@given(st.text(max_size=60) | st.from_regex(r"[-0-9 ./eE,½'\"a-z^*²]{1,30}", fullmatch=True))
def test_any_text_is_a_length_within_bounds_or_told_on_one_line(text):
    value, message = 0.0, ""
    try:
        value = read_quantity(text, POSITION)
    except ValueTextError as error:
        message = str(error) or "\n"  # an empty text is not what we want
    assert abs(value) <= POSITION.high
    assert message.isprintable()
    assert len(message) < 300
