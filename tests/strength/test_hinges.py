"""Screws, pin and leaf of the hinges by hand from their loads; what knocks."""

import math

import pytest
from made_mounts import by_name, loads_of, made, setup
from scipy.constants import inch, lbf

from mountcalc.judgement import Verdict
from mountcalc.loads import Part, PartLoad, Wood
from mountcalc.strength.carried import Carried
from mountcalc.strength.changes import remedies
from mountcalc.strength.cures import strength_cures
from mountcalc.strength.hinges import hinge_judgements

SCREW = 0.190 * inch
LASTS = {"at rest": 0.90, "running": 1.15, "starting": 1.60}
LEAF = 3 / 32 * inch


def lasts(when):
    return 1.15 if when == "at rest with a new belt" else LASTS[when.split(" with")[0]]


def test_screws_in_side_grain_by_hand():
    """Douglas-fir, G = 0.48: 2850 G^2 D an inch, 3240 D^2 aside (Hicks), Hankinson's way."""
    at = setup(made())
    thread, worst = 1.0, 0.0  # two thirds of 1 1/2 in
    for load, when in loads_of(at, Part.SCREW, Wood.BASE):
        out, aside = load.out / lbf, math.hypot(load.along_plate, load.along_shafts) / lbf
        pulled = 2850 * 0.48**2 * 0.190 * thread * lasts(when)
        pushed = 3240 * 0.190**2 * lasts(when)
        angle = math.atan2(out, aside)
        carried = pulled * pushed / (pulled * math.cos(angle) ** 2 + pushed * math.sin(angle) ** 2)
        worst = max(worst, math.hypot(out, aside) / carried)
    found = by_name(at)["screws-in-base"]
    assert found.share == pytest.approx(worst, rel=1e-4)
    assert found.verdict is Verdict.PASS


def test_end_grain_holds_nothing_that_is_pulled():
    found = by_name(setup(made(hinge={"into_base": "end"})))["screws-in-base"]
    assert found.verdict is Verdict.FAIL
    assert (found.limit, found.share) == (0, None)
    assert "the end of Douglas-fir holds no screw that is pulled" in found.sentence
    assert "Hicks" in found.source


def test_a_plywoods_edge_holds_half_and_has_its_own_loads():
    """On the edge the screws lie along the plate: what pulled them from the face pushes them."""
    at = setup(made(hinge={"into_plate": "edge"}))
    thread, worst = 1.0, 0.0
    for load, when in loads_of(at, Part.SCREW, Wood.PLATE):
        out, aside = load.out / lbf, load.side / lbf
        pulled = 0.5 * 2850 * 0.40**2 * 0.190 * thread * lasts(when)
        pushed = 0.5 * 2520 * 0.190**2 * lasts(when)
        worst = max(worst, (out**2 / pulled + aside**2 / pushed) / math.hypot(out, aside))
    found = by_name(at)["screws-in-plate"]
    assert found.share == pytest.approx(worst, rel=1e-4)
    assert "estimate" in found.source
    assert found.share != pytest.approx(by_name(setup(made()))["screws-in-plate"].share, rel=0.1)


def test_a_screw_that_is_too_short_holds_nothing_aside():
    found = by_name(setup(made(hinge={"screw": "#10 x 3/4 in"})))["screws-in-plate"]
    assert found.verdict is Verdict.CAUTION
    assert "four diameters deep are wanted" in found.sentence


def test_bolts_through_the_plate_are_not_pulled_through():
    through = by_name(setup(made(hinge={"into_plate": "through", "screw": "#10 x 3/4 in"})))
    found = through["screws-in-plate"]
    assert found.verdict is Verdict.PASS
    assert "NDS, heads pulled through" in found.source


def test_without_the_length_of_the_screw_nothing_is_judged_of_it():
    found = by_name(setup(made(hinge={"screw": "#10"})))
    assert "screws-in-plate" not in found
    assert "hinge.screw with its length" in found["strength-left-out"].sentence


def test_pin_and_leaf_by_hand():
    at = setup(made())
    found, hinges = by_name(at), loads_of(at, Part.HINGE)
    force = max(math.hypot(load.out, load.along_plate) for load, _ in hinges)
    area = 2 * math.pi / 4 * (inch / 4) ** 2
    assert found["hinge-pin"].value * 1e6 == pytest.approx(force / area)
    assert found["hinge-pin"].limit == pytest.approx(210 / 2 / math.sqrt(3))
    # The first row of screws is a third of the way from the board's edge, half a knuckle off.
    arm = 7 / 32 * inch + (1.5 - 7 / 32) / 3 * inch
    pulled = max(load.out for load, _ in hinges)
    stress = 6 * pulled * arm / (3 * inch * LEAF**2)
    assert found["hinge-leaf"].value * 1e6 == pytest.approx(stress)
    assert {found[name].source.split(",")[-1] for name in ("hinge-pin", "hinge-leaf")} == {
        " estimate"
    }


def test_sizes_that_are_not_given_are_not_judged():
    found = by_name(setup(made(hinge={"pin_diameter": None, "leaf_thickness": None})))
    assert not {"hinge-pin", "hinge-leaf"} & found.keys()
    assert "hinge.pin_diameter" in found["strength-left-out"].sentence


def pushed(visit, when, along, out):
    load = PartLoad(Part.HINGE, "hinge 1", when, out, along)
    return Carried(load, "permanent", when, visit)


def knocks(*loads):
    found = {one.name: one for one in hinge_judgements(setup(made()), loads)}
    return found.get("hinge-knock")


def test_a_push_that_turns_round_knocks():
    found = knocks(
        pushed(0, "at rest", 100, -30), pushed(0, "running", 5, -90), pushed(0, "starting", -40, 10)
    )
    assert found.verdict is Verdict.CAUTION
    assert "hinge 1 is pushed by 23.5 lbf at rest and the other way by 9.27 lbf" in found.sentence
    assert "play of 0.00787 in, which is worth" in found.sentence
    assert found.unit == "N"
    assert found.value > 0


@pytest.mark.parametrize(
    "loads",
    [
        [pushed(0, "at rest", 100, 0), pushed(0, "running", 1, 90)],
        # What changes as a hand sets the mount anew is no knock.
        [pushed(0, "at rest", 100, 0), pushed(1, "running", -100, 0)],
        [],
    ],
)
def test_what_does_not_turn_round_does_not_knock(loads):
    assert knocks(*loads) is None


def test_weaker_wood_uses_up_more():
    shares = [
        by_name(setup(made(base={"material": name})))["screws-in-base"].share
        for name in ("white oak", "Douglas fir", "spruce")
    ]
    assert shares == sorted(shares)
    # No more than the square of the gravity, which is that of pulled screws.
    assert shares[2] / shares[1] < (0.48 / 0.35) ** 2 * (1 + 1e-9)


def test_the_base_may_have_screws_of_its_own():
    """Machine screws through the plate say nothing of the wood screws in the base."""
    bolted = {"into_plate": "through", "screw": "M4x50"}
    own = setup(made(hinge=bolted | {"base_screw": "5x30"}))
    alone = setup(made(hinge={"screw": "5x30"}))
    assert by_name(own)["screws-in-base"] == by_name(alone)["screws-in-base"]
    thin = setup(made(hinge=bolted | {"base_screw": "3x20"}))
    told = strength_cures(thin, tuple(by_name(thin).values()))["screws-in-base"]
    assert told.startswith("Use screws ")
    assert told.endswith(" in the base.")
    changed = [
        one.scenario.parts.hinges
        for one in remedies(thin, by_name(thin)["screws-in-base"])
        if one.sentence == told
    ]
    assert [one.screw.name for one in changed] == ["M4x50"]
    left_out = by_name(setup(made(hinge=bolted | {"base_screw": "#10"})))["strength-left-out"]
    assert "hinge.base_screw with its length" in left_out.sentence
