"""Pulleys for a wanted speed: speeds, lengths and the order of the pairs worked out by hand."""

import itertools
import math

import pytest
from belt_mounts import Geometry, choice
from scipy.constants import inch, minute

from mountcalc.belts.lengths import series

RPM = 2 * math.pi / minute
# Outside diameters that the inch list has, by its own statement: quarters to 6 in, halves to 12,
# whole inches to 24.
INCH_SIZES = [
    *(1.5 + 0.25 * step for step in range(18)),
    *(6 + 0.5 * step for step in range(12)),
    *range(12, 25),
]
# ISO 3, R40 in its rounded values, from 50 to 1000 [mm]; from memory.
R40 = [
    *(50, 53, 56, 60, 63, 67, 71, 75, 80, 85, 90, 95),
    *(100, 106, 112, 118, 125, 132, 140, 150, 160, 170, 180, 190, 200, 212, 224, 236),
    *(250, 265, 280, 300, 315, 335, 355, 375, 400, 425, 450, 475, 500, 530, 560, 600, 630),
    *(670, 710, 750, 800, 850, 900, 950, 1000),
]
RIM_A = 0.25  # [in] an A groove's outside diameter over its datum diameter, ANSI/RMA IP-20-1988
CENTERS = 20.0  # [in] of the mount as drawn


def hand_pairs(sizes, less, least, wanted_rpm):
    """Every pair by the error of its speed; sizes in inches, `less` off them for the pitch."""
    kept = [size for size in sizes if least <= size <= 1.2 * CENTERS]
    pairs = [
        (abs((driven - less) / (motor - less) / (1725 / wanted_rpm) - 1), motor, driven)
        for motor, driven in itertools.product(kept, kept)
    ]
    return sorted(pairs)


@pytest.mark.parametrize("rpm", [250, 500, 575, 1725, 3000])
@pytest.mark.parametrize("display", ["inch", "metric"])
def test_speeds_and_lengths_by_hand(rpm, display):
    is_inch = display == "inch"
    chosen = choice(wanted_speed=rpm * RPM, display=display)
    assert chosen.wanted_speed == rpm * RPM
    assert chosen.pulleys
    less = RIM_A if is_inch else 0.0
    for pair in chosen.pulleys:
        assert pair.named == ("outside" if is_inch else "datum")
        motor, driven = pair.motor_pulley / inch - less, pair.driven_pulley / inch - less
        assert pair.driven / RPM == pytest.approx(1725 * motor / driven)
        assert pair.speed_error == pytest.approx(1725 * motor / driven / rpm - 1)
        sizes = Geometry(small=min(motor, driven), large=max(motor, driven))
        assert pair.pitch_length / inch == pytest.approx(sizes.length(CENTERS), rel=1e-12)
        assert min(motor, driven) > 3 - 1e-6  # section A on smaller pulleys is out
        assert (motor + driven) / 2 < CENTERS


@pytest.mark.parametrize("rpm", [250, 500, 575, 1725])
@pytest.mark.parametrize("display", ["inch", "metric"])
def test_they_are_the_nearest_of_all_pairs(rpm, display):
    is_inch = display == "inch"
    sizes = INCH_SIZES if is_inch else [size / 25.4 for size in R40]
    less = RIM_A if is_inch else 0.0
    by_hand = hand_pairs(sizes, less, 3 + less - 1e-6, rpm)
    found = choice(wanted_speed=rpm * RPM, display=display).pulleys
    errors = [
        abs((p.driven_pulley / inch - less) / (p.motor_pulley / inch - less) * rpm / 1725 - 1)
        for p in found
    ]
    assert errors == pytest.approx(sorted(errors), abs=1e-9)
    apart = [one for one in by_hand if (one[1] + one[2]) / 2 - less < CENTERS]
    assert errors == pytest.approx([one[0] for one in apart[: len(errors)]], abs=1e-9)


def test_the_belt_is_the_nearest_of_the_series():
    for pair in choice(wanted_speed=500 * RPM).pulleys:
        (bought,) = [belt for belt in series("A") if belt.text == pair.designation]
        off = abs(bought.pitch_length - pair.pitch_length)
        assert (
            off <= min(abs(belt.pitch_length - pair.pitch_length) for belt in series("A")) + 1e-12
        )
        assert off < 2 * inch


def test_the_motors_own_least_pulley_is_kept_to():
    """NEMA MG 1: 3 hp at 1160 rpm wants 3.0 in; AX alone would do with 2.2 in."""
    tables = {"belt": {"section": "AX"}, "motor": {"power": "3 hp", "speed": "1160 rpm"}}
    chosen = choice(wanted_speed=500 * RPM, **tables)
    assert all(pair.motor_pulley / inch >= 3.25 - 1e-9 for pair in chosen.pulleys)
    smaller = choice(wanted_speed=500 * RPM, belt={"section": "AX"})
    assert any(pair.motor_pulley / inch < 3.25 for pair in smaller.pulleys)


def test_none_are_looked_up_without_a_wanted_speed():
    chosen = choice()
    assert chosen.pulleys == ()
    assert chosen.wanted_speed is None


def test_a_belt_without_a_series_has_no_name_to_buy():
    belt = {"section": "flat leather", "width": "40 mm", "thickness": "4 mm"}
    chosen = choice(wanted_speed=500 * RPM, belt=belt)
    assert chosen.pulleys
    assert all(pair.designation is None for pair in chosen.pulleys)
