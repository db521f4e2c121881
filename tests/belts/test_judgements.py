"""What keeps a belt out: ratings worked out by hand, each reason by its cause, unrated belts."""

import math
import re
from dataclasses import replace

import pytest
from belt_mounts import Geometry, choice, mount, option, travelling
from scipy.constants import hp, inch, minute
from scipy.optimize import brentq

from mountcalc.belts.choice import choose_belt
from mountcalc.judgement import Verdict

PLAIN = Geometry()
RPM = 2 * math.pi / minute


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
        none = mount()
        idle = choose_belt(replace(none, driven=replace(none.driven, power=0.0)))
        assert idle.drive.design_power == 0
        assert {one.belts_needed for one in idle.belts} == {1}
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
        "the shafts closer by only",
        {"plate": {"travel": ["1.5 deg", "12 deg"]}},
        {"plate": {"travel": ["-1.7 deg", "12 deg"]}},
    ),
    "no room to take up": (
        "the shafts apart by only",
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
    "a rim too fast": (
        "a rim runs at 6709 ft/min, ordinary pulleys are for up to 6496 ft/min",
        {"motor": {"pulley_diameter": "6 in", "speed": "4100 rpm"}, "belt": {"length": "63.3 in"}},
        {"motor": {"pulley_diameter": "6 in", "speed": "3900 rpm"}, "belt": {"length": "63.3 in"}},
    ),
    "nothing left": (
        "the published rating comes to nothing on a small pulley of 38 mm (1.50 in) at 10.0 m/s",
        {"motor": {"pulley_diameter": "1.5 in", "speed": "5000 rpm"}},
        {"motor": {"pulley_diameter": "3 in", "speed": "5000 rpm"}},
    ),
}


# Ratings, service factors and the speed of rims: they make cautions.
FROM_MEMORY = {"too much power", "one belt too few", "a rim too fast", "nothing left"}


@pytest.mark.parametrize("name", REASONS)
def test_a_reason_comes_with_its_cause_and_goes_with_it(name):
    reason, made, lifted = REASONS[name]
    bad, good = (
        next(one for one in choice(**tables).belts if one.is_yours) for tables in (made, lifted)
    )
    (why,) = saying(bad, reason)
    is_caution = name in FROM_MEMORY
    assert why.verdict is (Verdict.CAUTION if is_caution else Verdict.FAIL)
    assert ("from memory" in why.source) is is_caution
    assert bad.why_not.count(why.sentence) == (not is_caution)
    assert bad.ok is (bad.why_not == ())
    assert good.why_not == ()
    assert good.ok
    assert saying(good, reason) == []


def saying(one, reason):
    """Judgements of the belt as long as its name says."""
    every = [each for each in one.judgements if each.name != "belt-tolerance"]
    return [each for each in every if reason in each.sentence]


@pytest.mark.parametrize("section", ["A", "AX", "B", "4L", "5L", "3V", "SPZ"])
@pytest.mark.parametrize("face", ["grooved", "flat"])
def test_the_diameter_that_is_named_passes_as_pitch_and_over_the_rim(section, face):
    """What a "no" for a small pulley says is typed back, both ways in which a shop measures."""
    small = {"pulley_diameter": "1 in", "power": "3 hp", "speed": "1160 rpm", "pulley_face": face}
    whole = {"belt": {"section": section}, "driven": {"power": "0.1 hp"}}
    named = [
        one
        for one in choice(**whole, motor=small).drive.judgements
        if one.subject == "motor pulley" and one.verdict is not Verdict.PASS
    ]
    assert {one.name for one in named} == {"belt-pulley", "motor-pulley"}
    key = "pulley_rim_diameter" if face == "flat" else "pulley_outside_diameter"
    for judged in named:
        told = re.search(r"the ([\d.]+) in that .*; ([\d.]+) in over the rim", judged.sentence)
        least, rim = (f"{number} in" for number in told.groups())
        for sizes in ({"pulley_diameter": least}, {"pulley_diameter": None, key: rim}):
            drive = choice(**whole, motor={**small, **sizes}).drive
            again = [one for one in drive.judgements if one.name == judged.name]
            assert {one.verdict for one in again} == {Verdict.PASS}


@pytest.mark.parametrize(("section", "inches"), [("3L", 1.5), ("4L", 2.5), ("5L", 3.5)])
def test_light_duty_pulleys_are_named_by_their_outside(section, inches):
    """Smallest usual pulleys, outside (from memory): a smaller one is a caution, no more."""
    for size, verdict in ((inches, Verdict.PASS), (inches - 0.05, Verdict.CAUTION)):
        motor = {"pulley_diameter": None, "pulley_outside_diameter": f"{size} in"}
        chosen = choice(belt={"section": section}, motor=motor)
        (judged,) = [one for one in chosen.drive.judgements if one.name == "belt-pulley"]
        assert judged.verdict is verdict
        assert f"; {inches:g} in over the rim" in judged.sentence


def test_where_the_rating_is_nothing_it_is_so_for_every_length_and_no_count_is_told():
    chosen = choice(motor={"pulley_diameter": "1.5 in", "speed": "5000 rpm"})
    (fault,) = [one for one in chosen.drive.judgements if "comes to nothing" in one.sentence]
    assert fault.verdict is Verdict.CAUTION
    assert len(chosen.belts) > 5
    for one in chosen.belts:
        assert one.table_rating == one.rating == 0
        assert one.belts_needed is None
        assert one.judgements.count(fault) == 1
        assert not any("needed for the power" in each.sentence for each in one.judgements)


@pytest.mark.parametrize(
    ("inches", "is_small"), [(3.0, False), (2.998, False), (2.9965, True), (2.9, True)]
)
def test_least_pulleys_are_compared_to_within_a_thousandth(inches, is_small):
    """3.0 in for section A: 2.997 in is as good, for it is what rounding makes of it."""
    why_not = choice(motor={"pulley_diameter": f"{inches} in"}).drive.why_not
    assert any("smaller than the 3 in that section A wants" in why for why in why_not) is is_small


@pytest.mark.parametrize(("inches", "is_small"), [(2.998, False), (2.9965, True)])
def test_the_motors_least_pulley_is_too(inches, is_small):
    """NEMA MG 1: 3 hp at 1160 rpm wants 3.0 in."""
    motor = {"pulley_diameter": f"{inches} in", "power": "3 hp", "speed": "1160 rpm"}
    why_not = choice(motor=motor, belt={"section": "AX"}).drive.why_not
    assert any("that the motor's bearings want" in why for why in why_not) is is_small


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
            assert one.arc_factor is one.length_factor is None
            assert "its power is not judged" in one.remarks
            assert not any("needed for the power" in each.sentence for each in one.judgements)

    @pytest.mark.parametrize("joint", ["laced", "linked"])
    def test_a_joined_belt_has_none_though_its_section_has(self, joint):
        """What is published is for endless belts."""
        chosen = choice(belt={"joint": joint}, driven={"power": "50 hp"})
        assert choice().drive.table_rating is not None
        assert chosen.drive.table_rating is None
        assert joint in chosen.drive.rating_why_not
        assert "published ratings are for endless belts" in chosen.drive.rating_why_not
        (yours,) = chosen.belts
        assert yours.table_rating is yours.rating is yours.belts_needed is None
        assert yours.arc_factor is yours.length_factor is None
        assert yours.remarks == ("its power is not judged",)
        made, stretches = chosen.notes
        assert made.startswith("Such a belt is made to length")
        # Common practice: a joined belt is watched until it stays, then shortened.
        assert f"A new {joint} belt stretches: look at it each day of use" in stretches
        assert ("take a link or more out" in stretches) is (joint == "linked")

    @pytest.mark.parametrize(
        ("inches", "factor"),
        [(61.12, 0.95), (60.7, 0.95), (61.4, 1.00), (56.9, 0.95), (66.9, 1.00)],
    )
    def test_a_length_without_a_name_has_the_factor_of_its_inside(self, inches, factor):
        """Section A, 1.3 in off for the inside: bands to 55 and from 60 (Shigley, Table 17-14,
        from memory), between them the shorter one's."""
        belts = choice(belt={"length": f"{inches} in"}).belts
        (yours,) = [one for one in belts if one.is_yours]
        assert yours.number_measures is None
        assert yours.length_factor == factor
        expected = yours.table_rating * yours.arc_factor * factor
        assert yours.rating == pytest.approx(expected)
        assert "its power is not judged" not in yours.remarks
        assert yours.remarks == ()

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
