"""Files for a router read back: every outline closed, of the known area, and nothing loose."""

import io
import itertools
import math
from pathlib import Path as FilePath
from xml.etree import ElementTree as ET

import ezdxf
import ezdxf.bbox
import numpy as np
import pytest
import shapely
from ezdxf.math import bulge_radius
from ezdxf.path import make_path
from plain_names import place_plainly

from mountcalc.drafting.formats.dxf import dxf
from mountcalc.drafting.formats.svg import svg
from mountcalc.drafting.items import Offset
from mountcalc.drafting.paper.pages import whole_sheet
from mountcalc.draw.build import Build, turned
from mountcalc.draw.drawings import drawings_of
from mountcalc.draw.guard.shape import guard_shape
from mountcalc.draw.guard.sizes import guard_sizes
from mountcalc.scenario.reader import read_scenario

SCENARIOS = sorted((FilePath(__file__).parents[2] / "scenarios").glob("*.toml"))
TEMPLATES = ("plate", "base", "guard")
MACHINED = ("CUT", "POCKET", "DRILL")
# Arcs are followed by chords that leave them by so much [mm].
CHORD = 1e-4
SVG = "{http://www.w3.org/2000/svg}"


class Mount:
    """A scenario with its drawings and what is read back of their files."""

    def __init__(self, file):
        self.scenario = read_scenario(file)
        names = (*TEMPLATES, "assembly", "along-shafts")
        self.drawings = {one.name: one for one in drawings_of(Build(self.scenario), names)}
        self.files = {
            name: ezdxf.read(io.StringIO(dxf(one).decode("utf-8")))
            for name, one in self.drawings.items()
        }

    def found(self, name, kind, *layers):
        space = self.files[name].modelspace()
        return [one for one in space.query(kind) if one.dxf.layer in layers]


@pytest.fixture(scope="module", params=SCENARIOS, ids=lambda file: file.stem)
def mount(request):
    with pytest.MonkeyPatch.context() as patch:
        place_plainly(patch)
        return Mount(request.param)


def polygon(entity):
    """A closed polyline with its bulges as a polygon [mm]."""
    shape = shapely.Polygon([(one.x, one.y) for one in make_path(entity).flattening(CHORD)])
    assert shape.is_valid
    return shape


def test_all_that_is_machined_is_closed(mount):
    for name in TEMPLATES:
        found = mount.found(name, "*", *MACHINED)
        assert {one.dxftype() for one in found} <= {"LWPOLYLINE", "CIRCLE"}
        outlines = mount.found(name, "LWPOLYLINE", *MACHINED)
        assert outlines
        assert all(one.closed for one in outlines)
        assert all(polygon(one).area > 1.0 for one in outlines)


def test_holes_are_circles(mount):
    for name in TEMPLATES:
        assert not mount.found(name, "LWPOLYLINE", "DRILL")
    holes = mount.found("guard", "CIRCLE", "DRILL")
    assert len(holes) == mount.drawings["guard"].facts["fixing_holes"]


def test_a_library_finds_no_fault(mount):
    for document in mount.files.values():
        audit = document.audit()
        assert not audit.errors
        assert not audit.fixes


def test_nothing_has_no_length(mount):
    for document in mount.files.values():
        for one in document.modelspace().query("LINE ARC LWPOLYLINE"):
            path = make_path(one)
            ends = [path.start, *(command.end for command in path.commands())]
            for start, end in itertools.pairwise(ends):
                assert start.distance(end) > 1e-6  # [mm]


@pytest.mark.parametrize("name", ["plate", "base"])
def test_board_has_its_area(mount, name):
    facts = mount.drawings[name].facts
    largest = max(map(polygon, mount.found(name, "LWPOLYLINE", "CUT")), key=lambda one: one.area)
    assert largest.area == pytest.approx(facts["width"] * facts["length"] * 1e6, rel=1e-9)


def test_foot_slots_have_round_ends(mount):
    facts = mount.drawings["plate"].facts
    if "slot_width" not in facts:
        pytest.skip("a motor without a frame")
    width, length = facts["slot_width"] * 1000, facts["slot_length"] * 1000
    outlines = mount.found("plate", "LWPOLYLINE", "CUT")
    slots = sorted(outlines, key=lambda one: polygon(one).area)[:-1]
    assert len(slots) >= 4
    for slot in slots:
        area = (length - width) * width + math.pi * width**2 / 4
        # A polygon of its path would have arcs of cubic curves: 3e-4 more than half circles.
        corners = shapely.Polygon([(x, y) for x, y, *_ in slot])
        assert corners.area + math.pi * width**2 / 4 == pytest.approx(area, rel=1e-6)
        assert sorted(bulge for *_, bulge in slot) == pytest.approx([0, 0, 1, 1])


def test_hinge_mortises_are_closed(mount):
    for name in ("plate", "base"):
        for one in mount.found(name, "LWPOLYLINE", "POCKET"):
            left, bottom, right, top = polygon(one).bounds
            assert polygon(one).area == pytest.approx((right - left) * (top - bottom))


def test_guard_has_the_area_of_a_string_round_its_discs(mount):
    build = Build(mount.scenario)
    sizes, swing = guard_sizes(build), build.swing
    plate = mount.scenario.plate
    steps = [swing.low + (swing.high - swing.low) * step / 100 for step in range(101)]
    shafts = [turned(mount.scenario.motor.shaft, plate.hinge, turn) for turn in steps]
    around = np.linspace(0.0, math.tau, 360, endpoint=False)
    circle = np.column_stack([np.cos(around), np.sin(around)])
    moving = np.array(shafts)[:, np.newaxis] + (sizes.motor_radius + sizes.clearance) * circle
    driven = mount.scenario.driven.shaft + (sizes.driven_radius + sizes.clearance) * circle
    hull = shapely.multipoints(np.concatenate([*moving, driven])).convex_hull
    outline = max(mount.found("guard", "LWPOLYLINE", "CUT"), key=lambda one: polygon(one).area)
    assert polygon(outline).area == pytest.approx(hull.area * 1e6, rel=2e-4)
    holes = shapely.MultiPoint(
        [tuple(one.dxf.center)[:2] for one in mount.found("guard", "CIRCLE", "DRILL")]
    )
    assert polygon(outline).contains(holes)


def test_slot_of_the_guard_is_about_the_hinge(mount):
    shape, scenario = guard_shape(Build(mount.scenario)), mount.scenario
    outlines = sorted(mount.found("guard", "LWPOLYLINE", "CUT"), key=lambda one: polygon(one).area)
    slot, _ = outlines
    arm = math.dist(scenario.plate.hinge, scenario.motor.shaft)
    half = shape.slot.half_width
    radii = [
        bulge_radius(start[:2], end[:2], start[4]) / 1000
        for start, end in itertools.pairwise((*slot, slot[0]))
    ]
    assert max(radii) == pytest.approx(arm + half)
    assert sorted(radii) == pytest.approx([half, half, arm - half, arm + half])
    area = 2 * half * arm * (shape.slot.end - shape.slot.start) + math.pi * half**2
    assert polygon(slot).area == pytest.approx(area * 1e6, rel=1e-4)


def test_extents_hold_every_entity(mount):
    for document in mount.files.values():
        box = ezdxf.bbox.extents(document.modelspace())
        low, high = document.header["$EXTMIN"], document.header["$EXTMAX"]
        slack = 0.01 * max(box.size)
        curves = 1e-5 * max(box.size)  # the library takes arcs as cubic curves, a little too wide
        for side in (0, 1):
            assert low[side] <= box.extmin[side] + curves
            assert high[side] >= box.extmax[side] - curves
            # What is reserved for texts is not much more than they take.
            assert low[side] >= box.extmin[side] - slack
            assert high[side] <= box.extmax[side] + slack


def test_dimensions_read_from_below_or_right_with_arrows_at_what_they_measure(mount):
    for name, document in mount.files.items():
        offsets = [one for one in mount.drawings[name].items if isinstance(one, Offset)]
        dimensions = list(document.modelspace().query("DIMENSION"))
        assert len(dimensions) == len(offsets)
        for dimension in dimensions:
            along_line = math.radians(dimension.dxf.angle)
            assert -math.pi / 2 < along_line <= math.pi / 2 + 1e-9
            way = (math.cos(along_line), math.sin(along_line))
            first, second = dimension.dxf.defpoint2, dimension.dxf.defpoint3
            run = (second - first).dot(way)
            assert run >= 0  # else programs that draw it anew put its text under the line
            assert run == pytest.approx(dimension.get_measurement())
            drawn = list(dimension.virtual_entities())
            (text,) = (one for one in drawn if one.dxftype() == "TEXT")
            assert text.dxf.text == dimension.dxf.text
            assert math.radians(text.dxf.rotation) == pytest.approx(along_line)
            across = (-way[1], way[0])
            place = text.get_placement()[1] - dimension.dxf.defpoint
            inside = not dimension.dxf.dimtype & 128
            assert (place.dot(across) > 0) is inside
            arrows = [one for one in drawn if one.dxftype() == "LWPOLYLINE"]
            tips = sorted(one[1][0] * way[0] + one[1][1] * way[1] for one in arrows)
            measured = sorted(point.dot(way) for point in (first, second))
            assert tips == pytest.approx(measured)


def test_dimensions_drawn_anew_by_a_library_look_the_same(mount):
    document = mount.files["plate"]
    for dimension in list(document.modelspace().query("DIMENSION")):
        (text,) = (one for one in dimension.virtual_entities() if one.dxftype() == "TEXT")
        home = dimension.dxf.text_midpoint
        placed = dimension.dxf.dimtype & 128
        dimension.override().render()
        (anew,) = (one for one in dimension.virtual_entities() if one.dxftype() == "MTEXT")
        if not placed:
            assert anew.dxf.insert.distance(home) < 0.5 * text.dxf.height


def svg_area(path):
    """What a closed path of lines and arcs of at most half a turn encloses [mm2]."""
    words = path.get("d").split()
    assert words[0] == "M"
    assert words[-1] == "Z"
    assert words.count("M") == words.count("Z") == 1
    first = here = float(words[1]), float(words[2])
    twice, place = 0.0, 3
    while words[place] != "Z":
        turn = radius = 0.0
        if words[place] == "A":
            radius, large, way = float(words[place + 1]), *words[place + 4 : place + 6]
            assert large == "0"
            place += 5
        there = float(words[place + 1]), float(words[place + 2])
        if radius:
            turn = 2 * math.asin(math.dist(here, there) / (2 * radius))
            # Seen with y down, a sweep flag of 0 turns counter-clockwise.
            twice += (-1 if way == "1" else 1) * radius**2 * (turn - math.sin(turn))
        twice -= here[0] * there[1] - there[0] * here[1]
        here = there
        place += 3
    twice -= here[0] * first[1] - first[0] * here[1]
    return twice / 2


@pytest.mark.parametrize("name", TEMPLATES)
def test_svg_has_the_same_closed_outlines(mount, name):
    drawing = mount.drawings[name]
    root = ET.fromstring(svg(whole_sheet(drawing, "a4"), drawing.title))  # noqa: S314 (our own)
    groups = {one.get("id"): one for one in root.iter(f"{SVG}g")}
    for layer in MACHINED:
        group = groups.get(layer, ())
        kinds = {one.tag.removeprefix(SVG) for one in group}
        assert kinds <= {"path", "polygon", "circle"}
        areas = [svg_area(one) for one in group if one.tag == f"{SVG}path"]
        for one in group:
            if one.tag == f"{SVG}polygon":
                points = [
                    tuple(map(float, point.split(","))) for point in one.get("points").split()
                ]
                areas.append(shapely.Polygon(points).area)
        wanted = [polygon(one).area for one in mount.found(name, "LWPOLYLINE", layer)]
        assert sorted(areas) == pytest.approx(sorted(wanted), rel=2e-4)
