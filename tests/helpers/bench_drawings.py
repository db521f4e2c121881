"""Drawings of nothing in particular with every kind of item, for tests of what renders them."""

import dataclasses
import math

from mountcalc.drafting.drawing import Drawing
from mountcalc.drafting.items import Arc, Circle, Label, Layer, Leader, Line, Offset, Path

ARC = Arc((0.1, 0.1), 0.05, 0.2, 2.5, Layer.CUT)
HOLE = Circle((0.04, 0.01), 0.002, Layer.DRILL)


def box(left, bottom, right, top, layer):
    corners = ((left, bottom), (right, bottom), (right, top), (left, top))
    return Path(corners, closed=True, layer=layer)


def template(width=0.30, height=0.36):
    """A board with a bit of everything."""
    items = (
        box(0, 0, width, height, Layer.CUT),
        Line((0, 0.02), (width, 0.02), Layer.CENTRE),
        box(0.02, 0, 0.08, 0.02, Layer.POCKET),
        HOLE,
        ARC,
        Line((0.05, 0.2), (0.25, 0.3), Layer.MARK),
        Line((0.13, -0.005), (0.13, 0.2), Layer.EDGE),
        Offset((0, 0), (width, 0), -0.012, "11 13/16 in"),
        Offset((width, 0), (width, height), -0.012, "14 3/16 in"),
        Offset((0, height), (0.04, 0.01), 0.02, "40 mm", direction=0.0),
        Leader((0.04, 0.01), (0.06, 0.05), "hinge screw, 4 holes"),
        Label((0.15, 0.27), "grain", 0.004, Layer.NOTE, "centre", math.pi / 2),
    )
    notes = ("Board 18 mm thick in 2 layers: estimates, the scenario does not give them.",) * 4
    cautions = ("Unplug and lock out; block the plate before slackening the belt.",) * 2
    return Drawing("plate", "Plate template", "from the motor's side", items, notes, cautions)


def view(width=0.9, height=0.7, sentences=2):
    """A view that does not fit on a sheet in full size."""
    items = (
        box(0, 0, width, height, Layer.EDGE),
        Circle((0.3, 0.3), 0.15, Layer.CUT),
        Offset((0, 0), (0.3, 0.3), -0.06, "300 mm", direction=0.0),
    )
    return dataclasses.replace(
        template(),
        name="assembly",
        title="Assembly at snug",
        items=items,
        true_scale=False,
        scale=5.0,
        cautions=("Unplug and lock out; block the plate before slackening the belt.",) * sentences,
    )
