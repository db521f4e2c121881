"""Stiffness of a board's section against Saint-Venant's series and a strip of layers."""

import numpy as np
import pytest

from mountcalc.formulas.section import bending_stiffness, torsion_constant


def saint_venant(width, thickness):
    """Torsion constant of a rectangle by its series (Timoshenko and Goodier, Theory of Elasticity,
    art. 109; from memory)."""
    odd = np.arange(1, 400, 2)
    series = np.sum(np.tanh(odd * np.pi * width / (2 * thickness)) / odd**5)
    return width * thickness**3 / 3 * (1 - 192 / np.pi**5 * thickness / width * series)


@pytest.mark.parametrize("ratio", [1.0, 1.2, 1.5, 2.0, 3.0, 5.0, 10.0, 40.0])
def test_torsion_constant_is_that_of_the_series(ratio):
    assert torsion_constant(ratio * 0.02, 0.02) == pytest.approx(
        saint_venant(ratio * 0.02, 0.02), rel=0.005
    )


def test_a_square_bar_has_the_tabulated_constant():
    """0.1406 a^4 (any table of torsion)."""
    assert torsion_constant(0.03, 0.03) == pytest.approx(0.1406 * 0.03**4, rel=0.005)


def test_bending_stiffness_is_that_of_thin_layers_added_up():
    edges = np.linspace(-0.009, 0.009, 20_001)
    middles, thick = (edges[1:] + edges[:-1]) / 2, np.diff(edges)
    added = 8e9 * 0.2 * np.sum(middles**2 * thick)
    assert bending_stiffness(8e9, 0.2, 0.018) == pytest.approx(added, rel=1e-6)


def test_scales():
    """Lengths times two: 16 times; arrays as numbers."""
    assert torsion_constant(0.4, 0.04) == pytest.approx(16 * torsion_constant(0.2, 0.02))
    many = torsion_constant(np.array([0.1, 0.2]), 0.02)
    assert many == pytest.approx([torsion_constant(0.1, 0.02), torsion_constant(0.2, 0.02)])
