"""Roots of functions of an angle, many at a time, without scipy's start-up time."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

__all__ = ["bracketed_roots", "roots_between_nodes"]

Array = NDArray[np.float64]
Function = Callable[[Array], Array]

_MOST_STEPS = 120
_EPS = float(np.finfo(float).eps)
# Angle [rad] below which a root is as good as found: far below what sines and cosines resolve, and
# without it a root at 0 would take all steps.
_FLOOR = 1e-17


def bracketed_roots(function: Function, low: Array, high: Array) -> Array:
    """Root of ``function`` in each bracket [low, high], to rounding.

    Parameters
    ----------
    function : callable
        Takes and returns an array of the brackets' shape, elementwise.
    low, high : ndarray [rad]
        Ends of the brackets; the function's signs at the two ends differ, or one is zero.

    Returns
    -------
    ndarray [rad]
        The roots.

    Notes
    -----
    Bisection mixed with inverse quadratic interpolation after T. R. Chandrupatla, "A new
    hybrid quadratic/bisection algorithm for finding the zero of a nonlinear function without
    using derivatives", Advances in Engineering Software 28 (1997) 145-149.
    """
    # x1 and x2 bracket the root (x1 the latest), x3 is the point that was dropped last.
    x1, x2 = np.array(high, dtype=float), np.array(low, dtype=float)
    f1, f2 = function(x1), function(x2)
    x3, f3 = x1.copy(), f1.copy()
    fraction = np.full_like(x1, 0.5)
    best = np.where(np.abs(f2) < np.abs(f1), x2, x1)
    for _ in range(_MOST_STEPS):
        x = x1 + fraction * (x2 - x1)
        f = function(x)
        same = np.sign(f) == np.sign(f1)
        x3, f3 = np.where(same, x1, x2), np.where(same, f1, f2)
        x2, f2 = np.where(same, x2, x1), np.where(same, f2, f1)
        x1, f1 = x, f
        nearer = np.abs(f2) < np.abs(f1)
        best = np.where(nearer, x2, x1)
        width = np.abs(x2 - x1)
        tolerance = 2.0 * _EPS * np.abs(best) + _FLOOR
        done = (width <= 2.0 * tolerance) | (f1 == 0) | (f2 == 0)
        if np.all(done):
            break
        fraction = _next_fraction((x1, x2, x3), (f1, f2, f3), width, tolerance)
    return best


def _next_fraction(
    x: tuple[Array, Array, Array], f: tuple[Array, Array, Array], width: Array, tolerance: Array
) -> Array:
    """Where to step between x1 and x2: by inverse quadratics where that is sound, else half."""
    x1, x2, x3 = x
    f1, f2, f3 = f
    with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
        xi = (x1 - x2) / (x3 - x2)
        ratio = (f1 - f2) / (f3 - f2)
        sound = (ratio**2 < xi) & ((1.0 - ratio) ** 2 < 1.0 - xi)
        quadratic = f1 / (f2 - f1) * f3 / (f2 - f3) + (x3 - x1) / (x2 - x1) * f1 / (
            f3 - f1
        ) * f2 / (f3 - f2)
        margin = np.minimum(0.5, np.where(width > 0, tolerance / width, 0.5))
    step = np.where(sound & np.isfinite(quadratic), quadratic, 0.5)
    return np.clip(step, margin, 1.0 - margin)


def roots_between_nodes(function: Callable[..., Array], nodes: Array, values: Array) -> Array:
    """All sign changes of functions that were sampled at increasing nodes, in order.

    Parameters
    ----------
    function : callable
        Takes places, and for functions in rows the row of each place; returns their values.
    nodes : ndarray [any unit]
        Where they were sampled, shape (n,), or that of ``values``.
    values : ndarray [any unit]
        What they were there, shape (n,), or (rows, n) for many functions. NaN on either side is
        no sign change.

    Returns
    -------
    ndarray
        The roots, increasing, shape (r,) or (rows, r), NaN where a row has fewer; a pair that lies
        between two neighbouring nodes is missed.
    """
    sign = np.sign(values)
    left, right = sign[..., :-1], sign[..., 1:]
    changes = (left * right < 0) | ((right == 0) & (left != 0))
    changes[..., 0] |= (left[..., 0] == 0) & (right[..., 0] != 0)
    *rows, at = np.nonzero(changes)
    if at.size == 0:
        return np.full((*values.shape[:-1], 0), np.nan)
    nodes = np.broadcast_to(nodes, values.shape)
    low, high = (*rows, at), (*rows, at + 1)
    found = bracketed_roots(lambda x: function(x, *rows), nodes[low], nodes[high])
    found = np.where(values[low] == 0, nodes[low], found)
    found = np.where(values[high] == 0, nodes[high], found)
    if not rows:
        return found
    (row,) = rows
    number = np.arange(row.size) - np.searchsorted(row, row)
    roots = np.full((len(values), int(number.max()) + 1), np.nan)
    roots[row, number] = found
    return roots
