"""Names of a view of which some may be left out where there is not enough room for all."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from mountcalc.drafting.model import Ink, Item, Leader, Point
from mountcalc.drafting.names.callouts import callouts, text_boxes
from mountcalc.drafting.names.ground import Ground

__all__ = ["named_where_room", "short_name"]

_THIN = (Ink.EDGE, Ink.CENTRE)
_MOST = 1  # names that may stand across a solid line before others are left out
_LETTERS = 32  # of a user's name: wider ones find no place beside a view (estimate)
_NOTHING = 1.0  # a tenth of what a line costs under a text for as long as a cell: rounding


def short_name(name: str) -> str:
    """A user's name as a view has room for it."""
    if len(name) <= _LETTERS:
        return name
    half = _LETTERS // 2
    return f"{name[:half].rstrip()}…{name[1 - half :].lstrip()}"


def named_where_room(
    wishes: Sequence[tuple[tuple[Point, ...], str]],
    spared: Sequence[str],
    items: Sequence[Item],
    reduction: float,
) -> tuple[Leader, ...]:
    """Name parts of a view; some only where that drives no other name across a solid line."""
    found = callouts(wishes, items, reduction)
    across = _across(found, items, reduction)
    for count in range(1, len(spared) + 1):
        if across <= _MOST:
            break
        needed = [wish for wish in wishes if wish[1] not in spared[:count]]
        fewer = callouts(needed, items, reduction)
        if _across(fewer, items, reduction) < across:
            found, across = fewer, _across(fewer, items, reduction)
    return found


def _across(names: Sequence[Leader], items: Sequence[Item], reduction: float) -> int:
    """How many names stand across a solid line."""
    solid = [item for item in items if not isinstance(item, Leader) and item.ink not in _THIN]
    boxes = np.array(text_boxes(names, reduction), dtype=float).reshape(-1, 4) / reduction
    return int((Ground.of(solid, reduction, None).ink.under(boxes) > _NOTHING).sum())
