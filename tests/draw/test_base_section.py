"""The base keeps clear of plate and motor, or says where not; all drawings have it alike."""

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely
import shapely.affinity
from hypothesis import given, settings
from hypothesis import strategies as st
from sizes import examples

from mountcalc.drafting.items import Layer, Leader, Path
from mountcalc.draw.assembly import assembly
from mountcalc.draw.boards.section import (
    Stands,
    Swung,
    base_section,
    base_stands,
    deepest,
    say_base_caution,
    way_of,
)
from mountcalc.draw.boards.side import board_side
from mountcalc.draw.boards.templates import base_template
from mountcalc.draw.build import Build, turned
from mountcalc.draw.remarks import Remarks
from mountcalc.draw.stop import catches
from mountcalc.scenario.drawn_plate import plate_line
from mountcalc.scenario.parts import Base
from mountcalc.scenario.reader import read_scenario
from mountcalc.scenario.text.writing import Display

pytestmark = pytest.mark.usefixtures("plain_names")

SWINGS = 50
MM2 = 1e-6


def base_cautions(build):
    remarks = Remarks(build.display)
    say_base_caution(remarks, build)
    return remarks.cautions


def with_base(scenario, **keys):
    base = replace(scenario.parts.base, **keys)
    return replace(scenario, parts=replace(scenario.parts, base=base))


def swings(scenario):
    """Plate angles from stop to stop; where no stop is wanted, to the belt's own ends."""
    swing = Build(scenario).swing
    stops = [stop.plate_angle for stop in catches(Build(scenario))]
    return np.linspace(min(swing.low, *stops), max(swing.high, *stops), SWINGS)


def plate_at(scenario, board, angle):
    """The plate's board by its sizes and the frame of its face alone, turned."""
    frame = plate_line(scenario)
    near, far, back = board.edge, board.length, -board.thickness
    hinge = np.array(frame.hinge)
    corners = [
        hinge + along * np.array(frame.along) + off * np.array(frame.normal)
        for along, off in ((near, 0), (far, 0), (far, back), (near, back))
    ]
    return shapely.Polygon([turned(tuple(corner), frame.hinge, angle) for corner in corners])


def overlap(scenario):
    """The most that plate and base have in common over the swing [m2]."""
    base = shapely.Polygon(base_section(Build(scenario)).corners())
    board = board_side(Build(scenario))
    plates = (plate_at(scenario, board, angle) for angle in swings(scenario))
    return max(base.intersection(plate).area for plate in plates)


@pytest.mark.parametrize("given", [False, True])
def test_no_base_that_is_drawn_stands_in_the_plate_unless_it_says_so(scenario_file, given):
    scenario = read_scenario(str(scenario_file))
    if not given:
        scenario = with_base(scenario, direction=None)
        assert not base_cautions(Build(scenario))
    assert overlap(scenario) <= MM2


def test_an_upright_base_of_the_mill_stands_in_its_plate_and_is_warned_of(cider):
    """Face to face as drawn; 8 deg further closed a strip of 3 in is some 8 mm in the plate."""
    mill = with_base(read_scenario(str(cider)), direction=0.5 * math.pi)
    assert overlap(mill) > 100 * MM2
    (caution,) = base_cautions(Build(mill))
    assert "the plate would come" in caution
    assert "at the stop beyond install" in caution
    assert caution in assembly(Build(mill)).cautions
    assert caution in base_template(Build(mill)).cautions
    section, angle = base_section(Build(mill)), min(swings(mill))
    # The plate leans past the base: the far corner of the base is deepest in it.
    least, most = (section.length * math.sin(-angle + math.radians(more)) for more in (0, 1))
    assert least <= section.met.depth <= most


@given(st.floats(-math.pi, math.pi), st.sampled_from((0.010, 0.018, 0.040)))
@settings(max_examples=examples(25, 5), deadline=None)
def test_whatever_the_direction_it_is_clear_or_warned_of(direction, thickness):
    for name in ("cider-mill", "wood-lathe"):
        scenario = read_scenario(f"scenarios/{name}.toml")
        turned_base = with_base(scenario, direction=direction, thickness=thickness)
        section = base_section(Build(turned_base))
        way = section.frame.along
        assert way == pytest.approx((math.cos(direction), math.sin(direction)))
        assert section.stands is Stands.GIVEN
        # Between two of the angles that are looked at a corner may graze the plate.
        assert base_cautions(Build(turned_base)) or overlap(turned_base) <= 5 * MM2


def test_the_leaf_on_the_base_looks_at_the_leaf_on_the_plate(scenario_file):
    """Turned about the pin onto the base, the plate's leaf lies on the base's: face on face."""
    scenario = read_scenario(str(scenario_file))
    section, plate = base_section(Build(scenario)), plate_line(scenario)
    fold = math.atan2(section.frame.along[1], section.frame.along[0])
    fold -= math.atan2(plate.along[1], plate.along[0])
    face = turned(plate.normal, (0.0, 0.0), fold)
    assert face == pytest.approx((-section.frame.normal[0], -section.frame.normal[1]))


def test_a_strip_on_which_the_hinge_just_closes(cider):
    mill = with_base(read_scenario(str(cider)), direction=None)
    section = base_section(Build(mill))
    assert section.stands is Stands.CLOSED
    # The plate is upright as drawn and closes clockwise, towards the motor.
    leans = math.pi / 2 - math.atan2(section.frame.along[1], section.frame.along[0])
    (stop,) = (one for one in catches(Build(mill)))
    assert -stop.plate_angle <= leans <= -stop.plate_angle + math.radians(1)
    assert "the hinge just closes at the stop beyond install" in base_stands(Build(mill)).text(
        mill.display
    )


def test_where_the_motor_is_in_the_way_the_base_is_on_the_far_side_of_the_pin():
    saw = read_scenario("scenarios/fretsaw-bench.toml")
    section = base_section(Build(saw))
    assert section.stands is Stands.OPEN
    along = plate_line(saw).along
    assert np.dot(section.frame.along, along) < -0.9


def test_a_motor_over_the_pin_leaves_no_way_and_that_is_told(cider):
    """2 in from the pin, a motor of more than 3 in about its shaft reaches round it."""
    mill = with_base(read_scenario(str(cider)), direction=None)
    hinge = (mill.motor.shaft[0], mill.motor.shaft[1] - 2 * 0.0254)
    near = replace(mill, plate=replace(mill.plate, hinge=hinge, travel=(-0.7, 0.7)))
    (caution,) = base_cautions(Build(near))
    assert caution.startswith("No way that was tried is clear: as drawn, the motor's body would")
    assert "give base.direction" in caution


@pytest.mark.parametrize(
    ("degrees", "words"),
    [
        (90, "straight up"),
        (-90, "straight down"),
        (0, "level, towards the driven shaft"),
        (180, "level, away from the driven shaft"),
        (math.degrees(math.atan2(7, 1)), "up, 1 in towards the driven shaft for every 7 in"),
        (math.degrees(math.atan2(-4, -1)), "down, 1 in away from the driven shaft for every 4 in"),
        (math.degrees(math.atan2(1, 6)), "towards the driven shaft, 1 in up for every 6 in"),
        (
            math.degrees(math.atan2(-1, -2.5)),
            "away from the driven shaft, 1 in down for every 2 1/2 in",
        ),
    ],
)
def test_ways_are_told_by_level_and_plumb(cider, degrees, words):
    mill = read_scenario(str(cider))
    way = math.cos(math.radians(degrees)), math.sin(math.radians(degrees))
    assert way_of(Build(mill), way) == words
    metric = way_of(Build(replace(mill, display=Display.METRIC)), way)
    assert metric.replace("10.0 mm", "1 in").startswith(words.split(" for")[0])


def floor_of(scenario):
    return scenario.plate.hinge[1] - 0.6


@pytest.mark.parametrize("direction", [None, 0, 45, 90, 135, 180, 225, 270, 315])
@pytest.mark.parametrize("name", ["cider-mill", "wood-lathe"])
def test_all_drawings_have_one_top_of_the_base(name, direction):
    scenario = read_scenario(f"scenarios/{name}.toml")
    way = None if direction is None else math.radians(direction)
    scenario = with_base(scenario, floor=floor_of(scenario), direction=way)
    build = Build(scenario)
    told, ring = assembly(build), shapely.LinearRing(base_section(build).corners())
    names = [one for one in told.items if isinstance(one, Leader) and one.text == "base"]
    outlines = [
        one
        for one in told.items
        if isinstance(one, Path)
        and one.layer is Layer.EDGE
        and shapely.LinearRing(one.points).equals(ring)
    ]
    (outline,) = outlines
    assert len(names) <= 1
    top = max(y for _, y in outline.points) - floor_of(scenario)
    assert told.facts["base_top"] == pytest.approx(top)
    # A strip that runs level with its wood below it is as high as the wood under its leaf.
    hinges = scenario.parts.hinges
    if name == "cider-mill" and direction == 0:
        assert top == pytest.approx(0.6 - hinges.leaf_thickness + hinges.mortise_depth)
    if name == "cider-mill" and direction == 270:
        assert top == pytest.approx(0.6 - 0.5 * hinges.knuckle_diameter)


def test_thickness_and_leaves_that_lie_on_the_board_are_in_the_section(cider):
    mill = read_scenario(str(cider))
    hinges = replace(mill.parts.hinges, mortise_depth=0.0)
    mill = replace(mill, parts=replace(mill.parts, hinges=hinges))
    section = base_section(Build(with_base(mill, direction=0.0, thickness=0.03)))
    ys = [y - mill.plate.hinge[1] for _, y in section.corners()]
    assert max(ys) == pytest.approx(-hinges.leaf_thickness)
    assert min(ys) == pytest.approx(-hinges.leaf_thickness - 0.03)
    said = base_template(Build(with_base(mill, thickness=0.0254))).notes
    assert "The base is as wide as the plate (estimate) and 1 in thick." in said


def test_heights_are_needed_but_how_it_stands_is_told_without(cider):
    mill = read_scenario(str(cider))
    without = replace(mill, parts=replace(mill.parts, base=Base()))
    notes = " ".join(assembly(Build(without)).notes)
    assert "base.floor is needed" in notes
    assert base_stands(Build(without)).text(mill.display) in notes


@pytest.mark.parametrize("degrees", [20, 45, 70])
def test_the_depth_is_the_least_way_out(degrees):
    # The plate crosses the base there: no corner of one lies deep in the other.
    mount = with_base(read_scenario("scenarios/grindstone.toml"), direction=math.radians(degrees))
    section, board = base_section(Build(mount)), board_side(Build(mount))
    base = shapely.Polygon(section.corners())
    snug = Build(mount).swing.snug
    met = deepest(Build(mount), section.corners(), (snug, snug))
    assert met is not None
    assert met.part is Swung.PLATE
    plate = plate_at(mount, board, snug)

    def left(share):
        """The least overlap after a move by a share of the depth, any way."""
        ways = np.linspace(0.0, 2.0 * math.pi, 1440, endpoint=False)
        return min(
            base.intersection(
                shapely.affinity.translate(
                    plate, share * met.depth * math.cos(way), share * met.depth * math.sin(way)
                )
            ).area
            for way in ways
        )

    assert left(1.001) < 1 * MM2
    assert left(0.9) > 1 * MM2
