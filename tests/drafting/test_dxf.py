"""The DXF read back: units, layers, true arcs and circles, dimensions, a clean audit."""

import dataclasses
import io
import itertools
import math
import os
import pathlib
import subprocess
import sys

import ezdxf
import pytest
from bench_drawings import ARC, HOLE, template, view
from ezdxf.colors import aci2rgb

from mountcalc.drafting.drawing import Drawing
from mountcalc.drafting.formats.dxf import dxf
from mountcalc.drafting.items import Arc, Circle, Label, Layer, Line, Offset, Path


def opened(drawing):
    document = ezdxf.read(io.StringIO(dxf(drawing).decode("utf-8")))
    audit = document.audit()
    assert not audit.has_errors
    assert not audit.fixes
    return document


def found(drawing, kind, layer):
    return [one for one in opened(drawing).modelspace().query(kind) if one.dxf.layer == layer]


@pytest.mark.parametrize("drawing", [template(), view()], ids=["template", "view"])
def test_units_are_millimetres(drawing):
    document = opened(drawing)
    assert document.dxfversion == "AC1024"  # R2010
    assert document.header["$INSUNITS"] == 4
    assert document.header["$MEASUREMENT"] == 1


def test_a_layer_for_each_ink_with_its_width_and_dashes():
    document = opened(template())
    assert {str(layer) for layer in Layer} <= {layer.dxf.name for layer in document.layers}
    assert document.layers.get("CUT").dxf.lineweight == 50
    assert document.layers.get("MARK").dxf.lineweight == 35
    assert document.layers.get("CENTRE").dxf.lineweight == 25
    assert document.layers.get("CUT").dxf.linetype.upper() == "CONTINUOUS"
    assert document.layers.get("CENTRE").dxf.linetype in document.linetypes
    for one in document.modelspace():
        assert one.dxf.layer in {str(layer) for layer in Layer}


@pytest.mark.parametrize("drawing", [template(), view()], ids=["template", "view"])
def test_the_same_drawing_gives_the_same_bytes(drawing):
    assert dxf(drawing) == dxf(drawing)
    assert not ezdxf.options.write_fixed_meta_data_for_testing  # as others may have it


def test_the_same_drawing_gives_the_same_bytes_in_another_process():
    code = (
        "import hashlib, bench_drawings; from mountcalc.drafting.formats.dxf import dxf; "
        "print(hashlib.sha256(dxf(bench_drawings.view())).hexdigest())"
    )
    helpers = str(pathlib.Path(__file__).parents[1] / "helpers")
    sums = {
        subprocess.run(
            [sys.executable, "-c", code],
            env=os.environ | {"PYTHONHASHSEED": seed, "PYTHONPATH": helpers},
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in "12"
    }
    assert len(sums) == 1


def luminance(colour):
    """Relative luminance (WCAG 2, definition)."""
    parts = [part / 255 for part in aci2rgb(colour)]
    linear = [
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    ]
    return 0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]


def test_layers_are_told_apart_on_white_and_on_black():
    document = opened(template())
    layers = [document.layers.get(str(layer)) for layer in Layer]
    assert document.layers.get("NOTE").color == 7  # black on white, white on black
    for layer in layers:
        if layer.color == 7:
            continue
        bright = luminance(layer.color)
        assert 1.05 / (bright + 0.05) >= 3  # contrast for graphics (WCAG 2, 1.4.11)
        assert (bright + 0.05) / 0.05 >= 3
    for one, other in itertools.combinations(layers, 2):
        assert math.dist(aci2rgb(one.color), aci2rgb(other.color)) > 60  # of 442
    assert {one.dxf.linetype for one in layers if one.dxf.name in {"CUT", "DRILL"}} == {
        "CONTINUOUS"
    }
    dashed = {one.dxf.linetype for one in layers} - {"CONTINUOUS"}
    assert len(dashed) == 4


def test_arc_and_hole_are_where_they_were_drawn():
    (arc,) = found(template(), "ARC", "CUT")
    assert tuple(arc.dxf.center)[:2] == pytest.approx((100, 100))
    assert arc.dxf.radius == pytest.approx(ARC.radius * 1000)
    assert math.radians(arc.dxf.start_angle) == pytest.approx(ARC.start)
    assert math.radians(arc.dxf.end_angle) == pytest.approx(ARC.end)
    (hole,) = found(template(), "CIRCLE", "DRILL")
    assert tuple(hole.dxf.center)[:2] == pytest.approx((40, 10))
    assert hole.dxf.radius == pytest.approx(HOLE.radius * 1000)


@pytest.mark.parametrize("turns", [-2, -1, 0, 1, 3])
def test_angles_of_arcs_are_within_one_turn(turns):
    start, end = -0.5 + turns * math.tau, 1.0 + turns * math.tau
    drawing = Drawing("arc", "Arc", "", (Arc((0, 0), 0.05, start, end, Layer.CUT),))
    for one in (drawing, drawing.mirrored()):
        (arc,) = found(one, "ARC", "CUT")
        assert 0 <= arc.dxf.start_angle < 360
        assert 0 <= arc.dxf.end_angle < 360
        turned = math.radians(arc.dxf.end_angle - arc.dxf.start_angle) % math.tau
        assert turned == pytest.approx(1.5)


def test_outline_is_one_closed_polyline_in_real_size():
    (outline,) = found(template(), "LWPOLYLINE", "CUT")
    assert outline.closed
    assert [tuple(point) for point in outline.get_points("xy")] == [
        (0, 0),
        (300, 0),
        (300, 360),
        (0, 360),
    ]


def test_a_view_is_in_real_size_and_its_texts_are_made_for_its_reduction():
    (circle,) = found(view(), "CIRCLE", "CUT")
    assert circle.dxf.radius == pytest.approx(150)
    heights = {round(one.dxf.height, 6) for one in found(view(), "TEXT", "NOTE")}
    assert heights == {15.0, 25.0}  # 3 mm and the title's 5 mm at 1:5


def test_dimensions_measure_what_they_say():
    first, second, third = found(template(), "DIMENSION", "DIMENSION")
    assert [one.dxf.text for one in (first, second, third)] == [
        "11 13/16 in",
        "14 3/16 in",
        "40 mm",
    ]
    assert [one.get_measurement() for one in (first, second, third)] == pytest.approx(
        [300, 360, 40]
    )
    assert first.dxf.defpoint.y == pytest.approx(-12)  # where its line runs
    assert second.dxf.defpoint.x == pytest.approx(312)


@pytest.mark.parametrize("drawing", [template(), view()], ids=["template", "view"])
@pytest.mark.parametrize("mirrored", [False, True])
def test_dimensions_read_along_their_text_mirrored_or_not(drawing, mirrored):
    drawing = drawing.mirrored() if mirrored else drawing
    dimensions = list(opened(drawing).modelspace().query("DIMENSION"))
    assert dimensions
    for one in dimensions:
        angle = math.radians(one.dxf.angle)
        assert -math.pi / 2 < angle <= math.pi / 2
        run = one.dxf.defpoint3 - one.dxf.defpoint2
        assert run.x * math.cos(angle) + run.y * math.sin(angle) > 0
        (text,) = (part for part in one.virtual_entities() if part.dxftype() == "TEXT")
        assert math.radians(text.dxf.rotation) == pytest.approx(angle)


def test_title_cautions_and_notes_stand_below_the_drawing():
    texts = found(template(), "TEXT", "NOTE")
    said = [one.dxf.text for one in texts]
    assert "Plate template" in said
    assert any("Unplug and lock out" in text for text in said)
    assert any("estimates" in text for text in said)
    below = [one for one in texts if "Unplug" in one.dxf.text or "estimates" in one.dxf.text]
    assert max(one.get_placement()[1].y for one in below) < -12


def test_texts_stand_as_they_are_drawn():
    (grain,) = (one for one in found(template(), "TEXT", "NOTE") if one.dxf.text == "grain")
    align, at, _ = grain.get_placement()
    assert align == ezdxf.enums.TextEntityAlignment.CENTER
    assert (at.x, at.y) == pytest.approx((150, 270))
    assert grain.dxf.rotation == pytest.approx(90)
    assert grain.dxf.height == pytest.approx(4)


def test_what_is_mirrored_lies_on_the_other_side():
    (arc,) = found(template().mirrored(), "ARC", "CUT")
    assert tuple(arc.dxf.center)[:2] == pytest.approx((-100, 100))
    assert math.radians(arc.dxf.start_angle) == pytest.approx(math.pi - ARC.end)


def test_odd_items_and_texts_leave_a_clean_file():
    items = (
        Line((0, 0), (0.1, 0.1), Layer.CUT),
        Arc((0, 0), 0.05, 1.0, 1.0 + math.tau, Layer.CUT),
        Offset((0, 0), (0, 0), 0.01, "0 mm"),
        Offset((0, 0), (0.001, 0), 0.01, "1 mm", Layer.NOTE),
        Offset((0.1, 0), (0, 0.05), 0.01, "50 mm", direction=math.pi / 2),
        Path(((0, 0), (0.1, 0)), closed=False, layer=Layer.MARK),
        Circle((0, 0), 0.01, Layer.POCKET),
        Label((0, 0), "%%c {\\H} \x00 \ud800 \U00013000 µ ° ×"),
    )
    drawing = Drawing("odd", "Odd \n title", "", items)
    space = opened(drawing).modelspace()
    assert len(space.query("DIMENSION")) == 3
    assert len(space.query("CIRCLE")) == 2
    assert "µ ° ×" in "".join(one.dxf.text for one in space.query("TEXT"))


def test_extents_hold_everything():
    drawing = dataclasses.replace(template(), cautions=(), notes=())
    document = opened(drawing)
    left, bottom, _ = document.header["$EXTMIN"]
    right, top, _ = document.header["$EXTMAX"]
    assert left <= 0
    assert right >= 312
    assert top >= 380
    assert bottom < -12
