"""Bodies that are drawn as upright rectangles, and what is seen of their edges."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import shapely

from mountcalc.drafting.dimensions import HeightScale, zigzag
from mountcalc.drafting.items import Item, Layer, Path, Point

__all__ = ["Body", "seen"]

_WITHIN = 1e-7  # [m] what only touches a body is not behind it
_FAR = 1e3  # [m] past all that is drawn


@dataclass(frozen=True, slots=True)
class Body:
    """Something whose picture is an upright rectangle [m].

    Attributes
    ----------
    ends : (float, float) [m]
        Left and right, in either order.
    levels : (float, float) [m]
        Its true heights, in either order.
    layer : Layer
        Of its edges where nothing stands before them.
    broken : tuple of float [m]
        Those of its ends at which it goes on, and is broken off.
    is_long : bool
        Whether it may be broken between its levels.
    """

    ends: tuple[float, float]
    levels: tuple[float, float]
    layer: Layer = Layer.VISIBLE
    broken: tuple[float, ...] = ()
    is_long: bool = False

    @property
    def shape(self) -> shapely.Polygon:
        """What it covers."""
        return shapely.box(min(self.ends), min(self.levels), max(self.ends), max(self.levels))

    @property
    def edges(self) -> shapely.MultiLineString:
        """Its edges, none where it is broken off."""
        left, bottom, right, top = self.shape.bounds
        level = [((left, at), (right, at)) for at in (bottom, top)]
        upright = [((at, bottom), (at, top)) for at in (left, right) if at not in self.broken]
        return shapely.MultiLineString([*level, *upright])


def seen(
    cut: Sequence[Body], others: Sequence[Body], heights: HeightScale, scale: float
) -> tuple[Item, ...]:
    """Draw bodies that are cut and bodies that stand behind or before them."""
    before = shapely.union_all([body.shape for body in cut])
    solid = shapely.union_all([edges for _, edges in _in_order(cut, heights)])
    items: list[Item] = []
    for body, edges in _in_order(cut, heights):
        items += _lines(edges, body.layer, heights)
    for body, edges in _in_order(others, heights):
        items += _lines(edges.difference(before), body.layer, heights)
        covered = edges.intersection(before.buffer(-_WITHIN)).difference(solid)
        items += _lines(covered, Layer.EDGE, heights)
    for body in (*cut, *others):
        low, high = sorted(heights.drawn(level) for level in body.levels)
        items += [zigzag((at, low), (at, high), scale, count=1) for at in body.broken]
    return tuple(items)


def _in_order(
    bodies: Sequence[Body], heights: HeightScale
) -> Iterator[tuple[Body, shapely.Geometry]]:
    """Each body with what those before it leave of its edges."""
    nearer: shapely.Geometry = shapely.Polygon()
    for body in bodies:
        yield body, _unbroken(body.edges.difference(nearer), heights)
        nearer = nearer.union(body.shape)


def _unbroken(edges: shapely.Geometry, heights: HeightScale) -> shapely.Geometry:
    """What is left of edges outside the breaks."""
    left_out = [shapely.box(-_FAR, one.low, _FAR, one.high) for one in heights.breaks]
    return edges.difference(shapely.union_all(left_out))


def _lines(edges: shapely.Geometry, layer: Layer, heights: HeightScale) -> Iterator[Path]:
    """Edges as items, joined end to end."""
    merged = shapely.line_merge(
        shapely.union_all(
            [one for one in shapely.get_parts(edges) if isinstance(one, shapely.LineString)]
        )
    )
    for one in shapely.get_parts(merged):
        points: list[Point] = [(x, heights.drawn(y)) for x, y in one.coords]
        closed = one.is_closed
        if points:
            yield Path(tuple(points[:-1] if closed else points), closed=closed, layer=layer)
