"""Layouts that the fast judge accepts, fed back through the ordinary solver one by one."""

import dataclasses
import math
from functools import cache

import numpy as np
import pytest
from search_spaces import ALL, INSTALL, TAKE_UP
from sizes import size

from mountcalc.equilibrium.states import State
from mountcalc.place.as_scenario import as_scenario
from mountcalc.place.feasible.drives import drives_of
from mountcalc.place.feasible.feasibility import Feasibility
from mountcalc.place.feasible.layouts import DIMENSIONS
from mountcalc.requirements.requirements import requirements_of
from mountcalc.requirements.results import Part
from mountcalc.requirements.setting import gentlest_setting
from mountcalc.scenario.drawn_plate import LineFrom, plate_line
from mountcalc.scenario.model import Bolt
from mountcalc.scenario.reader import parse_scenario
from mountcalc.scenario.writer import scenario_text

SOLVED = size(30, 15)
KNUCKLE = 0.375 * 0.0254  # [m] of a common butt hinge, which is taken where nothing is said
SET = 2
# The solver finds turns and tensions to rounding; the set point may lie where dT/dturn is steep.
SAME = {"rtol": 1e-7, "atol": 1e-9}


@cache
def accepted(name):
    scenario, space = ALL[name]()
    points = np.random.default_rng(11).random((1000, len(DIMENSIONS)))
    judged = Feasibility(scenario, space, drives_of(scenario, space, INSTALL, TAKE_UP)).samples(
        points
    )
    assert len(judged.kept) > SOLVED
    return scenario, space, judged


def mount(scenario, space, judged, index):
    swing = float(judged.measures.install[index]), float(judged.measures.take_up[index])
    return as_scenario(scenario, space, judged.layouts, index, swing)


@pytest.mark.parametrize("name", ALL)
def test_the_solver_keeps_every_promise_at_the_set_point(name):
    scenario, space, judged = accepted(name)
    measures, error = judged.measures, scenario.limits.turn_error
    for index in range(SOLVED):
        requirements = requirements_of(mount(scenario, space, judged, index))
        aim = measures.set_turns[index]
        edge = np.array([aim - error, aim, aim + error])
        edge[0] = max(edge[0], 0.0)
        for way in requirements.ways:
            cases = way.cases(way.place(edge), with_grip=False)
            assert all(np.all(case.state == State.HELD) for case in cases)
        way = requirements.solved
        rest = way.case(way.place(edge), way.demands["rest"], with_grip=False)
        np.testing.assert_allclose(rest.tension[1], measures.set_tension[index], **SAME)
        np.testing.assert_allclose(rest.adjuster[1], measures.adjuster[index], rtol=1e-6, atol=1e-6)
        np.testing.assert_allclose(np.hypot(*rest.hinge[1]), measures.hinge[index], **SAME)
        shares = requirements.shares(np.append(np.linspace(0, edge[2], 9), aim))
        assert np.max(list(shares.values())) <= 1 + 1e-9
        of_bearings = [share[-1] for one, share in shares.items() if one.part is Part.BEARING]
        np.testing.assert_allclose(max(of_bearings), measures.worst_share[index], **SAME)
        margins = requirements.grip_margins(edge[:1])
        assert np.min(list(margins.values())) >= 1 - 1e-9


@pytest.mark.parametrize("name", ALL)
def test_setting_finds_the_same_set_point(name):
    scenario, space, judged = accepted(name)
    measures = judged.measures
    for index in range(SET):
        scene = mount(scenario, space, judged, index)
        setting = gentlest_setting(scene)
        assert setting.open, setting.why_not_open
        np.testing.assert_allclose(setting.aim_turns, measures.set_turns[index], **SAME)
        assert setting.set_turns == pytest.approx(setting.aim_turns, abs=1 / 16)
        tension = requirements_of(scene).tension(setting.aim_turns + np.array([0.0, 1e-4]))
        np.testing.assert_allclose(tension[0], measures.set_tension[index], **SAME)
        per_turn = (tension[1] - tension[0]) / 1e-4
        np.testing.assert_allclose(per_turn, measures.tension_per_turn[index], rtol=1e-4)


@pytest.mark.parametrize("name", ALL)
def test_the_stops_are_told_in_half_degrees_beyond_install_and_take_up(name):
    scenario, space, judged = accepted(name)
    for index in range(20):
        low, high = mount(scenario, space, judged, index).plate.travel
        ends = sorted([judged.measures.install[index], judged.measures.take_up[index]])
        assert low < ends[0] < ends[1] < high
        for stop, end in ((low, ends[0]), (high, ends[1])):
            halves = math.degrees(stop) * 2
            assert halves == pytest.approx(round(halves), abs=1e-9)
            assert abs(stop - end) < math.radians(0.51)


def with_parts(scenario, hinge_y):
    """The shipped mount's parts, whose plate runs the wrong way, on a floor below all hinges."""
    parts = scenario.parts
    return dataclasses.replace(
        scenario,
        parts=dataclasses.replace(
            parts,
            plate=dataclasses.replace(parts.plate, length=9.0, direction=9.0),
            base=dataclasses.replace(parts.base, floor=hinge_y),
            packing=9.0,
        ),
    )


def test_two_bolts_stay_two():
    plain, space, judged = accepted("cider")
    bolts = (Bolt(-0.05), Bolt(0.07))
    scenario = dataclasses.replace(
        plain, adjuster=dataclasses.replace(plain.adjuster, across=0.01, bolts=bolts)
    )
    assert mount(scenario, space, judged, 0).adjuster.places == (-0.05, 0.07)


@pytest.mark.parametrize("name", ["cider", "lathe"])
def test_parts_are_those_of_the_layout_where_it_has_its_own(name):
    plain, space, judged = accepted(name)
    scenario, layouts = with_parts(plain, -2.0), judged.layouts
    assert scenario.parts.frame is not None
    for index in range(SOLVED):
        made = mount(scenario, space, judged, index)
        line, parts = plate_line(made), made.parts
        # The board begins half a knuckle from the pin, which placed lengths are told from.
        knuckle = scenario.parts.hinges.knuckle_diameter or KNUCKLE
        length = parts.plate.length + knuckle / 2
        assert length == pytest.approx(layouts.plate_length[index], abs=1e-12)
        assert parts.plate.thickness == space.plate_thickness
        assert parts.plate.layers is None
        assert line.taken_from is LineFrom.GIVEN
        np.testing.assert_allclose(complex(*line.along), layouts.along[index], atol=1e-12)
        np.testing.assert_allclose(complex(*line.normal), layouts.normal[index], atol=1e-12)
        beyond = layouts.motor_height[index] - parts.frame.shaft_height
        assert parts.packing == pytest.approx(max(beyond, 0.0), abs=1e-6)
        same = ("hinges", "guard", "base", "along", "frame")
        assert [getattr(parts, one) for one in same] == [
            getattr(scenario.parts, one) for one in same
        ]
        unlike = {
            name: getattr(scenario.parts.plate, name)
            for name in ("length", "direction", "thickness", "layers")
        }
        assert dataclasses.replace(parts.plate, **unlike) == scenario.parts.plate


@pytest.mark.parametrize(("thickness", "layers"), [(0.019, 3), (0.038, None)])
def test_layers_stay_only_where_the_plate_is_as_thick(thickness, layers):
    scenario, space, judged = accepted("cider")
    board = dataclasses.replace(scenario.parts.plate, thickness=thickness, layers=3)
    parts = dataclasses.replace(scenario.parts, plate=board)
    made = mount(dataclasses.replace(scenario, parts=parts), space, judged, 0)
    assert (made.parts.plate.thickness, made.parts.plate.layers) == (0.019, layers)


def test_a_leaf_that_is_let_in_deeper_than_the_layouts_plate_is_thick_can_still_be_written():
    scenario, space, judged = accepted("cider")
    for depth, kept in ((0.003, 0.003), (0.03, None)):
        hinges = dataclasses.replace(scenario.parts.hinges, mortise_depth=depth)
        parts = dataclasses.replace(scenario.parts, hinges=hinges)
        made = mount(dataclasses.replace(scenario, parts=parts), space, judged, 0)
        back = parse_scenario(scenario_text(made)).parts
        assert back.hinges.mortise_depth == (kept and pytest.approx(kept))
        assert back.plate.thickness == pytest.approx(space.plate_thickness)


@pytest.mark.parametrize("name", ["cider", "lathe"])
def test_what_is_written_of_a_layout_is_read_and_drawn_as_it_was_found(name):
    plain, space, judged = accepted(name)
    scenario = with_parts(plain, -0.2)
    floors = set()
    for index in range(SOLVED):
        made = mount(scenario, space, judged, index)
        back = parse_scenario(scenario_text(made))
        floors.add(back.parts.base.floor is None)
        assert (back.parts.base.floor is None) == (made.plate.hinge[1] <= -0.2)
        low = judged.layouts.motor_height[index] < made.parts.frame.shaft_height - 2.1e-3
        assert any("motor's shaft is drawn" in note for note in back.notes) == low
    assert floors == {True, False}


def test_without_a_frame_there_is_no_packing():
    scenario, space, judged = accepted("grindstone")
    parts = mount(scenario, space, judged, 0).parts
    assert (scenario.parts.frame, parts.frame, parts.packing) == (None, None, 0.0)
    assert parts.plate.length < judged.layouts.plate_length[0]
