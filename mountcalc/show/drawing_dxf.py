"""A drawing as DXF in real size: millimetres, a layer for each ink, true arcs and circles."""

from __future__ import annotations

import io
import math
from collections.abc import Mapping

from ezdxf.document import Drawing as Document
from ezdxf.enums import TextEntityAlignment
from ezdxf.filemanagement import new
from ezdxf.layouts.layout import Modelspace
from ezdxf.units import MM

from mountcalc.drawing.annotations import ARROW_LENGTH
from mountcalc.drawing.geometry import feet, sweep
from mountcalc.drawing.model import (
    TEXT_HEIGHT,
    Align,
    Arc,
    Circle,
    Drawing,
    Label,
    Line,
    Offset,
    Path,
    Point,
)
from mountcalc.show.drawing_lines import LINES
from mountcalc.show.drawing_paper import Stroke, plain_strokes, scaled, span
from mountcalc.show.drawing_rows import cautions, heading, notes, stacked
from mountcalc.show.drawing_type import printed

__all__ = ["dxf"]

_VERSION = "R2010"
_STYLE = "PLAIN"
_LEAST_WIDTH = 0.190  # of the texts below the drawing, on paper [m]
_TEXT_GAP = 0.010
_ALIGNMENTS: Mapping[Align, TextEntityAlignment] = {
    "left": TextEntityAlignment.LEFT,
    "centre": TextEntityAlignment.CENTER,
    "right": TextEntityAlignment.RIGHT,
}


def dxf(drawing: Drawing) -> bytes:
    """A drawing as a DXF file.

    Parameters
    ----------
    drawing : Drawing
        The drawing; its origin becomes that of the file.

    Returns
    -------
    bytes
        The file: real size in millimetres; layers are named like the inks. Texts, arrows and
        dashes are as large as the drawing's reduction wants them.
    """
    document = new(_VERSION, units=MM)
    document.header["$MEASUREMENT"] = 1
    document.styles.add(_STYLE, font="DejaVuSans.ttf")
    _add_layers(document, drawing.reduction)
    _add_dimension_style(document, drawing.reduction)
    _add_items(document.modelspace(), drawing)
    texts = _texts(drawing)
    for stroke in texts:
        _add(document.modelspace(), stroke, drawing.reduction)
    _show_all(document, (*plain_strokes(drawing.items, drawing.reduction), *texts))
    stream = io.StringIO()
    document.write(stream)
    return stream.getvalue().encode("utf-8")


def _add_items(space: Modelspace, drawing: Drawing) -> None:
    for item in drawing.items:
        if isinstance(item, Offset):
            _add_dimension(space, item)
        else:
            for stroke in plain_strokes([item], drawing.reduction):
                _add(space, stroke, drawing.reduction)


def _mm(point: Point) -> Point:
    return point[0] * 1000, point[1] * 1000


def _add_layers(document: Document, reduction: float) -> None:
    for ink, look in LINES.items():
        line = "CONTINUOUS"
        if look.dashes:
            line = f"{ink}_LINE"
            pieces = [dash * reduction * (-1) ** place for place, dash in enumerate(look.dashes)]
            total = sum(map(abs, pieces))
            document.linetypes.add(line, [total, *pieces], description=look.meaning)
        # The format keeps widths in hundredths of a millimetre.
        layer = document.layers.add(str(ink), linetype=line, lineweight=round(look.width * 100))
        layer.description = look.meaning


def _add_dimension_style(document: Document, reduction: float) -> None:
    style = document.dimstyles.duplicate_entry("Standard", _STYLE)
    unit = reduction * 1000
    style.dxf.dimtxsty = _STYLE
    style.dxf.dimtxt = TEXT_HEIGHT * unit
    style.dxf.dimasz = ARROW_LENGTH * unit
    style.dxf.dimexo = 0.001 * unit
    style.dxf.dimexe = 0.002 * unit
    style.dxf.dimgap = 0.001 * unit
    style.dxf.dimtad = 1  # the text above its line
    style.dxf.dimtih = 0  # and along it
    style.dxf.dimtoh = 0


def _add_dimension(space: Modelspace, offset: Offset) -> None:
    line = feet(offset)
    dimension = space.add_linear_dim(
        base=_mm(line.start),
        p1=_mm(offset.start),
        p2=_mm(offset.end),
        angle=math.degrees(line.direction),
        text=printed(offset.text),
        dimstyle=_STYLE,
        dxfattribs={"layer": str(offset.ink)},
    )
    dimension.render()


def _add(space: Modelspace, stroke: Stroke, reduction: float) -> None:
    layer = {"layer": str(stroke.ink)}
    match stroke:
        case Line():
            space.add_line(_mm(stroke.start), _mm(stroke.end), layer)
        case Path():
            points = [_mm(point) for point in stroke.points]
            space.add_lwpolyline(points, close=stroke.closed, dxfattribs=layer)
        case Arc() if sweep(stroke) < math.tau:
            # Readers differ in what they make of angles below 0 or above 360 degrees.
            start, end = (math.degrees(angle) % 360 % 360 for angle in (stroke.start, stroke.end))
            space.add_arc(_mm(stroke.centre), stroke.radius * 1000, start, end, dxfattribs=layer)
        case Circle() | Arc():
            space.add_circle(_mm(stroke.centre), stroke.radius * 1000, layer)
        case Label():
            text = space.add_text(
                printed(stroke.text),
                height=stroke.height * reduction * 1000,
                rotation=math.degrees(stroke.angle),
                dxfattribs={**layer, "style": _STYLE},
            )
            text.set_placement(_mm(stroke.at), align=_ALIGNMENTS[stroke.align])


def _texts(drawing: Drawing) -> tuple[Stroke, ...]:
    """Title, cautions and notes below the drawing, in real size."""
    left, bottom, right, _ = drawing.bounds()
    reduction = drawing.reduction
    room = max((right - left) / reduction, _LEAST_WIDTH)
    scale = "1:1 in the file"
    if reduction > 1:
        scale += f", texts for a print at 1:{reduction:g}"
    rows = [*heading(drawing, scale, room), *cautions(drawing, room), *notes(drawing, room)]
    at = left / reduction, bottom / reduction - _TEXT_GAP
    return tuple(scaled(stroke, reduction) for stroke in stacked(rows, at))


def _show_all(document: Document, strokes: tuple[Stroke, ...]) -> None:
    left, bottom, right, top = span(strokes)
    low, high = _mm((left, bottom)), _mm((right, top))
    document.modelspace().reset_extents((*low, 0), (*high, 0))
    middle = ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2)
    document.set_modelspace_vport(max(high[1] - low[1], high[0] - low[0]), center=middle)
