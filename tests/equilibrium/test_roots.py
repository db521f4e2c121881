"""Roots, against functions whose roots are known and against scipy."""

import numpy as np
import pytest
from scipy.optimize import brentq

from mountcalc.equilibrium.roots import bracketed_roots, roots_between_nodes


def test_many_roots_at_once_to_rounding():
    wanted = np.linspace(-2.0, 2.0, 41)
    roots = bracketed_roots(lambda x: np.sinh(x - wanted), wanted - 1.7, wanted + 0.4)
    assert roots == pytest.approx(wanted, abs=1e-15)


def test_root_at_an_end_of_the_bracket():
    roots = bracketed_roots(lambda x: x, np.array([0.0, -1.0]), np.array([1.0, 0.0]))
    assert roots == pytest.approx([0.0, 0.0], abs=1e-300)


@pytest.mark.parametrize(
    "function", [lambda x: x**3 - 2 * x - 5, lambda x: np.cos(x) - x + 1.9, lambda x: x**9 - 1e-3]
)
def test_agrees_with_scipy(function):
    low, high = 0.0, 3.0
    ours = bracketed_roots(function, np.array([low]), np.array([high]))[0]
    assert ours == pytest.approx(brentq(function, low, high, xtol=1e-15), abs=4e-15)


def test_kinks_and_steep_corners_are_no_trouble():
    corner = bracketed_roots(
        lambda x: np.maximum(x - 0.3, 0.0) * 1e9 - 1e-3, np.array([-1.0]), np.array([1.0])
    )
    assert corner == pytest.approx(0.3 + 1e-12, abs=1e-15)


def test_few_evaluations_are_needed():
    count = 0

    def counted(x):
        nonlocal count
        count += 1
        return np.exp(x) - 2.0

    bracketed_roots(counted, np.array([0.0]), np.array([1.0]))
    assert count < 20


def test_roots_are_sign_changes_and_exact_zeros_but_not_gaps():
    values = np.array([1.0, -1.0, -2.0, 0.0, 3.0, np.nan, -1.0])
    nodes = np.arange(values.size, dtype=float)
    roots = roots_between_nodes(lambda x: np.interp(x, nodes, values), nodes, values)
    assert roots == pytest.approx([0.5, 3.0])


def test_a_root_at_either_end_is_one():
    nodes = np.linspace(0.0, 1.0, 5)
    for function, root in ((lambda x: x, 0.0), (lambda x: 1.0 - x, 1.0)):
        assert roots_between_nodes(function, nodes, function(nodes)) == pytest.approx([root])


def test_rows_of_functions_have_each_their_own_roots():
    nodes, factor = np.linspace(0.1, 9.9, 50), np.array([1.0, 0.5, 0.01])

    def function(x, *rows):
        return np.sin(factor[rows] * x)

    values = np.sin(factor[:, np.newaxis] * nodes)
    roots = roots_between_nodes(function, nodes, values)
    assert roots[0] == pytest.approx([np.pi, 2 * np.pi, 3 * np.pi])
    assert roots[1] == pytest.approx([2 * np.pi, np.nan, np.nan], nan_ok=True)
    assert np.all(np.isnan(roots[2]))


def test_roots_between_nodes_are_in_order():
    nodes = np.linspace(0.1, 9.9, 50)
    roots = roots_between_nodes(np.sin, nodes, np.sin(nodes))
    assert roots == pytest.approx([np.pi, 2 * np.pi, 3 * np.pi])
    assert roots_between_nodes(np.cosh, nodes, np.cosh(nodes)).size == 0
