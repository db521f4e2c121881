"""The gentlest setting: worked by hand where a hand can, and sensible for what is shipped."""

import math
from dataclasses import replace

import numpy as np
import pytest
from random_mounts import seeded_mount
from setting_mounts import rigid

from mountcalc import read_scenario
from mountcalc.requirements.setting import NOT_HELD, gentlest_setting
from mountcalc.requirements.window import first_reach
from mountcalc.scenario.model import AdjusterKind
from mountcalc.table.table import tension_table


@pytest.fixture(scope="module")
def shipped(request):
    """Scenario and setting by the name of its file."""
    folder = request.config.rootpath / "scenarios"
    found = {}
    for path in sorted(folder.glob("*.toml")):
        scenario = read_scenario(path)
        found[path.stem] = (scenario, gentlest_setting(scenario))
    return found


def with_limits(scenario, **limits):
    return replace(scenario, limits=replace(scenario.limits, **limits))


def with_bearings(scenario, times):
    """The same with other bearing metal."""
    bearings = tuple(
        replace(one, limit=times * one.limit, starting_limit=times * one.starting_limit)
        for one in scenario.driven.bearings
    )
    return replace(scenario, driven=replace(scenario.driven, bearings=bearings))


def with_power(scenario, times):
    driven = replace(scenario.driven, power=times * scenario.driven.power)
    motor = replace(scenario.motor, power=max(1.0, times) * scenario.motor.power)
    return replace(scenario, driven=driven, motor=motor)


# What a person who knows such machines would expect of each: rest tension of a strand [N] and
# turns. One strand of an A belt on a fractional-horsepower drive carries some tens of newtons.
EXPECTED = {
    "cider-mill": ((55, 90), (0.5, 2.0)),
    "grindstone": ((60, 100), (0.1, 1.0)),
    "wood-lathe": ((40, 90), (0.2, 1.5)),
    "forge-blower": ((50, 100), None),
}


@pytest.mark.parametrize("name", EXPECTED)
def test_shipped_scenarios_have_a_sensible_setting(shipped, name):
    scenario, setting = shipped[name]
    (low, high), turns = EXPECTED[name]
    assert setting.open
    assert setting.why_not_open is None
    assert low < setting.set_tension < high
    # A belt that just pulls its load needs at least half the pull at rest.
    speed = scenario.motor.speed * scenario.motor.pulley_radius
    pull = scenario.driven.power / speed / scenario.belt.count
    assert 0.5 * pull < setting.set_tension < 5 * pull
    if turns is None:
        assert setting.set_turns is None
        assert setting.new_tension == setting.set_tension
        return
    assert turns[0] < setting.set_turns < turns[1]
    assert setting.turns_min < setting.set_turns <= setting.new_turns <= setting.turns_max
    assert setting.tension_min < setting.set_tension < setting.new_tension < setting.tension_max
    row = tension_table(scenario, [setting.set_turns]).rows[0]
    assert row.grip >= scenario.limits.grip
    assert row.worst_share_of_limit <= 1


def test_every_shipped_scenario_is_expected_here(shipped):
    open_ones = {name for name, (_, setting) in shipped.items() if setting.open}
    assert set(EXPECTED) <= open_ones


def test_least_tension_of_the_cider_mill_by_hand(shipped):
    scenario = rigid(shipped["cider-mill"][0])
    setting = gentlest_setting(scenario)
    row = tension_table(scenario, [setting.turns_min]).rows[0]
    r, large = scenario.motor.pulley_radius, scenario.driven.pulley_radius
    lean = math.asin((large - r) / row.center_distance)
    speed = scenario.motor.speed * r
    pull = scenario.driven.power / speed
    # Euler's ratio on each pulley; the smaller slips first.
    hold = min(
        scenario.motor.traction * (math.pi - 2 * lean),
        scenario.driven.traction * (math.pi + 2 * lean),
    )
    ratio = math.exp(hold)
    wanted = 1.3 * pull
    by_hand = 0.5 * wanted * (ratio + 1) / (ratio - 1) + scenario.belt.mass * speed**2
    assert setting.tension_min == pytest.approx(by_hand, rel=1e-6)


def test_greatest_tension_of_the_cider_mill_by_hand(shipped):
    scenario, setting = shipped["cider-mill"]
    assert (setting.governs.max.case, setting.governs.max.bearing) == ("rest", "pulley end")
    row = tension_table(scenario, [setting.turns_max]).rows[0]
    lean = math.asin(
        (scenario.driven.pulley_radius - scenario.motor.pulley_radius) / row.center_distance
    )
    x, y = scenario.motor.shaft
    hx, hy = scenario.plate.hinge
    turn = row.plate_angle
    motor = (
        hx + (x - hx) * math.cos(turn) - (y - hy) * math.sin(turn),
        hy + (x - hx) * math.sin(turn) + (y - hy) * math.cos(turn),
    )
    belt = 2 * setting.tension_max * math.cos(lean) / row.center_distance
    # The pulley overhangs by 3 in of a span of 14 in; the drum of 30 lbf hangs in its middle.
    load_x = belt * motor[0] * 17 / 14
    load_y = belt * motor[1] * 17 / 14 - 30 * 4.4482216152605 / 2
    limit = 25 * 6894.757293168 * (1.25 * 0.0254) * (3 * 0.0254)
    assert math.hypot(load_x, load_y) == pytest.approx(limit, rel=1e-6)


@pytest.mark.parametrize("name", ["cider-mill", "grindstone", "wood-lathe"])
def test_sensitivity_is_the_range_in_other_units(shipped, name):
    scenario, setting = shipped[name]
    fine = setting.sensitivity
    low, high = tension_table(scenario, [setting.turns_min, setting.turns_max]).rows
    assert fine.turns_range == pytest.approx(setting.turns_max - setting.turns_min)
    assert fine.extension_range == pytest.approx(abs(high.extension - low.extension))
    assert fine.center_range == pytest.approx(high.center_distance - low.center_distance)
    at = tension_table(scenario, [setting.set_turns]).rows[0]
    per_turn = math.sqrt(fine.tension_per_turn_low * fine.tension_per_turn_high)
    assert per_turn == pytest.approx(at.tension_per_turn, rel=1e-3)
    factor = scenario.belt.stiffness_factor
    assert fine.tension_per_turn_high / fine.tension_per_turn_low == pytest.approx(factor**2)


def test_turns_are_trusted_only_where_the_range_is_wide_and_the_belt_is_known(shipped):
    scenario, setting = shipped["cider-mill"]
    assert not setting.sensitivity.turns_can_be_trusted
    assert "one reading may mean" in setting.sensitivity.why_not[0]
    known = replace(scenario, belt=replace(scenario.belt, stiffness_factor=1.05))
    assert gentlest_setting(known).sensitivity.turns_can_be_trusted
    narrow = gentlest_setting(with_power(known, 2.4))
    assert not narrow.sensitivity.turns_can_be_trusted
    assert narrow.sensitivity.why_not


def test_no_set_point_where_the_bearings_give_in_first(shipped):
    setting = gentlest_setting(with_power(shipped["cider-mill"][0], 3))
    assert setting.turns_min > setting.turns_max
    assert not setting.open
    assert "before the belt grips" in setting.why_not_open
    assert (setting.set_turns, setting.set_tension, setting.new_turns) == (None, None, None)
    assert setting.spring_balance is None
    assert setting.steps == ()


def test_a_range_too_narrow_for_a_hand_is_aimed_at_in_its_middle(shipped):
    setting = gentlest_setting(with_power(shipped["cider-mill"][0], 2.55))
    width = setting.turns_max - setting.turns_min
    assert 0 < width < 2 * setting.turn_error
    assert not setting.open
    assert "narrower than a hand can set" in setting.why_not_open
    assert setting.aim_turns == pytest.approx(setting.turns_min + width / 2)
    assert setting.set_turns == pytest.approx(setting.aim_turns, abs=1 / 32)


def test_limits_out_of_reach_are_said_to_be(shipped):
    setting = gentlest_setting(with_bearings(rigid(shipped["cider-mill"][0]), 1000))
    assert setting.turns_max is None
    assert setting.tension_max is None
    assert setting.governs.max is None
    assert setting.governs.max_reason == (
        "the travel ends first, with the stiffest belt, too; no limit is known of the motor's own "
        "bearings, the adjuster or the hinge"
    )
    assert setting.open


def test_a_grip_out_of_reach_is_said_to_be(shipped):
    setting = gentlest_setting(with_limits(shipped["cider-mill"][0], grip=500.0))
    assert setting.turns_min is None
    assert not setting.open
    assert setting.why_not_open == setting.governs.min_reason
    assert setting.set_turns is None


def test_steps_climb_from_physics_to_advice(shipped):
    scenario, setting = shipped["cider-mill"]
    tensions = [step.tension for step in setting.steps]
    assert tensions == sorted(tensions)
    assert [step.is_physics for step in setting.steps] == [True] * 3 + [False] * 3
    speed = scenario.motor.speed * scenario.motor.pulley_radius
    assert tensions[0] == pytest.approx(scenario.driven.power / speed / 2)
    assert tensions[2] - tensions[1] == pytest.approx(scenario.belt.mass * speed**2)
    assert tensions[3:] == pytest.approx(
        [setting.tension_min, setting.set_tension, setting.new_tension]
    )


def test_slip_at_the_start_is_told_and_promised_away(shipped):
    scenario = with_power(shipped["wood-lathe"][0], 1.3)
    setting = gentlest_setting(scenario)
    assert setting.slips_at_start
    promised = gentlest_setting(with_limits(scenario, starting_grip=1.0))
    assert not promised.slips_at_start
    assert promised.governs.min.case == "starting"
    assert promised.turns_min > setting.turns_min


def test_weight_alone_that_does_not_grip_or_overloads_says_so(shipped):
    scenario, setting = shipped["forge-blower"]
    assert scenario.adjuster.kind is AdjusterKind.NONE
    assert setting.spring_balance is None
    weak = gentlest_setting(with_power(scenario, 5))
    assert not weak.open
    assert "of the pull that is needed" in weak.why_not_open
    soft = gentlest_setting(with_bearings(scenario, 0.5))
    assert not soft.open
    assert 'bearing "pulley end" to 1' in soft.why_not_open


def test_first_reach_finds_the_first_of_several_crossings():
    wave = first_reach(lambda turns: 1.2 * np.sin(turns), 20.0)
    assert wave == pytest.approx(math.asin(1 / 1.2))
    assert first_reach(lambda turns: 0.0 * turns, 5.0) is None
    assert first_reach(lambda turns: 2.0 + turns, 5.0) == 0.0
    jump = first_reach(lambda turns: np.where(turns > 3.21, np.inf, 0.0), 5.0)
    assert jump == pytest.approx(3.21)


def test_a_mount_that_tightens_itself_without_end_is_not_open(shipped):
    scenario = tightening_itself(shipped["cider-mill"][0])
    setting = gentlest_setting(scenario)
    states = [
        tension_table(scenario, [setting.turns_max + beside]).rows[0].starting.state
        for beside in (-1e-4, 1e-4)
    ]
    assert states == ["held", "at_stop"]
    assert not setting.open


def test_what_ends_at_the_stop_is_named(shipped):
    setting = gentlest_setting(tightening_itself(shipped["cider-mill"][0]))
    assert (setting.governs.max.case, setting.governs.max.bearing) == ("starting", None)
    assert "tightens itself" in setting.governs.max_reason


def tightening_itself(scenario):
    """A plate that the belt's pull turns to the tight side, with nothing to hold it back."""
    from mountcalc.equilibrium.mount import Mount
    from mountcalc.scenario.model import Acts, Adjuster, Plate

    at, hinge = (-0.4, -0.58), (-0.39, -0.55)
    motor = replace(scenario.motor, shaft=at, center_of_mass=at, power=4 * scenario.motor.power)
    adjuster = Adjuster(
        AdjusterKind.LINK,
        Acts.PUSH,
        None,
        1.5e-3,
        base_pin=(-0.14, -0.72),
        plate_pin=(at[0], at[1] + 0.02),
    )
    plate = Plate(hinge, (-0.3, 0.3), 0.0, hinge)
    found = replace(scenario, motor=motor, plate=plate, adjuster=adjuster)
    length = float(Mount.of(found).path(0.0).length)
    return replace(found, belt=replace(found.belt, length=length))


def test_a_bearing_over_its_limit_at_zero_leaves_no_set_point(shipped):
    """The grindstone with a motor so heavy that weight alone over-tightens the belt."""
    scenario, _ = shipped["grindstone"]
    motor = replace(scenario.motor, weight=2.5 * scenario.motor.weight)
    setting = gentlest_setting(replace(scenario, motor=motor))
    assert not setting.open
    assert setting.set_turns is setting.new_turns is setting.spring_balance is None
    assert setting.why_not_open.startswith(
        'the weights tighten the belt so much at zero that bearing "pulley side" is at '
    )


def test_an_adjuster_that_holds_nothing_past_snug_has_no_setting():
    """A link that can only pull, on a plate that its weights push further once it is snug."""
    found = gentlest_setting(seeded_mount(116))
    assert not found.open
    assert found.set_turns is None
    assert found.why_not_open == NOT_HELD
