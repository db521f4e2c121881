"""A small drawing of the relief cuts in the strip, at true size beside the panel."""

from __future__ import annotations

from functools import partial

from mountcalc.drafting.items import TEXT_HEIGHT, Item, Label, Layer, Line, Offset, Path, Point
from mountcalc.draw.guard.strip.edge import Bend, Cuts
from mountcalc.pages.bench_lengths import fine_length
from mountcalc.scenario.model import Display

__all__ = ["strip_detail"]

_LINE = 1.7 * TEXT_HEIGHT
_MARGIN = 0.5  # of the spacing, beyond the outer cuts
_CUTS = 3
_LINES = 6


def strip_detail(bend: Bend, cuts: Cuts, corner: Point, display: Display) -> tuple[Item, ...]:
    """The strip from its edge, straight, with three of the cuts of a bend."""
    left = corner[0]
    bottom = corner[1] + (_LINES + 1) * _LINE
    top = bottom + cuts.thickness
    middles = [left + (number + _MARGIN) * bend.spacing for number in range(_CUTS)]
    right = left + _CUTS * bend.spacing
    points = [(left, top)]
    for middle in middles:
        near, far = middle - 0.5 * cuts.kerf, middle + 0.5 * cuts.kerf
        floor = bottom + cuts.skin
        points += [(near, top), (near, floor), (far, floor), (far, top)]
    points += [(right, top), (right, bottom), (left, bottom)]
    spacing = fine_length(bend.spacing, display)
    return (
        Path(tuple(points), closed=True, layer=Layer.NOTE),
        *(Line((at, bottom - 0.002), (at, top + 0.002), Layer.CENTRE) for at in middles),
        Offset((middles[0], top), (middles[1], top), 0.009, spacing, direction=0.0),
        *_captions(bend, cuts, corner, display),
    )


def _captions(bend: Bend, cuts: Cuts, corner: Point, display: Display) -> tuple[Label, ...]:
    """What stands under the detail, line by line."""
    written = partial(fine_length, display=display)
    mouth = max(0.0, cuts.mouth(bend.turn / bend.cuts))
    # Short lines: a template is cut up into sheets.
    text = [
        "Detail: relief cuts in the strip, not cut here",
        f"round the edge of {written(bend.radius)} radius {bend.cuts} cuts,",
        f"{written(bend.spacing)} apart while straight, over {written(bend.length)}",
        f"kerf {written(cuts.kerf)}, strip {written(cuts.thickness)} thick, "
        f"{written(cuts.skin)} left",
        f"cuts inside the bend; mouths close to {written(mouth)}",
        f"({bend.fewest} are the fewest that do not close too early)",
    ]
    return tuple(
        Label((corner[0], corner[1] + (_LINES - 1 - number) * _LINE), line)
        for number, line in enumerate(text)
    )
