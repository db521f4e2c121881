"""A plate that comes into the guard, worked out anew from the scenario's numbers with shapely."""

import math
from dataclasses import replace
from functools import partial

import numpy as np
import pytest
import shapely
from shapely import affinity

from mountcalc.draw.along.along_shafts import along_shafts
from mountcalc.draw.build import Build
from mountcalc.draw.guard.panel import guard_panel
from mountcalc.scenario.reader import read_scenario

pytestmark = pytest.mark.usefixtures("plain_names")

MM = 1e-3
# IEC 60072-1, frame 71, from memory: from the shaft's shoulder to the nearer foot hole, and on to
# the other one.
SHOULDER_TO_FOOT, FEET_ALONG = 45 * MM, 90 * MM


@pytest.fixture
def lathe(cider):
    return read_scenario(str(cider.with_name("wood-lathe.toml")))


def with_width(scenario, width):
    parts = scenario.parts
    return replace(scenario, parts=replace(parts, plate=replace(parts.plate, width=width)))


def with_position(scenario, position):
    parts = scenario.parts
    return replace(scenario, parts=replace(parts, guard=replace(parts.guard, position=position)))


def told(scenario):
    """What both sheets say of the plate in the guard."""
    guard, along = (
        [one for one in draw(Build(scenario)).cautions if "plate" in one and "panel's back" in one]
        for draw in (guard_panel, along_shafts)
    )
    assert guard == along
    return guard


def test_the_shipped_lathes_plate_stays_behind_the_panel(lathe):
    # The motor's face stands at 90 mm and its feet further on; the panel is at 83 mm to 87 mm.
    middle = 90 * MM + SHOULDER_TO_FOOT + FEET_ALONG / 2
    edge = middle - lathe.parts.plate.width / 2
    assert told(lathe) == []
    facts = along_shafts(Build(lathe)).facts
    assert facts["plate_to_panel"] == pytest.approx(edge - 87 * MM)
    assert facts["plate_to_panel"] >= 3 * MM


def test_a_wide_plate_cuts_through_the_panel_as_deep_as_said(lathe):
    (said,) = told(with_width(lathe, 280 * MM))
    # 180 mm is the middle of the feet: the plate reaches from 40 mm to 320 mm.
    assert said.startswith("The plate cuts into the guard, 47.0 mm deep from the panel's back.")
    assert "stands at 40.0 mm to 320.0 mm along the shafts" in said
    assert "panel and strip at 42.0 mm to 87.0 mm" in said
    # 2 x (180 - 87 - 3) mm with 3 mm of air.
    assert "a plate no wider than 180.0 mm" in said
    assert told(with_width(lathe, 180 * MM)) == []
    (close,) = told(with_width(lathe, 182 * MM))
    assert close.startswith("Only 2.0 mm are left between the plate's edge and the panel's back")


def test_the_guard_covers_the_plate_from_where_to_where_it_is_said(lathe):
    """By strings round discs of the polygon library, at many plate angles."""
    wide = with_width(lathe, 280 * MM)
    swing = Build(wide).swing
    facts = along_shafts(Build(wide)).facts
    hinge, motor = wide.plate.hinge, wide.motor.shaft
    # An A belt on grooved pulleys: rims 0.125 in over the pitch radius (ANSI/RMA IP-20).
    over, clear, thick = 0.125 * 25.4 * MM, 15 * MM, 4 * MM
    disc = partial(shapely.Point.buffer, quad_segs=256)
    turn = partial(affinity.rotate, origin=hinge, use_radians=True)
    angles = np.linspace(swing.low, swing.high, 301)
    shafts = [turn(shapely.Point(motor), angle) for angle in angles]
    discs = [disc(one, 40 * MM + over + clear) for one in shafts]
    driven = shapely.Point(wide.driven.shaft)
    panel = shapely.union_all([*discs, disc(driven, 100 * MM + over + clear)]).convex_hull
    open_for = [disc(one, 7 * MM + 12 * MM) for one in shafts]
    open_for.append(disc(driven, 16 * MM + 12 * MM))
    guard = panel.buffer(thick, quad_segs=256).difference(shapely.union_all(open_for))
    # The plate runs to the right; its edge, from which is measured, lies behind the knuckle.
    edge = wide.parts.hinges.knuckle_diameter / 2
    ends = []
    for angle in angles:
        board = shapely.box(hinge[0] + edge, hinge[1] - 20 * MM, hinge[0] + 0.38, hinge[1])
        both = turn(board, angle).intersection(guard)
        if both.area > 0:
            left, _, right, _ = turn(both, -angle).bounds
            ends += [left - hinge[0] - edge, right - hinge[0] - edge]
    assert facts["plate_in_guard_from"] == pytest.approx(min(ends), abs=0.5 * MM)
    assert facts["plate_in_guard_to"] == pytest.approx(max(ends), abs=0.5 * MM)


def test_where_they_are_clear_in_the_plane_nothing_is_said(lathe):
    # Far to the right of the drive, where the guard is not.
    away = replace(with_width(lathe, 280 * MM))
    parts = replace(away.parts, plate=replace(away.parts.plate, direction=math.radians(-90)))
    assert told(replace(away, parts=parts)) == []


def test_a_panel_elsewhere_helps(lathe):
    (said,) = told(with_width(lathe, 200 * MM))
    assert "the panel further out" in said
    assert told(with_position(with_width(lathe, 200 * MM), 75 * MM)) == []


def test_without_a_frame_it_is_said_what_would_tell(lathe):
    unknown = replace(lathe, parts=replace(lathe.parts, frame=None))
    (note,) = (one for one in along_shafts(Build(unknown)).notes if "comes into the guard" in one)
    assert note == "motor.frame is needed to tell whether the plate comes into the guard."
