"""What the model says that each method reads: against plain statics, and the ordinary solver."""

import math
from dataclasses import replace

import numpy as np
import pytest
from random_mounts import ADJUSTED, seeded_mount
from reading_logs import read_at
from scipy.optimize import brentq
from setting_mounts import rigid

from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.solve import solve_mount
from mountcalc.errors import MountError
from mountcalc.fit.least_squares.sessions import model_of
from mountcalc.fit.readings import Reading, ReadingMethod
from mountcalc.formulas.belt import mid_span_force, mid_span_ratio
from mountcalc.scenario.reader import read_scenario

MILL = rigid(read_scenario("scenarios/cider-mill.toml"))
BALANCE = ReadingMethod.BALANCE


def solved_mounts(count):
    for seed in range(count):
        try:
            yield seed, solve_mount(Mount.of(seeded_mount(seed, ADJUSTED)))
        except MountError:
            continue


def test_belts_at_rest_are_those_of_the_ordinary_solver():
    """Each belt and weight through the solver alone, from its own zero: held, riding and slack."""
    seen = set()
    for _, solved in solved_mounts(60):
        low, last = (solved.turns_at(e) for e in (solved.travel.slack_end, solved.travel.tight_end))
        turns = np.append(np.linspace(0.0, 0.8, 6) * min(last, 12.0), max(low, -0.5))
        model = model_of(solved, [Reading(2, float(turn), BALANCE, 1.0) for turn in turns])
        times, heavy = np.array([[0.6], [1.0], [1.7]]), np.array([[1.1], [1.0], [0.9]])
        stiffness = times * solved.mount.scenario.belt.stiffness
        found = model.at_rest(stiffness, heavy, np.tile(turns, (3, 1)))
        for row in range(3):
            mount = replace(
                solved.mount,
                stiffness=float(stiffness[row, 0]),
                motor_weight=float(heavy[row, 0]) * solved.mount.motor_weight,
                plate_weight=float(heavy[row, 0]) * solved.mount.plate_weight,
            )
            one = solved.with_mount(mount)
            rest = one.at_rest(np.clip(turns, one.turns_at(one.travel.slack_end), None))
            known = np.isin(rest.state, ("held", "riding"))
            seen |= set(rest.state.tolist())
            assert found.tension[row][known] == pytest.approx(
                rest.tension[known], rel=1e-6, abs=1e-4
            )
            assert found.phi[row][known] == pytest.approx(rest.phi[known], abs=1e-8)
    assert {"held", "riding"} <= seen


def statics(scenario, turns):
    """Plate angle, tension and centre distance: by rotating points, nothing of the linkage."""
    solved = solve_mount(Mount.of(scenario))
    (hx, hy), motor, driven = scenario.plate.hinge, scenario.motor.shaft, scenario.driven.shaft
    small, large = scenario.motor.pulley_radius, scenario.driven.pulley_radius

    def turned(point, angle):
        x, y = point[0] - hx, point[1] - hy
        c, s = math.cos(angle), math.sin(angle)
        return hx + c * x - s * y, hy + s * x + c * y

    def path(angle):
        apart = math.dist(turned(motor, angle), driven)
        beta = math.asin((large - small) / apart)
        wraps = math.pi * (small + large) + 2 * beta * (large - small)
        return 2 * apart * math.cos(beta) + wraps, apart, apart * math.cos(beta)

    angle = float(solved.place([turns]).angle[0])
    length, apart, span = path(angle)
    tension = scenario.belt.stiffness * (length / scenario.belt.length - 1)
    step = 1e-6
    lever = (path(angle + step)[0] - path(angle - step)[0]) / (2 * step)
    weights = 0.0
    for weight, point in (
        (scenario.motor.weight, scenario.motor.center_of_mass),
        (scenario.plate.weight, scenario.plate.center_of_mass),
    ):
        weights += weight * (turned(point, angle + step)[1] - turned(point, angle - step)[1])
    moment = scenario.belt.count * tension * lever + weights / (2 * step)
    arm = math.dist(scenario.adjuster.tip or scenario.adjuster.plate_pin, (hx, hy))
    return tension, span, apart, solved.travel.tightens * moment / arm, arm


@pytest.mark.parametrize("name", ["cider-mill", "wood-lathe", "fretsaw-bench"])
def test_each_method_reads_what_statics_says(name):
    scenario = rigid(read_scenario(f"scenarios/{name}.toml"))
    tension, span, apart, pull, arm = statics(scenario, 1.5)
    deep = span / 100
    # Half the stretch in the span alone, half all round the belt.
    stretched = scenario.belt.stiffness * 2 * (deep / span) ** 2
    stretched *= 0.5 * (1 + span / scenario.belt.length)
    wanted = {
        BALANCE: (pull, None),
        ReadingMethod.PUSH: (4 * (tension + stretched) * deep / span, deep),
        ReadingMethod.SWINGS: (math.sqrt(tension / scenario.belt.mass) / (2 * span), None),
        ReadingMethod.CENTRES: (apart, None),
    }
    blank = [Reading(2, 1.5, method, 1.0, at) for method, (_, at) in wanted.items()]
    far = Reading(7, 1.5, BALANCE, 1.0, 2 * arm)
    read, _ = read_at(scenario, [*blank, far], times=1.0, zero=0.0)
    for one, (value, _) in zip(read, wanted.values(), strict=False):
        assert one.value == pytest.approx(value, rel=1e-6), one.method
    assert read[-1].value == pytest.approx(0.5 * pull, rel=1e-6)


def test_a_weight_hung_on_a_strand_sags_by_its_part_across():
    """The strand's tension with the stretch, solved by bisection; a strand at its slope."""
    (read,), _ = read_at(
        MILL, [Reading(2, 2.0, ReadingMethod.HUNG, 1.0, 20.0)], times=1.0, zero=0.0
    )
    solved = solve_mount(Mount.of(MILL))
    tension, span, *_ = statics(MILL, 2.0)
    strands = solved.mount.strands(solved.travel.snug)
    across = 20.0 * max(abs(strands.along_plus_x), abs(strands.along_minus_x))
    share = 0.5 * (1 + span / MILL.belt.length)

    def spare(sag):
        pulled = tension + MILL.belt.stiffness * share * 2 * (sag / span) ** 2
        return 4 * pulled * sag / span - across

    assert read.value == pytest.approx(brentq(spare, 0.0, span / 4), rel=1e-6)


@pytest.mark.parametrize("tension", [0.0, 1e-3, 5.0, 500.0])
def test_the_sag_of_a_force_is_the_way_back_of_the_force_of_a_sag(tension):
    force = mid_span_force(tension, 5e4, 0.7, 0.02)
    assert mid_span_ratio(force, tension, 5e4, 0.7) == pytest.approx(0.02, rel=1e-6)


def test_slack_and_tip_are_told_by_weights_and_thread_alone():
    slack = Reading(2, None, BALANCE, 1.0)
    tip = Reading(3, 2.5, ReadingMethod.TIP, 1.0)
    for times, zero in ((1.0, 0.0), (1.6, 0.7)):
        read, _ = read_at(MILL, [slack, tip], times=times, zero=zero)
        solved = solve_mount(Mount.of(MILL))
        moment = float(solved.mount.weight_moment(solved.travel.snug))
        arm = math.dist(MILL.adjuster.tip, MILL.plate.hinge)
        assert read[0].value == pytest.approx(solved.travel.tightens * moment / arm)
        assert read[1].value == pytest.approx(2.5 * MILL.adjuster.advance_per_turn)


def test_slopes_are_those_of_central_differences():
    """By every parameter, all methods at once, also of a mount that weight tensions."""
    for seed, solved in solved_mounts(14):
        span = math.sqrt(float(solved.mount.path(solved.travel.snug).span_squared))
        reach = min(3.0, 0.5 * solved.turns_at(solved.travel.tight_end))
        readings = [
            Reading(2, t, method, 1.0, {"push": span / 64, "hung": 5.0}.get(method))
            for t in (0.4 * reach, reach)
            for method in ReadingMethod
            if method is not ReadingMethod.SWINGS
        ] + [Reading(9, None, BALANCE, 1.0)]
        model = model_of(solved, readings)
        at = np.zeros(model.size)
        at[0], at[1] = 0.1, -0.2 * reach
        if np.any(
            model.at_rest(*model.shares(at[np.newaxis])[:2], np.array([[reach]])).tension == 0
        ):
            continue
        slopes = model.predicted(at)[1]
        step = 1e-5
        for index in range(model.size):
            moved = step * np.eye(model.size)[index]
            rise = model.predicted(at + moved)[0] - model.predicted(at - moved)[0]
            size = np.maximum(np.max(np.abs(slopes), axis=1), 1e-3 * model.errors)
            assert np.abs(rise / (2 * step) - slopes[:, index]) / size == pytest.approx(
                0.0, abs=2e-3
            ), (seed, index)
