"""The strip around the guard's panel: how it bends, how it is made, marked and drawn."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass

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
from mountcalc.draw.guard.sizes import made
from mountcalc.draw.remarks import UNITS, Remark, Remarks, Side, bare
from mountcalc.draw.views import Wish
from mountcalc.pages.amounts import fine_length, finest_length
from mountcalc.scenario.model import Display

_LINE = 1.7 * TEXT_HEIGHT  # of the detail's captions
_CUTS = 3  # that the detail shows
_ROUNDING = 1e-9
_SAME_PLACE = 1e-6  # [m]
_WHOLE = math.tau - 1e-9  # [rad] a round without ends
_LONG = 0.005  # [m] of a mark from the edge into the panel
_MARKED = (0.5, 0.35, 0.65, 0.2, 0.8)  # of a bend, where it is pointed at


@dataclass(frozen=True, slots=True)
class Cuts:
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


@dataclass(frozen=True, slots=True)
class Bend:
    """Relief cuts for one arc of a panel's edge, of a ``radius`` [m], that turns by ``turn`` [rad].

    ``fewest`` cuts just close, or nearly; ``cuts`` are to be made, more where the strip would stand
    off the edge; ``spacing`` [m] is from the middle of one to that of the next on the strip while
    it is straight, ``length`` [m] of strip goes round, in the middle of its skin.
    """

    radius: float
    turn: float
    fewest: int
    cuts: int
    spacing: float
    length: float


def bend(radius: float, turn: float, cuts: Cuts, facet: float) -> Bend:
    """Relief cuts that take a strip round one arc."""
    # Facets of a polygon round the edge stand off at its corners by R / cos(theta/2) - R.
    flat = 2.0 * math.acos(radius / (radius + facet))
    fewest, number = (
        max(1, math.ceil(turn / each - _ROUNDING)) for each in (cuts.closing_angle, flat)
    )
    number = max(fewest, number)
    length = (radius + cuts.neutral) * turn
    return Bend(radius, turn, fewest, number, length / number, length)


def strip_length(edge: Outline, neutral: float) -> float:
    """Length of a strip round a convex edge: P + 2 pi d."""
    return edge.perimeter + math.tau * neutral


@dataclass(frozen=True, slots=True)
class Run:
    """A bend round an ``arc`` of the panel's edge, on the straight strip from start to end [m]."""

    arc: Arc
    bend: Bend
    start: float
    end: float


@dataclass(frozen=True, slots=True)
class Strip:
    """The strip as it is made, its runs numbered from the butt on, counter-clockwise.

    Its ends meet at the ``butt`` on the panel's edge, in the middle of a ``straight`` run so long
    [m], 0 where there is none; ``length`` [m] is from butt to butt. ``kerf`` [m] is the nearest to
    the given one that leaves enough wood between cuts; where that leaves none, the strip is not cut
    and laid out as one that is bent whole.
    """

    butt: Point
    straight: float
    runs: tuple[Run, ...]
    length: float
    kerf: float | None
    is_cut: bool

    @property
    def sharpest(self) -> Bend:
        """The tightest bend, the longest of these."""
        bends = (run.bend for run in self.runs)
        return min(bends, key=lambda one: (round(one.radius, 6), -one.turn))


def strip_round(edge: Outline, cuts: Cuts, step: float) -> Strip:
    """Lay a strip out from the middle of the longest straight run; kerfs are told to a step [m]."""
    arcs, lines, straights = edge.rounds, edge.pieces[1::2], edge.lengths[1::2]
    last = straights.index(max(straights))
    order = [*range(last + 1, len(arcs)), *range(last + 1)]
    bends = [bend(arc.radius, sweep(arc), cuts, made("facet")) for arc in arcs]
    is_cut = all(one.spacing > cuts.kerf for one in bends)
    neutral = cuts.neutral if is_cut else 0.5 * cuts.thickness
    runs: list[Run] = []
    straight = straights[last] if len(arcs) > 1 else 0.0
    place = 0.5 * straight
    for number in order:
        end = place + (arcs[number].radius + neutral) * bends[number].turn
        runs.append(Run(arcs[number], bends[number], place, end))
        place = end + straights[number]
    butt, length = at_share(lines[last], 0.5), runs[-1].end + 0.5 * straight
    return Strip(butt, straight, tuple(runs), length, _kerf_near(edge, cuts, step), is_cut)


def _kerf_near(edge: Outline, cuts: Cuts, step: float) -> float | None:
    """The kerf nearest to the given one that leaves wood between relief cuts on every bend."""
    facet, block = made("facet"), made("block")
    longest = max((arc.radius + cuts.neutral) * sweep(arc) for arc in edge.rounds)
    below = math.ceil(min(cuts.kerf, longest) / step - _ROUNDING) - 1
    above = math.floor(cuts.kerf / step + _ROUNDING) + 1
    numbers = (*range(below, 0, -1), *range(above, math.ceil(longest / step)))
    tried_kerfs: list[float] = [cuts.kerf, *(step * number for number in numbers)]
    for kerf in tried_kerfs:
        tried = Cuts(kerf, cuts.thickness, cuts.skin)
        bends = (bend(arc.radius, sweep(arc), tried, facet) for arc in edge.rounds)
        if all(one.spacing - kerf >= block for one in bends):
            return kerf
    return None


@once
def strip_of(build: Build) -> Strip:
    """The strip of a panel."""
    return strip_round(guard_shape(build).outline, cuts_of(build), finest_length(build.display))


def cuts_of(build: Build) -> Cuts:
    """The cuts of its strip."""
    sizes = guard_shape(build).sizes
    return Cuts(sizes.kerf, sizes.thickness, sizes.skin)


def strip_marks(strip: Strip) -> Iterator[Line]:
    """Short lines from the edge into the panel, where bends begin and end and at the butt."""
    # Bends without a straight run between them share a mark.
    seen: list[Point] = []
    for arc in (run.arc for run in strip.runs):
        for way in (arc.start, arc.end) if sweep(arc) < _WHOLE else ():
            at = along(arc.centre, way, arc.radius)
            if all(math.dist(at, other) > _SAME_PLACE for other in seen):
                seen.append(at)
                yield Line(at, along(arc.centre, way, arc.radius - _LONG), Layer.MARK)
    inward = strip.runs[0].arc.start + math.pi  # square to the straight run
    yield Line(strip.butt, along(strip.butt, inward, _LONG), Layer.MARK)


def strip_names(strip: Strip) -> Iterator[Wish]:
    """Points of the edge, any of which may be pointed at, and what is there."""
    for number, run in enumerate(strip.runs, 1):
        yield tuple(at_share(run.arc, share) for share in _MARKED), f"bend {number}"
    yield (strip.butt,), "butt of the strip"


def strip_detail(bend: Bend, cuts: Cuts, corner: Point, display: Display) -> tuple[Item, ...]:
    """The strip from its edge, straight, with three of the cuts of a bend."""

    def fine(length: float) -> str:
        return fine_length(length, display)

    mouth = max(0.0, cuts.mouth(bend.turn / bend.cuts))
    # Short lines: a template is cut up into sheets.
    captions = [
        "Detail: relief cuts in the strip, not cut here",
        f"round the edge of {fine(bend.radius)} radius {bend.cuts} cuts,",
        f"{fine(bend.spacing)} apart while straight, over {fine(bend.length)}",
        f"kerf {fine(cuts.kerf)}, strip {fine(cuts.thickness)} thick, {fine(cuts.skin)} left",
        f"cuts inside the bend; mouths close to {fine(mouth)}",
        f"({bend.fewest} are the fewest that do not close too early)",
    ]
    left, bottom = corner[0], corner[1] + (len(captions) + 1) * _LINE
    top, floor = bottom + cuts.thickness, bottom + cuts.skin
    middles = [left + (number + 0.5) * bend.spacing for number in range(_CUTS)]
    right = left + _CUTS * bend.spacing
    points = [(left, top)]
    for middle in middles:
        near, far = middle - 0.5 * cuts.kerf, middle + 0.5 * cuts.kerf
        points += [(near, top), (near, floor), (far, floor), (far, top)]
    points += [(right, top), (right, bottom), (left, bottom)]
    lines = [corner[1] + number * _LINE for number in reversed(range(len(captions)))]
    return (
        Path(tuple(points), closed=True, layer=Layer.NOTE),
        *(Line((at, bottom - 0.002), (at, top + 0.002), Layer.CENTRE) for at in middles),
        Offset((middles[0], top), (middles[1], top), 0.009, fine(bend.spacing), direction=0.0),
        *(Label((left, at), text) for at, text in zip(lines, captions, strict=True)),
    )


def say_strip_made(remarks: Remarks, build: Build) -> None:
    """How the strip is made."""
    strip, shape = strip_of(build), guard_shape(build)
    thick = shape.sizes.thickness
    numbers = {"thick": thick, "whole": strip_length(shape.outline, 0.5 * thick)}
    if not strip.is_cut:
        remarks.say("strip.whole", **numbers)
        return
    remarks.say("strip.cut", length=strip.length, **numbers)
    remarks.say("strip.relief_cuts", skin=shape.sizes.skin, facet=made("facet"))


def say_strip_runs(remarks: Remarks, build: Build) -> None:
    """Where along the strip its bends are, and where they leave too little wood."""
    strip, display, kerf = strip_of(build), build.display, guard_shape(build).sizes.kerf
    listed = []
    for number, run in enumerate(strip.runs, 1):
        words = f"bend {number} from {bare(run.start, display)} to {bare(run.end, display)}"
        if strip.is_cut:
            several = run.bend.cuts > 1
            apart = f", {bare(run.bend.spacing, display)} apart" if several else ""
            words += f", {run.bend.cuts} {'cuts' if several else 'cut'}{apart}"
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
    number, worst = min(
        ((number, run.bend) for number, run in enumerate(strip.runs, 1)),
        key=lambda one: one[1].spacing,
    )
    left = worst.spacing - kerf
    count = {"cuts": worst.cuts, "spacing": worst.spacing, "long": worst.length}
    cure = "strip.no_kerf" if strip.kerf is None else "strip.nearest_kerf"
    remarks.say(
        "strip.too_little_wood",
        kerf=kerf,
        number=number,
        count=Remark("strip.several_cuts" if worst.cuts > 1 else "strip.one_cut", count),
        leaves=f"only {build.fine(left)}" if left > 0 else "nothing",
        block=made("block"),
        cure=Remark(cure, {"kerf": strip.kerf}),
        layout="" if strip.is_cut else " The strip is told as one that is bent whole.",
    )
