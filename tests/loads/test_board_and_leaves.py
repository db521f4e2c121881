"""The plate as a beam, the screws of a leaf, the motor's feet: plain statics, by hand."""

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from shaft_bodies import force_at, plain_body

from mountcalc.loads import Part, Wood, part_loads
from mountcalc.loads.board import BOLTS, FEET, HINGE, WEIGHT, beam_of, sections
from mountcalc.loads.feet import feet_forces
from mountcalc.loads.leaf import screw_loads
from mountcalc.loads.results import RIGID
from mountcalc.loads.space import share_out
from mountcalc.requirements.requirements import requirements_of
from mountcalc.scenario.boards import board_sizes
from mountcalc.scenario.model import Acts
from mountcalc.scenario.reader import read_scenario

SCENARIOS = Path(__file__).parents[2] / "scenarios"
THICK = 0.02


def beam(body):
    return beam_of(body, share_out(body, RIGID, 0.08, Acts.PUSH), THICK)


def bare(pull=(0.0, -100.0), at=0.25, out=0.0):
    """A plate without weights that a belt pulls at."""
    body, nothing = plain_body(), force_at(0.2, 0.0, 0.0, (0.0, 0.0))
    belts = force_at(at, out, 0.0, pull)
    bolt = -belts.about_hinge[2] / 0.4
    hinges = -(belts.force + np.array([0.0, bolt, 0.0]))
    places = replace(body.places, feet_middle=0.0)
    return replace(
        body, belts=belts, weight=nothing, board=nothing, bolts=bolt, hinges=hinges, places=places
    )  # fmt: skip


def test_a_push_in_the_middle_bends_the_plate_as_a_beam_with_two_loads():
    """Half of P at each row of feet: M = R a under them, V = R beside them."""
    found = sections(beam(bare(at=0.2)))
    body = bare(at=0.2)
    assert body.bolts == pytest.approx(50.0)
    moved = replace(body, shaft=(0.2, 0.1))
    found = sections(beam(moved))
    assert found[FEET[0]][0] == pytest.approx(0.14)
    for feet in FEET:
        assert found[feet][1].moment == pytest.approx(50.0 * 0.14)
        assert abs(found[feet][1].shear) == pytest.approx(50.0)
    assert found[HINGE][1].moment == pytest.approx(0.0)
    assert found[BOLTS][1].moment == pytest.approx(0.0, abs=1e-9)
    assert WEIGHT not in found


def test_deflection_is_that_of_a_beam_with_two_alike_loads():
    """F a (3 L^2 - 4 a^2) / (24 EI) in the middle, F a^2 (3 L - 4 a) / (6 EI) under the loads
    (any table of beams)."""
    body, bending = replace(bare(at=0.2), shaft=(0.2, 0.1)), 800.0
    middle = 50.0 * 0.14 * (3 * 0.4**2 - 4 * 0.14**2) / (24 * bending)
    under = 50.0 * 0.14**2 * (3 * 0.4 - 4 * 0.14) / (6 * bending)
    assert beam(body).deflection(0.2, bending) == pytest.approx(-middle)
    for place in (0.14, 0.26):
        assert beam(body).deflection(place, bending) == pytest.approx(-under)
    assert beam(body).deflection(0.4, bending) == pytest.approx(0.0, abs=1e-12)


def test_a_pull_above_the_face_bends_the_plate_between_the_feet():
    """The moment of a pull along the plate, P h, leaves the hinge and the bolt as a couple."""
    body = bare(pull=(-80.0, 0.0), at=0.25, out=0.11)
    assert body.bolts == pytest.approx(-80.0 * 0.11 / 0.4)
    found = sections(beam(body))
    # Thrust in the face bends about the middle of the thickness besides.
    assert found[HINGE][1].moment == pytest.approx(80.0 * THICK / 2)
    assert found[HINGE][1].thrust == pytest.approx(80.0)
    shear = [abs(cut.shear) for _, cut in found.values()]
    assert max(shear) == pytest.approx(80.0 * 0.11 / 0.12 - 80.0 * 0.11 / 0.4)


def test_feet_take_an_overhung_pull_as_a_bracket_on_four_bolts():
    """F/4 each, and M/(2 b) by their distance (any text on bolted brackets)."""
    body = bare(pull=(0.0, -100.0))
    over = replace(body, belts=force_at(0.25, 0.0, 0.15, (0.0, -100.0)))
    _, forces = feet_forces(over)
    lever = 100.0 * 0.15 / (2 * 0.08)
    assert forces[:, 1] == pytest.approx([-25 + lever, -25 - lever] * 2)
    assert forces[:, [0, 2]] == pytest.approx(np.zeros((4, 2)))


def test_feet_take_a_pull_along_the_plate_beside_them_as_an_eccentric_shear():
    """F/4, and F e r / sum r^2 square to the radius (any text on bolted brackets)."""
    body = bare(pull=(-100.0, 0.0))
    over = replace(body, belts=force_at(0.25, 0.0, 0.15, (-100.0, 0.0)))
    places, forces = feet_forces(over)
    radius = np.hypot(0.06, 0.04)
    turning = 100.0 * 0.15 / (4 * radius)
    own = forces[:, [0, 2]] - [-25.0, 0.0]
    assert np.hypot(*own.T) == pytest.approx([turning] * 4)
    arms = places[:, [0, 2]] - [0.25, 0.0]
    assert np.sum(own * arms, axis=1) == pytest.approx([0.0] * 4, abs=1e-9)


@pytest.fixture(scope="module")
def sizes():
    return board_sizes(read_scenario(SCENARIOS / "cider-mill.toml"))


def test_a_leaf_that_is_pulled_off_at_its_pin_turns_about_its_far_edge(sizes):
    found = screw_loads(sizes, np.array([0.0, 100.0, 0.0]), np.zeros(3))
    arms = sizes.leaf_width - found.at
    assert np.dot(found.drawn, arms) == pytest.approx(100.0 * sizes.leaf_width)
    assert found.drawn / arms == pytest.approx([found.drawn[0] / arms[0]] * 3)
    assert found.drawn.sum() >= 100.0


def test_a_leaf_that_is_pressed_down_beyond_the_board_turns_about_the_boards_edge(sizes):
    found = screw_loads(sizes, np.array([0.0, -100.0, 0.0]), np.zeros(3))
    assert np.dot(found.drawn, found.at - sizes.edge) == pytest.approx(100.0 * sizes.edge)
    assert found.drawn.sum() < 100.0


def test_side_load_is_shared_alike_and_a_couple_by_distance(sizes):
    found = screw_loads(sizes, np.array([90.0, 0.0, 0.0]), np.array([0.0, 2.0, 0.0]))
    assert found.side.sum(axis=0) == pytest.approx([90.0, 0.0])
    turned = found.side - [30.0, 0.0]
    arms = np.stack([found.at - found.at.mean(), found.along], axis=-1)
    moments = arms[:, 1] * turned[:, 0] - arms[:, 0] * turned[:, 1]
    assert moments.sum() == pytest.approx(2.0)
    assert np.sum(arms * turned, axis=1) == pytest.approx([0.0] * 3, abs=1e-12)


def test_a_couple_about_the_board_draws_the_screws_at_one_end(sizes):
    found = screw_loads(sizes, np.zeros(3), np.array([1.5, 0.0, 0.0]))
    assert found.drawn[-1] == 0.0
    assert found.drawn[0] == pytest.approx(1.5 / (2 * found.along[-1]))


@pytest.fixture(scope="module")
def mill():
    scenario = read_scenario(SCENARIOS / "cider-mill.toml")
    return scenario, requirements_of(scenario).solved


def rows(found, part, case="running", on=Wood.PLATE):
    return [one for one in found if (one.part, one.case, one.on) == (part, case, on)]


def test_every_part_of_the_mill_is_told_in_every_case(mill):
    found = part_loads(mill[1], 1.5)
    for case in ("rest", "running", "starting"):
        assert [one.name for one in rows(found, Part.HINGE, case)] == ["hinge 1", "hinge 2"]
        assert len(rows(found, Part.SCREW, case)) == len(rows(found, Part.SCREW, case, Wood.BASE))
        assert len(rows(found, Part.SCREW, case)) == 6
        assert [one.name for one in rows(found, Part.BOLT, case)] == ["bolt 1"]
        assert len(rows(found, Part.FOOT, case)) == 4
        assert [one.name for one in rows(found, Part.PLATE, case)] == [
            HINGE, FEET[0], WEIGHT, FEET[1], BOLTS
        ]  # fmt: skip


def test_pins_press_the_base_as_they_pull_the_plate(mill):
    """Action and reaction, each in its own board's axes: the base's stands along x."""
    scenario, solved = mill
    assert scenario.parts.base.direction == 0.0
    case = solved.cases(solved.place(1.5)).running
    found = part_loads(solved, 1.5)
    along = sum(one.along_plate for one in rows(found, Part.HINGE, on=Wood.BASE))
    out = sum(one.out for one in rows(found, Part.HINGE, on=Wood.BASE))
    x, y = case.hinge[0]
    assert along == pytest.approx(-x)
    # The plate stands up, its motor's face to the right: the leaf below looks up.
    assert out == pytest.approx(-y)


def test_a_base_of_which_nothing_is_said_carries_the_whole_force_either_way(mill):
    scenario = mill[0].with_(base={"direction": None})
    found = part_loads(requirements_of(scenario).solved, 1.5)
    pins = zip(rows(found, Part.HINGE), rows(found, Part.HINGE, on=Wood.BASE), strict=True)
    for on_plate, on_base in pins:
        size = math.hypot(on_plate.out, on_plate.along_plate)
        assert (on_base.out, on_base.along_plate) == pytest.approx((size, size))


def test_a_leaf_on_the_edge_is_pulled_off_by_what_draws_the_plate_away_from_the_pin(mill):
    on_face, on_edge = (part_loads(mill[1], 1.5, edges=edges) for edges in ((), (Wood.PLATE,)))
    for one, other in zip(rows(on_face, Part.HINGE), rows(on_edge, Part.HINGE), strict=True):
        assert (other.out, other.along_plate) == pytest.approx((-one.along_plate, -one.out))
    for leaf in ("hinge 1", "hinge 2"):
        pin = next(one for one in rows(on_edge, Part.HINGE) if one.name == leaf)
        screws = [one for one in rows(on_edge, Part.SCREW) if one.name.startswith(leaf)]
        assert sum(one.along_plate for one in screws) == pytest.approx(pin.along_plate)
        assert (sum(one.out for one in screws) > pin.out) or pin.out < 0
    assert rows(on_edge, Part.SCREW, on=Wood.BASE) == rows(on_face, Part.SCREW, on=Wood.BASE)


def test_a_bolt_bears_square_to_a_face_that_leans(mill):
    """The side load is the face's lean times the axial force: tangent of the plate's angle."""
    solved = mill[1]
    (bolt,) = rows(part_loads(solved, 1.5, stands_out=0.05), Part.BOLT)
    case = solved.cases(solved.place(1.5)).running
    assert bolt.out == pytest.approx(case.adjuster[0])
    assert bolt.along_plate == pytest.approx(case.adjuster[0] * math.tan(abs(case.phi[0])))
    assert bolt.moment == pytest.approx(bolt.along_plate * 0.05)


def test_without_an_adjuster_the_plate_hangs_on_its_hinges():
    scenario = read_scenario(SCENARIOS / "forge-blower.toml")
    found = part_loads(requirements_of(scenario).solved, None)
    assert rows(found, Part.BOLT) == []
    assert len(rows(found, Part.FOOT)) == 4
