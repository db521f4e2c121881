"""A template on one page: the whole outline with all dimensions, reduced so that they are read."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import TypeAlias

from mountcalc.drafting.drawing import Drawing
from mountcalc.drafting.items import Item, Label, Leader, Offset, Point
from mountcalc.drafting.names.callouts import callouts
from mountcalc.drafting.scales import settled_with_names

__all__ = ["Wish", "with_glance"]

Wish: TypeAlias = tuple[tuple[Point, ...], str]
"""Points [m] of which any may be pointed at, and the name."""


def with_glance(
    template: Drawing,
    drawn: Callable[[float], Sequence[Item]],
    wishes: Callable[[float], Sequence[Wish]],
) -> Drawing:
    """Add to a template its view on one page."""
    plain = replace(template, notes=(), cautions=(), true_scale=False)

    def unnamed(scale: float) -> Drawing:
        return replace(plain, items=tuple(drawn(scale)), scale=scale)

    def named(view: Drawing) -> Drawing:
        names = callouts(wishes(view.scale), view.items, view.scale)
        return replace(view, items=(*view.items, *names))

    bare = [one for one in drawn(1.0) if not isinstance(one, Label | Leader | Offset)]
    return replace(template, glance=settled_with_names(unnamed, named, bare, template.display))
