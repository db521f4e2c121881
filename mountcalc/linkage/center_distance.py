"""Centre distance from an open belt's length: the exact inverse, and the published approximate one.

Both take arrays that broadcast, in any unit of length as long as it is one.

Symbols
-------
length : belt length L along the pitch line, not below :func:`least_length` [m]
motor_radius : pitch radius r of one pulley, above zero [m]
driven_radius : pitch radius R of the other, above zero [m]
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mountcalc.linkage import kernels
from mountcalc.thresholds import EPS

Array = NDArray[np.float64]

# The length of the last position agrees with the wanted one to this many roundings.
_ROUNDINGS = 4
# Pulleys a million times unlike each other need twenty steps, those of a shop three to six.
_MOST_STEPS = 60


def least_length(motor_radius: ArrayLike, driven_radius: ArrayLike) -> Array:
    """Length of the open belt [m] at which the two pulleys would touch: that at C = r + R.

    Shigley, Machine Design, Eq. 17-2. ValueError where a radius is not a number above zero.
    """
    r, big_r = _positive("radius", motor_radius), _positive("radius", driven_radius)
    return kernels.open_belt(r + big_r, r, big_r).length


def center_distance(length: ArrayLike, motor_radius: ArrayLike, driven_radius: ArrayLike) -> Array:
    """Centre distance at which an open belt of a length is just taut, exact to rounding.

    Newton's method on the exact length L(C) from the published approximate inverse. L is convex
    and rises with C, so from the first step on it comes down to the root.

    C with 2 sqrt(C^2 - (R - r)^2) + pi (R + r) + 2 (R - r) asin((R - r)/C) = L (Shigley, Machine
    Design, Eq. 17-2). A rounding of L moves it by 1/(2 cos beta) of that. ValueError where an
    argument is not a number above zero, or a length is so short that the pulleys would overlap;
    the text names the least length.
    """
    path, r, big_r = _checked(length, motor_radius, driven_radius)
    nearest = r + big_r
    result: Array = np.maximum(_approximate(path, r, big_r), nearest)
    for _ in range(_MOST_STEPS):
        belt = kernels.open_belt(result, r, big_r)
        excess = belt.length - path
        # A rounding below the touching position, the belt would have no free span.
        result = np.maximum(result - excess / belt.length_slope, nearest)
        if np.all(np.abs(excess) <= _ROUNDINGS * EPS * path):
            return result
    raise ArithmeticError("the centre distance did not settle")  # pragma: no cover (convex)


def approximate_center_distance(
    length: ArrayLike, motor_radius: ArrayLike, driven_radius: ArrayLike
) -> Array:
    """Centre distance of an open belt [m] by the published closed form; checks as above.

    C = (k + sqrt(k^2 - 2 (D - d)^2))/4 with k = L - pi (D + d)/2 (Shigley, Machine Design,
    Eq. 17-16b; Mott, Machine Elements, Eq. 7-4). It inverts L = 2 C + pi (D + d)/2 +
    (D - d)^2/(4 C), which falls short of the exact length by (D - d)^4/(192 C^3) and a
    little more, so C comes out too large. Its root is real wherever the pulleys are apart.
    """
    return _approximate(*_checked(length, motor_radius, driven_radius))


def _approximate(path: Array, r: Array, big_r: Array) -> Array:
    free = path - np.pi * (big_r + r)
    result: Array = 0.25 * (free + np.sqrt(free**2 - 8.0 * (big_r - r) ** 2))
    return result


def _positive(name: str, values: ArrayLike) -> Array:
    array = np.asarray(values, dtype=float)
    wrong = ~(np.isfinite(array) & (array > 0.0))
    if np.any(wrong):
        raise ValueError(f"a {name} of {array[wrong].flat[0]} is not a number above zero")
    return array


def _checked(
    length: ArrayLike, motor_radius: ArrayLike, driven_radius: ArrayLike
) -> tuple[Array, ...]:
    """Length and radii as arrays of one shape, with pulleys that are apart."""
    path, r, big_r = np.broadcast_arrays(
        _positive("length", length),
        _positive("radius", motor_radius),
        _positive("radius", driven_radius),
    )
    least = kernels.open_belt(r + big_r, r, big_r).length
    short = path < least * (1.0 - _ROUNDINGS * EPS)
    if np.any(short):
        raise ValueError(
            f"a belt of {path[short].flat[0]:.6g} is too short: the pulleys would overlap below "
            f"{least[short].flat[0]:.6g}"
        )
    return path, r, big_r
