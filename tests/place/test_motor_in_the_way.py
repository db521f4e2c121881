"""The bolt and the motor on one plate: the test of many layouts and a plain scan agree."""

from dataclasses import replace
from functools import cache

import numpy as np
import pytest
from search_spaces import ALL, INSTALL, TAKE_UP, cider, judge
from sizes import size
from slow_judge import slow_mount
from slow_motor import slow_room

from mountcalc.place.feasible.clearances import bolts_by_motors, clear_of_motor
from mountcalc.place.feasible.layouts import DIMENSIONS, KINDS, layouts_from
from mountcalc.scenario.model import AdjusterKind

POINTS, EACH = 250, size(1, 3)  # each third of them is scanned
INTERVALS = 2048  # of a travel, between which the room is bounded at last, at least
DISC_ERROR = 1e-5  # [m], of discs drawn with corners
SCAN_ERROR = 1e-4  # [m], of what is nearest between two angles of the scan


def pinned_in_front():
    """Links whose pin stands out of the face by less than half of the plate's thickness."""
    scenario, space = cider()
    return scenario, replace(space, kinds=(AdjusterKind.LINK,), face_offset=0.005)


# Three of the searches differ from the first by what is known of the belt only.
SAME_PLACES = size((), ("known", "plucked", "pressed"))
CASES = {name: ALL[name] for name in ALL if name not in SAME_PLACES}
CASES["pinned in front"] = pinned_in_front


@cache
def free(name):
    """Layouts that pass all else, and the plate angles of their travel."""
    scenario, space = CASES[name]()
    points = np.random.default_rng(11).random((POINTS, len(DIMENSIONS)))
    layouts = layouts_from(points, space, scenario)
    space = replace(space, bolt_beside_motor=True)
    found = judge(scenario, space, layouts, INSTALL, TAKE_UP)
    return scenario, space, found.layouts, (found.measures.install, found.measures.take_up)


def scanned(name, clearance):
    """The least room of each layout's bolt and wrench."""
    scenario, space, layouts, ends = free(name)
    for index in range(0, len(layouts), EACH):
        mount = slow_mount(scenario, replace(space, clearance=clearance), layouts, index)
        yield index, slow_room(mount, float(ends[0][index]), float(ends[1][index]))


@pytest.mark.parametrize("clearance", [0.012, 0.04])
@pytest.mark.parametrize("name", CASES)
def test_nothing_is_accepted_that_the_scan_rejects_and_false_rejects_are_within_the_bound(
    name, clearance
):
    _, space, layouts, ends = free(name)
    clear = clear_of_motor(layouts, ends, space, clearance)
    travel = np.stack(ends, axis=1)
    lever = bolts_by_motors(layouts, travel, space, clearance).lever
    slack = lever * np.abs(np.diff(travel)[:, 0]) / INTERVALS / 2
    assert 0 < clear.sum() < len(clear)
    for index, least in scanned(name, clearance):
        if clear[index]:
            assert least > -DISC_ERROR
        else:
            assert least < slack[index] + SCAN_ERROR + DISC_ERROR


def test_a_link_has_no_wrench_and_what_is_behind_the_plate_is_parted_by_it():
    _, space, layouts, ends = free("cider")
    clear = clear_of_motor(layouts, ends, space, space.clearance)
    ahead = (layouts.axis.conj() * layouts.normal).real > 0
    behind = ahead & (layouts.kind != KINDS.index(AdjusterKind.JACK_IN_PLATE))
    assert behind.sum() > 5
    assert clear[behind].all()
    for index in np.flatnonzero(layouts.kind == KINDS.index(AdjusterKind.LINK))[:3]:
        wide = replace(space, wrench_space=10.0)
        one, travel = layouts.take([index]), tuple(end[[index]] for end in ends)
        assert clear_of_motor(one, travel, wide, space.clearance) == clear[index]
    under_feet = ~ahead & (np.abs(layouts.reach - layouts.foot) < space.motor_feet / 2)
    assert under_feet.sum() > 5
    assert not clear[under_feet].any()


def test_a_pin_that_stands_out_of_the_face_under_the_feet_meets_them():
    _, space, layouts, ends = free("pinned in front")
    clear = clear_of_motor(layouts, ends, space, space.clearance)
    under_feet = np.abs(layouts.reach - layouts.foot) < space.motor_feet / 2
    assert under_feet.sum() > 5
    assert not clear[under_feet].any()
