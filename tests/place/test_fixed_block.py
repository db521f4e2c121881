"""Where a bolt's block may stand, against the plate turned to many angles by its corners."""

import numpy as np
import pytest
from placements import SEARCHES, found_in
from shapely.geometry import LineString, Point, Polygon

from mountcalc.place.placed_parts import PlacedParts, block_room, face_wanted


def every(name):
    found = found_in(name)
    assert found.placement.layouts, name
    for placed, scenario in zip(found.placement.layouts, found.scenarios, strict=True):
        yield PlacedParts.of(placed, scenario, SEARCHES[name].space)


def test_the_block_is_between_head_and_plate_at_every_angle():
    for parts in every("small ground, bolt in the base"):
        block, axis = block_room(parts), np.array(parts.axis)
        start, tip = np.array(block.start), np.array(parts.placed.tip)
        far = LineString([tip - 2 * axis, tip + 2 * axis])
        assert far.distance(Point(block.end)) == pytest.approx(0, abs=1e-9)
        low, high = parts.scenario.plate.travel
        nearest, shift = np.inf, -np.inf
        for angle in np.linspace(low, high, 181):
            on_line = far.intersection(Polygon(parts.plate(angle)))
            corners = np.array(on_line.coords) if not on_line.is_empty else np.empty((0, 2))
            nearest = min(nearest, *((corners - tip) @ axis), np.inf)
            face = LineString(
                [parts.on_plate(at, parts.offset, angle) for at in (-3.0, 3.0)]
            ).intersection(far)
            along = (np.array(face.coords[0]) - tip) @ axis
            nearest, shift = min(nearest, along), max(shift, along)
        assert (np.array(block.end) - tip) @ axis == pytest.approx(nearest, abs=1e-4)
        assert (start - tip) @ axis == pytest.approx(shift - parts.space.bolt_length, abs=1e-4)
        assert block.length == pytest.approx((np.array(block.end) - start) @ axis)
        assert face_wanted(parts) is None


def test_the_face_holds_the_tip_at_every_angle():
    for parts in every("bolt in the plate"):
        face = face_wanted(parts)
        assert block_room(parts) is None
        line = LineString([face.start, face.end]).buffer(1e-4)
        tip = np.array(parts.placed.tip)
        endless = LineString([tip - 3 * np.array(parts.along), tip + 3 * np.array(parts.along)])
        for angle in parts.scenario.plate.travel:
            bolt = LineString([parts.on_plate(parts.placed.reach, far, angle) for far in (-2, 2)])
            assert line.covers(bolt.intersection(endless))
        ends = LineString([face.start, face.end])
        assert ends.length == pytest.approx(face.length)


def test_a_link_has_neither():
    for parts in every("link, metric"):
        assert block_room(parts) is None
        assert face_wanted(parts) is None
