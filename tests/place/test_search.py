"""The whole search: what it reports holds when solved and measured otherwise, and is told."""

import dataclasses
import json
import math
from functools import lru_cache

import numpy as np
import pytest
import shapely
from search_grounds import search_of
from search_spaces import ALL
from shapely import affinity
from sizes import size
from slow_shapes import DISC_HAIR, DISTANCE_ERROR

from mountcalc.check.check import check
from mountcalc.console.choices import Prefer
from mountcalc.pages.as_json import as_json
from mountcalc.place.feasible.drives import belt_room, belts_of
from mountcalc.place.feasible.reasons import Reason
from mountcalc.place.page import place_text
from mountcalc.place.results import Advance
from mountcalc.place.search import search as searching
from mountcalc.place.search.objective import GOALS
from mountcalc.place.search.optimiser import Optimiser
from mountcalc.place.search.search import find_layouts
from mountcalc.requirements.requirements import requirements_of
from mountcalc.requirements.setting import gentlest_setting
from mountcalc.scenario.model import AdjusterKind
from mountcalc.scenario.search import Action, Search
from mountcalc.scenario.text.writing import Display

SAMPLES, COUNT = size(2048, 256), 3
MARK = {Display.INCH: 0.0254 / 16, Display.METRIC: 0.001}
CASES = {
    "grounds": Prefer.FINE,
    "cider": Prefer.LIGHT_BOLT,
    "lathe": Prefer.COMPACT,
    "grindstone": Prefer.FINE,
    "press": Prefer.COMPACT,
}


def search(name, **changes):
    whole = search_of() if name == "grounds" else Search(*ALL[name]())
    space = dataclasses.replace(whole.space, **{"samples": SAMPLES, **changes})
    return dataclasses.replace(whole, space=space)


@lru_cache(maxsize=8)
def found(name):
    """The best, and some of the front besides: fewer than are usual, for each costs."""
    with pytest.MonkeyPatch.context() as patched:
        patched.setattr(searching, "_MORE_OF_FRONT", size(5, 2))
        return find_layouts(search(name), CASES[name], COUNT)


@pytest.mark.parametrize("name", CASES)
def test_the_ordinary_solver_agrees_with_all_that_is_reported(name):
    error = search(name).scenario.limits.turn_error
    for layout, scenario in zip(found(name).placement.layouts, found(name).scenarios, strict=True):
        setting = gentlest_setting(scenario)
        assert setting.open
        assert layout.set_turns == pytest.approx(setting.set_turns, rel=1e-9)
        assert layout.set_tension == pytest.approx(setting.set_tension, rel=1e-9)
        assert check(scenario).ok
        requirements = requirements_of(scenario)
        loose = max(layout.set_turns - error, 0.0)
        turns = np.array([loose, layout.set_turns, layout.set_turns + error])
        shares = np.max(list(requirements.shares(turns).values()))
        assert layout.worst_share_of_limit == pytest.approx(shares, rel=1e-6)
        assert shares <= 1
        assert np.min(list(requirements.grip_margins(turns).values())) >= 1 - 1e-9
        way = requirements.solved
        rest = way.case(way.place(turns), way.demands["rest"], with_grip=False)
        assert layout.adjuster == pytest.approx(rest.adjuster[1], rel=1e-6)
        assert layout.hinge_load == pytest.approx(np.hypot(*rest.hinge[1]), rel=1e-6)
        more = requirements.tension(layout.set_turns + np.array([-1e-4, 1e-4]))
        assert layout.tension_per_turn == pytest.approx(np.diff(more)[0] / 2e-4, rel=1e-4)
        pitch = scenario.adjuster.advance_per_turn
        assert layout.tension_per_mm == pytest.approx(layout.tension_per_turn / pitch, rel=1e-9)
        if layout.grip_low is not None and not layout.of_weight:
            margin = requirements.grip_margins(turns[:1])["running"][0]
            assert layout.grip_low == pytest.approx(margin * scenario.limits.grip, rel=1e-6)


@pytest.mark.parametrize("name", CASES)
def test_every_dimension_is_a_whole_number_of_marks_in_its_range(name):
    one = search(name)
    mark = MARK[one.scenario.display]
    for layout, scenario in zip(found(name).placement.layouts, found(name).scenarios, strict=True):
        values = [*layout.hinge, layout.reach, layout.motor_height]
        if one.space.motor_direction is not None:
            values += layout.motor
        numbers = np.array(values) / mark
        np.testing.assert_allclose(numbers, np.round(numbers), atol=1e-9)
        for key, value in zip(
            ("hinge_x", "hinge_y", "reach", "motor_height"), values[:4], strict=True
        ):
            low, high = getattr(one.space, key)
            assert low - 1e-12 <= value <= high + 1e-12
        assert scenario.plate.hinge == layout.hinge
        assert scenario.motor.shaft == layout.motor


def offset_of(layout, axis, normal, space):
    """How far from the face under the motor the adjuster bears, to the motor's side: by its kind.

    The board reaches from that face, at 0, one thickness away from the motor.
    """
    if space.face_offset is not None:
        return space.face_offset
    if layout.kind == AdjusterKind.LINK:
        return 0.0
    to_motor = (axis.conjugate() * normal).real > 0
    if layout.kind == AdjusterKind.JACK_IN_BASE:
        return -space.plate_thickness if to_motor else 0.0
    out = math.sqrt(math.dist(layout.tip, layout.hinge) ** 2 - layout.reach**2)
    assert out >= (0.0 if to_motor else space.plate_thickness) + 0.006 - 1e-9
    return out if to_motor else -out


def axis_of(adjuster):
    """The way the tip moves as the adjuster gets longer, as drawn."""
    if adjuster.axis is not None:
        return np.exp(1j * adjuster.axis)
    way = complex(*adjuster.plate_pin) - complex(*adjuster.base_pin)
    return way / abs(way)


def laid(layout, scenario, space):
    """Along the plate and square to it by where the motor is, and by how much the tip misses."""
    hinge, tip, motor = (complex(*at) for at in (layout.hinge, layout.tip, layout.motor))
    axis = axis_of(scenario.adjuster)
    fits = []
    # The motor is on the left of the plate's way from the hinge (1), or on its right (-1).
    for side in (1, -1):
        along = (motor - hinge) / complex(layout.motor_foot, side * layout.motor_height)
        normal = side * 1j * along
        offset = offset_of(layout, axis, normal, space)
        misses = abs(tip - hinge - layout.reach * along - offset * normal)
        fits.append((along, normal, misses))
    return min(fits, key=lambda fit: fit[2])


@pytest.mark.parametrize("name", CASES)
def test_dimensions_agree_with_each_other(name):
    """What a person measures with a rule: by plain geometry from hinge, tip and motor."""
    space = search(name).space
    for layout, scenario in zip(found(name).placement.layouts, found(name).scenarios, strict=True):
        along, normal, misses = laid(layout, scenario, space)
        assert abs(along) == pytest.approx(1.0, abs=1e-9)
        assert abs(normal) == pytest.approx(1.0, abs=1e-9)
        assert misses < 1e-9
        longest = max(layout.reach, layout.motor_foot + space.motor_feet / 2) + 0.025
        assert layout.plate_length == pytest.approx(longest, abs=1e-12)
        assert layout.plate_length <= space.plate_length


@pytest.mark.parametrize("name", CASES)
def test_a_new_belt_goes_on_and_a_worn_one_is_taken_up_within_the_travel(name):
    one = search(name)
    names = [choice.designation for choice in one.space.belts] or [None]
    install, take_up = belt_room(one.scenario, one.space)
    for layout, scenario in zip(found(name).placement.layouts, found(name).scenarios, strict=True):
        hinge, motor = complex(*layout.hinge), complex(*layout.motor)
        driven = complex(*one.scenario.driven.shaft)
        angles = layout.plate_angles
        snug, fitted, worn = (
            abs(hinge + (motor - hinge) * np.exp(1j * at) - driven)
            for at in (angles.snug, angles.install, angles.take_up)
        )
        at = names.index(layout.belt) if one.space.belts else 0
        assert belts_of(one.scenario, one.space)[at] == scenario.belt
        assert snug - fitted == pytest.approx(install[at], abs=1e-9)
        assert worn - snug == pytest.approx(take_up[at], abs=1e-9)
        low, high = scenario.plate.travel
        assert low < min(angles.install, angles.take_up) < max(angles.install, angles.take_up)
        assert max(angles.install, angles.take_up) < high


def test_parts_clear_the_keep_outs_when_measured_with_plain_shapes():
    """Plate, motor and belt by their own construction here, at many angles of the travel."""
    one = search("grounds")
    space, scenario = one.space, one.scenario
    placed = found("grounds")
    for layout, mount in zip(placed.placement.layouts, placed.scenarios, strict=True):
        hinge = np.array(layout.hinge)
        along, normal, _ = laid(layout, mount, space)
        long, deep = layout.plate_length * along, -space.plate_thickness * normal
        corners = [complex(*hinge) + place for place in (0.0, long, long + deep, deep)]
        plate = shapely.Polygon([(at.real, at.imag) for at in corners])
        # From stop to stop, as whoever builds it will swing it.
        angles = np.linspace(*mount.plate.travel, 41)
        least = math.inf
        for keep_out in space.keep_outs:
            ground = shapely.Polygon(keep_out.corners)
            for angle in angles:
                turned = affinity.rotate(plate, angle, layout.hinge, use_radians=True)
                shaft = shapely.Point(_turned(np.array(layout.motor), hinge, angle))
                apart = [
                    turned.distance(ground),
                    shaft.distance(ground) - space.motor_body / 2,
                ]
                if "belt" in keep_out.parts:
                    line = shapely.LineString([shaft, scenario.driven.shaft])
                    small = min(scenario.driven.pulley_radius, scenario.motor.pulley_radius)
                    apart.append(line.distance(ground) - small)
                least = min(least, *apart)
        assert least >= space.clearance - 1e-9
        assert space.clearance - DISC_HAIR <= layout.clearance <= least + DISTANCE_ERROR
        assert layout.nearest in {keep_out.name for keep_out in space.keep_outs}


def _turned(point, hinge, angle):
    cos, sin = math.cos(angle), math.sin(angle)
    x, y = point - hinge
    return hinge + np.array([x * cos - y * sin, x * sin + y * cos])


@pytest.mark.parametrize("name", CASES)
def test_the_best_come_first_and_none_that_is_on_the_front_is_beaten(name):
    layouts = found(name).placement.layouts
    assert [layout.rank for layout in layouts] == list(range(1, len(layouts) + 1))
    assert COUNT <= len(layouts) <= COUNT + 5
    goals = np.array(
        [
            (
                one.tension_per_turn,
                one.tension_per_mm,
                one.worst_share_of_limit,
                abs(one.adjuster),
                one.plate_length,
            )
            for one in layouts
        ]
    )
    keys = {Prefer.FINE: 0, Prefer.COMPACT: 4, Prefer.LIGHT_BOLT: 3}
    preferred = goals[:, keys[CASES[name]]]
    # Equal to within a millionth counts as a tie, which the other goals decide.
    hair = 1e-6 * preferred[0]
    assert np.all(np.diff(preferred[:COUNT]) >= -hair)
    assert np.all(preferred[COUNT:] >= preferred[0] - hair)
    every = found(name).goals
    assert every.shape[1] == len(GOALS)
    for layout, one in zip(layouts, goals, strict=True):
        beaten = np.all(every <= one, axis=1) & np.any(every < one, axis=1)
        assert layout.pareto == (not beaten.any())
    assert all(layout.pareto for layout in layouts[COUNT:])
    for row, on_front in zip(every, found(name).on_front, strict=True):
        beaten = np.all(every <= row, axis=1) & np.any(every < row, axis=1)
        assert on_front == (not beaten.any())


@pytest.mark.parametrize("name", CASES)
def test_layouts_that_are_reported_differ(name):
    space, layouts = search(name).space, found(name).placement.layouts
    keys = ("kind", "acts", "belt", "motor_side")
    for index, one in enumerate(layouts):
        for other in layouts[:index]:
            listed = any(getattr(one, key) != getattr(other, key) for key in keys)
            moved = [
                abs(a - b) / (high - low)
                for a, b, (low, high) in zip(
                    (*one.hinge, one.reach),
                    (*other.hinge, other.reach),
                    (space.hinge_x, space.hinge_y, space.reach),
                    strict=True,
                )
            ]
            height = abs(one.motor_height - other.motor_height)
            tall = height / (space.motor_height[1] - space.motor_height[0]) >= 0.5
            motor = space.motor_direction is not None and one.motor != other.motor
            # The other tangent, with the motor on the same side: the plate lies elsewhere.
            swung = math.dist(one.tip, other.tip) > 0.1 * one.reach
            assert listed or max(moved) >= 0.1 or tall or motor or swung


def test_all_samples_are_counted_once():
    placement = found("grounds").placement
    failed = [why for why in placement.why_not if not why.reason.startswith("check:")]
    assert placement.evaluated == SAMPLES
    assert placement.feasible + sum(why.count for why in failed) == SAMPLES
    counts = [why.count for why in failed]
    assert counts == sorted(counts, reverse=True)
    assert all(why.count > 0 and why.sentence for why in failed)
    sampled = found("grounds").sampled
    assert sampled.reason.size == SAMPLES
    assert np.sum(sampled.reason == Reason.FEASIBLE) == placement.feasible
    np.testing.assert_array_equal(
        np.isfinite(sampled.tension_per_turn), sampled.reason == Reason.FEASIBLE
    )


def test_the_same_seed_gives_the_same_answer_and_another_seed_other_samples():
    one, again = (
        find_layouts(search("grindstone", samples=256), Prefer.FINE, COUNT) for _ in range(2)
    )
    assert one.placement == again.placement
    assert one.scenarios == again.scenarios
    assert len(one.placement.layouts) >= COUNT
    other = find_layouts(search("grindstone", seed=99, samples=256), Prefer.FINE, 1)
    assert not np.any(other.sampled.hinge_x == again.sampled.hinge_x)
    assert other.placement.layouts[0].tension_per_turn == pytest.approx(
        again.placement.layouts[0].tension_per_turn, rel=0.05
    )


def test_progress_covers_the_whole_search_and_never_goes_back():
    told = []
    one = search("press", samples=700)
    answer = find_layouts(one, Prefer.FINE, 2, told.append)
    shares = [step.share for step in told]
    assert shares == sorted(shares)
    assert len(set(shares)) > 4  # also while layouts are solved
    assert told[-1] == Advance(1.0, 700, answer.placement.feasible)
    assert [step.tried for step in told[:3]] == [256, 512, 700]


@pytest.mark.parametrize("samples", [1, 100, 256, 300])
def test_as_many_layouts_are_tried_as_were_asked_for(samples):
    optimiser = Optimiser.of(search("press", samples=samples), Prefer.FINE)
    shares = list(optimiser.run())
    assert optimiser.tried == optimiser.counts.sum() == samples
    assert shares[-1] == 1.0
    assert optimiser.sampled.hinge_x.size == samples
    assert bool(len(optimiser.on_grid)) == (
        optimiser.feasible > 0
    )  # also of what comes after a checkpoint


def test_what_fails_for_every_layout_is_said_first():
    answer = find_layouts(search("heavy", samples=size(2048, 256)), Prefer.FINE, 2).placement
    assert answer.feasible > 0
    assert answer.layouts == ()
    first, second = answer.why_not[:2]
    assert {first.reason, second.reason} == {"check:driven-speed", "check:motor-rating"}
    assert first.sentence.startswith("this is so whatever the layout: the ")


def test_where_none_will_do_it_is_told_which_constraint_lets_most_through():
    one = search("cider", kinds=(AdjusterKind.JACK_IN_PLATE,), acts=(Action.PUSH,))
    # Nothing but the plate's length may be in the way.
    space = dataclasses.replace(one.space, plate_length=0.15, bolt_beside_motor=True)
    one = dataclasses.replace(one, space=space)
    answer = find_layouts(one, Prefer.FINE, 2)
    assert (answer.placement.feasible, answer.placement.layouts) == (0, ())
    assert answer.scenarios == ()
    assert "with a plate_length of" in answer.placement.notes[0]
    assert answer.placement.refined == 0


def test_a_belt_that_is_too_short_is_told_of_and_the_others_are_tried():
    whole = search("grindstone", seed=5)
    first, *others = whole.space.belts
    short = dataclasses.replace(first, belt=dataclasses.replace(first.belt, length=0.3))
    space = dataclasses.replace(whole.space, belts=(short, *others), samples=256)
    answer = find_layouts(dataclasses.replace(whole, space=space), Prefer.FINE, 1).placement
    assert answer.notes[0].startswith(f"belt {first.designation} is too short")
    assert answer.layouts
    assert all(layout.belt != first.designation for layout in answer.layouts)


def test_a_search_of_one_place_keeps_its_dimensions_as_they_are():
    layout = found("cider").placement.layouts[0]
    ranges = {
        "hinge_x": layout.hinge[0] + 1e-4,  # no mark
        "hinge_y": layout.hinge[1],
        "reach": layout.reach,
        "motor_height": layout.motor_height,
    }
    one = search("cider", **{name: (value, value) for name, value in ranges.items()})
    answer = find_layouts(one, Prefer.FINE, 2).placement
    assert answer.layouts
    for other in answer.layouts:
        assert (*other.hinge, other.reach, other.motor_height) == tuple(ranges.values())


def test_a_drive_that_needs_little_pull_has_layouts_too():
    whole = search("cider")
    little = 0.02 * whole.scenario.motor.power
    driven = dataclasses.replace(whole.scenario.driven, power=little)
    light = dataclasses.replace(whole, scenario=dataclasses.replace(whole.scenario, driven=driven))
    answer = find_layouts(light, Prefer.FINE, 1).placement
    assert answer.layouts
    assert all(layout.grip_low >= whole.scenario.limits.grip for layout in answer.layouts)


def with_floor(name, floor):
    whole = search(name)
    base = dataclasses.replace(whole.scenario.parts.base, floor=floor)
    parts = dataclasses.replace(whole.scenario.parts, base=base)
    return dataclasses.replace(whole, scenario=dataclasses.replace(whole.scenario, parts=parts))


def test_a_floor_that_a_layout_loses_is_told_of_in_text_and_json():
    bare = found("grounds")
    heights = sorted(layout.hinge[1] for layout in bare.placement.layouts[:COUNT])
    assert heights[0] < heights[-1]
    between = 0.5 * (heights[0] + heights[-1])
    told = find_layouts(with_floor("grounds", between), CASES["grounds"], COUNT)
    lost = [one.rank for one in told.placement.layouts if one.hinge[1] <= between]
    assert 0 < len(lost) < len(told.placement.layouts)
    (note,) = (note for note in told.placement.notes if "base.floor" in note)
    ranks = ", ".join(map(str, lost))
    assert f"of layout{'s' * (len(lost) > 1)} {ranks}: the hinge there is not above it" in note
    for layout, scenario in zip(told.placement.layouts, told.scenarios, strict=True):
        assert (scenario.parts.base.floor is None) == (layout.rank in lost)
    assert note in json.loads(as_json(told.placement))["notes"]
    shown = place_text(with_floor("grounds", between), told.placement, told.scenarios[0], more=True)
    assert "base.floor is left out" in " ".join(shown.split())


def test_of_a_floor_that_all_stand_above_nothing_is_told():
    placement = find_layouts(with_floor("grounds", -50.0), CASES["grounds"], 1).placement
    assert placement.layouts
    assert not any("base.floor" in note for note in placement.notes)
