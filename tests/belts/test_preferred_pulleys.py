"""Pulleys for a wanted speed: speeds, lengths and the order of the pairs worked out by hand."""

import itertools
import math
from pathlib import Path

import pytest
from belt_mounts import Geometry, choice
from scipy.constants import inch, minute

from mountcalc.belts.choice import choose_belt
from mountcalc.handbook.belts.lengths import series
from mountcalc.handbook.belts.sections import NumberOf
from mountcalc.scenario.reader import read_scenario

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
FARTHEST_OFF = 0.05  # of the wanted speed
SCENARIOS = Path(__file__).parents[2] / "scenarios"


def preferred(display):
    """Sizes [in] and what an A groove is over its pitch diameter by such a size [in]."""
    if display == "inch":
        return INCH_SIZES, RIM_A
    return [size / 25.4 for size in R40], 0.0


def hand_pairs(display, wanted_rpm, kept, least=3.0, speed=1725.0):
    """Off by so much of the wanted speed, with the pitch diameters [in] of every pair that may be.

    Both on section A as the mount has it: 3 in on the motor, 9 in on the driven shaft.
    """
    sizes, less = preferred(display)
    new = [size - less for size in sizes]
    pairs = {
        "driven": [(motor, 9.0) for motor in new],
        "motor": [(3.0, driven) for driven in new],
        None: list(itertools.product(new, new)),
    }[kept]
    return sorted(
        (off, motor, driven)
        for motor, driven in pairs
        if abs(off := speed * motor / driven / wanted_rpm - 1) <= FARTHEST_OFF
        and min(motor, driven) >= least * (1 - 1e-3)
        and (motor + driven) / 2 < CENTERS
    )


def pitches(pair, less):
    return pair.motor_pulley / inch - less, pair.driven_pulley / inch - less


@pytest.mark.parametrize("rpm", [250, 500, 575, 1725, 3000])
@pytest.mark.parametrize("display", ["inch", "metric"])
def test_speeds_and_lengths_by_hand(rpm, display):
    chosen = choice(wanted_speed=rpm * RPM, display=display)
    assert chosen.wanted_speed == rpm * RPM
    assert chosen.pulleys
    less = preferred(display)[1]
    for pair in chosen.pulleys:
        named = "outside" if display == "inch" else "datum"
        assert pair.motor_named == pair.driven_named == named
        motor, driven = pitches(pair, less)
        assert pair.driven / RPM == pytest.approx(1725 * motor / driven)
        assert pair.speed_error == pytest.approx(1725 * motor / driven / rpm - 1, abs=1e-12)
        assert abs(pair.speed_error) <= FARTHEST_OFF
        sizes = Geometry(small=min(motor, driven), large=max(motor, driven))
        assert pair.pitch_length / inch == pytest.approx(sizes.length(CENTERS), rel=1e-12)
        assert min(motor, driven) > 3 - 1e-3 * 3  # section A on smaller pulleys is out
        assert (motor + driven) / 2 < CENTERS


@pytest.mark.parametrize("rpm", [250, 500, 575, 1725])
@pytest.mark.parametrize("display", ["inch", "metric"])
def test_they_are_the_nearest_of_all_pairs(rpm, display):
    """First up to two for either pulley that stays, then up to six with both new."""
    less = preferred(display)[1]
    found = list(choice(wanted_speed=rpm * RPM, display=display).pulleys)
    for kept, most in (("driven", 2), ("motor", 2), (None, 6)):
        hand = sorted(
            abs(off)
            for off, motor, driven in hand_pairs(display, rpm, kept)
            if kept is not None or (abs(motor - 3) > 1e-6 and abs(driven - 9) > 1e-6)
        )[:most]
        here, found = found[: len(hand)], found[len(hand) :]
        assert [abs(pair.speed_error) for pair in here] == pytest.approx(hand, abs=1e-9)
        for pair in here:
            motor, driven = pitches(pair, less)
            stays = motor == pytest.approx(3.0), driven == pytest.approx(9.0)
            is_kept = {"motor": (True, False), "driven": (False, True), "both": (True, True)}
            assert is_kept.get(pair.kept, (False, False)) == stays
            assert pair.kept in {kept, "both"}
    assert found == []


def test_the_pulleys_as_they_are_are_told_once():
    """3.25 and 9.5 in outside are preferred sizes: neither has to be bought for 567.6 rpm."""
    geometry = Geometry(small=3.0, large=9.25)
    found = choice(geometry, 1725 * 3.0 / 9.25 * RPM).pulleys
    assert [pair.kept for pair in found].count("both") == 1
    assert found[0].kept == "both"
    assert found[0].speed_error == pytest.approx(0, abs=1e-12)
    pairs = [(round(pair.motor_pulley, 6), round(pair.driven_pulley, 6)) for pair in found]
    assert len(set(pairs)) == len(pairs)


def test_nothing_is_offered_that_is_far_off():
    """No two pulleys between these shafts are as unlike as that."""
    assert choice(wanted_speed=100 * RPM).pulleys == ()
    assert choice(wanted_speed=20000 * RPM).pulleys == ()


@pytest.mark.parametrize(("most", "left"), [("509 rpm", True), ("496 rpm", False)])
def test_the_shaft_keeps_below_its_max_speed(most, left):
    tables = {"driven": {"max_speed": most}, "wanted_speed": 500 * RPM}
    found = choice(**tables).pulleys
    assert found
    assert all(pair.driven <= float(most.split()[0]) * RPM * (1 + 1e-9) for pair in found)
    free = choice(wanted_speed=500 * RPM).pulleys
    above = [pair for pair in free if pair.driven > 496 * RPM]
    assert above
    assert any(pair in found for pair in above) is left


@pytest.mark.parametrize(("speed", "wanted"), [(3450, 3450), (3450, 1150)])
def test_no_rim_runs_faster_than_pulleys_are_made_for(speed, wanted):
    """33 m/s, common practice: at 3450 rpm that is 7.19 in over the rim."""
    found = choice(wanted_speed=wanted * RPM, motor={"speed": f"{speed} rpm"}).pulleys
    assert found
    assert all(pair.motor_pulley / inch <= 7.19 for pair in found)
    by_hand = hand_pairs("inch", wanted, None, speed=speed)
    assert any(motor + RIM_A > 7.19 for _, motor, _ in by_hand)


@pytest.mark.parametrize(("speed", "is_offered"), [(6530, True), (6574, False)])
def test_the_rim_of_a_smaller_driven_pulley_runs_faster_than_the_motors(speed, is_offered):
    """3.75 in on 3.25 in over the rims: 32.9 and 33.2 m/s at the driven one, 32.6 and 32.8 m/s at
    the motor's."""
    rims = [speed * RPM * 1.75 * inch * (size + RIM_A) / size for size in (3.5, 3.0)]
    assert rims[0] < 33.0
    assert (rims[1] < 33.0) is is_offered
    found = choice(wanted_speed=speed * 3.5 / 3 * RPM, motor={"speed": f"{speed} rpm"}).pulleys
    sizes = [(pair.motor_pulley / inch, pair.driven_pulley / inch) for pair in found]
    assert (pytest.approx((3.75, 3.25)) in sizes) is is_offered


@pytest.mark.parametrize("display", ["inch", "metric"])
def test_the_belt_is_the_nearest_of_the_series(display):
    """In an inch shop of those numbered in inches, in a metric one of all that are sold there."""
    kinds = set()
    for pair in choice(wanted_speed=500 * RPM, display=display).pulleys:
        (bought,) = [belt for belt in series("A") if belt.text == pair.designation]
        sold = [
            abs(belt.pitch_length - pair.pitch_length)
            for belt in series("A")
            if display == "metric" or belt.measures is NumberOf.INSIDE
        ]
        off = abs(bought.pitch_length - pair.pitch_length)
        assert off == pytest.approx(min(sold), abs=1e-12)
        assert off < 3 * inch
        kinds.add(bought.measures)
    assert kinds <= ({NumberOf.INSIDE} if display == "inch" else set(NumberOf))
    assert display == "inch" or NumberOf.DATUM in kinds


def test_the_motors_own_least_pulley_is_kept_to():
    """NEMA MG 1: 3 hp at 1160 rpm wants 3.0 in; AX alone would do with 2.2 in."""
    tables = {"belt": {"section": "AX"}, "motor": {"power": "3 hp", "speed": "1160 rpm"}}
    chosen = choice(wanted_speed=500 * RPM, **tables)
    assert all(pair.motor_pulley / inch >= 3.25 - 1e-9 for pair in chosen.pulleys)
    smaller = choice(wanted_speed=500 * RPM, belt={"section": "AX"})
    assert any(pair.motor_pulley / inch < 3.25 for pair in smaller.pulleys)


def test_the_motors_own_least_pulley_is_not_asked_of_the_driven_one():
    """The same motor, a driven shaft that is to run faster: 2.5 in there is for the belt alone."""
    fast = Geometry(small=3.0, large=2.5)
    tables = {"belt": {"section": "AX", "length": "51.3 in"},
              "motor": {"power": "3 hp", "speed": "1160 rpm"}}  # fmt: skip
    found = choice(fast, 1160 * 1.2 * RPM, **tables).pulleys
    assert any(pair.driven_pulley / inch - RIM_A < 3.0 for pair in found)
    assert all(pair.motor_pulley / inch - RIM_A >= 3.0 * (1 - 1e-3) for pair in found)


class TestByWhatEachSideIs:
    def test_a_flat_belts_pulleys_are_named_by_their_rims(self):
        """The forge blower: 95 and 135 mm over the rim, a belt of 5 mm; R40 sizes."""
        found = choose_belt(read_scenario(SCENARIOS / "forge-blower.toml"), 1000 * RPM).pulleys
        assert {(pair.motor_named, pair.driven_named) for pair in found} == {("rim", "rim")}
        first = [
            (pair.kept, round(pair.motor_pulley * 1e3, 6), round(pair.driven_pulley * 1e3, 6))
            for pair in found[:4]
        ]
        assert first == [
            ("both", 95, 135), ("driven", 90, 135), ("motor", 95, 140), ("motor", 95, 132)
        ]  # fmt: skip
        for pair in found:
            by_hand = 1425 * (pair.motor_pulley + 0.005) / (pair.driven_pulley + 0.005)
            assert pair.driven / RPM == pytest.approx(by_hand)
            assert {round(pair.motor_pulley * 1e3), round(pair.driven_pulley * 1e3)} <= {*R40, 135}
        assert all(pair.designation is None for pair in found)

    def test_a_v_belt_on_a_flat_rim_has_one_of_each(self):
        """The cider mill: 3.25 in outside; the belt's inside, 1.3 in shorter, lies on the rim."""
        found = choose_belt(read_scenario(SCENARIOS / "cider-mill.toml"), 500 * RPM).pulleys
        assert {(pair.motor_named, pair.driven_named) for pair in found} == {("outside", "rim")}
        assert [pair.kept for pair in found[:3]] == ["motor", "motor", None]
        assert found[0].motor_pulley / inch == pytest.approx(3.25)
        assert found[0].driven_pulley / inch == pytest.approx(10.0)
        assert found[0].driven / RPM == pytest.approx(1725 * 3 / (10 + 1.3 / math.pi))
        for pair in found:
            motor = pair.motor_pulley / inch - RIM_A
            driven = pair.driven_pulley / inch + 1.3 / math.pi
            assert pair.driven / RPM == pytest.approx(1725 * motor / driven)

    @pytest.mark.parametrize(
        ("section", "display", "named", "over"),
        [
            ("3V", "inch", "outside", 0.05),  # ANSI/RMA IP-22, 2a
            ("3V", "metric", "outside", 0.05),  # no datum diameter there either
            ("A", "inch", "outside", 0.25),
            ("A", "metric", "datum", 0.0),
            ("SPZ", "metric", "datum", 0.0),
        ],
    )
    def test_what_a_groove_is_named_by(self, section, display, named, over):
        tables = {"belt": {"section": section}, "display": display}
        found = choice(Geometry(small=3.5), 500 * RPM, **tables).pulleys
        assert found
        for pair in found:
            assert pair.motor_named == pair.driven_named == named
            motor, driven = pitches(pair, over)
            assert pair.driven / RPM == pytest.approx(1725 * motor / driven)
            if pair.kept == "motor":
                assert motor == pytest.approx(3.5)
            if pair.kept == "driven":
                assert driven == pytest.approx(9.0)

    def test_a_belt_of_which_nothing_is_known_has_pitch_diameters(self):
        own = {"section": None, "stiffness": "12000 lbf", "mass": "0.1 kg/m", "traction": 0.5}
        found = choice(wanted_speed=500 * RPM, belt=own).pulleys
        assert found
        assert {(pair.motor_named, pair.driven_named) for pair in found} == {("pitch", "pitch")}
        for pair in found:
            by_hand = 1725 * pair.motor_pulley / pair.driven_pulley
            assert pair.driven / RPM == pytest.approx(by_hand)
            assert pair.designation is None


def test_none_are_looked_up_without_a_wanted_speed():
    chosen = choice()
    assert chosen.pulleys == ()
    assert chosen.wanted_speed is None


def test_a_belt_without_a_series_has_no_name_to_buy():
    belt = {"section": "flat leather", "width": "40 mm", "thickness": "4 mm"}
    chosen = choice(wanted_speed=500 * RPM, belt=belt)
    assert chosen.pulleys
    assert all(pair.designation is None for pair in chosen.pulleys)
