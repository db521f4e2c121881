"""What the page prints, simulated anew: errors drawn here, every build set by the ordinary solver.

Nothing of ``mountcalc.tolerance`` draws, moves or judges: points are moved as a person would find
them at the bench, each build is a scenario of its own, and bands and shares are counted.
"""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from sizes import size

from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.solve import solve_mount
from mountcalc.requirements.requirements import requirements_of
from mountcalc.requirements.setting import gentlest_setting
from mountcalc.scenario.reader import read_scenario
from mountcalc.tolerance.known import belt_tolerance
from mountcalc.tolerance.tolerance import tolerance

SCENARIOS = Path(__file__).parents[2] / "scenarios"
BUILDS = size(400, 30)


def simulated(scenario, turns, rng):
    """Turns to zero, tension a turn gives and tension as set, and whether one build keeps all."""

    def off(error, shape=None):
        value = rng.normal(0.0, 0.5 * error, shape)
        while np.any(np.abs(value) > 1.5 * error):
            value = rng.normal(0.0, 0.5 * error, shape)
        return value

    build, belt, motor, plate = scenario.build, scenario.belt, scenario.motor, scenario.plate
    hinge, shaft, tip = (off(one, 2) for one in (build.hinge, build.shaft, build.bolt))

    def at(point, *offs):
        return tuple((np.array(point) + sum(offs)).tolist())

    def times(factor):
        return float(np.exp(off(np.log(factor))))

    # A jack in the base: its tip is off, and turning it out to the face is what "as drawn" lacks.
    adjuster, face = scenario.adjuster, np.array(scenario.adjuster.tip) + hinge
    along = np.array([np.cos(adjuster.axis), np.sin(adjuster.axis)])
    square = np.array([-np.sin(adjuster.face), np.cos(adjuster.face)])
    was = np.array(adjuster.tip) + tip
    beyond = float((face - was) @ square / (along @ square))
    weights = 1.0 + off(motor.weight_error, 2)
    one = replace(
        scenario,
        adjuster=replace(adjuster, tip=at(was, beyond * along)),
        belt=replace(
            belt,
            length=belt.length + float(off(belt_tolerance(scenario).value)),
            stiffness=belt.stiffness * times(belt.stiffness_factor),
        ),
        motor=replace(
            motor,
            shaft=at(motor.shaft, hinge, shaft),
            center_of_mass=at(motor.center_of_mass, hinge, shaft),
            weight=motor.weight * float(weights[0]),
            traction=motor.traction * times(build.traction_factor),
        ),
        plate=replace(
            plate,
            hinge=at(plate.hinge, hinge),
            center_of_mass=at(plate.center_of_mass, hinge),
            weight=plate.weight * float(weights[1]),
        ),
        driven=replace(
            scenario.driven,
            shaft=at(scenario.driven.shaft, off(build.shaft, 2)),
            traction=scenario.driven.traction * times(build.traction_factor),
        ),
    )
    counted = turns + float(off(scenario.limits.turn_error, 2).sum())
    solved, wanted = solve_mount(Mount.of(one)), requirements_of(one)
    near = solved.at_rest([counted - 1e-3, counted, counted + 1e-3]).tension
    kept = wanted.grip(counted)[0] >= 1.0 >= wanted.worst(counted)[0]
    zero = (solved.zero_extension + beyond) / solved.advance
    return zero, (near[2] - near[0]) / 2e-3, near[1], kept


@pytest.mark.parametrize("name", ["cider-mill", "polishing-lathe"])
def test_bands_and_the_kept_share_are_those_of_a_simulation_by_hand(name):
    scenario, rng = read_scenario(SCENARIOS / f"{name}.toml"), np.random.default_rng(71)
    turns = gentlest_setting(scenario).set_turns
    zero, per_turn, tension, kept = np.array(
        [simulated(scenario, turns, rng) for _ in range(BUILDS)]
    ).T
    told = tolerance(scenario, 20_000).outcome
    for answer, values in (
        ("snug_turns", zero), ("tension_per_turn", per_turn), ("set_tension", tension),
    ):  # fmt: skip
        for percent in (5, 50, 95):
            end = getattr(told, f"{answer}_p{percent}")
            # So many of these builds stay below: within four deviations of the share.
            share = 0.01 * percent
            near = 4.0 * np.sqrt(share * (1.0 - share) / BUILDS)
            assert np.mean(values < end) == pytest.approx(share, abs=near), (answer, percent)
    near = 4.0 * np.sqrt(told.set_share * (1.0 - told.set_share) / BUILDS)
    assert np.mean(kept) == pytest.approx(told.set_share, abs=near)
