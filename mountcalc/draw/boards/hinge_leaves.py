"""The leaves of the hinges along a board's edge, with the centres of their screws."""

from __future__ import annotations

from dataclasses import dataclass

from mountcalc.drafting.items import Circle, Item, Layer, Path, Point
from mountcalc.draw.boards.sizes import HingeSizes

__all__ = ["Leaf", "hinge_leaves", "leaf_items"]


@dataclass(frozen=True, slots=True)
class Leaf:
    """A leaf on a board whose hinged edge is y = 0, between ``left`` and ``right`` [m].

    ``depth`` [m] is how far it reaches over the board, ``screws`` are their centres.
    """

    left: float
    right: float
    depth: float
    screws: tuple[Point, ...]


def hinge_leaves(sizes: HingeSizes, width: float) -> tuple[Leaf, ...]:
    """Lay the leaves out along an edge."""
    length, count = sizes.leaf_length, sizes.number
    spare = max(width - count * length, 0.0)
    end = min(0.5 * length, spare / (count + 1)) if count > 1 else 0.5 * (width - length)
    pitch = (width - 2.0 * end - length) / (count - 1) if count > 1 else 0.0
    depth = sizes.leaf_width - sizes.edge
    leaves = []
    for number in range(count):
        left = end + number * pitch
        leaves.append(Leaf(left, left + length, depth, _screws(sizes, left, depth)))
    return tuple(leaves)


def _screws(sizes: HingeSizes, left: float, depth: float) -> tuple[Point, ...]:
    step = sizes.leaf_length / sizes.screws
    rows = (depth / 3.0, 2.0 * depth / 3.0)
    return tuple(
        (left + (number + 0.5) * step, rows[1 - number % 2]) for number in range(sizes.screws)
    )


def leaf_items(leaf: Leaf, sizes: HingeSizes) -> tuple[Item, ...]:
    """A leaf as it is drawn: a pocket where it is let in, a mark where it lies on the board."""
    layer = Layer.POCKET if sizes.mortise > 0 else Layer.MARK
    corners = (
        (leaf.left, 0.0),
        (leaf.right, 0.0),
        (leaf.right, leaf.depth),
        (leaf.left, leaf.depth),
    )
    return (
        Path(corners, closed=True, layer=layer),
        *(Circle(screw, 0.5 * sizes.pilot, Layer.DRILL) for screw in leaf.screws),
    )
