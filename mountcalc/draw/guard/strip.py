"""The strip around the guard's panel: as it is made, marked on the panel and drawn."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass
from functools import partial

from mountcalc.drafting.items import (
    TEXT_HEIGHT,
    Item,
    Label,
    Layer,
    Line,
    Offset,
    Path,
    Point,
    along,
)
from mountcalc.draw.build import Build, once
from mountcalc.draw.guard.hull import (
    Bend,
    Cuts,
    StripLayout,
    bend,
    kerf_near,
    strip_layout,
    strip_length,
)
from mountcalc.draw.guard.shape import guard_shape
from mountcalc.draw.guard.sizes import made
from mountcalc.draw.remarks import UNITS, Remark, Remarks, Side, bare
from mountcalc.draw.views import Wish
from mountcalc.pages.amounts import fine_length, finest_length
from mountcalc.scenario.model import Display

_LINE = 1.7 * TEXT_HEIGHT  # of the detail's captions
_LINES = 6
_CUTS = 3  # that the detail shows
_SAME_PLACE = 1e-6  # [m]
_WHOLE = math.tau - 1e-9  # [rad] a round without ends
_LONG = 0.005  # [m] of a mark from the edge into the panel


@dataclass(frozen=True, slots=True)
class Strip:
    """The strip as it is made: its layout, and the relief cuts of each run in that order.

    ``kerf`` [m] is the nearest to the scenario's that leaves enough wood between the cuts; where
    the scenario's leaves none, it is not cut and the layout is that of a strip bent whole.
    """

    layout: StripLayout
    bends: tuple[Bend, ...]
    kerf: float | None
    is_cut: bool

    @property
    def sharpest(self) -> Bend:
        """The tightest bend, the longest of these."""
        return min(self.bends, key=lambda one: (round(one.radius, 6), -one.turn))


@once
def strip_of(build: Build) -> Strip:
    """Lay out the strip of a panel."""
    shape, facet = guard_shape(build), made("facet")
    cuts, edge = shape.sizes.cuts, shape.outline
    layout = strip_layout(edge, cuts.neutral)
    bends = tuple(bend(run.radius, run.turn, cuts, facet) for run in layout.runs)
    is_cut = all(one.spacing > cuts.kerf for one in bends)
    if not is_cut:
        layout = strip_layout(edge, 0.5 * cuts.thickness)
    kerf = kerf_near(edge, cuts, facet, made("block"), finest_length(build.display))
    return Strip(layout, bends, kerf, is_cut)


def strip_marks(layout: StripLayout) -> Iterator[Line]:
    """Short lines from the edge into the panel, where bends begin and end and at the butt."""
    # Bends without a straight run between them share a mark.
    seen: list[Point] = []
    for run in layout.runs:
        for way in run.ways if run.turn < _WHOLE else ():
            at = run.at(way)
            if all(math.dist(at, other) > _SAME_PLACE for other in seen):
                seen.append(at)
                yield Line(at, run.at(way, run.radius - _LONG), Layer.MARK)
    yield Line(layout.butt, along(layout.butt, layout.inward, _LONG), Layer.MARK)


def strip_names(layout: StripLayout) -> Iterator[Wish]:
    """Points of the edge, any of which may be pointed at, and what is there."""
    for run in layout.runs:
        yield run.middles, f"bend {run.number}"
    yield (layout.butt,), "butt of the strip"


def strip_detail(bend: Bend, cuts: Cuts, corner: Point, display: Display) -> tuple[Item, ...]:
    """The strip from its edge, straight, with three of the cuts of a bend."""
    left, bottom = corner[0], corner[1] + (_LINES + 1) * _LINE
    top, floor = bottom + cuts.thickness, bottom + cuts.skin
    middles = [left + (number + 0.5) * bend.spacing for number in range(_CUTS)]
    right = left + _CUTS * bend.spacing
    points = [(left, top)]
    for middle in middles:
        near, far = middle - 0.5 * cuts.kerf, middle + 0.5 * cuts.kerf
        points += [(near, top), (near, floor), (far, floor), (far, top)]
    points += [(right, top), (right, bottom), (left, bottom)]
    fine = partial(fine_length, display=display)
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
    return (
        Path(tuple(points), closed=True, layer=Layer.NOTE),
        *(Line((at, bottom - 0.002), (at, top + 0.002), Layer.CENTRE) for at in middles),
        Offset((middles[0], top), (middles[1], top), 0.009, fine(bend.spacing), direction=0.0),
        *(
            Label((left, corner[1] + (_LINES - 1 - number) * _LINE), line)
            for number, line in enumerate(captions)
        ),
    )


def say_strip_made(remarks: Remarks, build: Build) -> None:
    """How the strip is made."""
    strip, shape = strip_of(build), guard_shape(build)
    thick = shape.sizes.thickness
    numbers = {"thick": thick, "whole": strip_length(shape.outline, 0.5 * thick)}
    if not strip.is_cut:
        remarks.note("strip.whole", **numbers)
        return
    remarks.note("strip.cut", length=strip.layout.length, **numbers)
    remarks.note("strip.relief_cuts", skin=shape.sizes.cuts.skin, facet=made("facet"))


def say_strip_runs(remarks: Remarks, build: Build) -> None:
    """Where along the strip its bends are."""
    strip, display = strip_of(build), build.display
    listed = []
    for run, one in zip(strip.layout.runs, strip.bends, strict=True):
        words = f"bend {run.number} from {bare(run.start, display)} to {bare(run.end, display)}"
        if strip.is_cut:
            apart = f", {bare(one.spacing, display)} apart" if one.cuts > 1 else ""
            words += f", {one.cuts} {'cuts' if one.cuts > 1 else 'cut'}{apart}"
        listed.append(words)
    remarks.note(
        "strip.bends",
        unit=UNITS[display],
        turning=Side("counter-clockwise", "clockwise"),
        bends="; ".join(listed),
        length=strip.layout.length,
    )


def say_strip_cautions(remarks: Remarks, build: Build) -> None:
    """What is wrong with the strip."""
    strip, kerf, block = strip_of(build), guard_shape(build).sizes.cuts.kerf, made("block")
    if strip.kerf == kerf:
        return
    run, worst = min(zip(strip.layout.runs, strip.bends, strict=True), key=lambda it: it[1].spacing)
    left = worst.spacing - kerf
    layout = "" if strip.is_cut else " The strip is told as one that is bent whole."
    remarks.caution(
        "strip.too_little_wood",
        kerf=kerf,
        number=run.number,
        count=Remark(
            "strip.several_cuts" if worst.cuts > 1 else "strip.one_cut",
            {"cuts": worst.cuts, "spacing": worst.spacing, "long": worst.length},
        ),
        leaves=f"only {build.fine(left)}" if left > 0 else "nothing",
        block=block,
        cure=Remark(
            "strip.no_kerf" if strip.kerf is None else "strip.nearest_kerf", {"kerf": strip.kerf}
        ),
        layout=layout,
    )
