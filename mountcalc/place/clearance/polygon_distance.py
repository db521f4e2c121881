"""How far many small convex shapes are from one polygon, in numpy."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

__all__ = ["distances", "point_to_segment"]

Array = NDArray[np.float64]

_A_SURFACE = 3  # corners from which on a shape has an inside


def distances(corners: Array, polygon: Array) -> Array:
    """Distance of convex shapes from a polygon.

    Notes
    -----
    Two outlines that do not cross are nearest at a corner of one of them; shapes whose outlines
    do not cross overlap only if one lies in the other, and then with all its corners.
    """
    shapes = corners.reshape(-1, *corners.shape[-2:])
    starts, ends = _edges(shapes)
    others = np.roll(polygon, -1, axis=0)
    squared = point_to_segment(shapes[:, :, None], polygon, others).min(axis=(1, 2))
    overlap = _inside(shapes[:, 0], polygon)
    if shapes.shape[1] > 1:
        from_corners = point_to_segment(polygon, starts[:, :, None], ends[:, :, None])
        squared = np.minimum(squared, from_corners.min(axis=(1, 2)))
        overlap = overlap | _cross(starts, ends, polygon, others)
    if shapes.shape[1] >= _A_SURFACE:
        overlap = overlap | _in_convex(polygon[0], starts, ends)
    result: Array = np.where(overlap, 0.0, np.sqrt(squared)).reshape(corners.shape[:-2])
    return result


def _edges(shapes: Array) -> tuple[Array, Array]:
    """Start and end of each edge; a segment has one, a point none of its own."""
    if shapes.shape[1] < _A_SURFACE:
        return shapes[:, :1], shapes[:, -1:]
    return shapes, np.roll(shapes, -1, axis=1)


def point_to_segment(point: Array, start: Array, end: Array) -> Array:
    """Squared distance of points from segments."""
    ax, ay = end[..., 0] - start[..., 0], end[..., 1] - start[..., 1]
    px, py = point[..., 0] - start[..., 0], point[..., 1] - start[..., 1]
    along = ax * ax + ay * ay
    share = np.clip((px * ax + py * ay) / np.where(along > 0, along, 1.0), 0.0, 1.0)
    dx, dy = px - share * ax, py - share * ay
    result: Array = dx * dx + dy * dy
    return result


def _turn(a: Array, b: Array, c: Array) -> Array:
    """Twice the area of a triangle, positive where it runs counter-clockwise."""
    result: Array = (b[..., 0] - a[..., 0]) * (c[..., 1] - a[..., 1]) - (b[..., 1] - a[..., 1]) * (
        c[..., 0] - a[..., 0]
    )
    return result


def _cross(starts: Array, ends: Array, polygon: Array, others: Array) -> NDArray[np.bool_]:
    """Whether any edge of a shape crosses an edge of the polygon."""
    a, b = starts[:, :, None], ends[:, :, None]
    apart_for_edge = _turn(a, b, polygon) * _turn(a, b, others) < 0
    apart_for_other = _turn(polygon, others, a) * _turn(polygon, others, b) < 0
    result: NDArray[np.bool_] = np.any(apart_for_edge & apart_for_other, axis=(1, 2))
    return result


def _inside(points: Array, polygon: Array) -> NDArray[np.bool_]:
    """Whether points lie in the polygon: a ray to the right meets its outline an odd time."""
    x, y = points[:, :1], points[:, 1:]
    ends = np.roll(polygon, -1, axis=0)
    straddles = (polygon[:, 1] > y) != (ends[:, 1] > y)
    rise = np.where(straddles, ends[:, 1] - polygon[:, 1], 1.0)
    meets = polygon[:, 0] + (y - polygon[:, 1]) * (ends[:, 0] - polygon[:, 0]) / rise
    result: NDArray[np.bool_] = np.sum(straddles & (x < meets), axis=1) % 2 == 1
    return result


def _in_convex(point: Array, starts: Array, ends: Array) -> NDArray[np.bool_]:
    """Whether a point lies in convex shapes, whichever way round their corners run."""
    sides = _turn(starts, ends, point)
    result: NDArray[np.bool_] = np.logical_or(np.all(sides > 0, axis=1), np.all(sides < 0, axis=1))
    return result
