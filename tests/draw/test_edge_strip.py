"""The strip round a panel: its length against known perimeters, its cuts folded in the plane."""

import math
from itertools import pairwise

import numpy as np
import pytest
import shapely

from mountcalc.drafting.items import Arc, Label, Layer, Offset, Path, sweep
from mountcalc.draw.guard.shape import Disc, disc_family, hull
from mountcalc.draw.guard.strip import Cuts, bend, strip_detail, strip_length
from mountcalc.scenario.text.writing import Display


@pytest.mark.parametrize(("radius", "apart", "thickness"), [(0.1, 0.5, 0.009), (0.03, 2.0, 0.02)])
def test_a_strip_round_a_stadium_is_as_long_as_the_stadium_half_a_thickness_out(
    radius, apart, thickness
):
    stadium = hull([Disc((0.0, 0.0), radius), Disc((apart, 0.0), radius)])
    middle = radius + thickness / 2
    assert strip_length(stadium, thickness / 2) == pytest.approx(2 * apart + math.tau * middle)


def test_a_strip_round_two_pulleys_is_an_open_belt_of_their_outside():
    # Pitch length of an open belt, exact (Machinery's Handbook has it as textbook geometry).
    large, small, apart, thickness = 0.17, 0.06, 0.55, 0.01
    edge = hull([Disc((0.3, 0.1), large), Disc((0.3, 0.1 - apart), small)])
    big, little = large + thickness / 2, small + thickness / 2
    lean = math.asin((big - little) / apart)
    exact = 2 * apart * math.cos(lean) + math.pi * (big + little) + 2 * lean * (big - little)
    assert strip_length(edge, thickness / 2) == pytest.approx(exact, rel=1e-12)


def test_a_strip_is_as_long_as_the_polygon_library_has_it():
    thickness = 0.012
    discs = [Disc((0.0, 0.0), 0.2), *disc_family((-0.6, -0.4), (-0.6, -0.1), (-0.2, 0.3), 0.06)]
    centres = [
        (-0.6 + 0.3 * math.cos(angle), -0.4 + 0.3 * math.sin(angle))
        for angle in np.linspace(math.pi / 2 - 0.2, math.pi / 2 + 0.3, 2000)
    ]
    rounds = [shapely.Point(c).buffer(0.06, quad_segs=64) for c in centres]
    whole = shapely.union_all([*rounds, shapely.Point(0, 0).buffer(0.2, quad_segs=500)]).convex_hull
    middle = whole.buffer(thickness / 2, quad_segs=500)
    assert strip_length(hull(discs), thickness / 2) == pytest.approx(
        middle.exterior.length, rel=1e-4
    )


@pytest.mark.parametrize(
    ("kerf", "thickness", "skin"), [(0.0025, 0.018, 0.002), (0.003, 0.009, 0.0015)]
)
def test_walls_of_a_cut_meet_at_the_closing_angle(kerf, thickness, skin):
    # The skin over the cut bends to an arc, its middle as long as the kerf; the walls are radial.
    theta = Cuts(kerf, thickness, skin).closing_angle
    neutral = kerf / theta
    centre = np.array([0.0, -neutral])
    mouth = neutral + skin / 2 - thickness  # radius at which the inside lies
    left, right = (
        centre + mouth * np.array([math.sin(side * theta / 2), math.cos(side * theta / 2)])
        for side in (-1, 1)
    )
    assert math.dist(left, right) < 1e-12
    assert Cuts(kerf, thickness, skin).mouth(theta) == pytest.approx(0.0, abs=1e-15)
    # Half the turn leaves half the mouth open.
    assert Cuts(kerf, thickness, skin).mouth(theta / 2) == pytest.approx(kerf / 2)


def closing_spacing(cuts, radius):
    """Spacing at which cuts close just as the strip lies on a round edge: plane geometry."""
    return cuts.kerf + 2.0 * radius * math.tan(0.5 * cuts.closing_angle)


@pytest.mark.parametrize("radius", [0.05, 0.085, 0.4])
def test_cuts_at_the_closing_spacing_fold_to_a_polygon_that_the_edge_just_touches(radius):
    cuts = Cuts(0.0028, 0.012, 0.0015)
    theta, inside = cuts.closing_angle, closing_spacing(cuts, radius) - cuts.kerf
    # Fold: closed cuts leave the inside of the blocks joined corner to corner, turned by theta.
    corner, way, corners = np.zeros(2), 0.0, []
    for _ in range(5):
        corners.append(corner.copy())
        corner = corner + inside * np.array([math.cos(way), math.sin(way)])
        way += theta
    middles = [0.5 * (one + other) for one, other in pairwise(corners)]
    centre = circle_through(*middles[:3])
    for middle in middles:
        assert math.dist(middle, centre) == pytest.approx(radius, rel=1e-9)
    # The edge touches there and nowhere cuts into a block.
    for one in corners:
        assert math.dist(one, centre) > radius


def test_a_strip_with_cuts_round_a_disc_is_as_long_as_its_folded_pieces():
    # So many cuts that they close just when the strip is round: pieces and kerfs add up to it.
    radius, count = 0.15, 60
    cuts = Cuts(math.tau / count * 0.011, 0.012, 0.002)
    assert cuts.closing_angle == pytest.approx(math.tau / count)
    pieces = count * closing_spacing(cuts, radius)
    found = strip_length(hull([Disc((0.0, 0.0), radius)]), cuts.neutral)
    # The pieces stay straight, so they are longer than their arcs by theta^2 / 12 of R.
    assert found == pytest.approx(pieces, rel=cuts.closing_angle**2 / 12)
    assert found < pieces
    # The middle of the thickness, which shrinks where cuts close, would be 31 mm too short.
    assert found - strip_length(hull([Disc((0.0, 0.0), radius)]), cuts.thickness / 2) > 0.03


def test_the_bends_and_the_straight_parts_make_the_whole_strip():
    cuts = Cuts(0.003, 0.009, 0.002)
    edge = hull([Disc((0.0, 0.0), 0.12), Disc((0.5, 0.1), 0.05), Disc((0.45, -0.1), 0.05)])
    bends = [bend(arc, cuts, 0.0005) for arc in edge.rounds]
    straight = edge.perimeter - sum(arc.radius * sweep(arc) for arc in edge.rounds)
    whole = straight + sum(one.length for one in bends)
    assert strip_length(edge, cuts.neutral) == pytest.approx(whole, rel=1e-12)


def arc(radius, turn):
    return Arc((0.0, 0.0), radius, 0.3, 0.3 + turn, Layer.CUT)


def circle_through(one, two, three):
    """Centre of the circle through three points, by two perpendicular bisectors."""
    matrix = 2 * np.array([two - one, three - one])
    return np.linalg.solve(matrix, [two @ two - one @ one, three @ three - one @ one])


def test_a_turn_of_whole_cuts_is_made_by_just_so_many_that_close():
    cuts = Cuts(0.003, 0.012, 0.002)
    found = bend(arc(0.2, 7 * cuts.closing_angle), cuts, facet=0.1)
    assert found.fewest == found.cuts == 7
    assert cuts.mouth(7 * cuts.closing_angle / found.cuts) == pytest.approx(0.0, abs=1e-12)
    a_little_more = bend(arc(0.2, 7.01 * cuts.closing_angle), cuts, facet=0.1)
    assert a_little_more.cuts == 8
    assert cuts.mouth(7.01 * cuts.closing_angle / 8) > 0


def test_a_thin_strip_takes_more_cuts_so_that_it_follows_the_edge():
    cuts = Cuts(0.003, 0.006, 0.0018)
    facet = 0.0005
    found = bend(arc(0.06, math.pi / 2), cuts, facet)
    assert found.cuts > found.fewest

    def stands_off(count):
        return 0.06 / math.cos(math.pi / 4 / count) - 0.06

    assert stands_off(found.cuts) <= facet < stands_off(found.cuts - 1)
    assert found.spacing * found.cuts == pytest.approx(found.length)
    assert found.length == pytest.approx((0.06 + 0.006 - 0.0009) * math.pi / 2)


@pytest.mark.parametrize(("display", "unit"), [(Display.INCH, " in"), (Display.METRIC, " mm")])
def test_the_detail_shows_the_cuts_at_their_size_and_nothing_to_cut(display, unit):
    cuts = Cuts(0.0025, 0.009, 0.002)
    made = bend(arc(0.08, 1.2), cuts, 0.0005)
    items = strip_detail(made, cuts, (0.1, 0.2), display)
    assert not [item for item in items if getattr(item, "layer", None) in {Layer.CUT, Layer.DRILL}]
    (profile,) = (item for item in items if isinstance(item, Path))
    area = shapely.Polygon(profile.points).area
    full = 3 * made.spacing * cuts.thickness
    assert area == pytest.approx(full - 3 * cuts.kerf * (cuts.thickness - cuts.skin))
    (spacing,) = (item for item in items if isinstance(item, Offset))
    assert spacing.end[0] - spacing.start[0] == pytest.approx(made.spacing)
    words = [item.text for item in items if isinstance(item, Label)]
    assert all(unit in text for text in words[1:5])
    assert words[1].endswith(f"{made.cuts} cuts,")
    assert f"({made.fewest} are the fewest" in words[5]
