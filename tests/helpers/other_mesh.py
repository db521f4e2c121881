"""Reynolds' equation once more, by other means, to check the package's solution.

Even steps in the angle itself and along the bearing, the whole length without its symmetry,
Vogelpohl's unknown p h^(3/2), point by point over-relaxation with the pressure cut off at zero
(Christopherson). Nothing of the package is used.
"""

from __future__ import annotations

from typing import NamedTuple

import numpy as np


class Solution(NamedTuple):
    sommerfeld: float
    attitude: float
    friction: float
    flow: float
    side_share: float
    pressure_ratio: float


def solve(ratio: float, eps: float, around: int = 240, along: int = 48) -> Solution:
    """``ratio`` is L/D, ``eps`` the eccentricity ratio."""
    step, pitch = 2 * np.pi / around, 2 * ratio / along
    theta = np.linspace(0, 2 * np.pi, around + 1)[:, None]
    film = 1 + eps * np.cos(theta)
    # (h^3 p')' = h^(3/2) (u'' - g u) for u = p h^(3/2), with g = (h^(3/2))'' / h^(3/2).
    bend = (0.75 * (eps * np.sin(theta)) ** 2 / film - 1.5 * eps * np.cos(theta)) / film
    source = -6 * eps * np.sin(theta) / film**1.5
    pressure = relax(bend, source, (around, along), (step, pitch)) / film**1.5
    return numbers(ratio, eps, theta, pressure)


def relax(bend, source, cells, steps, sweeps=4000):
    around, along = cells
    unknown = np.zeros((around + 1, along + 1))
    west, south = 1 / steps[0] ** 2, 1 / steps[1] ** 2
    middle = 2 * west + 2 * south + bend
    # Red and black points in turn; the factor is near the best one of the plain Laplacian.
    radius = 1 - 2 * (west * (np.pi / around) ** 2 + south * (np.pi / along) ** 2) / (
        4 * (west + south)
    )
    factor = 2 / (1 + np.sqrt(1 - radius**2))
    rows, columns = np.indices(unknown.shape)
    inner = (rows > 0) & (rows < around) & (columns > 0) & (columns < along)
    colours = [inner & ((rows + columns) % 2 == colour) for colour in (0, 1)]
    wide_middle, wide_source = (np.broadcast_to(each, unknown.shape) for each in (middle, source))
    for _ in range(sweeps):
        before = unknown.copy()
        for colour in colours:
            near = west * (np.roll(unknown, 1, 0) + np.roll(unknown, -1, 0)) + south * (
                np.roll(unknown, 1, 1) + np.roll(unknown, -1, 1)
            )
            wanted = (near - wide_source)[colour] / wide_middle[colour]
            there = unknown[colour]
            unknown[colour] = np.maximum(there + factor * (wanted - there), 0)
        if np.max(np.abs(unknown - before)) < 1e-9 * np.max(unknown):
            return unknown
    raise AssertionError("over-relaxation did not settle")


def numbers(ratio, eps, theta, pressure) -> Solution:
    around, along = (count - 1 for count in pressure.shape)
    step, pitch = 2 * np.pi / around, 2 * ratio / along
    film = 1 + eps * np.cos(theta)
    radial = -np.sum(pressure * np.cos(theta)) * step * pitch
    across = np.sum(pressure * np.sin(theta)) * step * pitch
    projected = np.hypot(radial, across) / (4 * ratio)
    # Shear of the whole ring, that of Couette and of the pressure, not by its closed form.
    gradient = np.gradient(pressure, step, axis=0)
    shear = np.sum((1 / film)[:-1]) * step * 2 * ratio
    shear += np.sum(0.5 * film * gradient) * step * pitch
    # Inflow by three points, at theta = 0; outflow where the film ends, by what is left of it.
    rise = (4 * pressure[1] - pressure[2]) / (2 * step)
    drawn = np.mean((film[0] - film[0] ** 3 * rise / 6)[:-1])
    fall = (4 * pressure[:, 1] - pressure[:, 2]) / (2 * pitch)
    side = np.sum(film[:, 0] ** 3 * fall) * step / 6 * 2 / (2 * ratio)
    return Solution(
        sommerfeld=1 / (2 * np.pi * projected),
        attitude=np.arctan2(across, radial),
        friction=shear / (4 * ratio * projected),
        flow=np.pi * drawn,
        side_share=side / drawn,
        pressure_ratio=projected / np.max(pressure),
    )
