"""The belt's path against the outline of two discs' convex hull, by shapely."""

import numpy as np
import pytest
from drives import Drive, random_drives
from shapely import Point, union_all

from mountcalc.linkage import kernels

QUARTER = 256  # corners in a quarter of a circle


def hull_length(drive, quarter):
    discs = [
        Point(*center).buffer(radius, quad_segs=quarter)
        for center, radius in (
            (drive.motor_now, drive.motor_radius),
            (drive.driven, drive.driven_radius),
        )
    ]
    return union_all(discs).convex_hull.length


def most_lost(radius, quarter):
    """The most by which polygons in place of discs shorten the outline of their hull.

    A polygon of 4 q corners holds the disc of radius r cos(pi/4q). The hull of the discs lies
    within that of the smaller ones widened by r (1 - cos(pi/4q)), which lengthens an outline
    by 2 pi times as much.
    """
    return 2 * np.pi * radius * (1 - np.cos(np.pi / (4 * quarter)))


def check(drive, quarter):
    path = kernels.belt_path(*drive.kernel_arguments)
    lost = path.length - hull_length(drive, quarter)
    largest = max(drive.motor_radius, drive.driven_radius)
    rounding = 1e-12 * path.length
    assert -rounding <= lost <= most_lost(largest, quarter) + rounding


def test_random_drives():
    for drive in random_drives():
        check(drive, QUARTER)


def test_equal_pulleys():
    origin = np.zeros(2)
    check(Drive(origin, np.array([0.3, -0.1]), np.array([-0.5, 0.2]), 0.1, 0.1, 0.2), QUARTER)


def test_regression_of_an_outline():
    """Radii 4 and 1.25, centres 14.2 apart, 4096 corners to a quarter circle: our own figures."""
    drive = Drive(np.array([0.0, -9.0]), np.array([14.2, 0.0]), np.zeros(2), 1.25, 4.0, 0.0)
    assert hull_length(drive, 4096) == pytest.approx(45.427615297, abs=1e-9)
    path = kernels.belt_path(*drive.kernel_arguments)
    assert path.length == pytest.approx(45.427615405, abs=1e-9)
    check(drive, 4096)
