"""A hinged board against textbook cases, a frame program and the series of torsion."""

import math
from itertools import pairwise

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mountcalc.formulas.board import (
    bending_stress,
    board_deflection,
    board_moment,
    shear_stress,
    support_forces,
    torsion_stress,
    twist,
)
from mountcalc.formulas.section import torsion_constant
from mountcalc.formulas.wood import second_moment, section_modulus

EXACT = 1e-9


def test_load_amid_and_on_the_overhang():
    """P l^3/(48 EI) and P l/4; P a^2 (l + a)/(3 EI) and -P a (Shigley, Table A-9, 5 and 10)."""
    stiff = 900.0
    assert board_deflection([0.2], [0.2], [100], 0.4, stiff)[0] == pytest.approx(
        100 * 0.4**3 / (48 * stiff), rel=EXACT
    )
    assert board_moment([0.2, 0.4], [0.2], [100], 0.4) == pytest.approx([10, 0], abs=1e-12)
    tip = board_deflection([0.5], [0.5], [100], 0.4, stiff)[0]
    assert tip == pytest.approx(100 * 0.1**2 * 0.5 / (3 * stiff), rel=EXACT)
    assert board_moment([0.4], [0.5], [100], 0.4)[0] == pytest.approx(-10, rel=EXACT)
    assert support_forces([0.5], [100], 0.4) == pytest.approx((-25, 125))


def test_against_a_frame_program():
    """Pynite: two feet before the bolt, the far edge beyond it, and two cases at once."""
    from Pynite import FEModel3D

    width, thick, modulus, shear = 0.2, 0.036, 7e9, 0.5e9
    support, places, far = 0.36, [0.09, 0.23, 0.42], 0.45
    forces = np.array([[120.0, 80.0, -30.0], [-60.0, 200.0, 45.0]])
    second = float(second_moment(width, thick))
    for case in forces:
        model = FEModel3D()
        model.add_material("board", modulus, shear, 0.3, 600)
        model.add_section("section", width * thick, second, second, 1e-6)
        nodes = sorted([0.0, *places, support, far])
        for x in nodes:
            model.add_node(f"{x}", x, 0, 0)
        for near, beyond in pairwise(nodes):
            model.add_member(f"{near}", f"{near}", f"{beyond}", "board", "section")
        held = dict.fromkeys(("support_DY", "support_DZ", "support_RX"), True)
        model.def_support("0.0", support_DX=True, **held)
        model.def_support(f"{support}", **held)
        for at, force in zip(places, case, strict=True):
            model.add_node_load(f"{at}", "FY", -force)
        model.analyze()
        found = board_deflection(nodes, places, case, support, modulus * second)
        wanted = [-model.nodes[f"{x}"].DY["Combo 1"] for x in nodes]
        assert found == pytest.approx(wanted, abs=1e-6 * max(map(abs, wanted)))
        hinge, bolt = support_forces(places, case, support)
        assert hinge == pytest.approx(model.nodes["0.0"].RxnFY["Combo 1"], rel=1e-6)
        assert bolt == pytest.approx(model.nodes[f"{support}"].RxnFY["Combo 1"], rel=1e-6)
    both = board_deflection(nodes, places, forces, support, modulus * second)
    assert both.shape == (2, len(nodes))
    assert both[1] == pytest.approx(found)


@given(
    at=st.lists(st.floats(0.02, 0.6), min_size=1, max_size=4),
    support=st.floats(0.1, 0.5),
    seed=st.integers(0, 99),
)
def test_moment_is_the_second_derivative_and_stays_out_of_what_is_free(at, support, seed):
    forces = np.random.default_rng(seed).uniform(-200, 200, len(at))
    where, step = np.array([0.31 * support, 0.77 * support]), 1e-4
    around = np.concatenate([where - step, where, where + step])
    bent = board_deflection(around, at, forces, support, 1000.0).reshape(3, -1)
    curved = -(bent[0] - 2 * bent[1] + bent[2]) / step**2 * 1000.0
    near = any(abs(one - x) < 2 * step for one in at for x in where)
    if not near:
        assert curved == pytest.approx(board_moment(where, at, forces, support), rel=1e-3, abs=1e-2)
    held = board_deflection([0.0, support], at, forces, support, 1000.0)
    assert held == pytest.approx([0, 0], abs=1e-12)
    beyond = max(*at, support) + 0.1
    assert board_moment([0.0, beyond], at, forces, support) == pytest.approx([0, 0], abs=1e-9)


def series(ratio):
    """J/(a b^3) and T/(tau a b^2) of a rectangle a = ratio b, from the sine series (Timoshenko)."""
    odd = np.arange(1, 41, 2)
    waves = np.tanh(odd * np.pi * ratio / 2)
    constant = (1 - 192 / np.pi**5 / ratio * np.sum(waves / odd**5)) / 3
    most = 1 - 8 / np.pi**2 * np.sum(
        1 / (odd**2 * np.cosh(np.minimum(odd * np.pi * ratio / 2, 300)))
    )
    return constant, constant / most


# b/c, beta and alpha as Shigley prints them in 3-12 (from memory): the last are a hair high.
PRINTED = {1: (0.141, 0.208), 1.5: (0.196, 0.231), 2: (0.229, 0.246), 3: (0.263, 0.267),
           4: (0.281, 0.282), 6: (0.299, 0.299), 10: (0.313, 0.313)}  # fmt: skip


@pytest.mark.parametrize("ratio", PRINTED)
def test_torsion_of_a_rectangle(ratio):
    beta, alpha = series(ratio)
    assert (beta, alpha) == pytest.approx(PRINTED[ratio], abs=7e-4)
    thick = 0.02
    found = torsion_constant(ratio * thick, thick)
    assert found / (ratio * thick * thick**3) == pytest.approx(beta, rel=0.005)
    stress = torsion_stress(-5.0, ratio * thick, thick)
    assert stress == pytest.approx(5.0 / (alpha * ratio * thick * thick**2), rel=0.05)


def test_twist_of_a_board_by_hand():
    """300 x 20 mm, G = 600 MPa, 20 N m over 0.4 m: J is about 0.3193 a b^3."""
    constant = 0.3193 * 0.3 * 0.02**3
    by_hand = 20 * 0.4 / (600e6 * constant)
    assert twist(20, 0.4, 0.3, 0.02, 600e6) == pytest.approx(by_hand, rel=1e-3)
    assert math.degrees(by_hand) == pytest.approx(1.0, abs=0.01)


def test_stresses_by_hand():
    assert bending_stress(-50.0, section_modulus(0.2, 0.02)) == pytest.approx(50 * 6 / (0.2 * 4e-4))
    assert shear_stress(-1000.0, 0.2, 0.02) == pytest.approx(1.5 * 1000 / 0.004)


@given(scale=st.floats(0.2, 5), force=st.floats(0.2, 5))
def test_results_scale_as_their_dimensions(scale, force):
    at, loads = np.array([0.1, 0.3]), np.array([100.0, -40.0])
    plain = board_deflection([0.2], at, loads, 0.4, 500.0)
    grown = board_deflection([0.2 * scale], scale * at, force * loads, 0.4 * scale, 500.0)
    assert grown == pytest.approx(plain * force * scale**3, rel=1e-9)
    assert torsion_constant(0.2 * scale, 0.02 * scale) == pytest.approx(
        torsion_constant(0.2, 0.02) * scale**4
    )
