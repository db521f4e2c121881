"""Upright rectangles around the texts of a drawing."""

from __future__ import annotations

from collections.abc import Iterable

from mountcalc.drafting.annotations import leader_label, offset_label
from mountcalc.drafting.extent import extremes
from mountcalc.drafting.model import Bounds, Item, Label, Leader, Offset

__all__ = ["text_boxes"]


def text_boxes(items: Iterable[Item], reduction: float) -> tuple[Bounds, ...]:
    """Upright rectangles around the texts among items."""
    return tuple(
        _box(label, reduction) for item in items if (label := _label(item, reduction)) is not None
    )


def _label(item: Item, reduction: float) -> Label | None:
    match item:
        case Label():
            return item
        case Leader():
            return leader_label(item, reduction)
        case Offset():
            return offset_label(item, reduction)
        case _:
            return None


def _box(label: Label, reduction: float) -> Bounds:
    across, up = zip(*extremes(label, reduction), strict=True)
    return min(across), min(up), max(across), max(up)
