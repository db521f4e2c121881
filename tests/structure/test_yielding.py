"""How a plate and its holders give: beams by hand, the loads' own shares, many plates at once."""

from dataclasses import replace

import numpy as np
import pytest
from shaft_bodies import plain_body

from mountcalc.loads.board import beam_of
from mountcalc.loads.results import Stiffness
from mountcalc.loads.space import share_out
from mountcalc.scenario.model import Acts
from mountcalc.structure.yielding import Levers, Softness, give_at_bolts, product, state

BENDING, TWISTING = 800.0, 300.0
BOARD = Softness(bending=1 / BENDING, twisting=1 / TWISTING)
UP = (0.0, 1.0)


def plate(shaft=(0.25, 0.0), meets=(0.4, 0.0), **places):
    """A plate of no thickness whose motor stands on a point, its bolt amid its width."""
    plain = replace(plain_body().places, pulley=0.0, feet=(0.04, 1e-7), feet_middle=0.0)
    return Levers(shaft, meets, UP, 0.0, replace(plain, **places))


def test_a_plate_bends_as_a_beam_between_hinge_and_bolt():
    """P a^2 b^2/(3 EI l) under the load (Shigley, Table A-9, case 6), over the bolt's (a/l)^2."""
    found = give_at_bolts(plate(), BOARD, (0.0, -1.0), 0.0)
    by_hand = 0.25**2 * 0.15**2 / (3 * BENDING * 0.4) / (0.25 / 0.4) ** 2
    assert found.bending == pytest.approx(by_hand, rel=1e-5)
    assert found.total == pytest.approx(by_hand, rel=1e-5)


def test_a_motor_beyond_the_bolt_bends_the_plate_as_an_overhang():
    """P a^2 (l + a)/(3 EI) at the load (Shigley, Table A-9, case 10), over the bolt's (l + a)/l."""
    found = give_at_bolts(plate(shaft=(0.5, 0.0)), BOARD, (0.0, -1.0), 0.0)
    assert found.total == pytest.approx(0.1**2 * 0.5 / (3 * BENDING) / 1.25**2, rel=1e-5)


def test_a_belt_beside_the_bolt_twists_the_plate_between_motor_and_hinge():
    """T l/(GJ) of a bar with free ends (Shigley 3-12): the load sinks by its arm times that."""
    beside = 0.09
    found = give_at_bolts(plate(), BOARD, (0.0, -1.0), beside)
    by_hand = beside**2 * 0.25 / TWISTING / (0.25 / 0.4) ** 2
    assert found.twist == pytest.approx(by_hand, rel=1e-5)
    # A bolt in the belt's line takes its share of that: on l_m/l of the way it is twisted back.
    in_line = give_at_bolts(plate(bolts=(beside,)), BOARD, (0.0, -1.0), beside).twist
    share = 0.25 / 0.4
    torques = (1 - share) ** 2 * 0.25 + share**2 * 0.15
    assert in_line == pytest.approx(beside**2 * torques / TWISTING / share**2, rel=1e-5)
    assert in_line < found.twist


def test_bolt_tip_and_hinges_by_hand():
    """Each gives what it carries times its own give: of two hinges half the reaction each."""
    parts = {"bolt": 2e-7, "tip": 3e-7, "leaves": 5e-6, "base_leaf": 1e-6, "screws": 1e-5}
    found = give_at_bolts(plate(), Softness(**parts), (0.0, -1.0), 0.0)
    of_hinge = 0.15 / 0.25  # over the bolt's force
    assert found.bolt == pytest.approx(2e-7)
    assert found.tip == pytest.approx(3e-7)
    assert found.leaves == pytest.approx(6e-6 * of_hinge**2 / 2)
    assert found.screws == pytest.approx(0.0, abs=1e-15)
    # A base that stands square to the plate loads its leaves' screws instead.
    square = Softness(base=np.pi / 2, base_leaf=1e-6, base_screws=4e-6)
    found = give_at_bolts(plate(), square, (0.0, -1.0), 0.0)
    assert found.screws == pytest.approx(4e-6 * of_hinge**2 / 2)
    assert found.leaves == pytest.approx(0.0, abs=1e-15)
    # Half of the force on each of two bolts.
    pair = give_at_bolts(plate(bolts=(-0.1, 0.1)), replace(BOARD, bolt=2e-7), UP, 0.0)
    assert pair.bolt == pytest.approx(1e-7)


def test_a_bolt_that_bears_aslant_is_bent():
    slope = 0.2
    leaning = replace(plate(), push=(slope, 1.0))
    found = give_at_bolts(leaning, Softness(bolt=1e-8, aside=1e-6, tip=1e-7), UP, 0.0)
    assert found.bolt == pytest.approx(1e-8 + slope**2 * 1e-6)
    assert found.tip == pytest.approx((1 + slope**2) * 1e-7)


CASES = [
    ((-0.1, 0.1), (0.0,), 0.18),
    ((0.02,), (0.03,), 0.18),
    ((-0.1, 0.02, 0.1), (0.05,), -0.15),
    ((-0.09, 0.09), (-0.1, 0.1), 0.18),
    ((-0.05, 0.09), (-0.1, 0.04), 0.11),
]


@pytest.mark.parametrize(("hinges", "bolts", "pulley"), CASES)
def test_what_is_stored_is_that_of_the_loads_as_they_are_shared(hinges, bolts, pulley):
    """Moments and twists of `mountcalc.loads` squared at 3000 places, forces of pins and bolts."""
    # Loads leave out what feet that are pulled along the shafts twist by half the thickness.
    body, thick = plain_body(hinges, bolts, pulley), 0.0 if len(bolts) > 1 else 0.02
    held = share_out(body, Stiffness(bending=BENDING, twisting=TWISTING), 0.08, Acts.BOTH)
    beam = beam_of(body, held, thick)
    ends = sorted(beam.stations.values())
    places = ends[0] + (np.arange(3000) + 0.5) / 3000 * (ends[-1] - ends[0])
    cuts = np.array([beam.cut(x, beyond=True)[0::3] for x in places])
    stored = np.sum(cuts**2, axis=0) * (places[1] - places[0]) / [BENDING, TWISTING]
    levers, board = body.levers(thick), (0.2, 0.0)
    pulls = body.belts.force[:2], body.weight.force[:2], body.board.force[:2]
    belts = state(levers, BOARD, tuple(pulls[0]), (0.25, 0.11, pulley), ((0.0, 0.0), board))
    weight = state(levers, BOARD, tuple(pulls[1]), (0.25, 0.1, -0.02), (tuple(pulls[2]), board))
    both = belts.plus(weight, 1.0)
    found = product(levers, replace(BOARD, leaves=1.0, screws=1.0, bolt=1.0), both, both)
    assert (found.bending, found.twist) == (
        pytest.approx(stored[0], rel=2e-3),
        pytest.approx(stored[1], rel=2e-3),
    )
    pins = sum(np.square(body.own(one.force)[:2]) for one in held.hinges)
    assert (found.screws, found.leaves) == pytest.approx(tuple(pins))
    assert found.bolt == pytest.approx(sum(one.force**2 for one in held.bolts))


@pytest.mark.parametrize(("hinges", "bolts", "pulley"), CASES)
def test_many_plates_are_as_one_by_one(hinges, bolts, pulley):
    random = np.random.default_rng(5)
    shaft, meets = random.uniform(0.1, 0.5, (2, 6)), random.uniform(0.1, 0.5, (2, 6))
    push, pull = random.uniform(-1.5, 1.5, (2, 2, 6))
    base, places = random.uniform(-2, 2, 6), plain_body(hinges, bolts, pulley).places
    soft = replace(BOARD, leaves=1e-6, screws=2e-6, base_leaf=3e-6, base_screws=1e-6, tip=1e-7)

    def of(some):
        levers = Levers(
            *((one[0][some], one[1][some]) for one in (shaft, meets, push)), 0.03, places
        )
        return give_at_bolts(levers, replace(soft, base=base[some]), tuple(pull[:, some]), pulley)

    together = of(slice(None))
    for row in range(6):
        for many, one in zip(together, of(row), strict=True):
            assert np.broadcast_to(many, 6)[row] == pytest.approx(float(one), rel=1e-12)


def test_two_bolts_give_less_than_any_other_sharing():
    """What is taken is the least energy there is (Castigliano): a tenth more on one is more."""
    levers = plate(bolts=(-0.1, 0.1), pulley=0.18)
    soft = replace(BOARD, bolt=1e-7, leaves=1e-6)
    found = state(levers, soft, (0.0, -1.0), (0.25, 0.0, 0.18))
    energy = product(levers, soft, found, found).total
    # Another sharing: as it would be with stiffer hinges, and with a softer plate.
    for other in (replace(soft, leaves=0.0), replace(soft, twisting=1.0, bolt=1e-5)):
        shared = state(levers, other, (0.0, -1.0), (0.25, 0.0, 0.18))
        assert product(levers, soft, shared, shared).total >= energy * (1 - 1e-12)
    assert found.bolts.sum() == pytest.approx(0.25 / 0.4)
