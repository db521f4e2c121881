"""An overhung pulley on two bearings, against the formulas of any text on statics.

Bearings at 0 and L, pull P at a beyond the second, weight w in the middle:
R_B = P (L + a)/L + w/2 and R_A = -P a/L + w/2, positive where the bearing pushes back. With
L = 8, a = 3, P = 100, w = 20: R_A = -27.5, R_B = 147.5. A pull of 50 square to them at the pulley
adds 18.75 and 68.75 in its own plane (opposite signs): at B 162.7 at 24.99 deg. The
numbers are our own, not a textbook's.
"""

import math

import pytest
from scipy.constants import inch, lbf
from textbook_mounts import drive_file, set_until

from mountcalc.formulas.shaft import bearing_loads

EXACT = 1e-9  # the values are exact in decimals
# Half of the last digit that is given.
TENTH, HUNDREDTH_DEG = 0.05, 0.005
# Through the solver: the motor swings up to the belt on an arc, which tilts the pull by 5e-5 rad.
SET = 1e-4


def test_one_plane():
    on_a, on_b = bearing_loads([11, 4], [(0, -100), (0, -20)], 0, 8)
    assert on_a == pytest.approx((0, 27.5), rel=EXACT)
    assert on_b == pytest.approx((0, -147.5), rel=EXACT)


def test_origin_of_positions_does_not_matter():
    on_a, on_b = bearing_loads([1, -6], [(0, -100), (0, -20)], -10, -2)
    assert on_a == pytest.approx((0, 27.5), rel=EXACT)
    assert on_b == pytest.approx((0, -147.5), rel=EXACT)


def test_two_planes():
    on_a, on_b = bearing_loads([11, 4, 11], [(0, -100), (0, -20), (50, 0)], 0, 8)
    assert on_a == pytest.approx((-18.75, 27.5), rel=EXACT)
    assert on_b == pytest.approx((68.75, -147.5), rel=EXACT)
    assert math.hypot(*on_b) == pytest.approx(162.7, abs=TENTH)
    assert math.degrees(math.atan2(on_b[0], -on_b[1])) == pytest.approx(24.99, abs=HUNDREDTH_DEG)


@pytest.fixture
def bearings():
    """A whole scenario: the belt pulls the shaft to the left with 100 lb at rest.

    Equal pulleys side by side make the strands level and parallel, so P is twice the tension. The
    weight w points the same way as P, so it is not one of gravity here.
    """

    def at_rest(*loads):
        journal = {"journal_diameter": "1 in", "length": "2 in", "limit": "100 psi"}
        text = drive_file(
            "20 in",
            driven={"pulley_diameter": "4 in", "pulley_position": "11 in", "power": "1 hp"},
            motor={"pulley_diameter": "4 in", "speed": "1725 rpm"},
            belt={"length": f"{40 + 4 * math.pi!r} in", "traction": 0.5},
            bearings=(
                {"name": "A", "position": "0 in"} | journal,
                {"name": "B", "position": "8 in"} | journal,
            ),
            loads=loads,
        )
        return set_until(text, lambda row: row.rest.shaft_load, 100 * lbf).rest.bearings

    return at_rest


SHAFT_WEIGHT = {"name": "shaft", "position": "4 in", "force": "20 lbf", "direction": "left"}
CROSS_PULL = {"name": "cross pull", "position": "11 in", "force": "50 lbf", "direction": "up"}


def test_one_plane_through_the_solver(bearings):
    a, b = bearings(SHAFT_WEIGHT)
    assert a.load / lbf == pytest.approx(27.5, rel=SET)
    assert b.load / lbf == pytest.approx(147.5, rel=SET)
    # A is lifted to the right, B pulled to the left.
    assert math.cos(a.direction) == pytest.approx(1, abs=SET)
    assert math.degrees(b.direction) == pytest.approx(180, abs=HUNDREDTH_DEG)
    assert b.pressure == pytest.approx(147.5 * lbf / (2 * inch**2), rel=SET)
    assert b.share_of_limit == pytest.approx(147.5 / 200, rel=SET)


def test_two_planes_through_the_solver(bearings):
    a, b = bearings(SHAFT_WEIGHT, CROSS_PULL)
    assert a.load / lbf == pytest.approx(math.hypot(27.5, 18.75), rel=SET)
    assert b.load / lbf == pytest.approx(162.7, abs=TENTH)
    assert 180 - math.degrees(b.direction) == pytest.approx(24.99, abs=HUNDREDTH_DEG)
