"""A cure cures: what each says to change is changed, solved and judged again."""

import math
from dataclasses import replace

import pytest
from made_mounts import by_name, loads_of, made, setup

from mountcalc import check, read_scenario
from mountcalc.check import evaluate
from mountcalc.check.evaluation import setup_of
from mountcalc.judgement import Verdict
from mountcalc.loads import Part
from mountcalc.requirements.requirements import requirements_of
from mountcalc.requirements.setting import gentlest_setting
from mountcalc.strength.changes import NAMES, remedies
from mountcalc.strength.cures import strength_cures

BAD = {Verdict.FAIL, Verdict.CAUTION}
PIECE = {"part": "base", "length": "24 in", "direction": "left", "material": "beech"}
# What is wrong with a mount, and how its cure begins.
WEAK = {
    "plate-bending": (
        {"plate": {"material": "MDF", "thickness": "6 mm", "joined": "screwed"},
         "hinge": {"mortise_depth": "0.5 mm"}},
        "Make the plate 1/2 in thick",  # gluing would do for this, but it would still bend too far
    ),
    "plate-deflection": (
        {"plate": {"material": "MDF", "thickness": "5 mm", "joined": "screwed"},
         "hinge": {"mortise_depth": "0.5 mm"}},
        "Make the plate",
    ),
    "plate-creep": ({"plate": {"material": "MDF"}}, "Make the plate of plywood instead"),
    "plate-twist": ({"plate": {"thickness": "9 mm"}}, "Make the plate"),
    "screws-in-plate": ({"hinge": {"screw": "#8 x 3/4 in"}}, "Use screws #"),
    "screws-in-base": ({"hinge": {"into_base": "end"}}, "Set the leaf so that its screws go into"),
    "hinge-pin": ({"hinge": {"pin_diameter": "1.5 mm"}}, "Use hinges with a pin"),
    "hinge-leaf": ({"hinge": {"leaf_thickness": "1 mm"}}, "Use hinges with leaves"),
    "bolt-stress": ({"adjuster": {"thread": "#4-40", "stands_out": "8 in"}}, "Move what holds"),
    "bolt-buckling": ({"adjuster": {"thread": "#4-40", "stands_out": "14 in"}}, "Move what holds"),
    "bolt-thread": ({"adjuster": {"holder": "tapped-wood", "engagement": "2 mm"}}, "Let the bolt"),
    "tip-pressure": ({"adjuster": {"pad": None, "thread": "#8-32"}}, "Put a steel pad"),
    "bolt-turning": ({"adjuster": {"wrench": "1 mm"}}, "Oil the thread"),
    "foot-washers": ({"feet": {"washer": "10 mm"}}, "Put washers"),
    "foot-bolts": ({"feet": {"bolt": "#0-80", "strength": "grade 1"}}, "Use bolts for the feet"),
    "pulley-tilt": ({"plate": {"thickness": "18 mm"}}, "Make the plate"),
}  # fmt: skip


@pytest.mark.parametrize("name", WEAK)
def test_a_cure_cures(name):
    tables, begins = WEAK[name]
    scenario = made(**tables)
    at = setup(scenario)
    judged = by_name(at)
    assert judged[name].verdict in BAD
    sentence = strength_cures(at, tuple(judged.values()))[name]
    assert sentence.startswith(begins)
    told = {one.sentence: one.scenario for bad in judged.values() for one in remedies(at, bad)}
    changed = told[sentence]
    after = by_name(replace(at, scenario=changed, ways=requirements_of(changed).ways))
    assert name not in after or after[name].verdict not in BAD
    worse = {one.name for one in after.values() if one.verdict in BAD} - {
        one.name for one in judged.values() if one.verdict in BAD
    }
    assert worse == set()


def test_all_that_would_do_against_the_seasons_is_told():
    """2 ft of flat-sawn beech; quarter-sawn moves half as far, still more than the range.

    A spring has a wider range in millimetres of the bolt, but would let the plate swing with what
    shakes it here.
    """
    at = setup(made(wood={"piece": [PIECE]}))
    judged = by_name(at)
    assert judged["season"].share > 5
    ways = strength_cures(at, tuple(judged.values()))["season"].split(" Or: ")
    begins = "Make what lies between hinge and bolt of plywood", "Carry hinge and bolt on one piece"
    assert len(ways) == len(begins)
    assert all(way.startswith(begin) for way, begin in zip(ways, begins, strict=True))
    sprung = [one for one in remedies(at, judged["season"]) if one.sentence.startswith("Put a spr")]
    wider = [gentlest_setting(one.scenario).sensitivity.extension_range for one in sprung]
    assert wider == sorted(wider)
    assert at.range_width < wider[0]
    assert judged["season"].value / 1e3 < wider[-1]
    assert by_name(setup(sprung[-1].scenario))["plate-shaking"].verdict is Verdict.CAUTION
    short = setup(made(wood={"piece": [PIECE | {"length": "4 in"}]}))
    told = strength_cures(short, tuple(by_name(short).values()))["season"]
    assert told.startswith("Use quarter-sawn boards")


def test_a_washer_under_an_eye_bolts_nut():
    """Wood-lathe's turnbuckle on a soft base: the ring by hand, and a wider one that does."""
    lathe = read_scenario("scenarios/wood-lathe.toml")
    soft = lathe.with_(base={"material": "spruce"}, adjuster={"pad": "10.2 mm"})
    at = setup(soft)
    judged = by_name(at)
    force = max(abs(load.out) for load, _ in loads_of(at, Part.BOLT))
    ring = math.pi / 4 * (10.2e-3**2 - 10e-3**2)
    assert judged["nut-washer"].value * 1e6 == pytest.approx(force / ring)
    assert judged["nut-washer"].limit * 1e6 == pytest.approx(410 * 6894.757 / 1.5, rel=1e-4)
    assert judged["nut-washer"].verdict is Verdict.CAUTION
    told = strength_cures(at, tuple(judged.values()))["nut-washer"]
    assert told.startswith("Put a washer ")
    assert "tip-pressure" not in judged


def test_what_is_wrong_besides_and_has_no_cure_does_not_keep_a_cure_back():
    """The mill's plate swings near the motor's hum, whatever holds its hinges."""
    at = setup(read_scenario("scenarios/cider-mill.toml").with_(plate={"material": "C24"}))
    judged = by_name(at)
    assert judged["plate-shaking"].verdict is Verdict.CAUTION
    assert judged["screws-in-plate"].verdict is Verdict.CAUTION
    told = strength_cures(at, tuple(judged.values()))["screws-in-plate"]
    assert told.startswith("Use screws #12")


def test_every_name_has_a_case_here_or_a_reason():
    """A plate sheared to pieces bends first; what slackens or moves stands elsewhere."""
    elsewhere = {
        "plate-shear",
        "tension-left",
        "season",
        "nut-washer",
    }
    assert NAMES - WEAK.keys() == elsewhere


def test_a_sound_mount_is_told_nothing():
    at = setup(made())
    judged = by_name(at)
    assert [name for name, one in judged.items() if one.verdict in BAD and name in NAMES] == []
    assert strength_cures(at, tuple(judged.values())) == {}


def test_what_cures_most_is_said_of_all_that_it_cures():
    """Shipped: doubled MDF fails for creep, and plywood passes."""
    scenario = read_scenario("scenarios/seed-cleaner.toml")
    judgements = {one.name: one for one in check(scenario).judgements}
    bent = judgements["plate-bending"]
    assert bent.verdict is Verdict.FAIL
    assert "of its 25 MPa it keeps 0.2 under a load that stays" in bent.sentence
    assert "of plywood, its layers glued" in bent.what_to_change
    assert judgements["plate-creep"].what_to_change == bent.what_to_change
    assert judgements["tension-left"].what_to_change == bent.what_to_change
    assert judgements["pulley-tilt"].what_to_change == bent.what_to_change
    # 11 mm thicker: the tip that was drawn on its back is so again, and nothing is wrong any more.
    assert bent.what_to_change.endswith(
        "27.0 mm thick of plywood, its layers glued, and draw the bolt's tip 11.0 mm further back. "
        "Then set it anew."
    )
    as_told = scenario.with_(
        plate={"material": "plywood", "joined": "glued", "thickness": "27 mm"},
        adjuster={"tip": ["200 mm", "343 mm"]},
    )
    assert [one.sentence for one in check(as_told).judgements if one.verdict in BAD] == []
    point = evaluate(scenario).point
    assert len(scenario.adjuster.places) == 2
    assert setup_of(point).new_turns is not None
