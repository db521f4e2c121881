"""The guard's panel against hulls that a polygon library makes, and against plain geometry."""

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely

from mountcalc.drafting.items import Arc, Circle, Label, Layer, Leader, Line, Offset
from mountcalc.draw.along.along_shafts import along_shafts
from mountcalc.draw.build import Build, turned
from mountcalc.draw.guard.panel import guard_panel
from mountcalc.draw.guard.shape import Disc, disc_family, hull
from mountcalc.scenario.parts import AlongShafts, Guard, Parts
from mountcalc.scenario.reader import read_scenario
from mountcalc.scenario.text.writing import Display

SWINGS = 50
# A drawn arc is taken as 2000 chords here; of 1 m over half a turn they miss it by 0.3 um.
CHORDS = 1e-6


def walked(item):
    """Points of a line or an arc, from its start to its end."""
    if isinstance(item, Line):
        return [item.start, item.end]
    angles = np.linspace(item.start, item.start + (item.end - item.start) % math.tau, 2000)
    x, y = item.centre
    return [(x + item.radius * math.cos(a), y + item.radius * math.sin(a)) for a in angles]


def ring(items):
    """The closed polygon that lines and arcs make one after the other."""
    return shapely.Polygon([point for item in items for point in walked(item)])


def parts(drawing):
    """Outline, slot and opening of a panel, in the scenario's coordinates."""
    back = drawing.moved((drawing.facts["datum_x"], drawing.facts["datum_y"]))
    cut = [item for item in back.items if getattr(item, "layer", None) is Layer.CUT]
    (opening,) = (item for item in cut if isinstance(item, Circle))
    slot = [item for item in cut if isinstance(item, Arc)][-4:]
    outline = [item for item in cut if item is not opening and item not in slot]
    return outline, slot, opening


def moving(scenario, over, angle):
    """Belt and pulleys at a plate angle: the string round two discs, by the polygon library."""
    shaft = turned(scenario.motor.shaft, scenario.plate.hinge, angle)
    discs = [
        shapely.Point(at).buffer(radius + over, quad_segs=64)
        for at, radius in (
            (shaft, scenario.motor.pulley_radius),
            (scenario.driven.shaft, scenario.driven.pulley_radius),
        )
    ]
    return shapely.union_all(discs).convex_hull


@pytest.fixture
def mill(cider):
    return read_scenario(str(cider))


def test_the_outline_keeps_the_clearance_of_belt_and_pulleys_at_50_swings(scenario_file):
    scenario = read_scenario(str(scenario_file))
    clearance = 0.017
    guarded = replace(scenario.parts, guard=replace(scenario.parts.guard, clearance=clearance))
    scenario = replace(scenario, parts=guarded)
    outline, *_ = parts(guard_panel(Build(scenario)))
    panel = ring(outline).buffer(CHORDS, join_style="mitre")
    swing = Build(scenario).swing
    for angle in np.linspace(swing.low, swing.high, SWINGS):
        # The pitch line is inside the belt.
        keeps = moving(scenario, 0.0, angle).buffer(clearance, quad_segs=64)
        assert panel.contains(keeps)


def test_the_outline_is_no_larger_than_it_needs_be(mill):
    # An A belt: 1.30 mm from pitch line to outside on the flat driven rim; a groove's rim on the
    # motor's pulley stands out 0.125 in (ANSI/RMA IP-20).
    panel = guard_panel(Build(mill))
    outline, *_ = parts(panel)
    swing = Build(mill).swing
    over_motor = 0.25 * 0.0254 / 2
    clear = mill.parts.guard.clearance
    discs = [
        shapely.Point(turned(mill.motor.shaft, mill.plate.hinge, angle)).buffer(
            mill.motor.pulley_radius + over_motor + clear, quad_segs=128
        )
        for angle in np.linspace(swing.low, swing.high, 400)
    ]
    right = panel.facts["datum_x"] + panel.facts["blank_width"]
    driven = right - mill.driven.shaft[0]
    assert mill.driven.pulley_radius + clear < driven < mill.driven.pulley_radius + clear + 3e-3
    discs.append(shapely.Point(mill.driven.shaft).buffer(driven, quad_segs=128))
    needed = shapely.union_all(discs).convex_hull
    assert ring(outline).hausdorff_distance(needed) < 2e-5


def test_the_outline_is_closed_and_turns_once(scenario_file):
    outline, *_ = parts(guard_panel(Build(read_scenario(str(scenario_file)))))
    ends = []
    for item in outline:
        if isinstance(item, Line):
            ends.append((item.start, item.end))
        else:
            at = [
                (
                    item.centre[0] + item.radius * math.cos(angle),
                    item.centre[1] + item.radius * math.sin(angle),
                )
                for angle in (item.start, item.end)
            ]
            ends.append(tuple(at))
    for (_, end), (start, _) in zip(ends, [*ends[1:], ends[0]], strict=True):
        assert math.dist(end, start) < 1e-9
    turn = sum(item.end - item.start for item in outline if isinstance(item, Arc))
    assert turn == pytest.approx(math.tau, abs=1e-9)


def test_the_slot_runs_about_the_hinge_and_holds_the_shaft_at_both_ends(mill):
    _, slot, _ = parts(guard_panel(Build(mill)))
    swing = Build(mill).swing
    arm = math.dist(mill.plate.hinge, mill.motor.shaft)
    shaft, clearance = mill.parts.frame.shaft_diameter / 2, mill.parts.guard.slot_clearance
    outer, _, inner, _ = slot
    assert outer.centre == pytest.approx(mill.plate.hinge)
    assert inner.centre == pytest.approx(mill.plate.hinge)
    assert outer.radius == pytest.approx(arm + shaft + clearance)
    assert inner.radius == pytest.approx(arm - shaft - clearance)
    sides = [walked(item) for item in slot]
    hole = shapely.Polygon([*sides[0], *sides[1], *reversed(sides[2]), *sides[3]])
    assert hole.is_valid
    widened = hole.buffer(CHORDS, join_style="mitre")
    for angle in np.linspace(swing.install, swing.take_up, SWINGS):
        at = turned(mill.motor.shaft, mill.plate.hinge, angle)
        assert widened.contains(shapely.Point(at).buffer(shaft + clearance))
    area = arm * (swing.high - swing.low) * 2 * (shaft + clearance)
    area += math.pi * (shaft + clearance) ** 2
    assert hole.area == pytest.approx(area, rel=1e-6)


def test_the_opening_is_round_the_driven_journal(mill):
    _, _, opening = parts(guard_panel(Build(mill)))
    assert opening.centre == pytest.approx(mill.driven.shaft)
    assert opening.radius == pytest.approx(0.625 * 0.0254 + mill.parts.guard.slot_clearance)


def test_a_shaft_thicker_than_its_journal_decides_the_opening(mill):
    thick = replace(mill, driven=replace(mill.driven, shaft_diameter=0.05))
    _, _, opening = parts(guard_panel(Build(thick)))
    assert opening.radius == pytest.approx(0.025 + mill.parts.guard.slot_clearance)


def test_fixing_holes_stand_between_belt_and_edge_and_near_enough(scenario_file):
    scenario = read_scenario(str(scenario_file))
    drawing = guard_panel(Build(scenario))
    outline, *_ = parts(drawing)
    holes = [
        item for item in drawing.items if isinstance(item, Circle) and item.layer is Layer.DRILL
    ]
    assert len(holes) == drawing.facts["fixing_holes"]
    edge = shapely.affinity.translate(
        ring(outline), -drawing.facts["datum_x"], -drawing.facts["datum_y"]
    ).exterior
    distances = [edge.distance(shapely.Point(hole.centre)) for hole in holes]
    assert distances == pytest.approx([distances[0]] * len(holes), abs=1e-6)
    assert holes[0].radius < distances[0]
    places = sorted(edge.project(shapely.Point(hole.centre)) for hole in holes)
    gaps = np.diff([*places, places[0] + edge.length])
    # Measured on the edge, which is longer than the line of the holes.
    assert max(gaps) < 0.25 + math.tau * distances[0]


def test_the_datum_corner_is_that_of_the_blank(mill):
    drawing = guard_panel(Build(mill))
    outline, *_ = parts(drawing)
    box = ring(outline).bounds
    facts = drawing.facts
    assert box == pytest.approx(
        (
            facts["datum_x"],
            facts["datum_y"],
            facts["datum_x"] + facts["blank_width"],
            facts["datum_y"] + facts["blank_height"],
        ),
        abs=1e-6,
    )


def test_dimensions_are_true_to_their_texts(mill):
    drawing = guard_panel(Build(mill))
    # Texts of short ones stand beside them.
    offsets = [item for item in drawing.items if isinstance(item, Offset) and item.text]
    assert len(offsets) >= 8
    for offset in offsets:
        cosine, sine = math.cos(offset.direction), math.sin(offset.direction)
        run = (offset.end[0] - offset.start[0]) * cosine + (offset.end[1] - offset.start[1]) * sine
        assert inches(offset.text) == pytest.approx(abs(run) / 0.0254, abs=1 / 64 + 1e-9)


def inches(text):
    number, unit = text.rsplit(" ", 1)
    assert unit == "in"
    total = 0.0
    for part in number.split():
        over, _, under = part.partition("/")
        total += int(over) / int(under or 1)
    return total


def test_metric_texts_are_in_millimetres(mill):
    drawing = guard_panel(Build(replace(mill, display=Display.METRIC)))
    words = [*drawing.notes, *(i.text for i in drawing.items if isinstance(i, Label | Leader))]
    assert not [text for text in words if " in " in text and "/" in text and "mm" not in text]
    assert any("mm" in text for text in words)


def test_mirrored_the_slot_has_the_same_radius_and_the_texts_are_the_same(mill):
    drawing = guard_panel(Build(mill))
    turned_over = drawing.mirrored()
    for one, other in zip(drawing.items, turned_over.items, strict=True):
        if isinstance(one, Arc):
            assert other.radius == one.radius
            assert other.centre == pytest.approx((-one.centre[0], one.centre[1]))
            assert (other.end - other.start) == pytest.approx(one.end - one.start)
        if isinstance(one, Label):
            assert other.text == one.text


def test_what_was_taken_is_said_and_nothing_else_without_parts(mill):
    bare = replace(mill.with_(adjuster={"stiffness": "rigid"}), parts=Parts())
    notes = guard_panel(Build(bare)).notes
    keys = ("thickness", "kerf", "clearance", "slot_clearance")
    for key in [f"guard.{key}" for key in keys] + ["motor.frame"]:
        assert [note for note in notes if key in note and "taken (estimate)" in note]
    given = Guard(0.02, 0.005, 0.009, 0.002, 0.06)
    notes = guard_panel(Build(replace(mill, parts=replace(mill.parts, guard=given)))).notes
    assert not [note for note in notes if "taken (estimate)" in note]


def test_sizes_that_no_key_gives_are_told_as_estimates(scenario_file):
    """As they are drawn: the holes' pitch and diameter, the skin, how far the strip stands off."""
    drawing = guard_panel(Build(read_scenario(str(scenario_file))))
    (fixing,) = (note for note in drawing.notes if "fixing holes, " in note)
    holes = [one for one in drawing.items if isinstance(one, Circle) and one.layer is Layer.DRILL]
    assert fixing.startswith(f"{len(holes)} fixing holes, ")
    assert fixing.endswith("(estimates).")
    (relief,) = (note for note in drawing.notes if note.startswith("Relief cuts, "))
    assert "stands off by no more than" in relief
    assert "(estimates)" in relief


def test_names_point_at_what_they_name(mill):
    drawing = guard_panel(Build(mill))
    named = {one.text: one.at for one in drawing.items if isinstance(one, Leader)}
    _, slot, opening = parts(drawing)
    corner = drawing.facts["datum_x"], drawing.facts["datum_y"]
    places = {text: (at[0] + corner[0], at[1] + corner[1]) for text, at in named.items()}
    (rim,) = (at for text, at in places.items() if text.startswith("opening for the driven shaft"))
    assert math.dist(rim, opening.centre) == pytest.approx(opening.radius)
    (side,) = (at for text, at in places.items() if text.startswith("slot "))
    assert ring(slot).exterior.distance(shapely.Point(side)) < CHORDS
    (hole,) = (at for text, at in named.items() if " holes, " in text)
    assert hole in [one.centre for one in drawing.items if getattr(one, "layer", "") is Layer.DRILL]
    edges = [one.at for one in drawing.items if isinstance(one, Leader) and "datum" in one.text]
    assert sorted(min(at) for at in edges) == [0.0, 0.0]
    assert sum(at[0] == 0.0 for at in edges) == sum(at[1] == 0.0 for at in edges) == 1


def test_no_word_calls_anything_safe(scenario_file):
    drawing = guard_panel(Build(read_scenario(str(scenario_file))))
    for text in (*drawing.notes, *drawing.cautions):
        assert "safe" not in text.lower()
    assert any("29 CFR 1910.219" in text for text in drawing.cautions)
    assert any("unplug" in text and "block the plate" in text for text in drawing.cautions)
    assert "local codes decide" in drawing.cautions[-1]


def test_the_slot_is_judged_by_the_table_of_reach(mill):
    # 5/8 in of shaft and 1/2 in on each side: 41.3 mm, a slot of 40 to 120 mm: 850 mm.
    (words,) = (text for text in guard_panel(Build(mill)).cautions if "motor's slot" in text)
    assert "is 1 5/8 in wide" in words
    assert "wants 33 15/32 in to the danger" in words
    assert "the opening needs a cover" in words
    unknown = replace(mill, parts=replace(mill.parts, along=AlongShafts()))
    (words,) = (text for text in guard_panel(Build(unknown)).cautions if "motor's slot" in text)
    assert words.endswith("measure from the panel to the nearest pulley.")


def test_a_panel_that_its_own_cuts_leave_thin_is_told(mill):
    wide = replace(mill.parts.guard, slot_clearance=0.045, clearance=0.012)
    notes = guard_panel(Build(replace(mill, parts=replace(mill.parts, guard=wide)))).notes
    assert any("between the slot and the nearest fixing holes" in note for note in notes)
    assert any("narrow for screw heads" in note for note in notes)


def test_a_slot_that_breaks_out_of_the_panel_is_told(mill):
    wide = replace(mill.parts.guard, slot_clearance=0.06)
    notes = guard_panel(Build(replace(mill, parts=replace(mill.parts, guard=wide)))).notes
    assert any("Nothing is left between the slot and the panel's edge" in note for note in notes)
    assert not any("left between the slot" in note for note in guard_panel(Build(mill)).notes)


@pytest.mark.usefixtures("placed_names")
def test_texts_stand_clear_of_each_other(scenario_file):
    from mountcalc.drafting.annotations import extremes, label_of

    drawing = guard_panel(Build(read_scenario(str(scenario_file))))
    labels = [item for item in drawing.items if isinstance(item, Label)]
    labels += [label_of(item, 1.0) for item in drawing.items if isinstance(item, Leader)]
    labels += [
        label_of(item, 1.0) for item in drawing.items if isinstance(item, Offset) and item.text
    ]
    boxes = []
    for label in labels:
        across, up = zip(*extremes(label, 1.0), strict=True)
        boxes.append(shapely.box(min(across), min(up), max(across), max(up)))
    outline, *_ = parts(drawing)
    edge = shapely.affinity.translate(
        ring(outline), -drawing.facts["datum_x"], -drawing.facts["datum_y"]
    ).exterior
    for number, box in enumerate(boxes):
        assert not box.intersects(edge), labels[number].text
        for other, text in zip(boxes[:number], labels, strict=False):
            assert not box.intersects(other), (labels[number].text, text.text)


@pytest.mark.parametrize("seed", range(12))
def test_hulls_of_discs_are_those_of_the_polygon_library(seed):
    chance = np.random.default_rng(seed)
    discs = [
        Disc(tuple(chance.uniform(-1, 1, 2)), chance.uniform(0.01, 0.6))
        for _ in range(chance.integers(1, 7))
    ]
    family = disc_family(
        (0.2, 0.1), (0.6, -0.3), (-chance.uniform(0, 3), chance.uniform(0, 3)), 0.1
    )
    outline = hull([*discs, *family])
    low, high = family[-1].facing
    arm = math.dist((0.2, 0.1), (0.6, -0.3))
    centres = [
        (0.2 + arm * math.cos(a), 0.1 + arm * math.sin(a)) for a in np.linspace(low, high, 300)
    ]
    reference = shapely.union_all(
        [shapely.Point(d.centre).buffer(d.radius, quad_segs=100) for d in discs]
        + [shapely.Point(c).buffer(0.1, quad_segs=32) for c in centres]
    ).convex_hull
    drawn = outline.items
    assert outline.perimeter == pytest.approx(reference.length, rel=1e-4)
    assert outline.bounds == pytest.approx(reference.bounds, abs=1e-4)
    if len(drawn) > 1:
        assert ring(drawn).hausdorff_distance(reference) < 1e-4
    # Equal steps along it: the chords between many points sum up to its length.
    points = outline.points(4000)
    assert shapely.Polygon(points).length == pytest.approx(outline.perimeter, rel=1e-5)


def test_one_disc_that_holds_all_others_is_a_circle():
    outline = hull([Disc((0.0, 0.0), 1.0), Disc((0.2, 0.0), 0.1)])
    assert outline.items == (Circle((0.0, 0.0), 1.0, Layer.CUT),)
    assert outline.perimeter == pytest.approx(math.tau)
    assert [math.hypot(*p) for p in outline.points(7)] == pytest.approx([1.0] * 7)


def placed(scenario, position):
    """The scenario with its panel's middle at a place along the shafts."""
    guard = replace(scenario.parts.guard, position=position)
    return replace(scenario, parts=replace(scenario.parts, guard=guard))


def next_bearing(scenario):
    at = scenario.driven.pulley_position
    return min(scenario.driven.bearings, key=lambda one: abs(one.position - at))


def test_a_panel_within_a_bearing_is_open_for_its_housing(mill):
    bearing = next_bearing(mill)
    drawing = guard_panel(Build(placed(mill, bearing.position)))
    # The housing is taken twice its journal.
    expected = 2 * bearing.journal_diameter + 2 * mill.parts.guard.slot_clearance
    assert drawing.facts["opening_diameter"] == pytest.approx(expected)
    assert any(repr(bearing.name) in note and "housing" in note for note in drawing.notes)
    assert not any(one.startswith("The gap around the driven shaft") for one in drawing.cautions)


def test_a_panel_clear_of_the_bearing_is_open_for_the_shaft(mill):
    drawing = guard_panel(Build(mill))
    assert drawing.facts["opening_diameter"] < 2 * next_bearing(mill).journal_diameter
    assert not any("housing" in note for note in drawing.notes)


def test_a_panel_in_the_motors_face_is_warned_of(mill):
    face = mill.parts.along.motor_face
    drawing = guard_panel(Build(placed(mill, face)))
    assert any("cuts into the motor" in caution for caution in drawing.cautions)
    assert not any(
        "cuts into the motor" in caution for caution in guard_panel(Build(mill)).cautions
    )


def test_without_positions_the_housing_is_left_open(mill):
    unknown = replace(mill, parts=replace(mill.parts, along=AlongShafts()))
    assert any(
        "Measure the bearing's housing" in note for note in guard_panel(Build(unknown)).notes
    )


def test_the_ring_around_the_driven_shaft_is_closed_by_what_stands_still(mill):
    (ring_said,) = (
        one for one in guard_panel(Build(mill)).cautions if "gap around the driven" in one
    )
    assert "moves with the plate" not in ring_said


def test_a_panel_that_reaches_into_what_is_behind_it_is_told_in_words(mill):
    words = along_shafts(Build(placed(mill, mill.parts.along.motor_face))).cautions
    (said,) = (one for one in words if one.startswith("At guard.position"))
    assert "reaches" in said
    assert " -" not in said


def with_opening(scenario, diameter):
    guard = replace(scenario.parts.guard, bearing_opening=diameter)
    return replace(scenario, parts=replace(scenario.parts, guard=guard))


def test_a_given_hole_for_the_bearing_is_taken_where_the_panel_meets_it(mill):
    at_bearing = placed(with_opening(mill, 0.09), next_bearing(mill).position)
    drawing = guard_panel(Build(at_bearing))
    assert drawing.facts["opening_diameter"] == pytest.approx(0.09)
    assert any("guard.bearing_opening" in note for note in drawing.notes)
    # How far the housing leaves its hole open is not known then: it is not judged.
    assert any("is not known: measure it" in caution for caution in drawing.cautions)


def test_a_given_hole_is_told_to_be_unused_where_the_panel_is_clear_of_the_bearings(mill):
    drawing = guard_panel(Build(with_opening(mill, 0.09)))
    assert drawing.facts["opening_diameter"] == guard_panel(Build(mill)).facts["opening_diameter"]
    assert any("guard.bearing_opening is not used" in note for note in drawing.notes)
