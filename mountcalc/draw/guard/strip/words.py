"""Sentences about the strip around the guard's panel and its relief cuts."""

from __future__ import annotations

from dataclasses import dataclass

from mountcalc.draw.boards.centre_lists import in_units, numbers
from mountcalc.draw.guard.shape import GuardShape
from mountcalc.draw.guard.sizes import made
from mountcalc.draw.guard.strip.edge import Bend, bend, strip_length
from mountcalc.draw.guard.strip.layout import StripLayout, kerf_near, strip_layout
from mountcalc.pages.bench_lengths import bench_length, fine_length, finest_length
from mountcalc.scenario.model import Display

__all__ = ["Strip", "strip_cautions", "strip_notes", "strip_of", "strip_runs"]


@dataclass(frozen=True, slots=True)
class Strip:
    """The strip as it is made.

    Attributes
    ----------
    layout : StripLayout
    bends : tuple of Bend
        Relief cuts of each run, in the layout's order.
    kerf : float or None [m]
        The nearest to the scenario's that leaves enough wood between the cuts.
    is_cut : bool
        Whether the scenario's leaves any; else the layout is that of a strip bent whole.
    """

    layout: StripLayout
    bends: tuple[Bend, ...]
    kerf: float | None
    is_cut: bool


def strip_of(shape: GuardShape, display: Display) -> Strip:
    """Lay out the strip of a panel."""
    cuts, facet, edge = shape.sizes.cuts, made("facet"), shape.outline
    layout = strip_layout(edge, cuts.neutral)
    bends = tuple(bend(run.radius, run.turn, cuts, facet) for run in layout.runs)
    is_cut = all(one.spacing > cuts.kerf for one in bends)
    if not is_cut:
        layout = strip_layout(edge, 0.5 * cuts.thickness)
    kerf = kerf_near(edge, cuts, facet, made("block"), finest_length(display))
    return Strip(layout, bends, kerf, is_cut)


def strip_notes(shape: GuardShape, strip: Strip, display: Display) -> tuple[str, ...]:
    """How the strip is made."""
    sizes = shape.sizes
    thick = fine_length(sizes.thickness, display)
    whole = bench_length(strip_length(shape.outline, 0.5 * sizes.thickness), display)
    trim = "Leave it longer and trim its far end at the butt."
    if not strip.is_cut:
        return (f"Edge strip, {thick} thick, bent whole: {whole} long, butt to butt. {trim}",)
    length = bench_length(strip.layout.length, display)
    return (
        f"Edge strip, {thick} thick with relief cuts on every bend: {length} long, butt to butt "
        f"(one that is bent whole, without cuts: {whole}). {trim}",
        f"Relief cuts, {fine_length(sizes.cuts.skin, display)} left under each, and so many that "
        f"the strip stands off by no more than {fine_length(made('facet'), display)} between them "
        "(estimates); on the inside of the strip, evenly spaced, the first half a spacing into "
        "its bend. A skin that cracks wants closer cuts: try an offcut first.",
    )


def strip_runs(strip: Strip, turning: str, display: Display) -> str:
    """Where along the strip its bends are."""
    listed = []
    for run, one in zip(strip.layout.runs, strip.bends, strict=True):
        start, end = numbers((run.start,), display), numbers((run.end,), display)
        words = f"bend {run.number} from {start} to {end}"
        if strip.is_cut:
            apart = f", {numbers((one.spacing,), display)} apart" if one.cuts > 1 else ""
            words += f", {one.cuts} {'cuts' if one.cuts > 1 else 'cut'}{apart}"
        listed.append(words)
    total = numbers((strip.layout.length,), display)
    return (
        f"Along the straight strip, {in_units(display)} from its trimmed end, {turning} round this "
        f"picture: {'; '.join(listed)}; the butt at {total}."
    )


def strip_cautions(shape: GuardShape, strip: Strip, display: Display) -> tuple[str, ...]:
    """What is wrong with the strip."""
    kerf, block = shape.sizes.cuts.kerf, made("block")
    if strip.kerf == kerf:
        return ()
    run, worst = min(zip(strip.layout.runs, strip.bends, strict=True), key=lambda it: it[1].spacing)
    left = worst.spacing - kerf
    leaves = f"only {fine_length(left, display)}" if left > 0 else "nothing"
    count = f"{worst.cuts} cuts {bench_length(worst.spacing, display)} apart"
    if worst.cuts == 1:
        count = f"one cut on {bench_length(worst.length, display)} of strip"
    if strip.kerf is None:
        cure = "no kerf leaves that on every bend: bend it whole"
    else:
        nearest = fine_length(strip.kerf, display)
        cure = f"the nearest kerf that leaves that is {nearest}, or bend it whole"
    told = "" if strip.is_cut else " The strip is told as one that is bent whole."
    return (
        f"Relief cuts with a kerf of {fine_length(kerf, display)} leave too little wood: at bend "
        f"{run.number}, with {count}, {leaves} of the strip between cuts, where "
        f"{fine_length(block, display)} are wanted (estimate); {cure}.{told}",
    )
