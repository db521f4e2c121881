"""Bodies that are drawn as upright rectangles, and what is seen of their edges."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import shapely

from mountcalc.drafting.break_lines import zigzag
from mountcalc.drafting.height_scale import HeightScale
from mountcalc.drafting.model import Ink, Item, Path, Point

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
    ink : Ink
        Of its edges where nothing stands before them.
    broken : tuple of float [m]
        Those of its ends at which it goes on, and is broken off.
    is_long : bool
        Whether it may be broken between its levels.
    """

    ends: tuple[float, float]
    levels: tuple[float, float]
    ink: Ink = Ink.VISIBLE
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
    cut: Sequence[Body], others: Sequence[Body], scale: HeightScale, reduction: float
) -> tuple[Item, ...]:
    """Draw bodies that are cut and bodies that stand behind or before them."""
    before = shapely.union_all([body.shape for body in cut])
    solid = shapely.union_all([edges for _, edges in _in_order(cut, scale)])
    items: list[Item] = []
    for body, edges in _in_order(cut, scale):
        items += _lines(edges, body.ink, scale)
    for body, edges in _in_order(others, scale):
        items += _lines(edges.difference(before), body.ink, scale)
        covered = edges.intersection(before.buffer(-_WITHIN)).difference(solid)
        items += _lines(covered, Ink.EDGE, scale)
    for body in (*cut, *others):
        low, high = sorted(scale.drawn(level) for level in body.levels)
        items += [zigzag((at, low), (at, high), reduction, count=1) for at in body.broken]
    return tuple(items)


def _in_order(
    bodies: Sequence[Body], scale: HeightScale
) -> Iterator[tuple[Body, shapely.Geometry]]:
    """Each body with what those before it leave of its edges."""
    nearer: shapely.Geometry = shapely.Polygon()
    for body in bodies:
        yield body, _unbroken(body.edges.difference(nearer), scale)
        nearer = nearer.union(body.shape)


def _unbroken(edges: shapely.Geometry, scale: HeightScale) -> shapely.Geometry:
    """What is left of edges outside the breaks."""
    left_out = [shapely.box(-_FAR, one.low, _FAR, one.high) for one in scale.breaks]
    return edges.difference(shapely.union_all(left_out))


def _lines(edges: shapely.Geometry, ink: Ink, scale: HeightScale) -> Iterator[Path]:
    """Edges as items, joined end to end."""
    merged = shapely.line_merge(
        shapely.union_all(
            [one for one in shapely.get_parts(edges) if isinstance(one, shapely.LineString)]
        )
    )
    for one in shapely.get_parts(merged):
        points: list[Point] = [(x, scale.drawn(y)) for x, y in one.coords]
        closed = one.is_closed
        if points:
            yield Path(tuple(points[:-1] if closed else points), closed=closed, ink=ink)
