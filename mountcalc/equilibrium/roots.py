"""Roots of functions of an angle, many at a time, without scipy's start-up time.

Symbols
-------
function : takes and returns an array of the brackets' shape, elementwise; of nodes also the row
    of each place, where functions are in rows
low, high : ends of the brackets, at which the function's signs differ, or one is zero [any unit]
near : a root is as good as found when its bracket is so narrow, or a rounding of it [any unit]
start : where to step from, in the bracket [any unit]
slope : about that of the function at the start, of its sign [any unit]
nodes : increasing places at which functions were sampled, (n,) or the shape of values [any unit]
values : what they were there, (n,) or (rows, n); NaN on either side is no change [any unit]
"""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from mountcalc.thresholds import EPS

Array = NDArray[np.float64]
Function = Callable[[Array], Array]

_MOST_STEPS = 120
# Steps by slopes before what has not settled is bracketed, and a last step: each is of the order of
# the square of the one before.
_QUICK_STEPS, _LAST_STEP = 8, 1e-10
NEAR = 1e-15
"""[rad] Below what sums of sines and cosines resolve: steps inside it are spent on rounding."""


def bracketed_roots(function: Function, low: Array, high: Array, near: float = NEAR) -> Array:
    """Root of a function in each bracket.

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
    with np.errstate(divide="ignore", invalid="ignore"):
        secant = f1 / (f1 - f2)
    fraction = np.where(np.isfinite(secant), np.clip(secant, 0.05, 0.95), 0.5)
    best = np.where(np.abs(f2) < np.abs(f1), x2, x1)
    for _ in range(_MOST_STEPS):
        x = x1 + fraction * (x2 - x1)
        f = function(x)
        same = np.sign(f) == np.sign(f1)
        x3, f3 = np.where(same, x1, x2), np.where(same, f1, f2)
        x2, f2 = np.where(same, x2, x1), np.where(same, f2, f1)
        x1, f1 = x, f
        best = np.where(np.abs(f2) < np.abs(f1), x2, x1)
        width = np.abs(x2 - x1)
        tolerance = 2.0 * EPS * np.abs(best) + 0.5 * near
        if np.all((width <= 2.0 * tolerance) | (f1 == 0) | (f2 == 0)):
            break
        # Between x1 and x2: by inverse quadratics where that is sound, else half.
        with np.errstate(divide="ignore", invalid="ignore", over="ignore"):
            xi = (x1 - x2) / (x3 - x2)
            ratio = (f1 - f2) / (f3 - f2)
            sound = (ratio**2 < xi) & ((1.0 - ratio) ** 2 < 1.0 - xi)
            of_x2, of_x3 = f1 / (f2 - f1) * f3 / (f2 - f3), f1 / (f3 - f1) * f2 / (f3 - f2)
            quadratic = of_x2 + (x3 - x1) / (x2 - x1) * of_x3
            margin = np.minimum(0.5, np.where(width > 0, tolerance / width, 0.5))
        step = np.where(sound & np.isfinite(quadratic), quadratic, 0.5)
        fraction = np.clip(step, margin, 1.0 - margin)
    return best


def stepped_roots(
    function: Callable[[Array], tuple[Array, Array]], start: Array, low: Array, high: Array
) -> Array:
    """Root in each bracket of a monotonic function that gives its slope, too: by Newton's steps.

    What has not settled after a few is bracketed.
    """
    x = start
    for _ in range(_QUICK_STEPS):
        value, slope = function(x)
        with np.errstate(divide="ignore", invalid="ignore"):
            new = np.clip(x - value / slope, low, high)
        moved, x = np.abs(new - x), new
        if np.all(moved <= _LAST_STEP):
            return x
    return bracketed_roots(lambda at: function(at)[0], low, high)


def chased_roots(function: Function, start: Array, slope: Array, low: Array, high: Array) -> Array:
    """Root in each bracket of a monotonic function from near it: by secants, the first one given.

    What has not settled after a few is bracketed.
    """
    x, value = start, function(start)
    for _ in range(_QUICK_STEPS):
        with np.errstate(divide="ignore", invalid="ignore"):
            new = np.clip(x - value / slope, low, high)
            new = np.where(value == 0, x, new)
            moved = new - x
            if np.all(np.abs(moved) <= _LAST_STEP):
                return new
            after = function(new)
            slope = np.where(np.abs(moved) > _LAST_STEP, (after - value) / moved, slope)
        x, value = new, after
    return bracketed_roots(function, low, high)


def roots_between_nodes(function: Callable[..., Array], nodes: Array, values: Array) -> Array:
    """All sign changes of functions that were sampled at increasing nodes, in order.

    The roots increase, shape (r,) or (rows, r), NaN where a row has fewer; a pair that lies
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
