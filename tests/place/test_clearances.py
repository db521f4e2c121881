"""The cheap test of many layouts against shapely, one by one."""

from dataclasses import replace

import numpy as np
import pytest
from search_grounds import drawn, search_of
from sizes import size
from slow_shapes import DISC_HAIR, DISTANCE_ERROR, clearance_of, gaps, outlines_of

from mountcalc.place.feasible.clearances import (
    clear,
    nearest_keep_out,
    written_stops,
)
from mountcalc.place.feasible.feasibility import Feasibility
from mountcalc.place.feasible.layouts import KINDS
from mountcalc.place.feasible.parts import parts_of
from mountcalc.place.feasible.reasons import Reason
from mountcalc.scenario.model import AdjusterKind, BarredPart, KeepOut

INTERVALS = 256  # of a travel, between which a clearance is bounded at last
DISC_ERROR = 1e-5  # [m], of a disc of 5 in drawn with 256 corners


def wrenched(search, radius):
    """With another room about the head of a jack."""
    return replace(search, space=replace(search.space, wrench_space=radius))


def ring(center, radii, start):
    """A star-shaped polygon."""
    angles = start + np.arange(len(radii)) * 2 * np.pi / len(radii)
    return np.asarray(center) + np.asarray(radii)[:, None] * np.stack(
        [np.cos(angles), np.sin(angles)], axis=1
    )


def slow_verdicts(search, layouts, ends):
    """By shapely: what each layout's clearance and the room of its wrench come to."""
    for index in range(len(layouts)):
        travel = float(ends[0][index]), float(ends[1][index])
        outlines = outlines_of(layouts, index, travel, search)
        yield gaps(outlines, search.space.keep_outs)


@pytest.fixture(scope="module")
def judged():
    """Random layouts with both verdicts, computed once."""
    search = search_of()
    layouts, ends = drawn(search, size(150, 80))
    return search, layouts, ends, list(slow_verdicts(search, layouts, ends))


def cheaply(search, layouts, ends):
    """By the cheap test between two angles."""
    return clear(layouts, ends, search.space.keep_outs, search, search.space.clearance)


def needed(gap, clearance):
    return 0.0 if gap.part == "wrench" else clearance


@pytest.mark.parametrize("clearance", [0.0, 0.5, 1.0, 3.0])
def test_nothing_is_accepted_that_shapely_rejects_and_false_rejects_are_within_the_bound(
    judged, clearance
):
    search, layouts, ends, slow = judged
    wanted = clearance * search.space.clearance
    found = clear(layouts, ends, search.space.keep_outs, search, wanted)
    parts = parts_of(layouts, np.stack(ends, axis=1), search)
    slack = {part.name: part.lever * np.abs(ends[1] - ends[0]) / INTERVALS / 2 for part in parts}
    assert 0.05 < (found < 0).mean() < 0.95
    for index, all_gaps in enumerate(slow):
        rooms = [gap.distance - needed(gap, wanted) for gap in all_gaps]
        if found[index] < 0:
            assert min(rooms) > -DISC_ERROR
        else:
            # Some part is nearer than wanted by shapely too, but for what the bound may miss.
            assert any(
                room < slack[gap.part][index] + DISTANCE_ERROR + DISC_ERROR
                for room, gap in zip(rooms, all_gaps, strict=True)
            )


def test_the_first_keep_out_that_is_in_the_way_is_named(judged):
    search, layouts, ends, slow = judged
    found = cheaply(search, layouts, ends)
    names = [keep_out.name for keep_out in search.space.keep_outs]
    margin = 1e-3  # well clear of what the bound may miss
    seen = set()
    for index, all_gaps in enumerate(slow):
        rooms = dict.fromkeys(names, np.inf)
        for gap in all_gaps:
            room = gap.distance - needed(gap, search.space.clearance)
            rooms[gap.keep_out] = min(rooms[gap.keep_out], room)
        if min(abs(room) for room in rooms.values()) < margin:
            continue
        expected = next((names.index(name) for name in names if rooms[name] < 0), -1)
        assert found[index] == expected
        seen.add(expected)
    assert {-1, 0, 1, 3} <= seen


def test_the_distance_that_is_told_is_the_least_over_the_travel(judged):
    search, layouts, ends, slow = judged
    for index in range(0, len(layouts), 5):
        travel = float(ends[0][index]), float(ends[1][index])
        one = layouts.take([index])
        distance, name = nearest_keep_out(one, travel, search)
        by_name = clearance_of(slow[index])
        # Where parts overlap, any distance that is not above zero is told.
        nearest = max(min(by_name.values()), 0.0)
        assert max(distance, 0.0) == pytest.approx(nearest, abs=DISTANCE_ERROR + DISC_ERROR)
        assert by_name[name] == pytest.approx(nearest, abs=2 * DISTANCE_ERROR)


def test_each_keep_out_and_each_part_matters(judged):
    search, layouts, ends, _ = judged
    for keep_out in search.space.keep_outs[:2]:
        every = clear(layouts, ends, [keep_out], search, 0.0) < 0
        for part in BarredPart:
            others = tuple(one for one in keep_out.parts if one is not part)
            lifted = clear(layouts, ends, [replace(keep_out, parts=others)], search, 0.0) < 0
            alone = clear(layouts, ends, [replace(keep_out, parts=(part,))], search, 0.0) < 0
            assert (lifted & alone == every).all()
    assert (clear(layouts, ends, [], search, 0.1) < 0).all()


def test_room_for_the_wrench_is_lifted_with_its_radius(judged):
    search, layouts, ends, _ = judged
    jack = layouts.kind != KINDS.index(AdjusterKind.LINK)
    # Ground about the heads of jacks only, which bars nothing else.
    head = layouts.tip - search.space.bolt_length * layouts.axis
    center = head[np.flatnonzero(jack)[0]]
    center = center.real, center.imag
    spot = KeepOut("spot", tuple(map(tuple, ring(center, [0.002] * 3, 0.0))), (BarredPart.BOLT,))
    wide = clear(layouts, ends, [spot], wrenched(search, 0.2), 0.0) < 0
    narrow = clear(layouts, ends, [spot], wrenched(search, 0.0), 0.0) < 0
    assert not wide[np.flatnonzero(jack)[0]]
    assert (~wide).sum() > (~narrow).sum()
    assert (wide <= narrow).all()
    assert (wide[~jack] == narrow[~jack]).all()


def test_a_mirrored_mount_is_judged_alike(judged):
    search, layouts, ends, _ = judged
    fields = {name: -getattr(layouts, name) for name in ("hinge_x", "motor_x", "side", "tightens")}
    mirrored = replace(layouts, along=-layouts.along.conj(), **fields)
    keep_outs = [
        replace(one, corners=tuple((-x, y) for x, y in one.corners))
        for one in search.space.keep_outs
    ]
    assert search.scenario.driven.shaft[0] == 0.0
    wanted = search.space.clearance
    there = clear(mirrored, (-ends[0], -ends[1]), keep_outs, search, wanted)
    here = clear(layouts, ends, search.space.keep_outs, search, wanted)
    assert (there == here).all()


def test_a_search_clears_the_travel_as_it_is_written():
    search = search_of()
    layouts, ends = drawn(search, 300)
    beside = replace(search, space=replace(search.space, bolt_beside_motor=True))
    found = Feasibility.of(beside).room(layouts, *ends)
    low, high = np.degrees(written_stops(*ends))
    for install, take_up, first, last in zip(*np.degrees(ends), low, high, strict=True):
        assert min(install, take_up) - 0.51 <= first < min(install, take_up)
        assert max(install, take_up) < last <= max(install, take_up) + 0.51
    assert 2 * low == pytest.approx(np.round(2 * low), abs=1e-9)
    assert 2 * high == pytest.approx(np.round(2 * high), abs=1e-9)
    written = cheaply(search, layouts, tuple(np.radians([low, high])))
    np.testing.assert_array_equal(found, np.where(written < 0, 0, Reason.KEEP_OUT + written))
    # It is not the same as from install to take-up.
    assert ((written < 0) != (cheaply(search, layouts, ends) < 0)).any()


@pytest.mark.parametrize("room", [1.0, 1.001, 0.999])
def test_a_gap_of_what_does_not_move_may_be_as_wide_as_is_wanted(room):
    """Ground beside the driven pulley, away from the strands."""
    search = search_of()
    layouts, ends = drawn(search, 60)
    wanted = search.space.clearance
    # The motors stand to the left: the pulley's right is bare of strands.
    edge = search.scenario.driven.shaft[0] + search.scenario.driven.pulley_radius + room * wanted
    corners = ((edge, -0.01), (edge + 0.1, -0.01), (edge + 0.1, 0.01), (edge, 0.01))
    ground = KeepOut("wall", corners, (BarredPart.BELT,))
    found = clear(layouts, ends, [ground], search, wanted)
    assert len(layouts) > 30
    assert (found < 0).all() == (room >= 1.0)
    assert (found < 0).any() == (room >= 1.0)
    if room == 1.0:
        for gap in (
            one for all_gaps in shapely_gaps(layouts, ends, search, ground) for one in all_gaps
        ):
            assert -DISC_HAIR < gap.distance - wanted <= 1e-9


def shapely_gaps(layouts, ends, search, ground):
    for index in range(0, len(layouts), 10):
        travel = float(ends[0][index]), float(ends[1][index])
        yield gaps(outlines_of(layouts, index, travel, search), [ground])


@pytest.mark.parametrize("count", [2, 5, 33])
def test_no_corner_of_a_belt_moves_faster_than_is_said(count):
    search = search_of()
    layouts, ends = drawn(search, 100)
    belt = parts_of(layouts, np.stack(ends, axis=1), search)[-1]
    strands, every = belt.pieces[0], np.arange(len(layouts))
    fine = ends[0][:, None] + (ends[1] - ends[0])[:, None] * np.linspace(0, 1, 32 * 5 * 4 + 1)
    moved = np.diff(strands.at(every, fine), axis=1)
    fastest = np.abs(moved).max(axis=(1, 2)) / np.abs(np.diff(fine)[:, 0])
    coarse = ends[0][:, None] + (ends[1] - ends[0])[:, None] * np.linspace(0, 1, count)
    said = strands.speed(every, coarse)
    assert (fastest <= said * (1 + 1e-9)).all()
    if count == 33:
        assert np.median(fastest / said) > 0.5
