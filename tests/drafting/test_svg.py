"""The SVG read back: millimetres, true circles and arcs, what is cut apart from what is read."""

import dataclasses
import math
from xml.etree import ElementTree as ET

import pytest
from bench_drawings import ARC, HOLE, template, view

from mountcalc.drafting.drawing import Drawing
from mountcalc.drafting.formats.svg import svg
from mountcalc.drafting.items import Arc, Label, Layer, Line
from mountcalc.drafting.paper.pages import whole_sheet
from mountcalc.scenario.text.writing import Display

SPACE = "{http://www.w3.org/2000/svg}"


def opened(drawing):
    return ET.fromstring(svg(whole_sheet(drawing, "a4"), drawing.title))  # noqa: S314 (our own)


def group(root, name):
    return next(one for one in root.iter(f"{SPACE}g") if one.get("id") == name)


def numbers(text):
    return [float(one) for one in text.replace(",", " ").split()]


def test_a_unit_is_a_millimetre():
    root = opened(template())
    wide, high = root.get("width"), root.get("height")
    assert wide.endswith("mm")
    assert high.endswith("mm")
    assert numbers(root.get("viewBox")) == [0, 0, float(wide[:-2]), float(high[:-2])]


def test_template_is_at_true_scale():
    cut = group(opened(template()), "CUT")
    (outline,) = cut.findall(f"{SPACE}polygon")
    points = numbers(outline.get("points"))
    assert max(points[::2]) - min(points[::2]) == pytest.approx(300)
    assert max(points[1::2]) - min(points[1::2]) == pytest.approx(360)


def test_circle_and_arc_are_true_ones():
    root = opened(template())
    (outline,) = group(root, "CUT").findall(f"{SPACE}polygon")
    points = numbers(outline.get("points"))
    left, bottom = min(points[::2]), max(points[1::2])  # the drawing's origin on the sheet
    (hole,) = group(root, "DRILL").findall(f"{SPACE}circle")
    assert float(hole.get("r")) == HOLE.radius * 1000
    assert float(hole.get("cx")) - left == pytest.approx(HOLE.centre[0] * 1000)
    assert bottom - float(hole.get("cy")) == pytest.approx(HOLE.centre[1] * 1000)
    (arc,) = group(root, "CUT").findall(f"{SPACE}path")
    move, x1, y1, turn, rx, ry, _, large, way, x2, y2 = arc.get("d").split()
    assert (move, turn, large, way) == ("M", "A", "0", "0")
    assert float(rx) == float(ry) == ARC.radius * 1000
    for x, y, angle in ((x1, y1, ARC.start), (x2, y2, ARC.end)):
        assert float(x) - left == pytest.approx(100 + 50 * math.cos(angle), abs=1e-3)
        assert bottom - float(y) == pytest.approx(100 + 50 * math.sin(angle), abs=1e-3)


@pytest.mark.parametrize(("sweep", "large"), [(1.0, "0"), (4.0, "1")])
def test_long_arcs_go_the_long_way(sweep, large):
    arc = Arc((0, 0), 0.05, 1.0, 1.0 + sweep, Layer.CUT)
    (path,) = group(opened(Drawing("a", "A", "", (arc,))), "CUT").findall(f"{SPACE}path")
    assert path.get("d").split()[7] == large


def test_an_arc_all_round_is_a_circle():
    arc = Arc((0, 0), 0.05, 1.0, 1.0 + math.tau, Layer.CUT)
    (circle,) = group(opened(Drawing("a", "A", "", (arc,))), "CUT").findall(f"{SPACE}circle")
    assert float(circle.get("r")) == 50


def test_samples_of_lines_are_not_among_what_is_cut():
    root = opened(template())
    assert not group(root, "CUT").findall(f"{SPACE}line")
    assert len(group(root, "SHEET-CUT").findall(f"{SPACE}line")) == 1
    ids = [one.get("id") for one in root.iter(f"{SPACE}g")]
    assert len(ids) == len(set(ids))


def test_a_view_is_reduced_and_its_texts_are_not():
    root = opened(view())
    (circle,) = group(root, "CUT").findall(f"{SPACE}circle")
    assert float(circle.get("r")) == pytest.approx(150 / 5)
    sizes = {float(one.get("font-size")) for one in root.iter(f"{SPACE}text")}
    assert min(sizes) * 0.729 == pytest.approx(3.0, abs=0.01)


@pytest.mark.parametrize(("display", "bar"), [(Display.METRIC, 100.0), (Display.INCH, 101.6)])
def test_the_bar_is_true(display, bar):
    lines = group(opened(dataclasses.replace(template(), display=display)), "SHEET-NOTE").findall(
        f"{SPACE}line"
    )
    lengths = {round(float(one.get("x2")) - float(one.get("x1")), 3) for one in lines}
    assert bar in lengths


def test_texts_are_texts_and_turned_the_right_way():
    texts = {one.text: one for one in opened(template()).iter(f"{SPACE}text")}
    grain = texts["grain"]
    assert grain.get("text-anchor") == "middle"
    assert grain.get("transform").startswith("rotate(-90.0000 ")
    assert "11 13/16 in" in texts


def test_any_text_makes_a_file_that_can_be_read():
    odd = Label((0, 0), '<b> & "q" \x00 \x1b \ud800 \U00013000')
    drawing = dataclasses.replace(
        Drawing("a", "A <&> \x01", "", (Line((0, 0), (0.1, 0.1), Layer.CUT), odd))
    )
    texts = [one.text for one in opened(drawing).iter(f"{SPACE}text")]
    assert '<b> & "q" ? ? ? ?' in texts
