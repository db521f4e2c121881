"""A drawing as DXF in real size: millimetres, a layer for each ink, true arcs and circles."""

from __future__ import annotations

import dataclasses
import io
from collections.abc import Iterable, Iterator, Sequence
from contextlib import contextmanager

from ezdxf import options  # type: ignore[attr-defined]  # not in its __all__
from ezdxf.document import Drawing as Document
from ezdxf.filemanagement import new
from ezdxf.units import MM

from mountcalc.drafting.formats.contours import joined
from mountcalc.drafting.formats.dxf_dimensions import add_dimension, add_dimension_style
from mountcalc.drafting.formats.dxf_entities import add, add_text_style, millimetres
from mountcalc.drafting.model import Bounds, Drawing, Label, Offset
from mountcalc.drafting.paper.clear import text_box
from mountcalc.drafting.paper.line_styles import LINES
from mountcalc.drafting.paper.rows import cautions, heading, notes, stacked
from mountcalc.drafting.paper.strokes import Stroke, plain_strokes, scaled, span

__all__ = ["dxf"]

_VERSION = "R2010"
_LEAST_WIDTH = 0.190  # of the texts below the drawing, on paper [m]
_TEXT_GAP = 0.010
_AIR = 0.2  # around texts, of the height of their capitals: other fonts differ a little


def dxf(drawing: Drawing) -> bytes:
    """A drawing as a DXF file."""
    with _without_clock():
        return _written(drawing)


@contextmanager
def _without_clock() -> Iterator[None]:
    """No times and no random identifiers in files, which would make no two of them alike."""
    before = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        yield
    finally:
        options.write_fixed_meta_data_for_testing = before


def _written(drawing: Drawing) -> bytes:
    document = new(_VERSION, units=MM)
    document.header["$MEASUREMENT"] = 1
    document.header["$LWDISPLAY"] = 1  # widths of lines are shown
    add_text_style(document)
    _add_layers(document, drawing.reduction)
    add_dimension_style(document, drawing.reduction)
    texts = _texts(drawing)
    _add_items(document, drawing, texts)
    _show_all(document, drawing, texts)
    stream = io.StringIO()
    document.write(stream)
    return stream.getvalue().encode("utf-8")


def _add_items(document: Document, drawing: Drawing, texts: Iterable[Stroke]) -> None:
    space, reduction = document.modelspace(), drawing.reduction
    others = [item for item in drawing.items if not isinstance(item, Offset)]
    for stroke in (*joined(plain_strokes(others, reduction)), *texts):
        add(space, stroke, reduction)
    for item in drawing.items:
        if isinstance(item, Offset):
            add_dimension(document, item, reduction)


def _add_layers(document: Document, reduction: float) -> None:
    for ink, look in LINES.items():
        line = "CONTINUOUS"
        if look.dashes:
            line = f"{ink}_LINE"
            pieces = [dash * reduction * (-1) ** place for place, dash in enumerate(look.dashes)]
            total = sum(map(abs, pieces))
            document.linetypes.add(line, [total, *pieces], description=look.meaning)
        # The format keeps widths in hundredths of a millimetre.
        width = round(look.width * 100)
        layer = document.layers.add(str(ink), color=look.colour, linetype=line, lineweight=width)
        layer.description = look.meaning


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


def _show_all(document: Document, drawing: Drawing, texts: Iterable[Stroke]) -> None:
    strokes = [*plain_strokes(drawing.items, drawing.reduction), *texts]
    left, bottom, right, top = _around([_box(stroke, drawing.reduction) for stroke in strokes])
    low, high = millimetres((left, bottom)), millimetres((right, top))
    document.modelspace().reset_extents((*low, 0), (*high, 0))
    middle = ((low[0] + high[0]) / 2, (low[1] + high[1]) / 2)
    document.set_modelspace_vport(max(high[1] - low[1], high[0] - low[0]), center=middle)


def _box(stroke: Stroke, reduction: float) -> Bounds:
    """What a stroke covers, a text measured in the font and with some air."""
    if isinstance(stroke, Label):
        label = dataclasses.replace(stroke, height=stroke.height * reduction)
        return text_box(label, _AIR * label.height)
    return span([stroke])


def _around(boxes: Sequence[Bounds]) -> Bounds:
    left, bottom, right, top = zip(*boxes, strict=True)
    return min(left), min(bottom), max(right), max(top)
