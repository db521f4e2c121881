"""Parts of a view while they are collected, and a template's view on one page."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise
from typing import TypeAlias

from mountcalc.drafting.drawing import Drawing, settled_with_names
from mountcalc.drafting.items import (
    Bounds,
    Circle,
    Item,
    Label,
    Layer,
    Leader,
    Line,
    Offset,
    Path,
    Point,
    along,
)
from mountcalc.drafting.names.callouts import callouts
from mountcalc.draw.build import Build
from mountcalc.draw.remarks import RIGHT, Remark, Remarks, Side

_AROUND = 8  # points of a circle that a leader may take

Wish: TypeAlias = tuple[tuple[Point, ...], str]
"""Points [m] of which any may be pointed at, and the name."""


def cross(at: Point, half: float, layer: Layer = Layer.CENTRE) -> tuple[Line, Line]:
    """A cross at a centre."""
    x, y = at
    return Line((x - half, y), (x + half, y), layer), Line((x, y - half), (x, y + half), layer)


def bounds_of(items: Sequence[Item], scale: float = 1.0) -> Bounds:
    """Smallest upright rectangle around items."""
    return Drawing("", "", "", tuple(items), scale=scale).bounds()


def on_sides(corners: Sequence[Point], shares: Sequence[float]) -> list[Point]:
    """Points at shares of the sides between corners."""
    return [
        ((1 - share) * one[0] + share * two[0], (1 - share) * one[1] + share * two[1])
        for one, two in pairwise(corners)
        for share in shares
    ]


@dataclass(slots=True)
class ViewParts:
    """What is collected of a view: ``points`` are dimensioned, ``listed`` ones only listed."""

    remarks: Remarks
    items: list[Item] = field(default_factory=list)
    names: list[Wish] = field(default_factory=list)
    points: dict[str, Point] = field(default_factory=dict)
    listed: dict[str, Point] = field(default_factory=dict)

    def name(self, text: str, *at: Point) -> None:
        """Name a part at one of its points."""
        self.names.append((at, text))

    def outline(self, points: Sequence[Point], layer: Layer) -> None:
        """A closed outline."""
        self.items.append(Path(tuple(points), closed=True, layer=layer))

    def line(self, start: Point, end: Point, layer: Layer) -> None:
        """A straight line."""
        self.items.append(Line(start, end, layer))

    def circle(self, centre: Point, radius: float, layer: Layer) -> None:
        """A circle."""
        self.items.append(Circle(centre, radius, layer))

    def round_name(self, text: str, centre: Point, radius: float) -> None:
        """Name a circle: a leader may touch it all round."""
        turns = (math.tau * (step + 0.5) / _AROUND for step in range(_AROUND))
        self.name(text, *(along(centre, turn, radius) for turn in turns))

    def cross(self, at: Point, half: float) -> None:
        """Two centre lines."""
        self.items.extend(cross(at, half))


def drawing_of(
    build: Build,
    remarks: Remarks,
    name: str,
    items: Iterable[Item],
    side: Side | None = None,
    scale: float | None = None,
) -> Drawing:
    """A drawing with what is said beside it; without a scale it is a template."""
    display, about = build.display, "view" if side is None else "view_of_side"
    view = Remark(f"{about}.{name}", {"side": side, "grow": RIGHT})
    here, other = view.text(display), view.text(display, mirrored=True)
    return Drawing(
        name=name,
        title=Remark(f"title.{name}", {"title": build.scenario.title}).text(display),
        view=here,
        items=tuple(items),
        notes=remarks.notes,
        cautions=remarks.cautions,
        true_scale=scale is None,
        facts=remarks.facts,
        scale=scale or 1.0,
        other_hand=remarks.other_hand | ({here: other} if other != here else {}),
        display=display,
    )


def with_glance(
    template: Drawing,
    drawn: Callable[[float], Sequence[Item]],
    wishes: Callable[[float], Sequence[Wish]],
) -> Drawing:
    """Add to a template its view on one page: all of it with dimensions, reduced to be read."""
    plain = replace(template, notes=(), cautions=(), true_scale=False)

    def unnamed(scale: float) -> Drawing:
        return replace(plain, items=tuple(drawn(scale)), scale=scale)

    def named(view: Drawing) -> Drawing:
        names = callouts(wishes(view.scale), view.items, view.scale)
        return replace(view, items=(*view.items, *names))

    bare = [one for one in drawn(1.0) if not isinstance(one, Label | Leader | Offset)]
    return replace(template, glance=settled_with_names(unnamed, named, bare, template.display))
