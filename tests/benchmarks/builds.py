"""Builds a second: drawn, turned and judged, and the ratio to hand-written numpy of one linkage.

Run on demand: ``python tests/benchmarks/builds.py``. A hundred thousand builds of each shipped
scenario that has an adjuster. Aim: a few seconds each on one core. Written by hand is the cider
mill alone, a screw in its base: where the belt is snug and what tension a turn gives, without
checks, travel, stops and requirements, which is what the kernels are compared with; it gives the
same tensions, and that is checked.
"""

import time
from pathlib import Path

import numpy as np

from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.solve import solve_mount
from mountcalc.scenario.model import AdjusterKind
from mountcalc.scenario.reader import read_scenario
from mountcalc.tolerance.judge import judged
from mountcalc.tolerance.sample import builds_of
from mountcalc.tolerance.turned import rest_tensions

SCENARIOS = Path(__file__).parents[2] / "scenarios"
COUNT, ROUNDS = 100_000, 3
STEPS = 6


def by_hand(builds, advance, turns):
    """Tension after turns of a screw in the base, by Newton's steps on plain complex numbers."""
    mount, scenario = builds.mount, builds.scenario
    hinge, motor, driven, tip = (
        at[0] + 1j * at[1] for at in (mount.hinge, mount.motor_shaft, mount.driven_shaft,
                                      mount.bears_at)
    )  # fmt: skip
    r, big_r = scenario.motor.pulley_radius, scenario.driven.pulley_radius
    axis, normal = complex(*mount.axis), complex(*mount.normal)
    arm, to_tip = motor - hinge, tip - hinge

    def path(phi):
        gap = driven - hinge - arm * np.exp(1j * phi)
        apart = np.abs(gap)
        span = np.sqrt(apart**2 - (big_r - r) ** 2)
        length = 2 * span + np.pi * (r + big_r) + 2 * (big_r - r) * np.arcsin((big_r - r) / apart)
        slope = -np.real(np.conj(gap) * 1j * arm * np.exp(1j * phi)) / apart
        return length, 2 * span / apart * slope

    def extension(phi):
        face = normal * np.exp(1j * phi)
        bite = np.real(np.conj(axis) * face)
        lift = np.real(np.conj(to_tip) * normal) - np.real(np.conj(to_tip) * face)
        out = lift / bite
        lift_slope = -np.real(np.conj(to_tip) * 1j * face)
        return out, (lift_slope - out * np.real(np.conj(axis) * 1j * face)) / bite

    phi = np.zeros(builds.count)
    for _ in range(STEPS):
        length, slope = path(phi)
        phi = phi - (length - mount.length) / slope
    wanted = extension(phi)[0] + turns * advance
    for _ in range(STEPS):
        out, slope = extension(phi)
        phi = phi - (out - wanted) / slope
    return mount.stiffness * np.maximum(path(phi)[0] / mount.length - 1.0, 0.0)


def best(function, *arguments):
    times = []
    for _ in range(ROUNDS):
        start = time.process_time()
        result = function(*arguments)
        times.append(time.process_time() - start)
    return min(times), result


def main():
    for path in sorted(SCENARIOS.glob("*.toml")):
        scenario = read_scenario(path)
        if scenario.adjuster.kind is AdjusterKind.NONE:
            continue
        drawing, builds = best(builds_of, scenario, COUNT, 1)
        turning, _ = best(rest_tensions, builds, 1.0)
        judging, found = best(judged, builds, 0)
        print(
            f"{path.name:22} drawn {drawing:5.2f} s  turned {turning:5.2f} s  "
            f"judged {judging:5.2f} s: {COUNT / (drawing + judging):9,.0f} builds a second, "
            f"{np.count_nonzero(found.alone):,} for the ordinary solver"
        )
    mill = read_scenario(SCENARIOS / "cider-mill.toml")
    builds, advance = builds_of(mill, COUNT, 1), solve_mount(Mount.of(mill)).advance
    ours, (tension, _) = best(rest_tensions, builds, 1.0)
    theirs, plain = best(by_hand, builds, advance, 1.0)
    assert np.allclose(tension[0], plain, rtol=1e-9, atol=1e-9)
    print(
        f"cider mill, tensions after a turn: {COUNT / ours:,.0f} builds a second, by hand "
        f"{COUNT / theirs:,.0f}: {ours / theirs:.2f} times as long, with travel, stops and weights"
    )


if __name__ == "__main__":
    main()
