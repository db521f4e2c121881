"""A page as SVG in millimetres, the strokes grouped by what they are for."""

from __future__ import annotations

import math
from collections.abc import Mapping
from itertools import pairwise
from xml.etree import ElementTree as ET

from mountcalc.drafting.annotations import BEFORE, HANGING
from mountcalc.drafting.formats.contours import Contour, joined
from mountcalc.drafting.items import (
    Align,
    Arc,
    Circle,
    Label,
    Line,
    Path,
    Point,
    Stroke,
    along,
    sweep,
)
from mountcalc.drafting.paper.sheets import LINES, Page
from mountcalc.drafting.paper.text import CAPITAL, printed, text_width

# The centre of an arc that turns about half is ill defined by its ends and radius.
_MOST_TURN = math.pi / 2
_ANCHORS: Mapping[Align, str] = {"left": "start", "centre": "middle", "right": "end"}


def svg(page: Page, title: str) -> bytes:
    """A page as an SVG file; one user unit is a millimetre."""
    wide, high = _number(page.width), _number(page.height)
    size = {"width": f"{wide}mm", "height": f"{high}mm", "viewBox": f"0 0 {wide} {high}"}
    root = ET.Element("svg", {"xmlns": "http://www.w3.org/2000/svg", **size})
    ET.SubElement(root, "title").text = printed(title)
    for workpiece in (True, False):
        patches = [patch for patch in page.patches if patch.workpiece is workpiece]
        strokes = joined(stroke for patch in patches for stroke in patch.strokes)
        for layer, look in LINES.items():
            mine = [stroke for stroke in strokes if stroke.layer is layer]
            if not mine:
                continue
            group = ET.SubElement(
                root,
                "g",
                {
                    # The samples of lines on the sheet must not be cut: they are of their own.
                    "id": f"{'' if workpiece else 'SHEET-'}{layer}",
                    "fill": "none",
                    "stroke": "black",
                    "stroke-width": f"{look.width:g}",
                },
            )
            if look.dashes:
                group.set("stroke-dasharray", " ".join(f"{dash:g}" for dash in look.dashes))
            # Texts come last: where they have a ground it hides the lines under it.
            for stroke in sorted(mine, key=lambda one: isinstance(one, Label)):
                _add(group, stroke, page.height)
    ET.indent(root)
    content: bytes = ET.tostring(root, encoding="utf-8", xml_declaration=True)
    return content


def _number(metres: float) -> str:
    """Millimetres to a tenth of a micrometre."""
    return f"{metres * 1000:.4f}".rstrip("0").rstrip(".")


def _place(point: Point, height: float) -> tuple[str, str]:
    """A point as the format counts: down from the top."""
    return _number(point[0]), _number(height - point[1])


def _add(group: ET.Element, stroke: Stroke | Contour, height: float) -> None:
    match stroke:
        case Label():
            _add_text(group, stroke, height)
        case Contour():
            ET.SubElement(group, "path", {"d": _contour(stroke, height)})
        case Line():
            (x1, y1), (x2, y2) = _place(stroke.start, height), _place(stroke.end, height)
            ET.SubElement(group, "line", {"x1": x1, "y1": y1, "x2": x2, "y2": y2})
        case Path():
            points = " ".join(",".join(_place(point, height)) for point in stroke.points)
            ET.SubElement(group, "polygon" if stroke.closed else "polyline", {"points": points})
        case Arc() if sweep(stroke) < math.tau:
            start, end = (
                " ".join(_place(along(stroke.centre, angle, stroke.radius), height))
                for angle in (stroke.start, stroke.end)
            )
            radius, large = _number(stroke.radius), int(sweep(stroke) > math.pi)
            way = f"M {start} A {radius} {radius} 0 {large} 0 {end}"
            ET.SubElement(group, "path", {"d": way})
        case Circle() | Arc():
            x, y = _place(stroke.centre, height)
            ET.SubElement(group, "circle", {"cx": x, "cy": y, "r": _number(stroke.radius)})


def _contour(contour: Contour, height: float) -> str:
    legs = contour.in_pieces(_MOST_TURN).legs
    steps = [f"M {' '.join(_place(legs[0].start, height))}"]
    for leg, after in pairwise((*legs, legs[0])):
        end = " ".join(_place(after.start, height))
        if leg.turn:
            # What turns counter-clockwise in the drawing does so on the sheet, where y is down.
            radius = _number(leg.radius)
            steps.append(f"A {radius} {radius} 0 0 {int(leg.turn < 0)} {end}")
        elif after is not legs[0]:
            steps.append(f"L {end}")
    return " ".join((*steps, "Z"))


def _add_text(group: ET.Element, label: Label, page_height: float) -> None:
    text, height = printed(label.text), label.height
    x, y = _place(label.at, page_height)
    turn = {}
    if label.angle:
        turn["transform"] = f"rotate({-math.degrees(label.angle):.4f} {x} {y})"
    if label.ground:
        width = text_width(text, height)
        corner = label.at[0] - BEFORE[label.align] * width, label.at[1] + height
        left, top = _place(corner, page_height)
        high = _number((1 + HANGING) * height)  # and what hangs below the line
        ground = {"x": left, "y": top, "width": _number(width), "height": high}
        ET.SubElement(group, "rect", {**ground, "fill": "white", "stroke": "none", **turn})
    font = {
        "font-family": "DejaVu Sans, Verdana, sans-serif",
        "font-size": _number(height / CAPITAL),
        "text-anchor": _ANCHORS[label.align],
    }
    look = {"x": x, "y": y, **font, "fill": "black", "stroke": "none", **turn}
    ET.SubElement(group, "text", look).text = text
