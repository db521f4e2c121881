"""The board that a search has judged is the one that is drawn, once its file is written and read.

Both take the hinge's pin to lie in the face that the motor stands on.
"""

import dataclasses
from functools import cache
from pathlib import Path

import numpy as np
import pytest
from search_spaces import INSTALL, TAKE_UP, cider, mirrored
from shapely import Point, Polygon, affinity
from slow_shapes import outlines_of

from mountcalc.console.choices import Prefer
from mountcalc.draw.boards.side import board_side
from mountcalc.draw.build import Build
from mountcalc.place.as_scenario import as_scenario
from mountcalc.place.feasible.drives import drives_of
from mountcalc.place.feasible.feasibility import Feasibility
from mountcalc.place.feasible.layouts import DIMENSIONS
from mountcalc.place.search.search import find_layouts
from mountcalc.scenario.drawn_plate import LineFrom, plate_line
from mountcalc.scenario.model import AdjusterKind
from mountcalc.scenario.reader import parse_scenario, read_search
from mountcalc.scenario.search import Action, MotorSide, Search
from mountcalc.scenario.writer import scenario_text

BENCH = Path(__file__).parents[2] / "scenarios" / "fretsaw-bench.toml"
POINTS, COUNT = 3000, 4
SAME = 1e-9  # [m], and [m2] of area
JACKS = (AdjusterKind.JACK_IN_BASE, AdjusterKind.JACK_IN_PLATE)
WAYS = {
    "pushed from the base": (JACKS[:1], (Action.PUSH,)),
    "pulled at from the base": (JACKS[:1], (Action.PULL,)),
    "held back from the base": (JACKS[:1], (Action.HOLD_BACK,)),
    "pushed through the plate": (JACKS[1:], (Action.PUSH,)),
    "held back through the plate": (JACKS[1:], (Action.HOLD_BACK,)),
    "link": ((AdjusterKind.LINK,), tuple(Action)),
}


def space_of(way, side):
    """A search around the mill: one kind and action, the motor on one side of a thick plate."""
    scenario, space = cider()
    kinds, acts = WAYS[way]
    return scenario, dataclasses.replace(
        space, kinds=kinds, acts=acts, motor_side=side, plate_thickness=0.03
    )


def points():
    return np.random.default_rng(17).random((POINTS, len(DIMENSIONS)))


def judged(scenario, space, sample):
    return Feasibility(scenario, space, drives_of(scenario, space, INSTALL, TAKE_UP)).samples(
        sample
    )


CASES = {
    f"{way}, motor {side}{', mirrored' if mirror else ''}": (way, side, mirror)
    for way in WAYS
    for side in (MotorSide.ABOVE, MotorSide.BELOW)
    for mirror in (False, True)
}


@cache
def found(name):
    """A search, some of its layouts and their mounts."""
    if name == "fretsaw":
        search = read_search(BENCH)
        search = dataclasses.replace(search, space=dataclasses.replace(search.space, samples=1024))
        one = find_layouts(search, Prefer.FINE, COUNT)
        return search, one.layouts, as_judged(search, one.layouts, one.measures)
    way, side, mirror = CASES[name]
    scenario, space = space_of(way, side)
    sample = points()
    if mirror:
        scenario, space = mirrored(scenario, space)
        sample = seen_from_behind(sample)
    seen = judged(scenario, space, sample)
    search = Search(scenario, space)
    return search, seen.layouts, as_judged(search, seen.layouts, seen.measures)


def as_judged(search, layouts, measures):
    """Mounts of the first layouts before they are rounded for a file."""
    ends = zip(measures.install[:COUNT], measures.take_up[:COUNT], strict=True)
    return tuple(
        as_scenario(search.scenario, search.space, layouts, index, each)
        for index, each in enumerate(ends)
    )


def seen_from_behind(sample):
    """The points whose layouts are the mirror images of a sample's."""
    other = sample.copy()
    for name in ("hinge_x", "motor_side"):
        other[:, DIMENSIONS.index(name)] = 1.0 - sample[:, DIMENSIONS.index(name)]
    return other


def placed(name):
    """Each layout: its outlines as judged, its mount as written and read, and the drawn board."""
    search, layouts, mounts = found(name)
    for index, scenario in enumerate(mounts):
        outlines = outlines_of(layouts, index, scenario.plate.travel, search)
        back = parse_scenario(scenario_text(scenario))
        yield search.space, layouts, index, outlines, back, board_side(Build(back))


@pytest.mark.parametrize("name", ["fretsaw", *CASES])
def test_the_drawn_board_and_what_the_hinge_takes_are_what_was_judged(name):
    for space, layouts, index, outlines, back, board in placed(name):
        assert board.thickness == pytest.approx(space.plate_thickness, abs=SAME)
        assert board.length == pytest.approx(layouts.plate_length[index], abs=SAME)
        assert 0 < board.edge < 0.01
        for angle in (*back.plate.travel, 0.0):
            drawn = Polygon(board.corners(angle))
            knuckle = ((0.0, 0.0), (board.edge, 0.0), (board.edge, -board.thickness))
            corners = [board.at(*at, angle) for at in (*knuckle, (0.0, -board.thickness))]
            (judged,) = outlines.part("plate", angle)
            whole = drawn.union(Polygon(corners))
            assert judged.symmetric_difference(whole).area < SAME
            assert judged.hausdorff_distance(whole) < SAME


@pytest.mark.parametrize("name", ["fretsaw", *CASES])
def test_a_jacks_tip_touches_the_drawn_board_or_stands_out_of_it(name):
    for space, _, _, _, back, board in placed(name):
        adjuster = back.adjuster
        drawn = Polygon(board.corners(0.0))
        if adjuster.kind is AdjusterKind.LINK:
            assert abs(board.frame.height(adjuster.plate_pin)) < SAME
            continue
        tip, way = Point(adjuster.tip), (np.cos(adjuster.axis), np.sin(adjuster.axis))
        step = 1e-6
        before, after = (
            affinity.translate(tip, side * step * way[0], side * step * way[1]) for side in (-1, 1)
        )
        if adjuster.kind is AdjusterKind.JACK_IN_BASE:
            assert drawn.exterior.distance(tip) < SAME
            # It comes from outside, and the wood begins where it ends.
            assert not drawn.covers(before)
            assert drawn.covers(after)
            assert not any("off the nearer face" in note for note in back.notes)
        else:
            assert drawn.distance(tip) >= 0.006 - SAME
            # Its line goes through the wood behind its tip, all of it.
            length = space.bolt_length
            at = [np.array(adjuster.tip) - share * length * np.array(way) for share in (0.0, 1.0)]
            through = drawn.intersection(Polygon([at[0], at[1], at[1] + 1e-9]).exterior)
            assert through.length / 2 == pytest.approx(space.plate_thickness, abs=1e-6)


@pytest.mark.parametrize("name", ["fretsaw", *CASES])
def test_the_motor_stands_on_the_drawn_face_and_the_plates_mass_is_in_its_wood(name):
    for _, layouts, index, _, back, board in placed(name):
        line = plate_line(back)
        assert line.taken_from is LineFrom.GIVEN
        assert line.shaft_height == pytest.approx(layouts.motor_height[index], abs=SAME)
        away = board.frame.height(back.plate.center_of_mass)
        assert away == pytest.approx(-0.5 * board.thickness, abs=SAME)
        if back.parts.frame is not None:
            lacks = line.shaft_height - back.parts.frame.shaft_height
            assert back.parts.packing == pytest.approx(max(lacks, 0.0), abs=1e-6)


@pytest.mark.parametrize("side", [MotorSide.ABOVE, MotorSide.BELOW])
@pytest.mark.parametrize("way", WAYS)
def test_the_mirror_image_of_a_mount_is_judged_and_drawn_as_its_mirror_image(way, side):
    plain = judged(*space_of(way, side), points())
    other = judged(*mirrored(*space_of(way, side)), seen_from_behind(points()))
    np.testing.assert_array_equal(plain.reason, other.reason)
    assert len(plain.kept) > 0 or way.startswith("held back")
    boards = (placed(f"{way}, motor {side}{end}") for end in ("", ", mirrored"))
    for one, two in zip(*boards, strict=True):
        for angle in (0.0, one[4].plate.travel[0]):
            drawn, image = Polygon(one[5].corners(angle)), Polygon(two[5].corners(-angle))
            back = affinity.scale(image, xfact=-1.0, origin=(0.0, 0.0))
            assert drawn.symmetric_difference(back).area < SAME


def test_jacks_and_links_of_each_way_were_found():
    assert len(found("fretsaw")[2]) >= COUNT
    for way in WAYS:
        assert any(found(f"{way}, motor {side}")[2] for side in (MotorSide.ABOVE, MotorSide.BELOW))
