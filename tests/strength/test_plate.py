"""The plate's wood: stresses by hand from its loads, strengths by hand from the handbook's rows."""

import math

import pytest
from made_mounts import by_name, loads_of, made, setup

from mountcalc import check
from mountcalc.judgement import Verdict
from mountcalc.loads import Part

INCH, _NEW = 0.0254, "at rest with a new belt"
WIDTH, THICK = 8 * INCH, 1.5 * INCH
# EN 1995-1-1, Table 3.1, by how long a case stands: left tight, weeks of work, a start.
KEPT = {
    "plywood": {
        "at rest": 0.60,
        "running": 0.80,
        "starting": 1.10,
        "at rest with a new belt": 0.80,
    },
    "MDF": {"at rest": 0.20, "running": 0.60, "starting": 1.10, "at rest with a new belt": 0.60},
}
STRONG = {"plywood": (33.72e6, 1.2), "MDF": (25e6, 1.3)}


def kept(material, when):
    return KEPT[material].get(when, KEPT[material][when.removesuffix(" with a new belt")])


@pytest.mark.parametrize("material", KEPT)
@pytest.mark.parametrize(("joined", "loose"), [("glued", 1), ("screwed", 2)])
def test_bending_by_hand(material, joined, loose):
    at = setup(made(plate={"material": material, "joined": joined}))
    strength, factor = STRONG[material]
    shares = [
        (
            6 * loose * abs(load.moment) / (WIDTH * THICK**2)
            + abs(load.along_plate) / (WIDTH * THICK)
        )
        / (strength * kept(material, when) / factor)
        for load, when in loads_of(at, Part.PLATE)
    ]
    found = by_name(at)["plate-bending"]
    assert found.share == pytest.approx(max(shares), rel=1e-9)
    assert found.verdict is Verdict.PASS


def test_shear_and_twist_by_hand():
    at = setup(made())
    found = by_name(at)
    plates = loads_of(at, Part.PLATE)
    sheared = max(1.5 * abs(load.out) / (WIDTH * THICK) / (1e6 * kept("plywood", when) / 1.2)
                  for load, when in plates)  # fmt: skip
    assert found["plate-shear"].share == pytest.approx(sheared, rel=1e-9)
    # alpha of a rectangle 16 : 3 lies between those of 4 and 6 (Shigley 3-12): 0.282 and 0.299.
    twisted = max(abs(load.twist) / (0.293 * WIDTH * THICK**2) / (2e6 * kept("plywood", when))
                  for load, when in plates)  # fmt: skip
    assert found["plate-twist"].share == pytest.approx(twisted, rel=0.03)


def test_nothing_is_said_of_shear_in_fibreboard():
    found = by_name(setup(made(plate={"material": "MDF"})))
    assert "plate-shear" not in found
    assert "plate-twist" not in found


@pytest.mark.parametrize(
    ("plate", "verdict", "sure"),
    [
        # Broken by what is published alone: a failure.
        ({"material": "MDF", "thickness": "5 mm", "joined": "screwed"}, Verdict.FAIL, ""),
        # Only with the factor, which is from memory: a caution.
        (
            {"material": "MDF", "thickness": "5.6 mm", "joined": "screwed"},
            Verdict.CAUTION,
            "memory",
        ),
        # A strength from memory makes no failure, however far it is passed.
        ({"material": "plywood", "thickness": "2 mm"}, Verdict.CAUTION, "memory"),
        # What a board across its grain has is an estimate.
        ({"material": "MDF", "thickness": "15 mm"}, Verdict.PASS, ""),
    ],
)
def test_only_what_is_published_fails_a_mount(plate, verdict, sure):
    found = by_name(setup(made(plate=plate, hinge={"mortise_depth": "0.5 mm"})))["plate-bending"]
    assert found.verdict is verdict
    assert (found.share > 1) is (verdict is not Verdict.PASS)
    assert sure in found.source


def test_fibreboard_in_an_unheated_room_has_no_strength_for_a_load_that_stays():
    found = by_name(setup(made(plate={"material": "MDF"}, wood={"room": "unheated"})))
    assert found["plate-bending"].verdict is Verdict.FAIL
    assert found["plate-bending"].limit == 0
    assert "unheated" in found["plate-bending"].sentence
    assert "ends at 4 times" in found["plate-creep"].sentence


def test_creep_is_told_loudly_of_panels_and_by_the_way_of_wood():
    loud = by_name(setup(made(plate={"material": "doubled MDF"})))["plate-creep"]
    assert loud.verdict is Verdict.CAUTION
    assert "MDF" in loud.sentence
    assert "0.2 of its strength" in loud.sentence
    assert "ends at 3.25 times its first deflection" in loud.sentence
    quiet = by_name(setup(made()))["plate-creep"]
    assert quiet.verdict is Verdict.NOTE
    assert "0.6 of its strength under a load that stays, and ends at 1.8 times" in quiet.sentence


def test_grain_along_the_hinge_leaves_solid_wood_a_twentieth():
    along, across = (
        by_name(setup(made(plate={"material": "red oak", "grain": way})))["plate-bending"]
        for way in ("from-hinge", "along-hinge")
    )
    assert across.share == pytest.approx(20 * along.share)


def test_without_a_known_board_nothing_of_it_is_judged():
    for material in (None, "granite"):
        found = by_name(setup(made(plate={"material": material})))
        assert not {"plate-bending", "plate-shear", "plate-twist", "plate-creep"} & found.keys()
        assert "plate.material" in found["strength-left-out"].sentence
        assert ("granite" in found["strength-left-out"].sentence) is (material is not None)
    assert "strength-left-out" not in by_name(setup(made()))


def test_the_check_has_it():
    judgements = {one.name: one for one in check(made()).judgements}
    assert judgements["plate-bending"].unit == "MPa"
    assert math.isclose(judgements["plate-bending"].limit, 33.72 * 0.6 / 1.2, rel_tol=1e-9)
