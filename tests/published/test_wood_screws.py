"""Screws in wood and panels as published.

- Hicks, Civil Engineering Formulas, equations 6.37 and 6.38 (read in print): allowable withdrawal
  2850 G^2 D a inch of thread, allowable lateral load C D^2; its example prints 109 lb for G = 0.45
  and a number 10, which is cut off: 109.65.
- Wood Handbook, chapter 8 (from memory): ultimate loads, in inch and metric forms.
"""

import numpy as np
import pytest
from scipy.constants import inch, lbf, psi

from mountcalc.formulas.wood_screws import (
    allowed_lag_withdrawal,
    allowed_lateral,
    allowed_withdrawal,
    combined_share,
    depth_share,
    lag_withdrawal,
    panel_edge_withdrawal,
    panel_face_withdrawal,
    pull_through,
    washer_pressure,
    withdrawal,
)
from mountcalc.handbook.hardware import Face, fact
from mountcalc.handbook.wood import DURATIONS, wood
from mountcalc.handbook.wood_screws import lateral_constant, screw_strength

PRINTED = 0.005  # of the last figure of check values with four
NO_8, NO_10 = 0.164 * inch, 0.190 * inch


def test_hicks_example():
    per_inch = allowed_withdrawal(0.45, NO_10, inch) / lbf
    assert int(per_inch) == 109
    assert per_inch == pytest.approx(109.65, abs=PRINTED)
    assert withdrawal(0.45, NO_10, inch) / lbf == pytest.approx(604.06, abs=PRINTED)


@pytest.mark.parametrize(
    ("gravity", "diameter", "ultimate", "allowable"),
    [(0.50, NO_10, 745.75, 135.4), (0.35, NO_8, 315.4, 57.3)],
)
def test_withdrawal_check_values(gravity, diameter, ultimate, allowable):
    assert withdrawal(gravity, diameter, inch) / lbf == pytest.approx(ultimate, abs=0.05)
    assert allowed_withdrawal(gravity, diameter, inch) / lbf == pytest.approx(allowable, abs=0.05)


def test_lag_and_panel_check_values():
    assert lag_withdrawal(0.5, 3 / 8 * inch, inch) / lbf == pytest.approx(1372, abs=0.5)
    assert allowed_lag_withdrawal(0.5, 3 / 8 * inch, inch) / lbf == pytest.approx(305.0, abs=0.05)
    sizes = 0.75, NO_10, 5 / 8 * inch
    assert panel_face_withdrawal(*sizes) / lbf == pytest.approx(316.5, abs=0.05)
    assert panel_edge_withdrawal(*sizes) / lbf == pytest.approx(245.0, abs=0.05)


def test_metric_forms():
    """The Wood Handbook's metric constants: N and mm."""
    mm, g, d, length = 1e-3, 0.6, 5.0, 20.0
    sizes = g, d * mm, length * mm
    assert withdrawal(*sizes) == pytest.approx(108.25 * g**2 * d * length, rel=1e-4)
    assert lag_withdrawal(*sizes) == pytest.approx(125.4 * g**1.5 * d**0.75 * length, rel=1e-3)
    held = d**0.5 * (length - d / 3) ** 1.25 * g**2
    assert panel_face_withdrawal(*sizes) == pytest.approx(41.1 * held, rel=1e-3)
    assert panel_edge_withdrawal(*sizes) == pytest.approx(31.8 * held, rel=1e-3)


# Species that Hicks names with their group (gravity, group's constant [psi]); southern pine, which
# Hicks has in group II at 0.59, and eastern hemlock, in IV at 0.43.
@pytest.mark.parametrize(
    ("gravity", "constant"),
    [(0.51, 3960), (0.59, 3960), (0.44, 3240), (0.42, 2520), (0.41, 2520), (0.43, 2520)],
)
def test_hicks_groups_are_never_flattered(gravity, constant):
    """Redwood, in III at 0.42, is the one that gravity alone puts a group lower."""
    assert lateral_constant(gravity).value / psi == pytest.approx(constant)


def test_lateral_load_of_a_number_10():
    """Hicks, equation 6.38: 3960 x 0.19^2 = 143 lb in group II; nothing is lost at 7 diameters."""
    assert allowed_lateral(3960 * psi, NO_10) / lbf == pytest.approx(142.96, abs=0.01)
    assert depth_share(NO_10, 7 * NO_10) == 1
    assert depth_share(NO_10, 4 * NO_10) == pytest.approx(4 / 7)
    assert depth_share(NO_10, 3.9 * NO_10) == 0
    assert depth_share(NO_10, [1, 9 * NO_10]) == pytest.approx([1, 1])


def test_combined_load_is_hankinsons():
    """Along one way alone the share is load over strength; at 45 deg 2 W Z/(W + Z) is carried."""
    out, aside = 500.0, 800.0
    assert combined_share(100, 0, out, aside) == pytest.approx(0.2)
    assert combined_share(0, -100, out, aside) == pytest.approx(0.125)
    assert combined_share(-50, 100, out, aside) == pytest.approx(0.125)
    assert combined_share(0, 0, out, aside) == 0
    carried = 2 * out * aside / (out + aside)
    each = carried / np.sqrt(2)
    assert combined_share(each, each, out, aside) == pytest.approx(1)
    turned = np.linspace(0, np.pi / 2, 50)
    shares = combined_share(100 * np.sin(turned), 100 * np.cos(turned), out, aside)
    assert np.all(np.diff(shares) > 0)


def test_head_and_washer():
    """690 pi D G^2 t [lb, in] stops growing at 2.5 heads; a washer's ring by hand."""
    head = 0.3 * inch
    assert pull_through(0.5, head, 0.5 * inch) / lbf == pytest.approx(
        690 * np.pi * 0.3 * 0.25 * 0.5
    )
    assert pull_through(0.5, head, 0.75 * inch) == pytest.approx(pull_through(0.5, head, inch))
    ring = np.pi / 4 * (20**2 - 9**2)
    assert washer_pressure(1000, 20e-3, 9e-3) / 1e6 == pytest.approx(1000 / ring)


FIR, MDF, PLY = wood("Douglas fir"), wood("MDF", 0.018), wood("birch plywood")
SIZE = 4e-3, 30e-3, 30e-3


def test_reductions_by_grain():
    """End grain holds nothing that is pulled (Hicks); aside 0.67 of it (NDS, from memory)."""
    side, end = (screw_strength(FIR, face, *SIZE, "long") for face in (Face.EDGE, Face.END))
    assert side.withdrawal == pytest.approx(allowed_withdrawal(0.48, *SIZE[:2]))
    assert side.lateral == pytest.approx(allowed_lateral(3240 * psi, 4e-3))
    assert end.withdrawal == 0
    assert end.lateral == pytest.approx(0.67 * side.lateral)
    ply, edge = (screw_strength(PLY, face, *SIZE, "long") for face in (Face.FACE, Face.EDGE))
    assert (edge.withdrawal, edge.lateral) == pytest.approx(
        (0.5 * ply.withdrawal, 0.5 * ply.lateral)
    )
    assert edge.sure == "estimate"


def test_screws_in_panels_keep_a_factor():
    """Of the published ultimate pull at most a fifth; under a load that stays, less yet."""
    deep = min(30e-3, fact("panel", "depth").value)
    for face, ultimate in ((Face.FACE, panel_face_withdrawal), (Face.EDGE, panel_edge_withdrawal)):
        tests = ultimate(0.70, 4e-3, deep)
        short, stays = (screw_strength(MDF, face, *SIZE, one) for one in ("short", "permanent"))
        assert short.withdrawal == pytest.approx(tests / 5)
        assert stays.withdrawal == pytest.approx(tests * 0.20 / 1.3)
    # Least of the standard for MDF (IS 14587, read in print): 1500 N in the face, 1250 N in the
    # edge; the formula's screw of that test, 4.2 mm and 12 mm deep or more, is of the same size.
    assert panel_face_withdrawal(0.70, 4.2e-3, 16e-3) == pytest.approx(1500, rel=0.3)
    assert panel_edge_withdrawal(0.70, 4.2e-3, 16e-3) == pytest.approx(1250, rel=0.3)


@pytest.mark.parametrize("board", ["red oak", "spruce", "plywood", "MDF", "particleboard", "OSB"])
def test_longer_loads_are_never_allowed_more(board):
    for face in Face:
        found = [screw_strength(wood(board), face, *SIZE, one) for one in DURATIONS]
        for key in ("withdrawal", "lateral"):
            values = [getattr(one, key) for one in found]
            assert values == sorted(values)
            assert all(value >= 0 for value in values)
