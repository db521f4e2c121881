"""Dimensions of a DXF file: they measure, and look as they do on paper."""

from __future__ import annotations

import math
from collections.abc import Mapping

from ezdxf.document import Drawing as Document

from mountcalc.drafting.annotations import ARROW_LENGTH, offset_label, offset_lines, readable
from mountcalc.drafting.formats.dxf_entities import TEXT_STYLE, add, millimetres
from mountcalc.drafting.geometry import along, feet
from mountcalc.drafting.model import TEXT_HEIGHT, Align, Label, Offset, Point
from mountcalc.drafting.paper.type import printed, text_width

__all__ = ["add_dimension", "add_dimension_style"]

_STYLE = "PLAIN"
_PLACED_TEXT = 128  # of the kind of a dimension: its text stands where it was put
_MIDDLE = 5  # of a text, both ways
_SIDE: Mapping[Align, float] = {"left": 0.5, "centre": 0.0, "right": -0.5}


def add_dimension_style(document: Document, reduction: float) -> None:
    """Add the style of all dimensions, for programs that draw them anew."""
    style = document.dimstyles.duplicate_entry("Standard", _STYLE)
    unit = reduction * 1000
    style.dxf.dimtxsty = TEXT_STYLE
    style.dxf.dimtxt = TEXT_HEIGHT * unit
    style.dxf.dimasz = ARROW_LENGTH * unit
    style.dxf.dimexo = 0.001 * unit
    style.dxf.dimexe = 0.002 * unit
    style.dxf.dimgap = 0.001 * unit
    style.dxf.dimtad = 1  # the text above its line
    style.dxf.dimtih = 0  # and along it
    style.dxf.dimtoh = 0


def add_dimension(document: Document, offset: Offset, reduction: float) -> None:
    """Add a dimension."""
    line = feet(offset)
    angle = readable(line.direction)
    label = offset_label(offset, reduction)
    first, second = _in_reading_order(offset, angle)
    entity = (
        document.modelspace()
        .add_linear_dim(
            base=millimetres(line.start),
            p1=millimetres(first),
            p2=millimetres(second),
            angle=math.degrees(angle),
            text=printed(offset.text),
            dimstyle=_STYLE,
            dxfattribs={"layer": str(offset.ink)},
        )
        .dimension
    )
    entity.dxf.text_midpoint = millimetres(_middle(label, reduction))
    entity.dxf.attachment_point = _MIDDLE
    if label.align != "centre":
        entity.dxf.dimtype |= _PLACED_TEXT
    # What is seen of a dimension is a block of its own: the same strokes as on paper.
    block = document.blocks.new_anonymous_block(type_char="D")
    for stroke in (*offset_lines(offset, reduction), label):
        add(block, stroke, reduction)
    entity.dxf.geometry = block.name


def _in_reading_order(offset: Offset, angle: float) -> tuple[Point, Point]:
    """The measured points as they follow each other along the text: it is above its line then."""
    across, up = offset.end[0] - offset.start[0], offset.end[1] - offset.start[1]
    if across * math.cos(angle) + up * math.sin(angle) >= 0:
        return offset.start, offset.end
    return offset.end, offset.start


def _middle(label: Label, reduction: float) -> Point:
    """The middle of a text."""
    height = label.height * reduction
    before = _SIDE[label.align] * text_width(printed(label.text), height)
    return along(label.at, label.angle, before, height / 2)
