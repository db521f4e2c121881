"""Where jacks bear: on their own side of the plate, and clear of it, over the whole travel."""

import cmath
import dataclasses
import math

import numpy as np
import pytest
from search_spaces import ALL, INSTALL, TAKE_UP, cider, heavy, why_not
from slow_judge import slow_mount

from mountcalc.place.feasible.drives import drives_of
from mountcalc.place.feasible.feasibility import Feasibility
from mountcalc.place.feasible.layouts import DIMENSIONS, KINDS, layouts_from
from mountcalc.place.feasible.reasons import Reason
from mountcalc.scenario.model import AdjusterKind
from mountcalc.scenario.text.writing import Display

POINTS = 4000
QUARTER_INCH = 0.00635


def judged(scenario, space):
    points = np.random.default_rng(5).random((POINTS, len(DIMENSIONS)))
    drives = drives_of(scenario, space, INSTALL, TAKE_UP)
    return Feasibility(scenario, space, drives).samples(points)


def plainly(name, kind):
    """What will do with one kind of adjuster and no face_offset."""
    scenario, space = ALL[name]()
    space = dataclasses.replace(space, kinds=(kind,), face_offset=None)
    return scenario, space, judged(scenario, space)


def room_beyond_plate(scenario, space, found, index, phi):
    """From the wood to the fixed face, along the screw: a positive number is air."""
    mount = slow_mount(scenario, space, found.layouts, index)
    tip = complex(found.layouts.tip[index])
    turn = cmath.exp(1j * phi)
    start = mount.turned(mount.hinge + mount.reach * mount.along, phi)
    way = mount.axis * turn
    # start + s way lies on the fixed face through the tip as drawn, which is along the plate then.
    square = mount.along * 1j
    reached = ((tip - start).conjugate() * square).real / (way.conjugate() * square).real
    # The start is in the face under the motor; a screw the other way has the board to go through.
    wood = 0.0 if (mount.axis.conjugate() * mount.normal).real > 0 else space.plate_thickness
    return reached - wood


@pytest.mark.parametrize("name", ALL)
def test_a_screw_through_the_plate_stands_out_of_it_at_every_angle(name):
    scenario, space, found = plainly(name, AdjusterKind.JACK_IN_PLATE)
    assert len(found.kept) > 20
    mark = 0.0254 / 16 if scenario.display is Display.INCH else 0.001
    for index in range(len(found.kept)):
        ends = float(found.measures.install[index]), float(found.measures.take_up[index])
        rooms = [
            room_beyond_plate(scenario, space, found, index, phi)
            for phi in (0.0, *np.linspace(*ends, 9))
        ]
        assert min(rooms) >= 0.006 - 1e-9
        # Not a mark more than it needs: the least room is a quarter of an inch and a mark.
        steepest = math.cos(max(map(abs, ends)))
        assert min(rooms) <= (QUARTER_INCH + mark) / steepest
        marks = abs(found.layouts.offset[index]) / mark
        assert marks == pytest.approx(round(marks), abs=1e-6)


@pytest.mark.parametrize("name", ["cider", "lathe", "press"])
def test_a_jack_in_the_base_bears_on_the_side_that_it_comes_from(name):
    _, space, found = plainly(name, AdjusterKind.JACK_IN_BASE)
    layouts = found.layouts
    assert len(layouts) > 100
    there = layouts.tip - layouts.hinge - layouts.reach * layouts.along
    # One that gets longer towards the motor comes from behind, and bears on the board's back.
    behind = (layouts.axis.conj() * layouts.normal).real > 0
    assert 50 < behind.sum() < len(behind) - 50
    wood = np.where(behind, -space.plate_thickness * layouts.normal, 0.0)
    np.testing.assert_allclose(there, wood, atol=1e-12)


def test_a_link_is_pinned_on_the_line_of_the_plate():
    found = plainly("cider", AdjusterKind.LINK)[2]
    assert len(found.kept) > 100
    np.testing.assert_allclose(found.layouts.offset, 0.0, atol=1e-12)


@pytest.mark.parametrize("offset", [-0.04, -0.019, -0.01, 0.0, 0.005, 0.04])
@pytest.mark.parametrize("kind", [AdjusterKind.JACK_IN_BASE, AdjusterKind.JACK_IN_PLATE])
def test_a_face_offset_that_is_given_is_kept_and_refused_on_the_wrong_side(offset, kind):
    scenario, space = cider()
    space = dataclasses.replace(space, kinds=(kind,), face_offset=offset)
    found = judged(scenario, space)
    np.testing.assert_allclose(found.layouts.offset, offset, atol=1e-12)
    way = (found.layouts.axis.conj() * found.layouts.normal).real
    through = kind is AdjusterKind.JACK_IN_PLATE
    on_motors_side = (way > 0) if through else (way < 0)
    # In the board's wood, from the face at 0 to its back, nothing may end; nor beyond the far side.
    assert np.all(on_motors_side if offset >= 0 else ~on_motors_side)
    touching, inside = offset in {0.0, -space.plate_thickness}, offset == -0.01
    assert (len(found.kept) > 0) == (not inside and not (touching and through))
    assert np.sum(found.reason == Reason.ADJUSTER_GEOMETRY) > 100


def test_a_link_may_be_pinned_anywhere():
    scenario, space = cider()
    link = dataclasses.replace(space, kinds=(AdjusterKind.LINK,), face_offset=0.04)
    assert len(judged(scenario, link).kept) > 100


def test_no_jack_works_past_a_right_angle():
    scenario, space = heavy()
    space = dataclasses.replace(space, face_offset=None, thread_length=9.0, leverage=0.0)
    found = judged(scenario, space)
    jacks = found.layouts.kind != KINDS.index(AdjusterKind.LINK)
    for angles in (found.measures.install, found.measures.snug, found.measures.take_up):
        assert np.all(np.cos(angles[jacks]) > 0.05)


def test_a_belt_that_is_too_short_is_called_so_wherever_the_motor_stands():
    scenario, space = cider()
    belt = dataclasses.replace(scenario.belt, length=0.3)
    short = dataclasses.replace(scenario, belt=belt)
    layouts = layouts_from(np.full((3, len(DIMENSIONS)), 0.4), space, short)
    np.testing.assert_array_equal(layouts.fault, Reason.BELT_TOO_SHORT)
    assert why_not(judged(short, space)) == {"belt_too_short": POINTS}
