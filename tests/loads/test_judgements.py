"""What is said of loads along the shafts, and whether what it tells to do does it."""

import math
import re
from pathlib import Path

import pytest
from setting_mounts import rigid, unsaid

from mountcalc.judgement import Verdict
from mountcalc.loads import RIGID, Stiffness, loads_judgements, space_loads
from mountcalc.loads.board import beam_of
from mountcalc.loads.body import bodies
from mountcalc.loads.shaking import shaking
from mountcalc.loads.space import share_out
from mountcalc.requirements.requirements import requirements_of
from mountcalc.scenario.model import Acts
from mountcalc.scenario.reader import read_scenario

SCENARIOS = Path(__file__).parents[2] / "scenarios"
INCH = 0.0254
LBF = 4.4482216152605
BOARD = Stiffness(twisting=700.0)
PAIR = {"bolt": [{"across": -3 * INCH}, {"across": 3 * INCH}]}


def scenario(name="cider-mill", **tables):
    return read_scenario(SCENARIOS / f"{name}.toml").with_(**tables)


def judged(mount, stiffness=BOARD, turns=1.5):
    return loads_judgements(requirements_of(mount).ways, turns, stiffness)


def named(found, name):
    return [one for one in found if one.name == name]


def test_tilt_is_held_against_the_trades_rule():
    (tilt,) = named(judged(scenario()), "pulley-tilt")
    cases = space_loads(requirements_of(scenario()).solved, 1.5, BOARD)
    assert tilt.value == pytest.approx(max(math.degrees(one.tilt) for one in cases))
    # 1/10 inch per foot is the stricter of the two.
    assert tilt.limit == pytest.approx(math.degrees(math.atan(0.1 / 12)))
    assert tilt.verdict is Verdict.PASS


def test_a_plate_that_twists_too_far_is_a_caution_that_tells_what_aligning_under_load_leaves():
    soft = Stiffness(twisting=100.0)
    (tilt,) = named(judged(scenario(), soft), "pulley-tilt")
    assert tilt.verdict is Verdict.CAUTION
    left = float(re.search(r"under load, ([\d.]+) deg is left", tilt.sentence)[1])
    rest, *others = space_loads(requirements_of(scenario()).solved, 1.5, soft)
    most = max(abs(one.tilt_along - rest.tilt_along) for one in others)
    assert left == pytest.approx(math.degrees(most), rel=0.05)
    assert left < tilt.limit


def test_tilt_is_not_told_where_nothing_is_known_to_give():
    (tilt,) = named(judged(scenario(), RIGID), "pulley-tilt")
    assert tilt.verdict is Verdict.NOTE
    assert tilt.value is None


def bend(mount, stiffness):
    (found,) = named(judged(mount, stiffness), "plate-deflection")
    return found


def test_the_plates_bend_is_the_beams_and_held_against_a_share_of_its_span():
    board = Stiffness(bending=90.0, twisting=700.0)
    found, solved = bend(scenario(), board), requirements_of(scenario()).solved
    bends = {}
    for body in bodies(solved, 1.5):
        beam = beam_of(body, share_out(body, board, 0.0762, Acts.PUSH), 0.0381)
        places = beam.stations.values()
        most = max(abs(beam.deflection(place, board.bending)) for place in places)
        bends[most] = body.meets[0]
    most = max(bends)
    assert found.value == pytest.approx(1e3 * most)
    assert found.limit == pytest.approx(1e3 * bends[most] / 300)
    assert found.share == pytest.approx(found.value / found.limit)
    soft = bend(scenario(), Stiffness(bending=9.0, twisting=700.0))
    assert soft.value == pytest.approx(10 * found.value)
    assert soft.verdict is Verdict.CAUTION


def test_a_board_that_creeps_ends_further_than_it_began():
    still, creeps = (
        bend(scenario(), Stiffness(bending=90.0, twisting=700.0, creep=creep))
        for creep in (0.0, 2.25)
    )
    ends = [
        float(re.search(r"in the end by ([\d.]+) in", one.sentence)[1]) for one in (still, creeps)
    ]
    assert ends[1] == pytest.approx(3.25 * ends[0], rel=0.05)
    # Twice as far is usual in the end: 3.25 times the first bend is the greater share.
    assert creeps.share > still.share


def test_a_plate_of_which_nothing_is_known_and_one_without_a_bolt_are_not_told_to_bend():
    assert named(judged(scenario(), RIGID), "plate-deflection") == []
    blower = scenario("forge-blower")
    assert named(judged(blower, BOARD, None), "plate-deflection") == []


def unknown():
    """A mount whose plate is of nobody knows what."""
    return unsaid(scenario()).with_(plate={"material": "granite"})


def test_the_plates_give_as_a_key_has_the_tension_that_it_says():
    """Typed into the scenario and solved, a turn adds that share of the tension."""
    mill = unsaid(scenario(plate={"material": "MDF"}))
    (found,) = named(judged(mill, BOARD), "plate-give")
    key, share = re.search(r"(\S+ lbf/in).* adds (\d+) %", found.sentence).groups()
    assert 20 < float(share) < 95
    gives = mill.with_(adjuster={"stiffness": key})
    turns = {"rigid": mill, "gives": gives}
    added = {}
    for name, one in turns.items():
        solved = requirements_of(one).solved
        low, high = solved.at_rest([1.4, 1.6]).tension
        added[name] = high - low
    assert added["gives"] / added["rigid"] == pytest.approx(float(share) / 100, rel=0.05)
    for told in (gives, rigid(mill), unknown()):
        assert named(judged(told, BOARD), "plate-give") == []
    (used,) = named(judged(mill.with_(adjuster={"stiffness": "parts"}), BOARD), "plate-give")
    assert used.value == found.value


def test_no_give_is_told_of_a_plate_whose_belt_is_slack():
    mill = scenario()
    assert named(judged(mill, BOARD, 0.1), "plate-give") != []
    assert named(judged(mill, BOARD, 0.0), "plate-give") == []


def test_the_start_is_told_of_bolt_and_hinges():
    (start,) = named(judged(scenario()), "start-lift")
    bolt, hinge = map(float, re.findall(r"to ([\d.]+) lbf", start.sentence))
    found = shaking(requirements_of(scenario()).solved, 1.5).start
    assert (bolt, hinge) == pytest.approx((found.bolt / LBF, found.hinge / LBF), rel=0.05)


def test_hinges_further_apart_carry_less():
    mill = scenario(hinge={"number": None, "across": [-1.6 * INCH, 1.6 * INCH]})
    wide = scenario(hinge={"number": None, "across": [-2.5 * INCH, 2.5 * INCH]})
    near, far = (named(judged(one), "hinges-apart") for one in (mill, wide))
    assert "Hinges further apart carry less" in near[0].sentence
    assert far[0].value < near[0].value


def test_hinges_that_share_are_not_worth_a_word():
    """The pulley over the middle of the plate, all else too."""
    over = -5.75 * INCH
    mill = scenario(plate={"width": "24 in"}, motor={"across": over, "center_across": 0.0})
    assert named(judged(mill), "hinges-apart") == []


def test_one_bolt_is_not_told_to_be_brought_up_with_another():
    assert named(judged(scenario()), "two-bolts") == []


def test_two_bolts_of_which_one_comes_loose_are_a_caution_and_its_cure_cures():
    (loose,) = named(judged(scenario(adjuster=PAIR)), "two-bolts")
    assert loose.verdict is Verdict.CAUTION
    assert "nearer to the motor's pulley and further apart" in loose.sentence
    moved = {"bolt": [{"across": -1 * INCH}, {"across": 6 * INCH}]}
    (cured,) = named(
        judged(scenario(adjuster=moved, plate={"width": 13 * INCH}, hinge={"number": 2})),
        "two-bolts",
    )
    assert cured.verdict is Verdict.NOTE


@pytest.mark.parametrize("apart", [2 * INCH, 6 * INCH])
def test_what_a_quarter_turn_between_two_bolts_does_is_told_and_how_to_turn_them(apart):
    bolts = {"bolt": [{"across": -0.5 * apart}, {"across": 0.5 * apart}]}
    (found,) = named(judged(scenario(adjuster=bolts)), "two-bolts")
    racks, tilts = map(float, re.findall(r"by ([\d.]+) deg", found.sentence))
    # The face leans by the plate's angle: the bolt's advance is felt square to it.
    lead = INCH / 16 / 4
    assert math.radians(racks) == pytest.approx(lead / apart, rel=0.03)
    assert tilts < racks
    step = re.search(r"by (\S+) of a turn or less", found.sentence)[1]
    top, _, bottom = step.partition("/")
    turns = float(top) / float(bottom or 1)
    # So far ahead, the pulley is a quarter of the trade's rule out at most.
    assert 4 * turns * tilts <= 0.25 * 0.4775 * 1.05 or turns == 1 / 16


def test_a_bolt_that_rattles_is_a_caution():
    power = {"power": 600.0}
    mill = scenario(adjuster={"stiffness": 3.85e6}, driven=power, motor=power)
    (ripple,) = named(judged(mill), "bolt-ripple")
    assert ripple.verdict is Verdict.CAUTION
    (held,) = named(judged(scenario(), turns=1.5), "bolt-ripple")
    assert held.verdict is Verdict.PASS


def test_nothing_is_said_where_nothing_rests():
    assert judged(scenario(), turns=500.0) == ()


@pytest.mark.parametrize("path", sorted(SCENARIOS.glob("*.toml")), ids=lambda path: path.stem)
@pytest.mark.parametrize("stiffness", [RIGID, BOARD])
def test_every_shipped_mount_is_judged_in_finite_numbers(path, stiffness):
    mount = read_scenario(path)
    turns = None if mount.adjuster.kind == "none" else 1.0
    for one in judged(mount, stiffness, turns):
        assert one.verdict is not Verdict.FAIL
        assert one.value is None or math.isfinite(one.value)
        assert "inf" not in one.sentence.split()
        assert "nan" not in one.sentence
