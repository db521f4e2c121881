"""What stands on a belt: every form, every rule, and what is refused."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mountcalc.handbook.belts.designation import DesignationError, read_designation
from mountcalc.handbook.belts.sections import NumberOf, known_sections
from mountcalc.handbook.rows import load

INCH = 0.0254
ROUNDING = 1e-12  # [m]
NUMBERS = load("belt_lengths")["numbers"]


def every_number(draw):
    name = draw(st.sampled_from(sorted(NUMBERS)))
    low, high = NUMBERS[name][draw(st.sampled_from(sorted(NUMBERS[name])))]
    return name, draw(st.integers(low, high))


BELTS = st.composite(every_number)()


def test_every_section_has_numbers():
    assert sorted(NUMBERS) == sorted(known_sections())


@given(belt=BELTS, gap=st.sampled_from(["", " ", "-"]), small=st.booleans())
def test_every_way_of_writing_is_read(belt, gap, small):
    name, number = belt
    text = f"{name}{gap}{number}"
    read = read_designation(f" {text.lower() if small else text} ")
    assert (read.section, read.number) == (name, number)
    assert read_designation(read.text) is read
    assert read.text.replace(" ", "") == f"{name}{number}"
    assert (" " in read.text) == (read.measures is NumberOf.DATUM)


@given(belt=BELTS)
def test_the_inside_is_shorter_than_the_pitch_line_and_that_than_the_outside(belt):
    name, number = belt
    read = read_designation(f"{name}{number}")
    assert 0 < read.inside_length < read.pitch_length < read.outside_length
    assert read.source
    assert read.sure in {"published", "common practice", "from memory", "estimate"}


@given(belt=BELTS)
def test_the_number_is_the_length_that_it_measures(belt):
    name, number = belt
    read = read_designation(f"{name}{number}")
    if read.measures is NumberOf.INSIDE and number < 240:
        assert read.inside_length == pytest.approx(number * INCH, abs=ROUNDING)
    elif read.measures is NumberOf.DATUM:
        assert read.pitch_length == pytest.approx(number * 1e-3, abs=ROUNDING)
    elif read.measures is not NumberOf.INSIDE:
        assert read.outside_length == pytest.approx(number / 10 * INCH, abs=ROUNDING)


@pytest.mark.parametrize(
    ("text", "normal", "measures", "pitch", "outside"),
    [
        # Inches: datum length by ANSI/RMA IP-20-1988, outside length by common practice.
        ("A54", "A54", NumberOf.INSIDE, 55.3 * INCH, 56 * INCH),
        ("ax-75", "AX75", NumberOf.INSIDE, 76.3 * INCH, 77 * INCH),
        ("B 85", "B85", NumberOf.INSIDE, 86.8 * INCH, 88 * INCH),
        ("C120", "C120", NumberOf.INSIDE, 122.9 * INCH, 124 * INCH),
        ("D180", "D180", NumberOf.INSIDE, 183.3 * INCH, 185 * INCH),
        ("B270", "B270", NumberOf.INSIDE, 270.3 * INCH, 271.5 * INCH),
        ("4l460", "4L460", NumberOf.OUTSIDE, 45.3 * INCH, 46 * INCH),
        ("3V560", "3V560", NumberOf.EFFECTIVE, 55.843 * INCH, 56 * INCH),
        ("SPZ1250", "SPZ 1250", NumberOf.DATUM, 1.25, 1.263),
        ("A 1250", "A 1250", NumberOf.DATUM, 1.25, 1.25 + 0.7 * INCH),
    ],
)
def test_belts_by_hand(text, normal, measures, pitch, outside):
    read = read_designation(text)
    assert (read.text, read.measures) == (normal, measures)
    assert read.pitch_length == pytest.approx(pitch, abs=1e-9)
    assert read.outside_length == pytest.approx(outside, abs=1e-9)


def test_a_light_duty_belt_and_the_classical_one_like_it():
    # Common practice: a 4L460 is 46 in outside and runs where an A44 does.
    light, classical = read_designation("4L460"), read_designation("A44")
    assert light.pitch_length == pytest.approx(classical.pitch_length, abs=1e-9)
    assert light.outside_length == pytest.approx(classical.outside_length, abs=1e-9)


def test_the_effective_line_of_a_narrow_belt_is_its_pitch_line_moved_out():
    # Round a pulley of pitch diameter d an effective diameter of d + 2a makes the length differ by
    # pi 2a; 2a = 0.05, 0.10, 0.20 in (ANSI/RMA IP-22, from memory). Data to 0.001 in.
    for name, two_a in (("3V1000", 0.05), ("5V1000", 0.10), ("8V1000", 0.20)):
        read = read_designation(name)
        less = (read.outside_length - read.pitch_length) / INCH
        assert less == pytest.approx(3.14159265 * two_a, abs=5e-4)


def test_whether_a_series_has_it():
    assert read_designation("A55").in_series
    assert read_designation("A57").in_series  # of the list in use
    assert read_designation("A57").sure == "from memory"
    assert not read_designation("A54").in_series
    assert read_designation("A54").sure == "published"  # the rule is
    assert not read_designation("4L565").in_series  # not a whole inch
    assert not read_designation("SPZ 1237").in_series


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", r'^designation of a belt wanted \(such as "A54".*\), got ""$'),
        ("A", 'got "A"$'),
        ("54", 'got "54"$'),
        ("A54.5", 'got "A54.5"$'),
        ("A 54 in", 'got "A 54 in"$'),
        ("A٥٤", "^designation"),
        ("A5\n4", r'got "A5\?4"$'),
        ("A" * 500, r'got "A{37}\.\.\."$'),
        ("A999999", 'got "A999999"$'),
        ("SPY 1250", 'got "SPY 1250": no section SPY is known; did you mean SPZ'),
        ("F54", r"no section F is known \(known: A, AX, B, .*SPC\)$"),
        ("A300", r'^"A300" is no belt of section A: its number is 20 to 200, its inside length in '
                 r"inches, or 560 to 4000, its datum length in mm$"),
        ("A0", '^"A0" is no belt of section A'),
        ("SPZ 54", "its number is 400 to 3550, its datum length in mm$"),
        ("3V56", "its number is 250 to 1400, its effective length in tenths of an inch$"),
        ("4L56", "its number is 170 to 4000, its outside length in tenths of an inch$"),
    ],
)  # fmt: skip
def test_what_is_no_belt_is_told_in_one_line(text, words):
    with pytest.raises(DesignationError) as caught:
        read_designation(text)
    message = str(caught.value)
    assert re.search(words, message)
    assert "\n" not in message


@given(text=st.text(max_size=20))
def test_any_text_is_read_or_refused(text):
    try:
        read = read_designation(text)
    except DesignationError as error:
        assert "\n" not in str(error)
    else:
        assert read.section in known_sections()
