"""Strokes as entities of a DXF file, in millimetres on the layer of their ink."""

from __future__ import annotations

import math
from collections.abc import Mapping

from ezdxf.document import Drawing as Document
from ezdxf.enums import TextEntityAlignment
from ezdxf.layouts.base import BaseLayout

from mountcalc.drafting.formats.contours import Contour
from mountcalc.drafting.geometry import sweep
from mountcalc.drafting.model import Align, Arc, Circle, Label, Line, Path, Point
from mountcalc.drafting.paper.strokes import Stroke
from mountcalc.drafting.paper.type import printed

__all__ = ["TEXT_STYLE", "add", "add_text_style", "millimetres"]

TEXT_STYLE = "PLAIN"

# Programs that make tool paths are surest of arcs that turn no more than half.
_MOST_TURN = math.pi
_ALIGNMENTS: Mapping[Align, TextEntityAlignment] = {
    "left": TextEntityAlignment.LEFT,
    "centre": TextEntityAlignment.CENTER,
    "right": TextEntityAlignment.RIGHT,
}


def millimetres(point: Point) -> Point:
    """A point as the file counts."""
    return point[0] * 1000, point[1] * 1000


def add_text_style(document: Document) -> None:
    """Add the style of all texts."""
    document.styles.add(TEXT_STYLE, font="DejaVuSans.ttf")


def add(space: BaseLayout, stroke: Stroke | Contour, reduction: float) -> None:
    """Add a stroke."""
    layer = {"layer": str(stroke.ink)}
    match stroke:
        case Contour():
            legs = stroke.in_pieces(_MOST_TURN).legs
            points = [(*millimetres(leg.start), leg.bulge) for leg in legs]
            space.add_lwpolyline(points, format="xyb", close=True, dxfattribs=layer)
        case Line():
            space.add_line(millimetres(stroke.start), millimetres(stroke.end), layer)
        case Path():
            corners = [millimetres(point) for point in stroke.points]
            space.add_lwpolyline(corners, close=stroke.closed, dxfattribs=layer)
        case Arc() if sweep(stroke) < math.tau:
            # Readers differ in what they make of angles below 0 or above 360 degrees.
            start, end = (math.degrees(angle) % 360 % 360 for angle in (stroke.start, stroke.end))
            centre, radius = millimetres(stroke.centre), stroke.radius * 1000
            space.add_arc(centre, radius, start, end, dxfattribs=layer)
        case Circle() | Arc():
            space.add_circle(millimetres(stroke.centre), stroke.radius * 1000, layer)
        case Label():
            text = space.add_text(
                printed(stroke.text),
                height=stroke.height * reduction * 1000,
                rotation=math.degrees(stroke.angle),
                dxfattribs={**layer, "style": TEXT_STYLE},
            )
            text.set_placement(millimetres(stroke.at), align=_ALIGNMENTS[stroke.align])
