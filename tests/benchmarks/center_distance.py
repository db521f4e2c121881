"""A million centre distances from lengths, against a loop over a general root finder.

Run on demand: ``python tests/benchmarks/center_distance.py``. Best of several rounds; the loop is
timed on a sample, and the ratio is of the times for one.
"""

import time

import numpy as np
from scipy.optimize import brentq

from mountcalc.linkage import kernels
from mountcalc.linkage.center_distance import center_distance

POINTS = 1_000_000
SAMPLE = 1_000
ROUNDS = 5


def by_root_finder(length, r, big_r):
    """The textbook's formula, and scipy's bracketing root finder to the last bits."""

    def excess(distance):
        return (
            2 * np.sqrt(distance**2 - (big_r - r) ** 2)
            + np.pi * (big_r + r)
            + 2 * (big_r - r) * np.arcsin((big_r - r) / distance)
            - length
        )

    return brentq(excess, r + big_r, length, xtol=1e-14, rtol=4 * np.finfo(float).eps)


def seconds(function):
    start = time.perf_counter()
    result = function()
    return time.perf_counter() - start, result


def main():
    random = np.random.default_rng(1)
    r, big_r = 0.5 * np.exp(random.uniform(np.log(0.05), np.log(0.8), (2, POINTS)))
    distance = 1.05 * (r + big_r) + random.uniform(0, 3, POINTS)
    length = kernels.open_belt(distance, r, big_r).length
    sample = [(length[i], r[i], big_r[i]) for i in range(SAMPLE)]
    arrays = min(
        (seconds(lambda: center_distance(length, r, big_r)) for _ in range(ROUNDS)),
        key=lambda timed: timed[0],
    )
    loop = min(
        (seconds(lambda: [by_root_finder(*one) for one in sample]) for _ in range(ROUNDS)),
        key=lambda timed: timed[0],
    )
    np.testing.assert_allclose(arrays[1], distance, rtol=0, atol=1e-12)
    np.testing.assert_allclose(loop[1], distance[:SAMPLE], rtol=0, atol=1e-12)
    each = arrays[0] / POINTS, loop[0] / SAMPLE
    print(f"center_distance {each[0] * 1e6:.3f} us each ({arrays[0]:.2f} s for all)")
    print(f"loop            {each[1] * 1e6:.3f} us each   ratio {each[1] / each[0]:.0f}")


if __name__ == "__main__":
    main()
