"""Every length that is offered, against plain geometry and numbers that are written down here."""

import json
import math
from pathlib import Path

import numpy as np
import pytest
from belt_mounts import Geometry, choice, mount, option, travelling
from scipy.constants import hp, inch, minute
from scipy.optimize import brentq

from mountcalc.belts.lengths import series
from mountcalc.errors import MountError
from mountcalc.results.belts import BeltOption
from mountcalc.scenario.reader import read_scenario
from mountcalc.show.data import as_json
from mountcalc.tasks.belt_choice import choose_belt

SCENARIOS = sorted((Path(__file__).parents[2] / "scenarios").glob("*.toml"))
PLAIN = Geometry()
GEOMETRIES = {
    "plain": PLAIN,
    "equal pulleys": Geometry(small=5.0, large=5.0),
    "steep arm": Geometry(hinge=(-25.0, -12.0), motor=(-19.0, 2.0), travel=(-20.0, 25.0)),
    # The hinge is in line with both shafts at 45 deg from as drawn, inside this travel.
    "dead centre in the travel": Geometry(hinge=(-4.0, -4.0), motor=(-4.0, 15.0), travel=(0, 170)),
}
# Two ways to the same angle, length or distance.
SAME = 1e-9
RPM = 2 * math.pi / minute


def degrees(angle):
    return math.degrees(angle)


@pytest.fixture(params=GEOMETRIES)
def geometry(request):
    return GEOMETRIES[request.param]


class TestWhereItLies:
    def test_snug_is_where_the_exact_path_is_the_belt(self, geometry):
        belts = choice(geometry).belts
        assert len(belts) > 5
        for one in belts:
            center = geometry.center(degrees(one.snug_plate_angle))
            assert one.center_distance == pytest.approx(center * inch, rel=SAME)
            assert geometry.length(center) * inch == pytest.approx(one.pitch_length, rel=SAME)
            small, large = geometry.wraps(center)
            assert degrees(one.wrap_motor) == pytest.approx(small)
            assert degrees(one.wrap_driven) == pytest.approx(large)

    def test_no_published_length_that_fits_is_left_out(self):
        chosen = choice()
        offered = {one.designation for one in chosen.belts}
        expected = {
            belt.text for belt in series("A") if PLAIN.snug(belt.pitch_length / inch) is not None
        }
        assert offered == expected
        assert {"A51", "A53", "A55", "A57", "A60", "A62", "A64", "A66"} < offered

    def test_paths_are_those_at_the_ends_of_the_travel(self):
        chosen = choice()
        ends = [PLAIN.length(PLAIN.center(end)) * inch for end in PLAIN.travel]
        assert (chosen.shortest_path, chosen.longest_path) == pytest.approx(ends, rel=SAME)

    def test_both_rooms_are_those_of_a_search_over_the_travel(self, geometry):
        angles = np.linspace(*geometry.travel, 20001)
        centers = np.array([geometry.center(angle) for angle in angles])
        apart = centers > (geometry.small + geometry.large) / 2
        for one in choice(geometry).belts:
            snug = one.center_distance / inch
            assert one.install.there / inch == pytest.approx(snug - centers[apart].min(), abs=2e-3)
            assert one.take_up.there / inch == pytest.approx(centers.max() - snug, abs=2e-3)

    def test_the_plate_angles_use_just_the_wanted_rooms(self, geometry):
        seen = 0
        for one in choice(geometry).belts:
            for room, sign in ((one.install, -1), (one.take_up, 1)):
                assert room.ok == (room.there >= room.needed)
                assert (room.plate_angle is not None) == room.ok
                if room.ok:
                    seen += 1
                    moved = geometry.center(degrees(room.plate_angle)) * inch
                    expected = one.center_distance + sign * room.needed
                    assert moved == pytest.approx(expected, rel=SAME)
        assert seen > 5


class TestAllowances:
    """ANSI/RMA and MPTA table of installation and take-up allowances, common practice; and
    0.015 and 0.03 of the length for metric belts (DIN practice)."""

    @pytest.mark.parametrize(
        ("section", "designation", "install", "take_up"),
        [
            ("A", "A51", 0.8, 1.5),
            ("A", "A55", 0.8, 1.5),
            ("A", "A62", 0.8, 2.0),
            ("B", "B60", 1.3, 2.0),
            ("4L", "4L620", 0.8, 2.0),  # 62 in outside is some 58 in inside: the row of 60 to 85
            ("5L", "5L600", 1.3, 2.0),
            ("3V", "3V560", 0.8, 1.2),
            ("A", "A 1600", 0.015 * 1600 / 25.4, 0.03 * 1600 / 25.4),
            ("SPZ", "SPZ 1400", 0.015 * 1400 / 25.4, 0.03 * 1400 / 25.4),
        ],
    )
    def test_each_length_is_held_to_its_own(self, section, designation, install, take_up):
        one = option(choice(belt={"section": section}), designation)
        assert one.install.needed / inch == pytest.approx(install)
        assert one.take_up.needed / inch == pytest.approx(take_up)

    @pytest.mark.parametrize("joint", ["laced", "linked"])
    def test_a_belt_that_is_closed_where_it_lies_needs_no_room_to_fit(self, joint):
        tight = travelling(PLAIN, 2.0, 12.0)
        closed, endless = (choice(tight, belt={"joint": text}) for text in (joint, "endless"))
        assert option(closed, "A60").install.needed == 0
        assert option(closed, "A60").ok
        assert not option(endless, "A60").install_ok
        assert option(closed, "A60").take_up == option(endless, "A60").take_up


class TestTolerance:
    def test_short_and_long_ends(self):
        """An A60 may be 0.7 in longer or shorter (ANSI/RMA IP-20-1988)."""
        one = option(choice(), "A60")
        for end, length in ((one.shortest, 60.6), (one.longest, 62.0)):
            assert end.pitch_length / inch == pytest.approx(length)
            snug = PLAIN.snug(length)
            assert degrees(end.snug_plate_angle) == pytest.approx(snug, abs=1e-6)
            assert end.center_distance / inch == pytest.approx(PLAIN.center(snug))

    def test_an_end_beyond_the_travel_is_said(self):
        one = option(choice(), "A66")
        assert PLAIN.snug(67.3) is not None
        assert PLAIN.snug(68.0) is None
        assert one.longest.snug_plate_angle is None
        assert any("as long as its tolerance allows" in remark for remark in one.remarks)
        assert one.shortest.snug_plate_angle is not None

    def test_a_length_without_a_name_has_none(self):
        (yours,) = [one for one in choice(belt={"length": "61.12 in"}).belts if one.is_yours]
        assert yours.designation == "61.12 in"
        assert yours.shortest is yours.longest is None
        assert yours.number_measures is None


def rated_hp(inches, feet_per_minute):
    """One A belt, Shigley's Table 17-12 by the form that all its cells follow from."""
    speed = feet_per_minute / 1000
    return 1.945 * speed**0.91 - 3.801 * speed / inches - 0.0136 * speed**3


class TestPower:
    @pytest.mark.parametrize("small", [3.0, 4.0, 4.8])
    def test_rating_arc_and_length_multiply(self, small):
        geometry = Geometry(small=small)
        chosen = choice(geometry, driven={"power": "2 hp"})
        feet = math.pi * small * 1725 / 12
        assert chosen.drive.belt_speed == pytest.approx(feet * 12 * inch / minute)
        assert chosen.drive.driven / RPM == pytest.approx(1725 * small / 9)
        assert chosen.drive.design_power / hp == pytest.approx(2 * 1.3)  # light shock, upper end
        for name, length in (("A55", 0.95), ("A60", 1.00), ("A62", 1.00)):
            one = option(chosen, name)
            wrap = geometry.wraps(one.center_distance / inch)[0]
            arc = 1.25 * (1 - 5 ** (-wrap / 180))
            assert one.arc_factor == pytest.approx(arc, rel=1e-9)
            assert one.length_factor == length
            assert one.table_rating / hp == pytest.approx(rated_hp(small, feet), rel=1e-6)
            assert one.rating / hp == pytest.approx(rated_hp(small, feet) * arc * length, rel=1e-6)
            assert one.belts_needed == math.ceil(2.6 * hp / one.rating)

    def test_the_smaller_pulley_is_rated_though_it_is_the_driven_one(self):
        up = Geometry(small=9.0, large=3.0)
        chosen = choice(up, motor={"speed": "575 rpm"})
        one = option(chosen, "A60")
        assert chosen.drive.small_diameter / inch == pytest.approx(3.0)
        assert one.table_rating / hp == pytest.approx(rated_hp(3, math.pi * 3 * 1725 / 12), 1e-6)
        assert one.arc_factor == pytest.approx(option(choice(), "A60").arc_factor)
        assert one.wrap_driven == pytest.approx(option(choice(), "A60").wrap_motor)

    def test_a_flat_driven_pulley_takes_the_lower_column(self):
        """Machinery's Handbook 31, Table 12: at (D - d)/C of 0.2 it is 0.78, at 0.3 0.79."""
        flat = choice(driven={"pulley_face": "flat"})
        for one in flat.belts:
            ratio = 6.0 * inch / one.center_distance
            assert 0.2 < ratio < 0.4
            expected = 0.78 + 0.1 * (ratio - 0.2)
            assert one.arc_factor == pytest.approx(expected, rel=1e-9)

    def test_the_scenarios_own_service_factor_is_taken(self):
        drive = choice(driven={"service_factor": 1.15}).drive
        assert drive.service_factor == drive.service_factor_low == drive.service_factor_high == 1.15
        assert drive.design_power / hp == pytest.approx(0.4 * 1.15)
        heavy = choice(driven={"shock": "heavy"}, motor={"torque": "high"}).drive
        assert (heavy.service_factor_low, heavy.service_factor_high) == (1.5, 1.8)
        assert heavy.design_power / hp == pytest.approx(0.4 * 1.8)


REASONS = {
    "small motor pulley": (
        "the motor pulley of 2.5 in is smaller than the 3 in that section A wants",
        {"motor": {"pulley_diameter": "2.5 in"}},
        {"motor": {"pulley_diameter": "3 in"}},
    ),
    "small driven pulley": (
        "the driven pulley of 2.9 in is smaller than the 3 in that section A wants",
        {"driven": {"pulley_diameter": "2.9 in"}, "belt": {"length": "51.3 in"}},
        {"driven": {"pulley_diameter": "3 in"}, "belt": {"length": "51.3 in"}},
    ),
    "no room to fit": (
        "closes the centres by only",
        {"plate": {"travel": ["1.5 deg", "12 deg"]}},
        {"plate": {"travel": ["-1.7 deg", "12 deg"]}},
    ),
    "no room to take up": (
        "opens the centres by only",
        {"plate": {"travel": ["-12 deg", "8.5 deg"]}},
        {"plate": {"travel": ["-12 deg", "8.8 deg"]}},
    ),
    "too much power": (
        "5 belts are needed for the power, 4 are there",
        {"driven": {"power": "2.7 hp"}, "motor": {"power": "3 hp"}, "belt": {"count": 4}},
        {"driven": {"power": "2.7 hp"}, "motor": {"power": "3 hp"}, "belt": {"count": 5}},
    ),
    "one belt too few": (
        "2 belts are needed for the power, 1 is there",
        {"driven": {"power": "0.8 hp"}, "motor": {"power": "1 hp"}},
        {"driven": {"power": "0.8 hp"}, "motor": {"power": "1 hp"}, "belt": {"count": 2}},
    ),
    "the motor's bearings": (
        "the motor pulley of 2.9 in is smaller than the 3 in that the motor's bearings want",
        {
            "belt": {"section": "AX"},
            "motor": {"pulley_diameter": "2.9 in", "power": "3 hp", "speed": "1160 rpm"},
        },
        {
            "belt": {"section": "AX"},
            "motor": {"pulley_diameter": "3 in", "power": "3 hp", "speed": "1160 rpm"},
        },
    ),
    "nothing left": (
        "a belt of this section carries nothing at that speed on so small a pulley",
        {"motor": {"pulley_diameter": "1.5 in", "speed": "5000 rpm"}},
        {"motor": {"pulley_diameter": "3 in", "speed": "5000 rpm"}},
    ),
}


@pytest.mark.parametrize("name", REASONS)
def test_a_reason_comes_with_its_cause_and_goes_with_it(name):
    reason, made, lifted = REASONS[name]
    bad, good = (
        next(one for one in choice(**tables).belts if one.is_yours) for tables in (made, lifted)
    )
    assert [reason in why for why in bad.why_not].count(True) == 1
    assert not bad.ok
    assert good.why_not == ()
    assert good.ok


@pytest.mark.parametrize("side", ["install", "take_up"])
def test_a_travel_that_leaves_just_the_room_is_enough_and_a_hair_less_is_not(side):
    """The end of the travel is laid where the allowance of an A60 ends: 0.8 in, 2.0 in."""
    snug = PLAIN.center(PLAIN.snug(61.3))
    wanted = snug - 0.8 if side == "install" else snug + 2.0
    end = brentq(lambda at: PLAIN.center(at) - wanted, *PLAIN.travel, xtol=1e-13)
    outwards = -1 if side == "install" else 1
    for more, is_enough in ((1e-4, True), (-1e-4, False)):
        moved = end + outwards * more
        ends = (moved, 12.0) if side == "install" else (-12.0, moved)
        one = option(choice(travelling(PLAIN, *ends)), "A60")
        assert getattr(one, f"{side}_ok") is is_enough
        assert one.ok is is_enough


def room_left(one: BeltOption):
    return min(room.there / room.needed for room in (one.install, one.take_up) if room.needed)


@pytest.mark.parametrize("display", ["inch", "metric"])
@pytest.mark.parametrize("section", ["A", "4L", "SPZ", "B"])
@pytest.mark.parametrize("power", ["0.4 hp", "0.82 hp"])
def test_the_order_is_faults_then_units_then_room(display, section, power):
    tables = {"driven": {"power": power}, "motor": {"power": "1 hp"}, "belt": {"section": section}}
    belts = choice(display=display, **tables).belts
    assert [one.ok for one in belts] == sorted((one.ok for one in belts), reverse=True)
    assert [one.ok for one in belts] == [not one.why_not for one in belts]
    metric_last = display == "inch" and section in {"A", "B"}
    keys = [
        (len(one.why_not), metric_last and " " in one.designation, -room_left(one)) for one in belts
    ]
    assert keys == sorted(keys)
    assert len(belts) > 2


class TestYours:
    @pytest.mark.parametrize("length", ["61.3 in", "60.3 in", "61.12 in", "1550 mm", "1234.5 mm"])
    def test_your_belt_is_judged_where_it_becomes_snug(self, length):
        number, unit = length.split()
        inches = float(number) / (25.4 if unit == "mm" else 1.0)
        yours = [one for one in choice(belt={"length": length}).belts if one.is_yours]
        assert len(yours) == (PLAIN.snug(inches) is not None)
        for one in yours:
            assert one.pitch_length == pytest.approx(inches * inch, abs=0.3e-3)

    def test_a_name_without_a_series_is_told_to_be_asked_for(self):
        yours = option(choice(belt={"section": None, "length": None, "designation": "A59"}), "A59")
        assert yours.is_yours
        assert not yours.in_series
        assert "not in a published series: ask whether it is made" in yours.remarks
        assert option(choice(), "A60").remarks == ()

    @pytest.mark.parametrize("length", ["40 in", "90 in"])
    def test_yours_too_long_or_short_leaves_the_others(self, length):
        chosen = choice(belt={"length": length})
        assert chosen.belts
        assert not any(one.is_yours for one in chosen.belts)

    def test_without_a_series_a_belt_that_never_fits_is_refused(self):
        with pytest.raises(MountError) as raised:
            choice(belt={"section": "flat leather", "width": "2 in", "thickness": "0.2 in",
                         "length": "90 in"})  # fmt: skip
        assert "belt.length" in str(raised.value)
        assert "does not become snug in the travel" in str(raised.value)


class TestBetweenTheBearings:
    @pytest.mark.parametrize(("position", "is_told"), [("-3 in", False), ("5 in", True),
                                                       ("16 in", False)])  # fmt: skip
    def test_it_is_told_that_the_shaft_must_come_out(self, position, is_told):
        notes = choice(driven={"pulley_position": position}).notes
        assert any("the shaft must come out" in note for note in notes) is is_told
        assert any('joint = "linked"' in note for note in notes) is is_told

    @pytest.mark.parametrize("joint", ["linked", "laced"])
    def test_a_belt_that_is_closed_there_lifts_it(self, joint):
        chosen = choice(driven={"pulley_position": "5 in"}, belt={"joint": joint})
        assert not any("come out" in note for note in chosen.notes)

    def test_a_flat_belt_is_laced(self):
        belt = {"section": "flat leather", "width": "2 in", "thickness": "0.2 in"}
        notes = choice(driven={"pulley_position": "5 in"}, belt=belt).notes
        assert any('joint = "laced"' in note for note in notes)


class TestOtherBelts:
    @pytest.mark.parametrize("section", ["3L", "4L", "5L", "3V", "SPZ", "SPA"])
    def test_no_rating_is_made_up(self, section):
        chosen = choice(belt={"section": section})
        assert "no power rating" in chosen.drive.rating_why_not
        assert len(chosen.belts) > 2
        for one in chosen.belts:
            assert one.rating is one.table_rating is one.belts_needed is None
            assert not any("needed for the power" in why for why in one.why_not)

    @pytest.mark.parametrize("section", ["A", "AX", "B", "BX"])
    def test_these_have_one(self, section):
        chosen = choice(Geometry(small=6.0), belt={"section": section})
        assert chosen.drive.rating_why_not is None
        assert all(one.rating > 0 for one in chosen.belts)

    def test_a_flat_belt_is_cut_to_length(self):
        belt = {"section": "flat leather", "width": "40 mm", "thickness": "4 mm"}
        chosen = choice(belt=belt)
        (yours,) = chosen.belts
        assert yours.is_yours
        assert not yours.in_series
        assert yours.rating is None
        (note,) = chosen.notes
        shortest, longest = (float(word) for word in note.split() if word[0].isdigit())
        for length, is_good in ((shortest + 0.2, True), (longest - 0.2, True),
                                (shortest - 0.2, False), (longest + 0.2, False)):  # fmt: skip
            (cut,) = choice(belt={**belt, "length": f"{length} in"}).belts
            assert (cut.install_ok and cut.take_up_ok) is is_good


def test_inches_and_millimetres_give_the_same():
    """The same mount written in mm; what is read is the same to rounding."""
    metric = Geometry(
        small=PLAIN.small * 25.4,
        large=PLAIN.large * 25.4,
        hinge=tuple(25.4 * at for at in PLAIN.hinge),
        motor=tuple(25.4 * at for at in PLAIN.motor),
    )
    one = choice(wanted_speed=500 * RPM)
    other = choice(
        metric,
        500 * RPM,
        unit="mm",
        belt={"length": "1557.02 mm"},
        driven={"power": f"{0.4 * hp} W"},
    )
    assert_near(json.loads(as_json(one)), json.loads(as_json(other)))


def assert_near(one, other):
    if isinstance(one, dict):
        assert one.keys() == other.keys()
        for key in one:
            assert_near(one[key], other[key])
    elif isinstance(one, list):
        assert len(one) == len(other)
        for a, b in zip(one, other, strict=True):
            assert_near(a, b)
    elif isinstance(one, float):
        assert other == pytest.approx(one, rel=1e-9, abs=1e-9)
    else:
        assert one == other


@pytest.mark.parametrize("path", SCENARIOS, ids=lambda path: path.stem)
def test_a_shipped_scenario_has_the_belt_that_comes_first(path):
    first = choose_belt(read_scenario(path)).belts[0]
    comments = [line for line in path.read_text().splitlines() if "#" in line]
    assert first.is_yours or any("not the first" in line for line in comments)
    assert first.ok


def test_the_mounts_of_these_tests_read_without_a_section():
    """A belt of which only mechanics are given is judged by its length alone."""
    own = {"section": None, "stiffness": "12000 lbf", "mass": "0.1 kg/m", "traction": 0.5}
    scenario = mount(belt=own)
    (yours,) = choose_belt(scenario).belts
    assert scenario.belt.section is None
    assert yours.install.needed == pytest.approx(0.015 * yours.pitch_length)
    assert yours.take_up.needed == pytest.approx(0.03 * yours.pitch_length)
    assert yours.ok
