"""What shakes: all that turns, what it meets, the ripple on the bolt, the bound at the start."""

import math
from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from shaft_bodies import plain_body

from mountcalc.loads.shaking import PLATE, inertia_of, mains_frequency, plate_give, shaking
from mountcalc.requirements.requirements import requirements_of
from mountcalc.scenario.reader import read_scenario
from mountcalc.structure.yielding import Softness

SCENARIOS = Path(__file__).parents[2] / "scenarios"
RPM = math.tau / 60


def scenario(name="cider-mill", **tables):
    return read_scenario(SCENARIOS / f"{name}.toml").with_(**tables)


def shaken(mount, turns=1.5):
    return shaking(requirements_of(mount).solved, turns)


@pytest.mark.parametrize(
    ("rpm", "hertz"),
    [(3450, 60), (1725, 60), (1140, 60), (870, 60), (2850, 50), (1425, 50), (950, 50),
     (1500, 50), (1800, 60), (5000, None), (2100, None)],
)  # fmt: skip
def test_the_mains_is_told_by_the_least_slip(rpm, hertz):
    """Full-load speeds of induction motors on 60 and 50 Hz (common practice)."""
    assert mains_frequency(rpm * RPM) == hertz


def test_paces_are_those_of_shafts_belt_and_mains():
    found = {one.name: one.frequency for one in shaken(scenario()).shakers}
    mill = scenario()
    assert found["the motor's speed"] == pytest.approx(1725 / 60)
    assert found["the driven shaft's speed"] == pytest.approx(575 / 60)
    passing = 1725 * math.pi * 3 * 0.0254 / mill.belt.length / 60
    assert found["the belt's passing"] == pytest.approx(passing)
    assert found["the motor's hum at twice the mains"] == pytest.approx(120)


def test_a_motor_on_three_phases_does_not_hum_and_leaves_the_bolt_alone():
    found = shaken(scenario(motor={"phases": 3}))
    assert len(found.shakers) == 3
    assert found.ripple is None


def test_the_plate_on_a_rigid_bolt_has_no_frequency_and_the_stiffer_the_higher():
    assert math.isinf(shaken(scenario()).modes[0].frequency)
    soft, stiff, stiffer = (
        shaken(scenario(adjuster={"stiffness": one})).modes[0] for one in (1e5, 1e6, 1e8)
    )
    assert soft.name == PLATE
    assert soft.frequency < stiff.frequency < stiffer.frequency
    # So stiff, the give alone counts: ten times as often for a hundred times the stiffness.
    assert stiffer.frequency == pytest.approx(10 * stiff.frequency, rel=0.03)


def swinging(feet, *, push=(0.0, 1.0, 0.0)):
    """A motor whose mass is in the face of its plate, at 0.25 m, a bolt at 0.4 m."""
    body = plain_body()
    at = np.array([0.25, 0.0, 0.0])
    places = replace(body.places, feet=(0.04, feet), feet_middle=0.0, motor=0.0)
    return replace(body, places=places, weight=replace(body.weight, at=at), push=np.array(push))


def test_a_plate_gives_to_a_motor_as_a_beam_on_two_supports_to_a_load():
    """A force between two supports deflects by F a^2 b^2 / (3 E I l) (any table of beams)."""
    bending = 800.0
    found = plate_give(swinging(1e-7), Softness(bending=1 / bending), 0.0)
    # The force for a moment of one about the hinge is 1/a, the rotation the deflection over a.
    assert found == pytest.approx(3 * bending * 0.4 / 0.15**2, rel=1e-4)


def test_what_gives_in_series_adds_up():
    body, gives = swinging(0.06), {"bending": 1 / 700, "leaves": 5e-7, "bolt": 1e-6}
    alone = [plate_give(body, Softness(**{name: one}), 0.03) for name, one in gives.items()]
    # A bolt on its own: k times the square of its leverage.
    assert alone[2] == pytest.approx(1e6 * 0.4**2)
    together = plate_give(body, Softness(**gives), 0.03)
    assert 1 / together == pytest.approx(sum(1 / one for one in alone))
    assert math.isinf(plate_give(body, Softness(), 0.03))


def test_a_board_that_is_known_gives_the_plate_a_frequency_and_a_told_give_goes_before_it():
    board = Softness(bending=1 / 2000.0, twisting=1 / 900.0)
    found = shaking(requirements_of(scenario()).solved, 1.5, board).modes[0]
    assert 20.0 < found.frequency < 500.0
    told = scenario(adjuster={"stiffness": 2e5})
    by_key, with_board = (
        shaking(requirements_of(told).solved, 1.5, one).modes[0] for one in (None, board)
    )
    assert by_key == with_board


def test_the_belt_as_soft_and_as_stiff_as_it_may_be_bounds_the_frequency():
    found = shaken(scenario("forge-blower"), None).modes[0]
    assert found.low < found.frequency < found.high
    exact = shaken(scenario("forge-blower", belt={"stiffness_factor": 1.0}), None).modes[0]
    assert (exact.low, exact.high) == pytest.approx((found.frequency, found.frequency))


@pytest.mark.parametrize(
    ("name", "change"),
    [
        ("the stiffness at the bolt", {"adjuster": {"stiffness": 2e5 * 1.001}}),
        ("the motor's weight", {"motor": {"weight": "28.028 lb"}}),
        ("the plate's weight", {"plate": {"weight": "6.006 lb"}}),
    ],
)
def test_what_is_said_to_move_the_frequency_moves_it_so(name, change):
    """The balance moves a little besides, and with it the belt's pull: to a twentieth."""
    mill = scenario(adjuster={"stiffness": 2e5})
    before, after = (shaken(one).modes[0] for one in (mill, mill.with_(**change)))
    moved = math.log(after.frequency / before.frequency) / math.log(1.001)
    assert moved == pytest.approx(before.moves[name], rel=0.05, abs=0.005)


def test_inertia_is_that_of_a_round_motor_and_a_board():
    mill = scenario()
    found, mass = inertia_of(mill), 28 * 0.45359237
    shaft = math.hypot(3.5, 9) * 0.0254
    radius = mill.parts.frame.body_radius
    assert found.motor == pytest.approx(mass * (shaft**2 + radius**2 / 2))
    board, (long, thick) = 6 * 0.45359237, (16 * 0.0254, 1.5 * 0.0254)
    assert found.plate == pytest.approx(board * ((7 * 0.0254) ** 2 + (long**2 + thick**2) / 12))


def test_meetings_are_what_is_within_a_fifth():
    found = shaken(scenario(adjuster={"stiffness": 2e5}))
    pace = {one.name: one.frequency for one in found.shakers}
    for mode in found.modes:
        for times in (1, 2) if mode.name != PLATE else (1,):
            near = {
                one.shaker for one in found.meetings if (one.mode, one.times) == (mode.name, times)
            }
            assert near == {
                name
                for name, hertz in pace.items()
                if 0.8 * times * mode.low <= hertz <= 1.2 * times * mode.high
            }
    assert found.meetings


def test_the_bolts_ripple_is_the_motors_torque_over_its_leverage():
    """A rigid bolt takes all of a torque that swings by its mean, T = P / omega."""
    mill = scenario()
    found, solved = shaken(mill).ripple, requirements_of(mill).solved
    assert found.torque == pytest.approx(0.4 * 745.69987 / (1725 * RPM), rel=1e-6)
    case = solved.cases(solved.place(1.5)).running
    leverage = abs(float(solved.mount.adjuster(case.phi).extension_slope[0]))
    assert found.force == pytest.approx(found.torque / leverage)
    assert found.held == pytest.approx(case.adjuster[0])
    assert not found.loses_contact


def test_a_bolt_loses_contact_where_the_ripple_meets_the_plates_own_pace():
    power = {"power": 600.0}
    resonant = scenario(adjuster={"stiffness": 3.85e6}, driven=power, motor=power)
    found = shaken(resonant)
    assert found.modes[0].frequency == pytest.approx(120, rel=0.01)
    assert found.ripple.loses_contact
    both = shaken(resonant.with_(adjuster={"acts": "both"}))
    assert both.ripple.force == pytest.approx(found.ripple.force)
    assert both.ripple.force > both.ripple.held
    assert not both.ripple.loses_contact
    stiff = shaken(resonant.with_(adjuster={"stiffness": 4e7}))
    assert not stiff.ripple.loses_contact


def test_the_start_is_bounded_by_all_of_the_motors_torque_at_once():
    mill = scenario(motor={"torque": "normal"})
    found, solved = shaken(mill).start, requirements_of(mill).solved
    case = solved.cases(solved.place(1.5)).starting
    rated = mill.motor.power / mill.motor.speed
    belt = float(case.pull[0]) * mill.motor.pulley_radius
    assert found.torque == pytest.approx(2.5 * rated - belt)
    leverage = float(solved.mount.adjuster(case.phi).extension_slope[0])
    # Counter-clockwise, it turns the plate clockwise: G grows by it, and F = G / s'.
    assert found.bolt == pytest.approx(float(case.adjuster[0]) + 2 * found.torque / leverage)
    assert not found.lifts


def test_a_motor_that_turns_the_other_way_takes_the_plate_off_its_bolt():
    mill = scenario(motor={"rotation": "cw", "power": 1500.0, "torque": "high"})
    found = shaken(mill, 1.0).start
    assert found.bolt < 0
    assert found.lifts
    held = shaken(mill.with_(adjuster={"acts": "both"}), 1.0).start
    assert not held.lifts


def test_without_balance_nothing_is_said():
    mill = scenario()
    assert shaken(replace(mill, adjuster=replace(mill.adjuster)), 500.0) is None
