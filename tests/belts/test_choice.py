"""Every length that is offered, against plain geometry and numbers that are written down here."""

import json
import math
import re
from pathlib import Path

import numpy as np
import pytest
from belt_mounts import Geometry, choice, mount, option, travelling
from scipy.constants import hp, inch, minute

from mountcalc.belts.choice import choose_belt
from mountcalc.belts.results import BeltOption
from mountcalc.errors import MountError
from mountcalc.handbook.belts.lengths import series
from mountcalc.judgement import Verdict
from mountcalc.pages.as_json import as_json
from mountcalc.scenario.reader import read_scenario

SCENARIOS = sorted((Path(__file__).parents[2] / "scenarios").glob("*.toml"))
PLAIN = Geometry()
GEOMETRIES = {
    "plain": PLAIN,
    "equal pulleys": Geometry(small=5.0, large=5.0),
    "steep arm": Geometry(hinge=(-25.0, -12.0), motor=(-19.0, 2.0), travel=(-20.0, 25.0)),
    # The hinge is in line with both shafts at 135 deg from as drawn, inside this travel.
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
        """Nor has it a series: its own length is all there is, as long as the table's A60."""
        tight = travelling(PLAIN, 2.0, 12.0)
        (closed,) = choice(tight, belt={"joint": joint}).belts
        endless = option(choice(tight), "A60")
        assert closed.install.needed == 0
        assert "closed round the pulleys where it lies" in closed.install.source
        assert closed.ok
        assert closed.is_yours
        assert (closed.designation, closed.in_series) == ("61.3 in", False)
        assert not endless.install_ok
        assert closed.install.there == pytest.approx(endless.install.there)
        assert closed.take_up.there == pytest.approx(endless.take_up.there)
        assert closed.take_up.needed == 0
        assert "shortened when it has stretched" in closed.take_up.source
        assert closed.shortest is closed.longest is None


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
        """Where the belt itself has both rooms; the end of one that has not is no news."""
        tight = travelling(PLAIN, -12.0, 9.4)  # a 3L belt may be long by more than its take-up
        for geometry, section in ((PLAIN, "A"), (tight, "A"), (tight, "B"), (PLAIN, "SPZ")):
            for one in choice(geometry, belt={"section": section}).belts:
                for end in (one.shortest, one.longest):
                    if end is None:
                        continue
                    snug = geometry.snug(end.pitch_length / inch)
                    assert (end.snug_plate_angle is None) == (snug is None)
                    assert (end.room is None) == (end.center_distance is None) == (snug is None)
                    if snug is None:
                        assert not end.ok
        one = option(choice(), "A66")
        assert PLAIN.snug(67.3) is not None
        assert PLAIN.snug(68.0) is None
        assert one.longest.snug_plate_angle is None
        assert one.shortest.snug_plate_angle is not None
        assert not one.take_up_ok
        assert tolerance(one) == []

    @pytest.mark.parametrize("ends", [(-12.0, 12.0), (-4.0, 9.0), (0.5, 8.0)])
    def test_rooms_of_both_ends_by_brute_force(self, ends):
        """Each end of the tolerance laid into the plain geometry, where its path rises."""
        geometry, told, silent = travelling(PLAIN, *ends), 0, 0
        for one in choice(geometry).belts:
            wants = (
                (one.shortest, one.install, geometry.travel[0], "as short as its tolerance"),
                (one.longest, one.take_up, geometry.travel[1], "as long as its tolerance"),
            )
            for end, room, stop, words in wants:
                if end is None:
                    assert not any(words in said for said in tolerance(one))
                    continue
                snug = geometry.snug(end.pitch_length / inch)
                there = None
                if snug is not None:
                    there = abs(geometry.center(stop) - geometry.center(snug)) * inch
                    assert end.room == pytest.approx(there, rel=1e-9, abs=1e-12)
                enough = there is not None and there >= room.needed
                assert end.ok is enough
                is_told = any(words in said for said in tolerance(one))
                assert is_told is (room.ok and not enough)
                told, silent = told + is_told, silent + (not is_told)
        assert told
        assert silent

    def test_a_missed_room_is_told_by_its_size_rounded_down(self):
        """A62 as long as 64.0 in leaves 1.788 in to take it up, and 2.0 in are wanted."""
        one = option(choice(), "A62")
        left = PLAIN.center(12.0) - PLAIN.center(PLAIN.snug(64.0))
        assert 1.78 < left < 1.79
        assert tolerance(one) == [
            "as long as its tolerance allows, the plate moves the shafts apart by only 1.78 in"
        ]
        assert one.ok

    def test_a_length_without_a_name_has_none(self):
        (yours,) = [one for one in choice(belt={"length": "61.12 in"}).belts if one.is_yours]
        assert yours.designation == "61.12 in"
        assert yours.shortest is yours.longest is None
        assert yours.number_measures is None


def half_step(one: BeltOption):
    """An odd term of R40, between two of R20, of which no other series has any here."""
    if re.fullmatch(r"[A-Z]+ \d+", one.designation) is None:
        return False
    is_half = one.designation.split()[1] in {"1320", "1500", "1700"}
    assert is_half is any("half step" in remark for remark in one.remarks)
    return is_half


def cautions(one: BeltOption):
    return [each for each in one.judgements if each.verdict is Verdict.CAUTION]


def tolerance(one: BeltOption):
    """What is said of the belt as short and as long as it may be: cautions, never a no."""
    said = [each for each in one.judgements if each.name == "belt-tolerance"]
    assert all(each.verdict is Verdict.CAUTION for each in said)
    return [each.sentence for each in said]


def room_left(one: BeltOption):
    return min(room.there / room.needed for room in (one.install, one.take_up) if room.needed)


@pytest.mark.parametrize("display", ["inch", "metric"])
@pytest.mark.parametrize("section", ["A", "4L", "SPZ", "B"])
@pytest.mark.parametrize("power", ["0.4 hp", "0.82 hp"])
def test_the_order_is_faults_cautions_units_half_steps_room(display, section, power):
    tables = {"driven": {"power": power}, "motor": {"power": "1 hp"}, "belt": {"section": section}}
    belts = choice(display=display, **tables).belts
    assert [one.ok for one in belts] == sorted((one.ok for one in belts), reverse=True)
    assert [one.ok for one in belts] == [not one.why_not for one in belts]
    metric_last = display == "inch" and section in {"A", "B"}
    keys = [
        (
            len(one.why_not),
            len(cautions(one)),
            metric_last and re.fullmatch(r"[A-Z]+ \d+", one.designation) is not None,
            half_step(one),
            -room_left(one),
        )
        for one in belts
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

    @pytest.mark.parametrize(
        ("belt", "key"),
        [
            (
                {
                    "section": "flat leather",
                    "width": "2 in",
                    "thickness": "0.2 in",
                    "length": "90 in",
                },
                "belt.length",
            ),
            ({"joint": "linked", "length": "90 in"}, "belt.length"),
            (
                {"section": None, "length": None, "designation": "A90", "joint": "linked"},
                "belt.designation",
            ),
        ],
    )
    def test_without_a_series_a_belt_that_never_fits_is_refused(self, belt, key):
        with pytest.raises(MountError) as raised:
            choice(belt=belt)
        assert raised.value.key == key
        assert "does not become snug in the travel" in str(raised.value)
        ends = [f"{PLAIN.length(PLAIN.center(end)):.2f} in" for end in PLAIN.travel]
        assert " to ".join(ends) in str(raised.value)

    @pytest.mark.parametrize("length", ["61.3 in", "40 in"])
    def test_a_mount_that_no_belt_can_tighten_is_refused(self, length):
        """The hinge on the motor's shaft: swinging moves nothing, whatever the belt."""
        with pytest.raises(MountError) as raised:
            choice(Geometry(hinge=PLAIN.motor), belt={"length": length})
        assert raised.value.key == "plate.hinge"
        assert "the hinge is on the motor shaft" in str(raised.value)


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


class TestNotes:
    def test_where_the_travel_ends_before_its_stop_is_said(self):
        (note,) = choice(GEOMETRIES["dead centre in the travel"]).notes
        assert note.startswith("The travel is used only up to 135.00 deg of plate angle")
        assert "dead centre" in note
        assert choice().notes == ()

    @pytest.mark.parametrize(("most", "is_told"), [("574 rpm", True), ("575 rpm", False)])
    def test_a_driven_shaft_above_its_max_speed_is_said(self, most, is_told):
        """3 in on 9 in at 1725 rpm: 575 rpm."""
        notes = choice(driven={"max_speed": most}).notes
        words = f"The driven shaft turns at 575 rpm, above its max_speed of {most}."
        assert notes == ((words,) if is_told else ())


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
