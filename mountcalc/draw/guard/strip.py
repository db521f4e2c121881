"""The strip around the guard's panel: how it bends, how it is made, marked and drawn."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace

from mountcalc.drafting.items import (
    TEXT_HEIGHT,
    Arc,
    Item,
    Label,
    Layer,
    Line,
    Offset,
    Path,
    Point,
    along,
    sweep,
)
from mountcalc.draw.build import Build, once
from mountcalc.draw.guard.shape import Outline, at_share, guard_shape
from mountcalc.draw.guard.sizes import guard_sizes, made
from mountcalc.draw.remarks import UNITS, Remark, Remarks, Side, bare
from mountcalc.draw.views import Wish
from mountcalc.pages.amounts import fine_length, finest_length
from mountcalc.record import Record
from mountcalc.scenario.text.writing import Display
from mountcalc.thresholds import ROUNDING, SAME_PLACE

_LINE = 1.7 * TEXT_HEIGHT  # of the detail's captions
_CUTS = 3  # that the detail shows
_WHOLE = math.tau - 1e-9  # [rad] a round without ends
_LONG = 0.005  # [m] of a mark from the edge into the panel
_MARKED = (0.5, 0.35, 0.65, 0.2, 0.8)  # of a bend, where it is pointed at


class Cuts(Record):
    """Relief cuts: width of the saw's ``kerf``, ``thickness`` of the strip, ``skin`` left [m]."""

    kerf: float
    thickness: float
    skin: float

    @property
    def neutral(self) -> float:
        """From the inside to the middle of the skin [m], t - s/2, which keeps its length."""
        return self.thickness - 0.5 * self.skin

    @property
    def closing_angle(self) -> float:
        """Turn of the strip [rad] at one cut when its walls meet: theta = k / (t - s/2).

        The skin over the cut bends to an arc whose middle keeps its length k, on a radius
        k / theta; the walls stand along radii and meet where that is t - s/2.
        """
        return self.kerf / self.neutral

    def mouth(self, turn: float) -> float:
        """What is left open of a cut at the strip's inside."""
        return self.kerf - turn * self.neutral


class Bend(Record):
    """A bend round an arc of the panel's edge, and its relief cuts.

    ``fewest`` cuts just close, or nearly; ``cuts`` are to be made, more where the strip would stand
    off the edge; ``length`` [m] of strip goes round, in the middle of its skin. On the straight
    strip it runs from ``start`` to ``end`` [m].
    """

    arc: Arc
    fewest: int
    cuts: int
    length: float
    start: float = 0.0
    end: float = 0.0

    @property
    def spacing(self) -> float:
        """From the middle of one cut to that of the next on the straight strip [m]."""
        return self.length / self.cuts


def bend(arc: Arc, cuts: Cuts, facet: float) -> Bend:
    """Relief cuts that take a strip round an arc."""
    # Facets of a polygon round the edge stand off at its corners by R / cos(theta/2) - R.
    flat, turn = 2.0 * math.acos(arc.radius / (arc.radius + facet)), sweep(arc)
    fewest, number = (
        max(1, math.ceil(turn / each - ROUNDING)) for each in (cuts.closing_angle, flat)
    )
    return Bend(arc, fewest, max(fewest, number), (arc.radius + cuts.neutral) * turn)


def strip_length(edge: Outline, neutral: float) -> float:
    """Length of a strip round a convex edge: P + 2 pi d."""
    return edge.perimeter + math.tau * neutral


class Strip(Record):
    """The strip as it is made, its bends numbered from the butt on, counter-clockwise.

    Its ends meet at the ``butt`` on the panel's edge, in the middle of a ``straight`` run so long
    [m], 0 where there is none; ``length`` [m] is from butt to butt. ``kerf`` [m] is the nearest to
    that of its ``cuts`` that leaves enough wood between them; where these leave none, the strip is
    not cut and laid out as one that is bent whole.
    """

    cuts: Cuts
    butt: Point
    straight: float
    bends: tuple[Bend, ...]
    length: float
    kerf: float | None
    is_cut: bool
    sharpest: Bend

    def marks(self) -> Iterator[Line]:
        """Short lines from the edge into the panel, where bends begin and end and at the butt."""
        # Bends without a straight run between them share a mark.
        seen: list[Point] = []
        for arc in (one.arc for one in self.bends):
            for way in (arc.start, arc.end) if sweep(arc) < _WHOLE else ():
                at = along(arc.centre, way, arc.radius)
                if all(math.dist(at, other) > SAME_PLACE for other in seen):
                    seen.append(at)
                    yield Line(at, along(arc.centre, way, arc.radius - _LONG), Layer.MARK)
        inward = self.bends[0].arc.start + math.pi  # square to the straight run
        yield Line(self.butt, along(self.butt, inward, _LONG), Layer.MARK)

    def names(self) -> Iterator[Wish]:
        """Points of the edge, any of which may be pointed at, and what is there."""
        for number, one in enumerate(self.bends, 1):
            yield tuple(at_share(one.arc, share) for share in _MARKED), f"bend {number}"
        yield (self.butt,), "butt of the strip"


def strip_round(edge: Outline, cuts: Cuts, step: float) -> Strip:
    """Lay a strip out from the middle of the longest straight run; kerfs are told to a step [m]."""
    facet, block = made("facet"), made("block")
    lines, straights = zip(*edge.pieces[1::2], strict=True)
    last = straights.index(max(straights))
    order = [*range(last + 1, len(lines)), *range(last + 1)]
    bends = [bend(edge.rounds[number], cuts, facet) for number in order]
    is_cut = all(one.spacing > cuts.kerf for one in bends)
    neutral = cuts.neutral if is_cut else 0.5 * cuts.thickness
    straight = straights[last] if len(lines) > 1 else 0.0
    place, placed = 0.5 * straight, list[Bend]()
    for number, one in zip(order, bends, strict=True):
        end = place + (one.arc.radius + neutral) * sweep(one.arc)
        placed.append(replace(one, start=place, end=end))
        place = end + straights[number]
    # The nearest kerf, first below the given one and then above it.
    longest = max(one.length for one in bends)
    below = math.ceil(min(cuts.kerf, longest) / step - ROUNDING) - 1
    above = math.floor(cuts.kerf / step + ROUNDING) + 1
    steps = (*range(below, 0, -1), *range(above, math.ceil(longest / step)))
    kerfs: Iterable[float] = (cuts.kerf, *(step * number for number in steps))

    def leaves(kerf: float) -> bool:
        tried = replace(cuts, kerf=kerf)
        return all(bend(one.arc, tried, facet).spacing - kerf >= block for one in bends)

    near = next(filter(leaves, kerfs), None)
    length, butt = placed[-1].end + 0.5 * straight, at_share(lines[last], 0.5)
    # The tightest bend, the longest of these.
    sharpest = min(placed, key=lambda one: (round(one.arc.radius, 6), -sweep(one.arc)))
    return Strip(cuts, butt, straight, tuple(placed), length, near, is_cut, sharpest)


@once
def strip_of(build: Build) -> Strip:
    """The strip of a panel."""
    sizes, edge = guard_sizes(build), guard_shape(build).outline
    cuts = Cuts(sizes.kerf, sizes.thickness, sizes.skin)
    return strip_round(edge, cuts, finest_length(build.display))


def strip_detail(bend: Bend, cuts: Cuts, corner: Point, display: Display) -> tuple[Item, ...]:
    """The strip from its edge, straight, with three of the cuts of a bend."""
    spacing, apart = bend.spacing, fine_length(bend.spacing, display)
    radius, length, kerf, thick, skin, mouth = (
        fine_length(one, display)
        for one in (
            *(bend.arc.radius, bend.length, cuts.kerf, cuts.thickness, cuts.skin),
            max(0.0, cuts.mouth(sweep(bend.arc) / bend.cuts)),
        )
    )
    # Short lines: a template is cut up into sheets.
    captions = [
        "Detail: relief cuts in the strip, not cut here",
        f"round the edge of {radius} radius {bend.cuts} cuts,",
        f"{apart} apart while straight, over {length}",
        f"kerf {kerf}, strip {thick} thick, {skin} left",
        f"cuts inside the bend; mouths close to {mouth}",
        f"({bend.fewest} are the fewest that do not close too early)",
    ]
    left, bottom = corner[0], corner[1] + (len(captions) + 1) * _LINE
    top, floor = bottom + cuts.thickness, bottom + cuts.skin
    middles = [left + (number + 0.5) * spacing for number in range(_CUTS)]
    points = [(left, top)]
    for middle in middles:
        near, far = middle - 0.5 * cuts.kerf, middle + 0.5 * cuts.kerf
        points += [(near, top), (near, floor), (far, floor), (far, top)]
    right = left + _CUTS * spacing
    points += [(right, top), (right, bottom), (left, bottom)]
    lines = [corner[1] + number * _LINE for number in reversed(range(len(captions)))]
    return (
        Path(tuple(points), closed=True, layer=Layer.NOTE),
        *(Line((at, bottom - 0.002), (at, top + 0.002), Layer.CENTRE) for at in middles),
        Offset((middles[0], top), (middles[1], top), 0.009, apart, direction=0.0),
        *(Label((left, at), text) for at, text in zip(lines, captions, strict=True)),
    )


def say_strip_made(remarks: Remarks, build: Build) -> None:
    """How the strip is made."""
    strip, edge = strip_of(build), guard_shape(build).outline
    thick, skin = strip.cuts.thickness, strip.cuts.skin
    numbers = {"thick": thick, "whole": strip_length(edge, 0.5 * thick), "length": strip.length}
    remarks.say("strip.cut" if strip.is_cut else "strip.whole", **numbers)
    if strip.is_cut:
        remarks.say("strip.relief_cuts", skin=skin, facet=made("facet"))


def say_bends(remarks: Remarks, build: Build) -> None:
    """Where along the strip its bends are, and where they leave too little wood."""
    strip, display, kerf = strip_of(build), build.display, strip_of(build).cuts.kerf
    listed = []
    for number, one in enumerate(strip.bends, 1):
        words = f"bend {number} from {bare(one.start, display)} to {bare(one.end, display)}"
        if strip.is_cut:
            apart = f", {bare(one.spacing, display)} apart" if one.cuts > 1 else ""
            words += f", {one.cuts} {'cuts' if one.cuts > 1 else 'cut'}{apart}"
        listed.append(words)
    remarks.say(
        "strip.bends",
        unit=UNITS[display],
        turning=Side("counter-clockwise", "clockwise"),
        bends="; ".join(listed),
        length=strip.length,
    )
    if strip.kerf == kerf:
        return
    worst = min(strip.bends, key=lambda one: one.spacing)
    left = worst.spacing - kerf
    count = {"cuts": worst.cuts, "spacing": worst.spacing, "long": worst.length}
    cure = "strip.no_kerf" if strip.kerf is None else "strip.nearest_kerf"
    remarks.say(
        "strip.too_little_wood",
        kerf=kerf,
        number=strip.bends.index(worst) + 1,
        count=Remark("strip.several_cuts" if worst.cuts > 1 else "strip.one_cut", count),
        leaves=f"only {build.fine(left)}" if left > 0 else "nothing",
        block=made("block"),
        cure=Remark(cure, {"kerf": strip.kerf}),
        layout="" if strip.is_cut else " The strip is told as one that is bent whole.",
    )
