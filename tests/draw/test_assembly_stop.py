"""Where the stop stands, by energy and plain geometry; wrenches by the standards' sizes."""

import math
import pathlib
from dataclasses import replace

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from setting_mounts import rigid
from sizes import examples

from mountcalc.draw.assembly import assembly
from mountcalc.draw.boards.side import board_side
from mountcalc.draw.build import Build, turned
from mountcalc.draw.screws import wrench_room
from mountcalc.draw.stop import STOP_GAP, catches
from mountcalc.errors import MountError
from mountcalc.scenario.model import Acts, Adjuster, AdjusterKind
from mountcalc.scenario.reader import read_scenario

pytestmark = pytest.mark.usefixtures("plain_names")

CIDER = pathlib.Path(__file__).parents[2] / "scenarios" / "cider-mill.toml"
LATHE = CIDER.with_name("wood-lathe.toml")
INCH = 0.0254


def stops_of(scenario):
    swing = Build(scenario).swing
    return swing, catches(Build(scenario))


def height(scenario, angle):
    """Weights times their heights [J]."""
    hinge = scenario.plate.hinge
    return sum(
        weight * turned(at, hinge, angle)[1]
        for weight, at in (
            (scenario.motor.weight, scenario.motor.center_of_mass),
            (scenario.plate.weight, scenario.plate.center_of_mass),
        )
    )


def test_a_motor_right_of_its_hinge_falls_clockwise_away_from_the_lathe():
    scenario = read_scenario(LATHE)
    swing, (stop,) = stops_of(scenario)
    assert stop.turn == -1
    assert stop.tightens
    assert stop.plate_angle < swing.take_up < swing.snug < swing.install
    fall = height(scenario, swing.snug) - height(scenario, stop.plate_angle)
    assert stop.energy == pytest.approx(fall)
    mass = scenario.motor.center_of_mass
    drop = [turned(mass, scenario.plate.hinge, at)[1] for at in (swing.snug, stop.plate_angle)]
    assert stop.drop == pytest.approx(drop[0] - drop[1])
    assert stop.held  # a turnbuckle pushes and pulls


def test_the_cider_mills_plate_falls_onto_its_bolt():
    scenario = read_scenario(CIDER)
    swing, (stop,) = stops_of(scenario)
    # The motor hangs to the right of its hinge: clockwise, towards the mill, against the bolt.
    assert stop.turn == -1
    assert not stop.tightens
    assert stop.plate_angle < swing.install
    assert stop.held
    note = " ".join(assembly(Build(scenario)).notes)
    assert "rests on the adjuster; without that it falls towards the driven shaft" in note
    assert "just beyond install" in note


def test_a_bolt_that_can_only_pull_does_not_hold_what_falls_onto_it():
    scenario = rigid(read_scenario(CIDER))
    scenario = replace(scenario, adjuster=replace(scenario.adjuster, acts=Acts.PULL))
    _, (stop,) = stops_of(scenario)
    assert not stop.held
    assert any(
        "nothing but a stop holds the plate" in one for one in assembly(Build(scenario)).notes
    )


def test_without_an_adjuster_nothing_holds_the_plate():
    scenario = replace(read_scenario(LATHE), adjuster=Adjuster(AdjusterKind.NONE))
    _, (stop,) = stops_of(scenario)
    assert not stop.held


def test_a_plate_in_balance_wants_a_stop_on_both_sides():
    scenario = read_scenario(CIDER)
    over = scenario.plate.hinge
    scenario = replace(
        scenario,
        motor=replace(scenario.motor, center_of_mass=over),
        plate=replace(scenario.plate, weight=0.0),
    )
    swing, stops = stops_of(scenario)
    assert {stop.tightens for stop in stops} == {True, False}
    assert min(stop.plate_angle for stop in stops) < swing.low
    assert max(stop.plate_angle for stop in stops) > swing.high
    assert all(stop.energy == 0 for stop in stops)
    assert any("on both sides" in one for one in assembly(Build(scenario)).notes)


def test_a_stop_outside_the_travel_is_told():
    scenario = read_scenario(LATHE)
    swing, (stop,) = stops_of(scenario)
    low, high = scenario.plate.travel
    narrow = replace(scenario, plate=replace(scenario.plate, travel=(swing.take_up, high)))
    outside = [
        any("outside plate.travel" in one for one in assembly(Build(mount)).notes)
        for mount in (scenario, narrow)
    ]
    assert outside == [stop.plate_angle < low, True]


@settings(deadline=None, max_examples=examples(40))
@given(st.sampled_from([CIDER, LATHE]), st.floats(-0.4, 0.4), st.floats(-0.4, 0.4))
def test_the_stop_is_where_the_weight_drives_and_clear_by_the_gap(path, across, up):
    scenario = read_scenario(path)
    mass = scenario.motor.center_of_mass
    scenario = replace(
        scenario,
        motor=replace(scenario.motor, center_of_mass=(mass[0] + across, mass[1] + up)),
    )
    try:
        swing, stops = stops_of(scenario)
    except MountError:
        return
    board = board_side(Build(scenario))
    hinge, tiny = scenario.plate.hinge, 1e-5
    for stop in stops:
        if len(stops) == 1:
            # All over the swing the energy falls that way.
            for at in (swing.install, swing.snug, swing.take_up):
                lower = height(scenario, at + tiny * stop.turn)
                assert lower < height(scenario, at - tiny * stop.turn)
        last = swing.take_up if stop.tightens else swing.install
        # A plate turned to the stop lies on it with its face or its back; before, the gap is open.
        for angle, gap in ((stop.plate_angle, 0.0), (last, STOP_GAP)):
            at = turned(stop.at, hinge, -angle)
            off = board.frame.height(at)
            nearest = min(abs(off), abs(off + board.thickness))
            assert nearest == pytest.approx(gap, abs=1e-4)
        assert 0.4 * board.length < math.dist(stop.at, hinge) < 1.1 * board.length
        assert math.hypot(*stop.normal) == pytest.approx(1)
        # The block is ahead of the plate: along its normal the plate moves into it.
        arm = stop.at[0] - hinge[0], stop.at[1] - hinge[1]
        moves = -stop.turn * arm[1], stop.turn * arm[0]
        assert moves[0] * stop.normal[0] + moves[1] * stop.normal[1] > 0


@pytest.mark.parametrize(
    ("diameter", "flats"),
    [(0.375 * INCH, 0.5625 * INCH), (0.5 * INCH, 0.75 * INCH), (0.010, 0.016), (0.012, 0.018)],
)
def test_wrenches_of_the_standards(diameter, flats):
    room = wrench_room(diameter)
    assert room.across_flats.value == pytest.approx(flats)
    assert room.across_flats.sure == "from memory"
    # The jaw reaches past the corners of the head, at 1 / sqrt(3) of its flats from the axis.
    assert flats / math.sqrt(3) < room.radius < 1.5 * flats < room.length


def test_a_wrench_for_an_odd_bolt_is_an_estimate():
    room = wrench_room(0.0115)
    assert room.across_flats.value == pytest.approx(1.6 * 0.0115)
    assert room.across_flats.sure == "estimate"
