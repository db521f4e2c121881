"""A small drawing of the relief cuts in the strip, at true size beside the panel."""

from __future__ import annotations

from mountcalc.drawing.bench_lengths import bench_length
from mountcalc.drawing.edge_strip import Bend, Cuts
from mountcalc.drawing.model import TEXT_HEIGHT, Ink, Item, Label, Line, Offset, Path, Point
from mountcalc.scenario.model import Display

__all__ = ["strip_detail"]

_LINE = 1.7 * TEXT_HEIGHT
_MARGIN = 0.5  # of the spacing, beyond the outer cuts
_CUTS = 3


def strip_detail(bend: Bend, cuts: Cuts, corner: Point, display: Display) -> tuple[Item, ...]:
    """The strip from its edge, straight, with three of the cuts of a bend.

    Parameters
    ----------
    bend : Bend
        Whose cuts are shown.
    cuts : Cuts
        Saw and strip.
    corner : Point [m]
        Bottom left of the detail.
    display : Display
        Units of the texts.

    Returns
    -------
    tuple of Item
        In inks that are not cut.
    """
    left = corner[0]
    bottom = corner[1] + 5 * _LINE
    top = bottom + cuts.thickness
    middles = [left + (number + _MARGIN) * bend.spacing for number in range(_CUTS)]
    right = left + _CUTS * bend.spacing
    points = [(left, top)]
    for middle in middles:
        near, far = middle - 0.5 * cuts.kerf, middle + 0.5 * cuts.kerf
        floor = bottom + cuts.skin
        points += [(near, top), (near, floor), (far, floor), (far, top)]
    points += [(right, top), (right, bottom), (left, bottom)]
    spacing = bench_length(bend.spacing, display)
    return (
        Path(tuple(points), closed=True, ink=Ink.EDGE),
        *(Line((at, bottom - 0.002), (at, top + 0.002), Ink.CENTRE) for at in middles),
        Offset((middles[0], top), (middles[1], top), 0.009, spacing, direction=0.0),
        *_captions(bend, cuts, corner, display),
    )


def _captions(bend: Bend, cuts: Cuts, corner: Point, display: Display) -> tuple[Label, ...]:
    """What stands under the detail, line by line."""
    text = [
        f"Relief cuts of the strip round the edge of {bench_length(bend.radius, display)} radius "
        "(detail: not cut here)",
        f"{bend.cuts} cuts, {bench_length(bend.spacing, display)} apart on the straight strip, "
        f"over {bench_length(bend.length, display)}; kerf {bench_length(cuts.kerf, display)}",
        f"strip {bench_length(cuts.thickness, display)} thick, "
        f"{bench_length(cuts.skin, display)} left under each cut; cuts inside the bend",
        f"each closes to {bench_length(max(0.0, cuts.mouth(bend.turn / bend.cuts)), display)} at "
        f"its mouth; {bend.fewest} is the fewest that do not close too early",
    ]
    return tuple(
        Label((corner[0], corner[1] + (3 - number) * _LINE), line)
        for number, line in enumerate(text)
    )
