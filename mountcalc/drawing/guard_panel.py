"""The template of the guard's panel, seen facing the motor's pulley."""

from __future__ import annotations

from collections.abc import Iterator

from mountcalc.drawing.baselines import Baseline, Run, baselines
from mountcalc.drawing.bench_lengths import bench_length
from mountcalc.drawing.callouts import callouts
from mountcalc.drawing.edge_strip import Bend, bend, strip_length
from mountcalc.drawing.geometry import moved
from mountcalc.drawing.guard_shape import GuardShape, guard_shape
from mountcalc.drawing.guard_sizes import made
from mountcalc.drawing.guard_words import fixing_holes, guard_cautions, guard_notes
from mountcalc.drawing.model import (
    Arc,
    Drawing,
    Ink,
    Item,
    Leader,
    Line,
    Path,
    Point,
)
from mountcalc.drawing.strip_detail import strip_detail
from mountcalc.scenario.model import Display, Scenario

__all__ = ["guard_panel"]

_FIRST = 0.014  # from the blank to the first dimension line [m]
_BESIDE = 0.008  # from a corner of the blank to the end of a leader [m]
_CROSS = 0.006  # half a centre cross [m]
_GAP = 0.012  # from the blank to the detail above it [m]


def guard_panel(scenario: Scenario) -> Drawing:
    """The panel with the slot for the motor's shaft, ready to be cut.

    Parameters
    ----------
    scenario : Scenario
        The mount with its parts.

    Returns
    -------
    Drawing
        In the plane of the scenario's drawing, moved so that the lower left corner of the blank,
        where the two datum edges meet, is the origin.

    Raises
    ------
    MountError
        Where the belt never becomes snug.
    """
    shape = guard_shape(scenario)
    bends = _bends(shape)
    left, bottom, right, top = shape.outline.bounds
    parts = tuple(moved(item, (-left, -bottom)) for item in _parts(shape))
    blank = (right - left, top - bottom)
    marks = tuple(_marks(shape, scenario.display, blank, (left, bottom)))
    words = [
        (((at[0] - left, at[1] - bottom),), text) for at, text in _told(shape, scenario.display)
    ]
    told = callouts(words, (*parts, *marks), 1.0, (0.0, 0.0, *blank))
    sharpest = min(bends, key=lambda one: (round(one.radius, 6), -one.turn))
    detail = strip_detail(sharpest, shape.sizes.cuts, (0.0, blank[1] + _GAP), scenario.display)
    here, other = (fixing_holes(shape, side, scenario.display) for side in ("left", "right"))
    return Drawing(
        name="guard",
        title=f"Guard panel: {scenario.title}",
        view="Seen facing the motor's pulley",
        items=(*parts, *marks, *told, *detail),
        notes=guard_notes(scenario, shape, bends),
        cautions=guard_cautions(scenario, shape),
        true_scale=True,
        facts=_facts(shape, sharpest),
        other_hand={here: other},
    )


def _bends(shape: GuardShape) -> tuple[Bend, ...]:
    cuts, facet = shape.sizes.cuts, made("facet")
    return tuple(bend(radius, turn, cuts, facet) for radius, turn in shape.outline.arcs)


def _parts(shape: GuardShape) -> Iterator[Item]:
    """What is cut and drilled, with its centre lines, in the scenario's coordinates."""
    yield from shape.outline.items(Ink.CUT)
    yield from shape.slot.items(Ink.CUT)
    yield shape.opening
    yield from shape.holes
    slot = shape.slot
    yield Arc(slot.hinge, slot.radius, slot.start, slot.end, Ink.CENTRE)
    for point in _centres(shape):
        yield from _cross(point, _CROSS)
    for hole in shape.holes:
        yield from _cross(hole.centre, 2.0 * hole.radius)


def _centres(shape: GuardShape) -> tuple[Point, Point, Point]:
    """Centres that are measured: opening, and both ends of the slot."""
    slot = shape.slot
    return shape.opening.centre, slot.at(slot.start), slot.at(slot.end)


def _cross(at: Point, half: float) -> tuple[Line, Line]:
    x, y = at
    return (
        Line((x - half, y), (x + half, y), Ink.CENTRE),
        Line((x, y - half), (x, y + half), Ink.CENTRE),
    )


def _marks(shape: GuardShape, display: Display, blank: Point, corner: Point) -> Iterator[Item]:
    """The blank with its datum edges, and the dimensions from them."""
    width, height = blank
    yield Path(((0.0, 0.0), (width, 0.0), blank, (0.0, height)), closed=True, ink=Ink.EDGE)
    points = [(x - corner[0], y - corner[1]) for x, y in _centres(shape)]
    across = Baseline(Run.ACROSS, (0.0, 0.0), -_FIRST, -1, 1.0, display)
    up = Baseline(Run.UP, (0.0, 0.0), -_FIRST, -1, 1.0, display)
    yield from baselines(across, [*points, (width, 0.0)])
    yield from baselines(up, [*points, (0.0, height)])
    yield Leader((width, 0.0), (width + _BESIDE, -_BESIDE), "datum edge")
    yield Leader((0.0, height), (-_BESIDE, height + _BESIDE), "datum edge")


def _told(shape: GuardShape, display: Display) -> Iterator[tuple[Point, str]]:
    """What is pointed at, in the scenario's coordinates, and what is said of it."""
    slot, opening = shape.slot, shape.opening
    middle = 0.5 * (slot.start + slot.end)
    inner = max(slot.radius - slot.half_width, 0.0) / slot.radius
    x, y = slot.at(middle)
    yield (
        (slot.hinge[0] + inner * (x - slot.hinge[0]), slot.hinge[1] + inner * (y - slot.hinge[1])),
        f"slot {bench_length(2.0 * slot.half_width, display)} wide",
    )
    yield (x, y), f"{bench_length(slot.radius, display)} about the hinge"
    ends = {shape.swing.low: slot.start, shape.swing.high: slot.end}
    yield slot.at(ends[shape.swing.install]), "motor's shaft at install"
    yield slot.at(ends[shape.swing.take_up]), "motor's shaft at take-up"
    yield (
        (opening.centre[0], opening.centre[1] - opening.radius),
        f"{shape.driven.around}, {bench_length(2.0 * opening.radius, display)} across",
    )
    hole = shape.holes[0]
    yield (
        (hole.centre[0], hole.centre[1]),
        f"{len(shape.holes)} holes, {bench_length(2.0 * hole.radius, display)} across",
    )


def _facts(shape: GuardShape, sharpest: Bend) -> dict[str, float]:
    left, bottom, right, top = shape.outline.bounds
    return {
        "blank_width": right - left,
        "blank_height": top - bottom,
        "datum_x": left,
        "datum_y": bottom,
        "slot_radius": shape.slot.radius,
        "slot_width": 2.0 * shape.slot.half_width,
        "slot_length": shape.slot.length,
        "opening_diameter": 2.0 * shape.opening.radius,
        "fixing_holes": float(len(shape.holes)),
        "outline_length": shape.outline.perimeter,
        "strip_length": strip_length(shape.outline, shape.sizes.cuts.neutral),
        "least_radius": sharpest.radius,
        "relief_cuts": float(sharpest.cuts),
        "relief_spacing": sharpest.spacing,
    }
