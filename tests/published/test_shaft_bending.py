"""Slopes and bending of an overhung shaft: check values, a textbook's, and a frame program's.

Check values (two frame programs confirm them, not a textbook): bearings at 0 and 8, pull 100 at 3
beyond the second, 20 in the middle, EI = 1e6: theta_B = P a L/(3 EI) - w L^2/(16 EI).
"""

import math

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mountcalc.errors import InputError
from mountcalc.formulas.shaft import (
    Edge,
    bearing_loads,
    bearing_slopes,
    bending_moment,
    bending_stiffness,
    bending_stress,
    edge_loads,
    edge_rise,
)

EXACT = 1e-9
PLACE, FORCE = st.floats(-3, 3), st.floats(-1e3, 1e3)


def test_overhung_pulley():
    at_a, at_b = bearing_slopes([11, 4], [(0, -100), (0, -20)], 0, 8, 1e6)
    pull, weight = 100 * 3 * 8 / 3e6, 20 * 64 / 16e6
    assert at_b == pytest.approx((0, -(pull - weight)), rel=EXACT)
    assert at_a == pytest.approx((0, pull / 2 - weight), rel=EXACT)
    moment = bending_moment(8, [11, 4], [(0, -100), (0, -20)], 0, 8)
    assert moment == pytest.approx((0, -300), rel=EXACT)
    assert bending_moment(4, [11, 4], [(0, -100), (0, -20)], 0, 8)[1] == pytest.approx(
        -27.5 * 4, rel=EXACT
    )


def test_deflection_of_the_tip_follows_from_the_slope():
    # y = theta_B a + P a^3/(3 EI) is P a^2 (L + a)/(3 EI) - w L^2 a/(16 EI) = 0.00306; slope
    # theta_B + P a^2/(2 EI) = 0.00117.
    slope = -bearing_slopes([11, 4], [(0, -100), (0, -20)], 0, 8, 1e6)[1][1]
    assert slope * 3 + 100 * 27 / 3e6 == pytest.approx(0.00306, rel=EXACT)
    assert slope + 100 * 9 / 2e6 == pytest.approx(0.00117, rel=EXACT)


def test_shigley_7_4():
    """Shigley, Machine Design, example 7-4 (read in print): 1 in, 0.001095 rad; 1.216 in, 0.0005.

    The slope falls with the fourth power of the diameter (Eq. 7-18).
    """

    def slope(diameter):
        stiffness = float(bending_stiffness(diameter))
        return math.hypot(*bearing_slopes([0.5], [(300, 400)], 0, 0.35, stiffness)[1])

    assert slope(1.216) / slope(1.0) == pytest.approx(0.0005 / 0.001095, rel=4 * 5e-4 / 1.216)


def test_stress_by_hand():
    # 32 M/(pi d^3) with M = 5 from 3 and 4 in two planes and d = 2: 20/pi.
    assert bending_stress((3, 4), 2.0) == pytest.approx(20 / math.pi)
    assert bending_stress([[3, 4], [0, 0]], 2.0) == pytest.approx([20 / math.pi, 0])
    # pi/64 of 0.02^4 m^4 at 205 GPa.
    assert bending_stiffness(0.02) == pytest.approx(205e9 * 7.853981634e-9)


def test_edge_rise():
    assert edge_rise([0.001, 0.002], 0.05) == pytest.approx([25e-6, 50e-6])


def frame(positions, forces, first, second, stiffness):
    """Slopes and moments by PyNiteFEA: members between all places, x along the shaft."""
    from Pynite import FEModel3D

    places = sorted({*positions, first, second})
    model = FEModel3D()
    model.add_material("m", 1.0, 0.5, 0.3, 0.0)
    model.add_section("s", 1e6, stiffness, stiffness, 1.0)  # E = 1: axial is beside the point
    for i, x in enumerate(places):
        model.add_node(f"N{i}", x, 0, 0)
        if i:
            model.add_member(f"M{i}", f"N{i - 1}", f"N{i}", "m", "s")
    supports = [f"N{places.index(x)}" for x in (first, second)]
    across = {"support_DY": True, "support_DZ": True}
    model.def_support(supports[0], **across, support_DX=True, support_RX=True)
    model.def_support(supports[1], **across)
    for x, (y, z) in zip(positions, forces, strict=True):
        model.add_node_load(f"N{places.index(x)}", "FY", y)
        model.add_node_load(f"N{places.index(x)}", "FZ", z)
    model.analyze_linear()
    nodes = [model.nodes[name] for name in supports]
    slopes = [(n.RZ["Combo 1"], -n.RY["Combo 1"]) for n in nodes]
    loads = [(-n.RxnFY["Combo 1"], -n.RxnFZ["Combo 1"]) for n in nodes]
    moments = {
        x: math.hypot(
            model.members[f"M{i}"].moment("Mz", x - places[i - 1], "Combo 1"),
            model.members[f"M{i}"].moment("My", x - places[i - 1], "Combo 1"),
        )
        for i, x in enumerate(places)
        if i
    }
    return loads, slopes, moments


@pytest.mark.parametrize("seed", range(6))
def test_frame_program_in_two_planes(seed):
    random = np.random.default_rng(seed)
    first, second = (0.0, 0.9) if seed % 2 else (0.9, 0.0)
    positions = [*random.uniform(-0.5, 1.5, 4).tolist(), -0.4, 0.45, 1.3]
    forces = random.normal(0, 500, (len(positions), 2))
    stiffness = float(bending_stiffness(0.03))
    loads, slopes, moments = frame(positions, forces, first, second, stiffness)
    for found, wanted in zip(bearing_loads(positions, forces, first, second), loads, strict=True):
        assert found == pytest.approx(wanted, rel=1e-6)
    ours = bearing_slopes(positions, forces, first, second, stiffness)
    for found, wanted in zip(ours, slopes, strict=True):
        assert found == pytest.approx(wanted, rel=1e-6)
    for place, wanted in moments.items():
        found = np.hypot(*bending_moment(place, positions, forces, first, second))
        assert found == pytest.approx(wanted, rel=1e-6, abs=1e-6)


@given(place=PLACE, x=FORCE, y=FORCE, origin=st.floats(-5, 5))
def test_slopes_do_not_depend_on_origin_nor_on_which_bearing_is_first(place, x, y, origin):
    at_a, at_b = bearing_slopes([place], [(x, y)], -0.5, 0.8, 100.0)
    moved = bearing_slopes([place + origin], [(x, y)], origin - 0.5, origin + 0.8, 100.0)
    other_b, other_a = bearing_slopes([place], [(x, y)], 0.8, -0.5, 100.0)
    assert np.array(moved) == pytest.approx(np.array([at_a, at_b]), rel=1e-6, abs=1e-6)
    assert np.array([other_a, other_b]) == pytest.approx(np.array([at_a, at_b]), rel=1e-9, abs=1e-9)


@given(x=FORCE, y=FORCE, force=st.floats(0.1, 9), length=st.floats(0.1, 9))
def test_slope_is_of_force_times_length_squared_over_stiffness(x, y, force, length):
    here = bearing_slopes([0.7], [(x, y)], 0, 0.5, 10.0)[1]
    forces, ends = [(x * force, y * force)], 0.5 * length
    scaled = bearing_slopes([0.7 * length], forces, 0, ends, 10.0)[1]
    assert scaled == pytest.approx(here * force * length**2, rel=1e-9, abs=1e-12)


def test_overhung_load_on_long_boxes_by_hand():
    # Middles at 0 and 8, boxes 2 long, pull 100 at 11: 137.5 and -37.5. Towards the pulley both
    # move by 1: overhang 2, span 8. Worst for both: supports at 1 and 7, span 6, overhang 4.
    loads = edge_loads([11], [(0, -100)], (0, 8), (2, 2), 11)
    assert loads.middle[:, 1] == pytest.approx((37.5, -137.5))
    assert loads.towards_pulley[:, 1] == pytest.approx((25, -125))
    assert loads.greatest == pytest.approx((100 * 4 / 6, 100 * 10 / 6))
    assert loads.own_edge.tolist() == [Edge.TOWARDS_PULLEY, Edge.AWAY_FROM_PULLEY]
    assert loads.other_edge.tolist() == [Edge.AWAY_FROM_PULLEY, Edge.TOWARDS_PULLEY]


@given(
    places=st.lists(st.tuples(st.floats(-1, 2), FORCE, FORCE), min_size=1, max_size=4),
    shares=st.tuples(st.floats(-1, 1), st.floats(-1, 1)),
)
def test_no_place_inside_the_boxes_is_worse(places, shares):
    positions = [x for x, _, _ in places]
    forces = [force for _, *force in places]
    loads = edge_loads(positions, forces, (0.0, 1.0), (0.2, 0.4), 1.4)
    inside = bearing_loads(positions, forces, 0.1 * shares[0], 1.0 + 0.2 * shares[1])
    sizes = np.hypot(*np.transpose(inside))
    assert np.all(sizes <= loads.greatest * (1 + 1e-9) + 1e-9)


def test_edges_broadcast_over_settings():
    forces = np.zeros((7, 2, 2))
    forces[:, 0, 0] = np.arange(7)
    loads = edge_loads([1.5, 0.4], forces, (0.0, 1.0), (0.2, 0.2), 1.5)
    assert loads.middle.shape == loads.towards_pulley.shape == (7, 2, 2)
    assert loads.greatest.shape == loads.own_edge.shape == loads.other_edge.shape == (7, 2)
    one = edge_loads([1.5, 0.4], forces[3], (0.0, 1.0), (0.2, 0.2), 1.5)
    assert loads.greatest[3] == pytest.approx(one.greatest)


def test_pulley_between_the_bearings_and_right_over_one():
    between = edge_loads([0.5], [(0, -100)], (0.0, 1.0), (0.2, 0.2), 0.5)
    assert between.towards_pulley[:, 1] == pytest.approx((-50, -50))
    above = edge_loads([0.0], [(0, -100)], (0.0, 1.0), (0.2, 0.2), 0.0)
    assert np.all(np.isfinite(above.towards_pulley))


def test_boxes_that_overlap_are_refused():
    with pytest.raises(InputError, match="overlap"):
        edge_loads([1.5], [(0, -100)], (0.0, 0.2), (0.2, 0.2), 1.5)
