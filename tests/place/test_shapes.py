"""The outlines of one layout against plain geometry, and distances over the travel."""

from dataclasses import replace

import numpy as np
import pytest
import shapely
from search_grounds import drawn, search_of
from slow_shapes import DISTANCE_ERROR, clearance_of, gaps, outlines_of

from mountcalc.linkage import kernels
from mountcalc.place.feasible.layouts import KINDS, layouts_from
from mountcalc.scenario.model import AdjusterKind, BarredPart, KeepOut
from mountcalc.scenario.search import Action, MotorSide

INCH = 0.0254
TRAVEL = (-0.2, 0.25)


def box(name, x0, y0, x1, y1):
    return KeepOut(name, ((x0, y0), (x1, y0), (x1, y1), (x0, y1)))


@pytest.fixture
def level():
    """A plate that lies level and runs to the right from a hinge at (-30, -10) in; motor above."""
    search = search_of(
        hinge_x=(-30 * INCH, -30 * INCH),
        hinge_y=(-10 * INCH, -10 * INCH),
        motor_height=(6 * INCH, 6 * INCH),
        reach=(12 * INCH, 12 * INCH),
        motor_side=MotorSide.ABOVE,
        kinds=(AdjusterKind.JACK_IN_BASE,),
        acts=(Action.PUSH,),
        face_offset=0.0,
    )
    layouts = layouts_from(np.full((1, 9), 0.9), search.space, search.scenario)
    assert layouts.along[0] == pytest.approx(1.0, abs=1e-9)
    assert layouts.foot[0] == pytest.approx(10 * INCH)
    return search, layouts


def test_parts_as_drawn(level):
    search, layouts = level
    outlines = outlines_of(layouts, 0, TRAVEL, search)
    assert outlines.parts == ("plate", "motor", "bolt", "wrench", "belt")
    (plate,) = outlines.part("plate", 0.0)
    end = layouts.plate_length[0] / INCH
    assert np.array(plate.bounds) / INCH == pytest.approx([-30, -10.75, -30 + end, -10])
    feet, body = outlines.part("motor", 0.0)
    assert np.array(feet.bounds) / INCH == pytest.approx([-23, -10, -17, -4])
    assert np.array(body.bounds) / INCH == pytest.approx([-23, -7, -17, -1], abs=1e-3)
    (belt,) = outlines.part("belt", 0.0)
    assert np.array(belt.bounds) / INCH == pytest.approx([-21.5, -5.5, 4.5, 4.5], abs=1e-3)
    radii = 4.5 * INCH, 1.5 * INCH
    path = kernels.open_belt(np.hypot(20, 4) * INCH, radii[1], radii[0]).length
    assert belt.length == pytest.approx(float(path), rel=1e-4)


def test_a_jack_reaches_from_its_head_to_its_tip_wherever_the_travel_takes_it(level):
    search, layouts = level
    outlines = outlines_of(layouts, 0, TRAVEL, search)
    (bolt,), (wrench,) = outlines.part("bolt", 0.1), outlines.part("wrench", 0.1)
    # Level and 12 in from the hinge, the plate is 12 tan(phi) in above the drawing at phi.
    heights = 12 * np.tan(TRAVEL)
    up = layouts.axis[0].imag
    moved = sorted(up * heights)
    tip, head = -10 + up * moved[1], -10 + up * (moved[0] - 6)
    assert sorted(shapely.get_coordinates(bolt)[:, 1] / INCH) == pytest.approx(sorted([tip, head]))
    assert shapely.get_coordinates(bolt)[:, 0] / INCH == pytest.approx([-18, -18])
    heads = sorted([head, -10 + up * (moved[1] - 6)])
    assert np.array(wrench.bounds) / INCH == pytest.approx(
        [-20, heads[0] - 2, -16, heads[1] + 2], abs=1e-3
    )


def test_a_screw_through_the_plate_turns_with_it_and_a_link_swings_about_its_base_pin(level):
    search, layouts = level
    through = replace(layouts, kind=np.array([KINDS.index(AdjusterKind.JACK_IN_PLATE)]))
    outlines = outlines_of(through, 0, TRAVEL, search)
    for name in ("bolt", "wrench", "plate", "motor"):
        drawn_as = shapely.union_all(outlines.part(name, 0.0))
        turned = shapely.union_all(outlines.part(name, 0.3))
        back = shapely.affinity.rotate(turned, -0.3, origin=outlines.hinge, use_radians=True)
        assert back.hausdorff_distance(drawn_as) < 1e-9
        assert turned.hausdorff_distance(drawn_as) > 0.05
    link = replace(layouts, kind=np.array([KINDS.index(AdjusterKind.LINK)]))
    outlines = outlines_of(link, 0, TRAVEL, search)
    assert "wrench" not in outlines.parts
    base = (layouts.tip - search.space.link_length * layouts.axis)[0]
    for angle in (0.0, 0.25):
        ends = shapely.get_coordinates(outlines.part("bolt", angle))
        hinge, tip = ((at[0].real, at[0].imag) for at in (layouts.hinge, layouts.tip))
        pin = kernels.plate_point(angle, *hinge, *tip)
        assert ends[0] == pytest.approx((base.real, base.imag))
        assert ends[1] == pytest.approx([float(pin.x), float(pin.y)])


def test_distances_of_keep_outs_beside_a_level_plate(level):
    search, layouts = level
    still = outlines_of(layouts, 0, (-1e-9, 1e-9), search)
    keep_outs = [
        box("below the plate", -29 * INCH, -14 * INCH, -26 * INCH, -12 * INCH),
        replace(
            box("above the motor", -21 * INCH, 9 * INCH, -19 * INCH, 12 * INCH),
            parts=(BarredPart.MOTOR,),
        ),
        box("beyond the driven pulley", 6 * INCH, -1 * INCH, 9 * INCH, 1 * INCH),
    ]
    found = {name: at / INCH for name, at in clearance_of(gaps(still, keep_outs)).items()}
    assert found == pytest.approx(
        {"below the plate": 1.25, "above the motor": 10.0, "beyond the driven pulley": 1.5},
        abs=2e-3,
    )


def test_the_least_distance_over_the_travel_is_that_of_a_fine_scan():
    search = search_of()
    layouts, ends = drawn(search, 15, seed=5)
    for index in range(len(layouts)):
        travel = float(ends[0][index]), float(ends[1][index])
        outlines = outlines_of(layouts, index, travel, search)
        for gap in gaps(outlines, search.space.keep_outs[:3]):
            (keep_out,) = (one for one in search.space.keep_outs if one.name == gap.keep_out)
            polygon = shapely.Polygon(keep_out.corners)
            scanned = min(
                shapely.distance(shape, polygon)
                for angle in np.linspace(*travel, 60)
                for shape in outlines.part(gap.part, angle)
            )
            lever = outlines.lever(gap.part)
            assert gap.distance <= scanned + DISTANCE_ERROR
            assert gap.distance >= scanned - lever * abs(travel[1] - travel[0]) / 59 / 2 - 1e-9


def test_what_is_swept_holds_the_part_at_every_angle():
    search = search_of()
    layouts, ends = drawn(search, 6, seed=2)
    for index in range(len(layouts)):
        travel = float(ends[0][index]), float(ends[1][index])
        outlines = outlines_of(layouts, index, travel, search)
        swept = outlines.swept()
        assert set(swept) == set(outlines.parts)
        for name, ground in swept.items():
            sliver = outlines.lever(name) * ((travel[1] - travel[0]) / 64) ** 2 / 8
            for angle in np.linspace(*travel, 7):
                part = shapely.union_all(outlines.part(name, angle))
                assert ground.buffer(sliver + 1e-9).covers(part)
        assert swept["plate"].area > shapely.union_all(outlines.part("plate", 0.0)).area


def test_what_it_does_not_bar_a_keep_out_is_not_measured_against(level):
    search, layouts = level
    outlines = outlines_of(layouts, 0, TRAVEL, search)
    ground = replace(box("ground", -1.0, -1.0, 1.0, 1.0), parts=(BarredPart.BOLT,))
    assert [gap.part for gap in gaps(outlines, [ground])] == ["bolt", "wrench"]
    assert clearance_of(gaps(outlines, [ground])) == {"ground": 0.0}
