"""How a plate swings on its belt and its give: let go, and followed in time, with other libraries.

Direct integration takes its moments from the drawing's geometry; MuJoCo has bodies, tendons as
springs and gravity of its own.
"""

import math
from pathlib import Path

import mujoco
import numpy as np
import pytest
from scipy.integrate import solve_ivp
from slow_geometry import SlowMount, cross

from mountcalc.equilibrium.states import State
from mountcalc.loads.shaking import inertia_of, shaking
from mountcalc.requirements.requirements import requirements_of
from mountcalc.scenario.reader import read_scenario

SCENARIOS = Path(__file__).parents[2] / "scenarios"
GRAVITY = 9.80665


def rate_of(scenario):
    """Force over give at the bolt: of all that gives, or of a coil spring short of its stop."""
    coil = scenario.adjuster.coil
    return scenario.adjuster.spring if coil is None else coil.rate


def moment(scenario, angle, pull, centrifugal, end):
    """Counter-clockwise moment on the plate, the spring's end where it is."""
    mount, belt = SlowMount(scenario), scenario.belt
    tension = belt.stiffness * max(float(mount.path(angle)) / belt.length - 1, 0.0)
    found = 0.0
    for strand, sign in zip(mount.tight_and_slack(angle), (1, -1), strict=True):
        felt = max(tension + sign * pull / 2 - centrifugal, 0.0)
        found += belt.count * felt * cross(strand.on_motor - mount.hinge, strand.pull_direction)
    for at, force in mount.weights(angle):
        found += cross(at - mount.hinge, force)
    if end is not None:
        lever = mount.lever(angle)
        force = rate_of(scenario) * (end - float(lever.extension))
        found += cross(lever.at - mount.hinge, force * lever.push)
    return float(found)


def swings(scenario, solved, turns, about):
    """How often the plate swings about where it runs, let go from beside it: ``about`` so often."""
    case = solved.cases(solved.place(turns)).running
    mount = SlowMount(scenario)
    end = None
    if case.state[0] == State.HELD:
        at = float(mount.lever(case.phi[0]).extension)
        end = at + float(case.adjuster[0]) / rate_of(scenario)
    load = float(case.pull[0]), solved.mount.centrifugal_tension, end
    inertia, rest = inertia_of(scenario).total, float(case.phi[0])

    def flow(_, state):
        angle, speed = state
        return speed, moment(scenario, np.asarray(angle), *load) / inertia

    def passes(_, state):
        return state[0] - rest

    passes.direction = 1
    found = solve_ivp(
        flow, (0.0, 3.5 / about), (rest + 1e-4, 0.0), events=passes, rtol=1e-8, atol=1e-11
    )
    times = found.t_events[0]
    assert times.size == 3
    return (times.size - 1) / (times[-1] - times[0])


@pytest.mark.parametrize(
    ("name", "stiffness", "turns"),
    [
        ("forge-blower", None, None),
        ("cider-mill", 2e5, 1.5),
        ("wood-lathe", 8e4, 1.5),
        ("grindstone", 5e5, 1.5),
        ("feed-mill", None, 20.0),  # has a coil spring
    ],
)
def test_a_plate_that_is_let_go_swings_as_often_as_we_say(name, stiffness, turns):
    scenario = read_scenario(SCENARIOS / f"{name}.toml")
    if stiffness is not None:
        scenario = scenario.with_(adjuster={"stiffness": stiffness})
    solved = requirements_of(scenario).solved
    plate = shaking(solved, turns).modes[0]
    # A swing of a ten-thousandth of a radian is small to some parts in a million.
    assert plate.frequency == pytest.approx(
        swings(scenario, solved, turns or 0.0, plate.frequency), rel=1e-4
    )


def simulated(scenario, end):
    """The mount in MuJoCo: x right, z up, the shafts along y; its give is the link's tendon."""
    (hx, hy), (mx, my) = scenario.plate.hinge, scenario.motor.shaft
    (cx, cy), (px, py) = scenario.motor.center_of_mass, scenario.plate.center_of_mass
    (dx, dy), (qx, qy) = scenario.driven.shaft, scenario.adjuster.plate_pin
    bx, by = scenario.adjuster.base_pin
    belt, parts = scenario.belt, scenario.parts
    motor, plate = scenario.motor.weight / GRAVITY, scenario.plate.weight / GRAVITY
    turning = motor * parts.frame.body_radius**2 / 2
    own = plate * (parts.plate.length**2 + parts.plate.thickness**2) / 12
    # Equal pulleys: the belt is as long as twice the centres' distance and once round a pulley.
    free = (belt.length - math.tau * scenario.motor.pulley_radius) / 2
    rate, spring = 4 * belt.stiffness / belt.length, scenario.adjuster.spring
    pins = math.dist((qx, qy), (bx, by)) + end
    return mujoco.MjModel.from_xml_string(f"""
    <mujoco><option gravity="0 0 {-GRAVITY}"/>
    <compiler angle="radian"/>
    <worldbody>
      <site name="driven" pos="{dx} 0 {dy}"/><site name="base" pos="{bx} 0 {by}"/>
      <body pos="{hx} 0 {hy}"><joint type="hinge" axis="0 -1 0"/>
        <site name="motor" pos="{mx - hx} 0 {my - hy}"/>
        <site name="pin" pos="{qx - hx} 0 {qy - hy}"/>
        <inertial pos="{cx - hx} 0 {cy - hy}" mass="{motor}"
          diaginertia="{turning} {turning} {turning}"/>
        <body pos="{px - hx} 0 {py - hy}">
          <inertial pos="0 0 0" mass="{plate}" diaginertia="{own} {own} {own}"/></body>
      </body>
    </worldbody>
    <tendon>
      <spatial stiffness="{rate}" springlength="0 {free}">
        <site site="motor"/><site site="driven"/></spatial>
      <spatial stiffness="{spring}" springlength="{pins}">
        <site site="pin"/><site site="base"/></spatial>
    </tendon></mujoco>""")


def test_mujoco_swings_as_often_about_the_same_place_with_the_same_inertia():
    """A lathe that idles with equal pulleys, on a turnbuckle that gives."""
    lathe = read_scenario(SCENARIOS / "wood-lathe.toml").with_(
        driven={"pulley_diameter": 0.12, "power": 0.0},
        motor={"pulley_diameter": 0.12},
        belt={"designation": None, "section": "A", "length": 1.255, "mass": 0.0},
        adjuster={"stiffness": 9e4},
    )
    solved = requirements_of(lathe).solved
    case = solved.cases(solved.place(1.0)).running
    assert case.state[0] == State.HELD
    assert case.tension[0] > 20.0
    angle, spring = float(case.phi[0]), lathe.adjuster.spring
    at = float(SlowMount(lathe).lever(angle).extension)
    model = simulated(lathe, at + float(case.adjuster[0]) / spring)
    data, step = mujoco.MjData(model), 1e-5

    def acceleration(place):
        data.qpos[0] = place
        mujoco.mj_forward(model, data)
        return float(data.qacc[0])

    found, inertia = shaking(solved, 1.0), np.zeros((1, 1))
    still = acceleration(angle)
    mujoco.mj_fullM(model, data, inertia)
    assert found.inertia == pytest.approx(inertia[0, 0], rel=1e-9)
    stiff = -(acceleration(angle + step) - acceleration(angle - step)) / (2 * step)
    assert abs(still) < 1e-7 * stiff
    plate, *strands = found.modes
    assert strands == []
    assert plate.frequency == pytest.approx(math.sqrt(stiff) / math.tau, rel=1e-6)


def bolt_forces(scenario, case, load, turned, until, inertia, damping=0.0):
    """Axial force of the bolt in time: Newton's law for motor and plate about the hinge.

    ``load`` is pull, centrifugal tension and the spring's end; ``turned`` an outer moment in time.
    """
    mount, spring, rest = SlowMount(scenario), scenario.adjuster.spring, float(case.phi[0])

    def flow(time, state):
        angle, speed = state
        total = moment(scenario, np.asarray(angle), *load) + turned(time) - damping * speed
        return speed, total / inertia

    times = np.linspace(*until, 400)
    found = solve_ivp(
        flow, (0.0, until[1]), (rest, 0.0), t_eval=times, rtol=1e-7, atol=1e-10, max_step=1e-3
    )
    return np.array([spring * (load[2] - float(mount.lever(a).extension)) for a in found.y[0]])


def load_of(scenario, case, centrifugal):
    at = float(SlowMount(scenario).lever(case.phi[0]).extension)
    end = at + float(case.adjuster[0]) / scenario.adjuster.spring
    return float(case.pull[0]), centrifugal, end


@pytest.mark.parametrize("rotation", ["ccw", "cw"])
def test_while_the_rotor_speeds_up_the_bolts_force_stays_within_the_bound(rotation):
    """What the rotor takes to speed up, I alpha, is missing in the balance of motor and plate."""
    mill = read_scenario(SCENARIOS / "cider-mill.toml").with_(
        adjuster={"stiffness": 2e5, "acts": "both"}, motor={"rotation": rotation}
    )
    solved = requirements_of(mill).solved
    case, bound = solved.cases(solved.place(2.0)).starting, shaking(solved, 2.0).start
    takes = -bound.torque if rotation == "ccw" else bound.torque
    period = 1 / shaking(solved, 2.0).modes[0].frequency
    forces = bolt_forces(
        mill, case, load_of(mill, case, 0.0), lambda _: takes, (0.0, 1.2 * period),
        inertia_of(mill).total,
    )  # fmt: skip
    before, furthest = float(case.adjuster[0]), bound.bolt - float(case.adjuster[0])
    swung = (forces - before) / furthest
    assert forces[0] == pytest.approx(before, rel=1e-6)
    # The belt takes its part of it: the bolt has the rest.
    assert 0.6 < swung.max() <= 1.0
    assert swung.min() > -0.01


@pytest.mark.parametrize("stiffness", [1.2e6, 8e6])
def test_the_bolts_force_swings_with_the_motors_hum_as_far_as_we_say(stiffness):
    """Below its own pace and above it, once what starts it has died down."""
    mill = read_scenario(SCENARIOS / "cider-mill.toml").with_(
        adjuster={"stiffness": stiffness, "acts": "both"}
    )
    solved = requirements_of(mill).solved
    case, told = solved.cases(solved.place(2.0)).running, shaking(solved, 2.0)
    inertia, pace = told.inertia, math.tau * told.modes[0].frequency
    assert told.ripple.frequency == pytest.approx(120.0)
    load = load_of(mill, case, solved.mount.centrifugal_tension)
    forces = bolt_forces(
        mill, case, load, lambda time: told.ripple.torque * math.sin(math.tau * 120 * time),
        (0.40, 0.45), inertia, damping=2 * 0.03 * inertia * pace,
    )  # fmt: skip
    swing = 0.5 * (forces.max() - forces.min())
    assert swing == pytest.approx(told.ripple.force, rel=0.05)
