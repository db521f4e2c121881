"""Names for lengths: those of the published series first, then by what the number measures."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mountcalc.handbook.belts.designation import read_designation
from mountcalc.handbook.belts.lengths import named_length, series
from mountcalc.handbook.belts.sections import NumberOf, known_sections

INCH = 0.0254
NAMED_WITHIN = 0.3e-3  # [m] what still has the name


@pytest.mark.parametrize("section", known_sections())
def test_each_published_length_has_its_name(section):
    """Or that of another published belt of the very same length."""
    belts = series(section)
    assert belts
    for belt in belts:
        named = named_length(section, belt.pitch_length)
        same = {one.text for one in belts if one.pitch_length == belt.pitch_length}
        assert named.text in same
        assert named.in_series


@pytest.mark.parametrize(
    ("section", "metres", "name"),
    [
        ("A", 61.3 * INCH, "A60"),
        ("A", 60.3 * INCH, "A59"),  # in no series, but a number of the section
        ("A", 1.600, "A 1600"),  # millimetres, of a series
        ("B", 63.8 * INCH, "B62"),
        ("4L", 55.3 * INCH, "4L560"),
        ("SPZ", 1.250, "SPZ 1250"),
        ("SPZ", 1.553, "SPZ 1553"),  # numbered in millimetres only: any number is a name
        ("Z", 1.001, "Z 1001"),
        ("a", 61.3 * INCH, "A60"),
    ],
)
def test_names_by_hand(section, metres, name):
    for off in (-0.9 * NAMED_WITHIN, 0.0, 0.9 * NAMED_WITHIN):
        assert named_length(section, metres + off).text == name


def test_of_two_published_lengths_as_near_the_nearer_gives_its_name():
    """Inch and millimetre series have lengths that differ by less than what still has a name."""
    seen = 0
    for section in known_sections():
        for one, other in zip(series(section), series(section)[1:], strict=False):
            apart = other.pitch_length - one.pitch_length
            if not 0 < apart < NAMED_WITHIN:
                continue
            seen += 1
            for share, nearer in ((0.3, one), (0.7, other)):
                named = named_length(section, one.pitch_length + share * apart)
                assert named.pitch_length == nearer.pitch_length
    assert seen


@pytest.mark.parametrize(
    ("section", "metres"),
    [
        ("A", 61.12 * INCH),  # between A59 and A60
        ("A", 1.553),  # whole millimetres, but of no series
        ("B", 1.557),
        ("4L", 1.400),  # numbered in tenths of an inch only
        ("3V", 1.400),
        ("SPZ", 1.2505),
        ("A", 0.010),
        ("A", 50.0),
        ("SPZ", 50.0),
        ("flat leather", 1.6),
        ("Q", 1.6),
        ("", 1.6),
    ],
)
def test_odd_lengths_have_none(section, metres):
    assert named_length(section, metres) is None


@given(section=st.sampled_from(known_sections()), metres=st.floats(0.2, 20.0))
def test_a_name_stands_for_its_length(section, metres):
    named = named_length(section, metres)
    published = [abs(belt.pitch_length - metres) for belt in series(section)]
    if named is None:
        assert min(published) > NAMED_WITHIN
        return
    assert abs(named.pitch_length - metres) <= NAMED_WITHIN
    assert read_designation(named.text) == named
    if min(published) <= NAMED_WITHIN:
        assert abs(named.pitch_length - metres) == min(published)
    elif named.measures is NumberOf.DATUM:
        assert all(belt.measures is NumberOf.DATUM for belt in series(section))
