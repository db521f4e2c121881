"""What the weights alone do to the belt."""

import dataclasses
import math

import pytest

from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.solve import solve_mount
from mountcalc.equilibrium.states import State
from mountcalc.requirements.setting import gentlest_setting
from mountcalc.scenario.model import Acts, Adjuster, AdjusterKind
from mountcalc.scenario.reader import read_scenario
from mountcalc.setting.weights import weight_alone
from mountcalc.table.table import tension_table


@pytest.fixture
def scenario(scenario_file):
    return read_scenario(scenario_file)


@pytest.fixture
def stone(cider):
    """The grindstone with a belt that is snug as drawn, which these hinges were chosen for."""
    shipped = read_scenario(cider.with_name("grindstone.toml"))
    belt = dataclasses.replace(shipped.belt, length=76.1 * 0.0254, designation=None)
    return dataclasses.replace(shipped, belt=belt)


def free(scenario):
    return dataclasses.replace(scenario, adjuster=Adjuster(AdjusterKind.NONE))


def heavier(scenario, factor, **adjuster):
    motor = dataclasses.replace(scenario.motor, weight=factor * scenario.motor.weight)
    return dataclasses.replace(
        scenario, motor=motor, adjuster=dataclasses.replace(scenario.adjuster, **adjuster)
    )


def test_its_tension_is_that_of_the_mount_without_an_adjuster(scenario):
    row = tension_table(free(scenario)).rows[0]
    found = weight_alone(scenario)
    if row.state is State.RIDING:
        assert found.tension == pytest.approx(row.tension, rel=1e-12)
        assert found.tension > 0
    else:
        assert row.state is State.NO_BALANCE
        assert found.tension == 0.0
        assert "slacken" in found.tension_sentence


def hinge_moved(scenario, shift):
    x, y = scenario.plate.hinge
    plate = dataclasses.replace(scenario.plate, hinge=(x + shift, y))
    return dataclasses.replace(scenario, plate=plate)


def tension_alone(scenario):
    return tension_table(free(scenario)).rows[0].tension


@pytest.mark.parametrize(("start", "wanted"), [(0.2, 64.0), (0.2, 58.0), (-0.1, 65.0)])
def test_the_hinge_moved_as_said_gives_the_wanted_tension(stone, start, wanted):
    mount = hinge_moved(stone, start)
    setting = dataclasses.replace(gentlest_setting(mount), set_tension=wanted)
    found = weight_alone(mount, setting)
    assert found.wanted_tension == wanted
    assert tension_alone(hinge_moved(mount, found.hinge_shift)) == pytest.approx(wanted, rel=1e-6)
    side = "right" if found.hinge_shift > 0 else "left"
    assert f"further to the {side}" in found.hinge_sentence
    # It is the nearest on its side: none between gives as much, or as little.
    for part in (0.0, 0.25, 0.5, 0.75, 0.99):
        between = tension_alone(hinge_moved(mount, part * found.hinge_shift))
        assert (between > wanted) is (tension_alone(mount) > wanted)


def test_the_setting_is_what_is_wanted_of_the_weights(stone):
    setting = gentlest_setting(stone)
    assert weight_alone(stone) == weight_alone(stone, setting)
    assert weight_alone(stone).wanted_tension == setting.set_tension


def test_a_hinge_past_dead_centre_is_not_the_same_mount(stone):
    """With the hinge far to the right the weights give 80 N, but the plate swings the other way."""
    past = solve_mount(Mount.of(free(hinge_moved(stone, 0.262))))
    assert past.travel.tightens != solve_mount(Mount.of(free(stone))).travel.tightens
    wanted = tension_alone(hinge_moved(stone, 0.262))
    setting = dataclasses.replace(gentlest_setting(stone), set_tension=wanted)
    assert weight_alone(stone, setting).hinge_shift is None


def test_no_place_is_named_where_none_is(cider):
    scenario = read_scenario(cider)
    too_much = dataclasses.replace(gentlest_setting(scenario), set_tension=1e6)
    found = weight_alone(scenario, too_much)
    assert found.hinge_shift is None
    assert found.hinge_sentence.startswith(
        "No place of the hinge on its own level was found within"
    )


def test_a_place_far_from_the_drawing_is_found(cider):
    """The motor nearly upright: its weight tightens only with the hinge well towards the mill."""
    scenario = read_scenario(cider)
    found = weight_alone(scenario)
    assert found.tension == 0.0
    assert found.hinge_shift > 0.25
    moved = hinge_moved(scenario, found.hinge_shift)
    assert tension_alone(moved) == pytest.approx(found.wanted_tension, rel=1e-6)


def test_a_mount_without_an_adjuster_has_its_hinge_where_it_should_be(cider):
    found = weight_alone(read_scenario(cider.with_name("forge-blower.toml")))
    assert found.hinge_shift == pytest.approx(0.0, abs=1e-9)


def test_over_tightening_is_a_bearing_over_its_limit(stone):
    for factor in (1.0, 2.5):
        mount = heavier(stone, factor)
        worst = tension_table(free(mount)).rows[0].worst_share_of_limit
        found = weight_alone(mount)
        assert found.over_tightens is (worst > 1)
        assert found.over_tightens is (factor > 1)
        assert ("already over-tightens" in found.over_tightens_sentence) is (factor > 1)


def test_weights_that_only_the_stop_holds(stone):
    low, high = math.radians(0.5), stone.plate.travel[1]  # the free plate would come to 0.37 deg
    mount = heavier(stone, 1.0, acts=Acts.BOTH)
    mount = dataclasses.replace(mount, plate=dataclasses.replace(mount.plate, travel=(low, high)))
    setting = gentlest_setting(mount)
    found = weight_alone(mount, setting)
    solved = solve_mount(Mount.of(free(mount)))
    assert solved.zero.state is State.AT_STOP
    end = solved.mount.path(solved.travel.tight_end.angle).length
    assert found.tension == float(solved.mount.tension(end))
    assert setting.tension_max is None  # no bearing reaches its limit on the way to the stop
    assert found.over_tightens is False
    weak = dataclasses.replace(setting, tension_max=0.9 * found.tension)
    assert weight_alone(mount, weak).over_tightens is True
    assert weight_alone(free(mount)).over_tightens is None
    assert "stop" in found.tension_sentence


def test_heavier_motors_pull_more(stone):
    pulls = [weight_alone(heavier(stone, factor)).tension for factor in (0.5, 1.0, 1.5)]
    assert pulls == sorted(pulls)
    assert pulls[0] < pulls[-1]
