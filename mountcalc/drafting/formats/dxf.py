"""A drawing as DXF in real size: millimetres, true arcs and circles, dimensions that measure."""

from __future__ import annotations

import io
import math
from collections.abc import Iterable, Mapping

from ezdxf import options  # type: ignore[attr-defined]  # not in its __all__
from ezdxf.document import Drawing as Document
from ezdxf.enums import TextEntityAlignment
from ezdxf.filemanagement import new
from ezdxf.layouts.base import BaseLayout
from ezdxf.units import MM

from mountcalc.drafting.annotations import (
    ARROW_LENGTH,
    BEFORE,
    feet,
    plain_strokes,
    readable,
    strokes_of,
)
from mountcalc.drafting.drawing import Drawing
from mountcalc.drafting.formats.contours import Contour, joined
from mountcalc.drafting.items import (
    TEXT_HEIGHT,
    Align,
    Arc,
    Circle,
    Label,
    Line,
    Offset,
    Path,
    Point,
    Stroke,
    along,
    around,
    scaled,
    sweep,
)
from mountcalc.drafting.paper.sheets import LINES, span
from mountcalc.drafting.paper.text import heading, listed, printed, stacked, text_box, text_width

_VERSION = "R2010"
_LEAST_WIDTH = 0.190  # of the texts below the drawing, on paper [m]
_TEXT_GAP = 0.010
_AIR = 0.2  # around texts, of the height of their capitals: other fonts differ a little
_STYLE = "PLAIN"  # of texts, and of dimensions
_PLACED_TEXT = 128  # of the kind of a dimension: its text stands where it was put
_MIDDLE = 5  # of a text, both ways
# Programs that make tool paths are surest of arcs that turn no more than half.
_MOST_TURN = math.pi
_ALIGNMENTS: Mapping[Align, TextEntityAlignment] = {
    "left": TextEntityAlignment.LEFT,
    "centre": TextEntityAlignment.CENTER,
    "right": TextEntityAlignment.RIGHT,
}


def dxf(drawing: Drawing) -> bytes:
    """A drawing as a DXF file."""
    # No times and no random identifiers, which would make no two files alike.
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        return _written(drawing)
    finally:
        options.write_fixed_meta_data_for_testing = before


def _written(drawing: Drawing) -> bytes:
    scale = drawing.scale
    document = new(_VERSION, units=MM)
    document.header["$MEASUREMENT"] = 1
    document.header["$LWDISPLAY"] = 1  # widths of lines are shown
    document.styles.add(_STYLE, font="DejaVuSans.ttf")
    for layer, look in LINES.items():
        line = "CONTINUOUS"
        if look.dashes:
            line = f"{layer}_LINE"
            pieces = [dash * scale * (-1) ** place for place, dash in enumerate(look.dashes)]
            total = sum(map(abs, pieces))
            document.linetypes.add(line, [total, *pieces], description=look.meaning)
        # The format keeps widths in hundredths of a millimetre.
        width = round(look.width * 100)
        added = document.layers.add(str(layer), color=look.colour, linetype=line, lineweight=width)
        added.description = look.meaning
    _add_dimension_style(document, scale)
    texts = _texts(drawing)
    others = [item for item in drawing.items if not isinstance(item, Offset)]
    for stroke in (*joined(plain_strokes(others, scale)), *texts):
        _add(document.modelspace(), stroke, scale)
    for item in drawing.items:
        if isinstance(item, Offset):
            _add_dimension(document, item, scale)
    _show_all(document, [*plain_strokes(drawing.items, scale), *texts], scale)
    for kind in sorted(document.entitydb.dxf_types_in_use()):  # else in the order of a set
        document.classes.add_class(kind)
    stream = io.StringIO()
    document.write(stream)
    return stream.getvalue().encode("utf-8")


def _texts(drawing: Drawing) -> list[Stroke]:
    """Title, cautions and notes below the drawing, in real size."""
    left, bottom, right, _ = drawing.bounds()
    scale = drawing.scale
    room = max((right - left) / scale, _LEAST_WIDTH)
    said = "1:1 in the file"
    if scale > 1:
        said += f", texts for a print at 1:{scale:g}"
    cautions = listed("Cautions", drawing.cautions, room)
    rows = [*heading(drawing, said, room), *cautions, *listed("Notes", drawing.notes, room)]
    at = left / scale, bottom / scale - _TEXT_GAP
    return [scaled(stroke, scale) for stroke in stacked(rows, at)]


def _show_all(document: Document, strokes: Iterable[Stroke], scale: float) -> None:
    """What a program shows first: all of it, texts measured in the font and with some air."""
    boxes = [
        text_box(scaled(one, 1.0, scale), _AIR * one.height * scale)
        if isinstance(one, Label)
        else span([one])
        for one in strokes
    ]
    left, bottom, right, top = around(corner for box in boxes for corner in (box[:2], box[2:]))
    low, high = _millimetres((left, bottom)), _millimetres((right, top))
    document.modelspace().reset_extents((*low, 0), (*high, 0))
    middle = ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2)
    document.set_modelspace_vport(max(high[1] - low[1], high[0] - low[0]), center=middle)


def _add_dimension_style(document: Document, scale: float) -> None:
    """Add the style of all dimensions, for programs that draw them anew."""
    style = document.dimstyles.duplicate_entry("Standard", _STYLE)
    unit = scale * 1000
    style.dxf.dimtxsty = _STYLE
    style.dxf.dimtxt = TEXT_HEIGHT * unit
    style.dxf.dimasz = ARROW_LENGTH * unit
    style.dxf.dimexo = 0.001 * unit
    style.dxf.dimexe = 0.002 * unit
    style.dxf.dimgap = 0.001 * unit
    style.dxf.dimtad = 1  # the text above its line
    style.dxf.dimtih = 0  # and along it
    style.dxf.dimtoh = 0


def _add_dimension(document: Document, offset: Offset, scale: float) -> None:
    line, strokes = feet(offset), [*strokes_of(offset, scale)]
    label = strokes[-1]
    assert isinstance(label, Label)
    angle = readable(line.direction)
    # The measured points as they follow each other along the text: it is above its line then.
    across, up = offset.end[0] - offset.start[0], offset.end[1] - offset.start[1]
    ends = [_millimetres(offset.start), _millimetres(offset.end)]
    first, second = ends if across * math.cos(angle) + up * math.sin(angle) >= 0 else ends[::-1]
    entity = (
        document.modelspace()
        .add_linear_dim(
            base=_millimetres(line.start),
            p1=first,
            p2=second,
            angle=math.degrees(angle),
            text=printed(offset.text),
            dimstyle=_STYLE,
            dxfattribs={"layer": str(offset.layer)},
        )
        .dimension
    )
    height = label.height * scale
    before = (0.5 - BEFORE[label.align]) * text_width(printed(label.text), height)
    middle = along(label.at, label.angle, before, height / 2)
    entity.dxf.text_midpoint = _millimetres(middle)
    entity.dxf.attachment_point = _MIDDLE
    if label.align != "centre":
        entity.dxf.dimtype |= _PLACED_TEXT
    # What is seen of a dimension is a block of its own: the same strokes as on paper.
    block = document.blocks.new_anonymous_block(type_char="D")
    for stroke in strokes:
        _add(block, stroke, scale)
    entity.dxf.geometry = block.name


def _millimetres(point: Point) -> Point:
    """A point as the file counts."""
    return point[0] * 1000, point[1] * 1000


def _add(space: BaseLayout, stroke: Stroke | Contour, scale: float) -> None:
    layer = {"layer": str(stroke.layer)}
    match stroke:
        case Contour():
            legs = stroke.in_pieces(_MOST_TURN).legs
            points = [(*_millimetres(leg.start), leg.bulge) for leg in legs]
            space.add_lwpolyline(points, format="xyb", close=True, dxfattribs=layer)
        case Line():
            space.add_line(_millimetres(stroke.start), _millimetres(stroke.end), layer)
        case Path():
            corners = [_millimetres(point) for point in stroke.points]
            space.add_lwpolyline(corners, close=stroke.closed, dxfattribs=layer)
        case Arc() if sweep(stroke) < math.tau:
            # Readers differ in what they make of angles below 0 or above 360 degrees.
            start, end = (math.degrees(angle) % 360 % 360 for angle in (stroke.start, stroke.end))
            centre, radius = _millimetres(stroke.centre), stroke.radius * 1000
            space.add_arc(centre, radius, start, end, dxfattribs=layer)
        case Circle() | Arc():
            space.add_circle(_millimetres(stroke.centre), stroke.radius * 1000, layer)
        case Label():
            text = space.add_text(
                printed(stroke.text),
                height=stroke.height * scale * 1000,
                rotation=math.degrees(stroke.angle),
                dxfattribs={**layer, "style": _STYLE},
            )
            text.set_placement(_millimetres(stroke.at), align=_ALIGNMENTS[stroke.align])
