"""The motor's least pulley: the list by power and speed against the list by frame."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.constants import hp, inch, kilo, minute

from mountcalc.errors import InputError
from mountcalc.handbook.belts.pulleys import least_motor_pulley
from mountcalc.handbook.rows import load

RPM = 2 * math.pi / minute
FRAMES = ("143T", "145T", "182T", "184T")
# Listed speeds of 2, 4, 6 and 8 poles on 60 Hz.
LISTED_SPEED = {3600: 3450, 1800: 1750, 1200: 1160, 900: 870}
# NEMA MG 1-14.42 and 14.43: rated hp, then least inches at 870, 1160, 1750, 3450 rpm.
BY_POWER = [
    (0.5, 2.2, None, None, None),
    (0.75, 2.4, 2.2, None, None),
    (1, 2.4, 2.4, 2.2, None),
    (1.5, 2.4, 2.4, 2.4, 2.2),
    (2, 3.0, 2.4, 2.4, 2.4),
    (3, 3.0, 3.0, 2.4, 2.4),
    (5, 3.8, 3.0, 3.0, 2.4),
]


def least_inches(horsepower, rpm):
    found = least_motor_pulley(horsepower * hp, rpm * RPM)
    return None if found.diameter is None else found.diameter / inch


@pytest.mark.parametrize("row", BY_POWER)
def test_rows_by_power(row):
    for rpm, inches in zip((870, 1160, 1750, 3450), row[1:], strict=True):
        found = least_inches(row[0], rpm)
        assert found == (None if inches is None else pytest.approx(inches))


@pytest.mark.parametrize("frame", FRAMES)
def test_list_by_frame_agrees_with_the_list_by_power(frame):
    """At every rating of the frame; but 5 hp at 3600 rpm in 182T, which has 2.6 in for 2.4 in."""
    rows = [row for row in load("motor_pulleys")["by_frame"]["rows"] if row["frame"] == frame]
    assert rows
    for row in rows:
        rpm = LISTED_SPEED[row["rpm"]]
        for power in row["hp"]:
            off = 0.2 if (frame, rpm) == ("182T", 3450) else 0.0
            assert row["diameter_in"] == pytest.approx(least_inches(power, rpm) + off)


def test_the_larger_pulley_of_a_frame_is_told():
    assert "; in frame 182T of 2.6 in" in least_motor_pulley(5 * hp, 3450 * RPM).sentence
    assert "frame" not in least_motor_pulley(5 * hp, 1750 * RPM).sentence
    assert "frame" not in least_motor_pulley(3 * hp, 3450 * RPM).sentence


@pytest.mark.parametrize(
    ("kilowatts", "rpm", "inches"),
    [
        (1.5, 1425, 2.4),  # 2 hp, on 50 Hz: as at 1160 rpm
        (2.2, 950, 3.0),  # 3 hp, as at 870 rpm
        (0.55, 1140, 2.2),  # between 1/2 and 3/4 hp; 1140 rpm counts as 1160
        (0.75, 1725, 2.2),  # 1 hp
        (3.7, 2850, 3.0),  # 5 hp, as at 1750 rpm
        (4.0, 1425, None),  # above the list
        (0.25, 870, None),  # below it
        (1.5, 700, None),  # slower than the list
    ],
)
def test_metric_ratings_and_speeds_on_50_hz(kilowatts, rpm, inches):
    found = least_motor_pulley(kilowatts * kilo, rpm * RPM)
    assert found.diameter == (None if inches is None else pytest.approx(inches * inch))


def test_what_is_not_listed_says_so():
    found = least_motor_pulley(0.5 * hp, 1725 * RPM)
    assert found.diameter is None
    assert found.sentence == "no least pulley is listed for a motor of 0.5 hp at 1725 rpm"
    assert found.source.startswith("NEMA MG 1")


def test_sentence_of_a_listed_motor():
    found = least_motor_pulley(1.0 * hp, 1725 * RPM)
    assert found.sentence == (
        "a motor of 1 hp at 1750 rpm is made for a pulley of 2.2 in (56 mm) or larger"
    )


@given(power=st.floats(0.5, 5.0), share=st.floats(0.5, 1.0), rpm=st.floats(850, 3600))
def test_more_power_or_less_speed_never_allows_a_smaller_pulley(power, share, rpm):
    here = least_inches(power, rpm)
    for other in (least_inches(share * power, rpm), least_inches(power, rpm / share)):
        assert None in {here, other} or other <= here


@pytest.mark.parametrize(("power", "speed"), [(0, 1), (1, 0), (math.nan, 1), (1, math.inf)])
def test_no_motor_is_refused(power, speed):
    with pytest.raises(InputError, match="above zero"):
        least_motor_pulley(power, speed)
