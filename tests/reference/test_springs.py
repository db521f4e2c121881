"""A mount with a spring: the least of its energy by scipy, and at rest in a rigid-body engine.

The energy is written down anew from plain statics; in the engine, MuJoCo, belt and spring are
tendons with a stiffness of their own and the plate, let go beside its place, swings to rest there.
"""

import math
from pathlib import Path

import mujoco
import numpy as np
import pytest
from plain_statics import PlainMount
from scipy.constants import g
from scipy.optimize import minimize_scalar

from mountcalc import parse_scenario, read_scenario
from mountcalc.scenario.model import Acts
from mountcalc.table import tension_table

FEED_MILL = Path(__file__).parents[2] / "scenarios" / "feed-mill.toml"
SPRING = """
[adjuster.spring]
rate = "{rate}"
free_length = "100 mm"
stop = "{stop}"
"""
# The least of a smooth energy is found to the root of rounding [rad]; tensions follow.
ANGLE, TENSION = 2e-7, 2e-4


class Energies:
    """What belt, weights and what gives store, by plain geometry."""

    def __init__(self, scenario):
        self.plain, self.given = PlainMount(scenario), scenario
        coil = scenario.adjuster.coil
        self.rate, self.stop = coil.rate, coil.stop
        self.rest = scenario.adjuster.spring or math.inf
        self.sign = 1.0 if scenario.adjuster.acts is Acts.PUSH else -1.0
        self.zero = self.plain.zero()
        force = self.plain.reactions(self.zero, self.plain.loads()["rest"], held=True)[1]
        self.first = self.plain.contact(self.zero)[0] + self.sign * self.give(self.sign * force)

    def give(self, force):
        return force / self.rest + min(force / self.rate, self.stop)

    def stored(self, given):
        """Energy of spring and rest in series, pressed by so much."""
        if given <= 0:
            return 0.0
        soft = 1 / (1 / self.rate + 1 / self.rest)
        most = self.rate * self.stop
        turning = most / soft
        if given <= turning:
            return 0.5 * soft * given**2
        beyond = given - turning
        return 0.5 * soft * turning**2 + most * beyond + 0.5 * self.rest * beyond**2

    def at(self, angle, end):
        belt, parts = self.given.belt, (self.given.motor, self.given.plate)
        stretch = max(self.path(angle) - belt.length, 0.0)
        energy = 0.5 * belt.count * belt.stiffness / belt.length * stretch**2
        for part in parts:
            energy += part.weight * self.plain.turned(part.center_of_mass, angle).imag
        return energy + self.stored(self.sign * (end - self.plain.contact(angle)[0]))

    def path(self, angle):
        motor, driven = self.plain.shafts(angle)
        small, large = self.given.motor.pulley_radius, self.given.driven.pulley_radius
        lean = math.asin((large - small) / abs(driven - motor))
        spans = sum(strand[2] for strand in self.plain.strands(angle))
        return spans + small * (math.pi - 2 * lean) + large * (math.pi + 2 * lean)


def mounts():
    """Pushed and pulled, with a spring that stays soft, goes solid, and stands on what gives."""
    mill = FEED_MILL.with_name("cider-mill.toml").read_text()
    mill = mill.replace('\nstiffness = "parts"', "\n#")
    for stop, stiffness in (("60 mm", None), ("14 mm", "200 N/mm"), ("60 mm", "50 N/mm")):
        text = mill + SPRING.format(rate="5 N/mm", stop=stop)
        if stiffness:
            text = text.replace('acts = "push"', f'acts = "push"\nstiffness = "{stiffness}"')
        yield parse_scenario(text)
    yield read_scenario(FEED_MILL)
    yield read_scenario(FEED_MILL).with_(adjuster={"stiffness": "90 N/mm"})


@pytest.mark.parametrize("number", range(5))
def test_the_plate_rests_where_all_energy_is_least(number):
    scenario = list(mounts())[number]
    energies, turns = Energies(scenario), [0.0, 2.0, 5.0, 9.0, 14.0, 20.0]
    table = tension_table(scenario, turns)
    way = 1.0 if table.tighten_by == "extend" else -1.0
    solid = 0
    for turn, row in zip(turns, table.rows, strict=True):
        end = energies.first + way * turn * scenario.adjuster.advance_per_turn
        assert row.extension == pytest.approx(end, abs=1e-12)
        near = row.plate_angle
        found = minimize_scalar(
            energies.at, bounds=(near - 0.02, near + 0.023), args=(end,), method="bounded",
            options={"xatol": 1e-12},
        )  # fmt: skip
        assert found.x == pytest.approx(near, abs=ANGLE)
        belt = scenario.belt
        tension = belt.stiffness / belt.length * max(energies.path(found.x) - belt.length, 0.0)
        assert row.tension == pytest.approx(tension, abs=TENSION * max(tension, 1.0))
        solid += abs(row.rest.adjuster) > energies.rate * energies.stop
    assert (solid > 0) == (number == 1)


MODEL = """
<mujoco>
  <compiler angle="radian"/>
  <option gravity="0 0 -{g!r}" timestep="0.0002" integrator="implicitfast"/>
  <worldbody>
    {fixed}
    <body name="plate" pos="{hinge[0]!r} 0 {hinge[1]!r}">
      <joint name="hinge" type="hinge" axis="0 -1 0" damping="8"/>
      <geom name="pulley" type="cylinder" size="{radius!r} 0.01" zaxis="0 1 0" mass="{mass!r}"
            pos="{motor[0]!r} 0 {motor[1]!r}"/>
      <geom name="weight" type="sphere" size="0.01" mass="{other_mass!r}"
            pos="{other[0]!r} 0 {other[1]!r}"/>
      {moving}
    </body>
  </worldbody>
  <tendon>
    <spatial name="belt" stiffness="{belt!r}" springlength="0 {free!r}">
      <site site="left"/><geom geom="pulley" sidesite="far"/><site site="right"/>
    </spatial>
    <spatial name="spring" stiffness="{rate!r}" springlength="0 {unloaded!r}">
      <site site="plate_pin"/><site site="base_pin"/>
    </spatial>
  </tendon>
</mujoco>
"""


def sites(points):
    return "\n".join(
        f'<site name="{name}" pos="{float(at.real)!r} 0 {float(at.imag)!r}"/>'
        for name, at in points.items()
    )


@pytest.mark.parametrize("turns", [3.0, 10.0, 18.0])
def test_let_go_beside_its_place_the_plate_swings_to_rest_there(turns):
    """The fixed pulley's arc is added by hand: its ends are those of the place of rest."""
    scenario = read_scenario(FEED_MILL)
    (row,) = tension_table(scenario, [turns]).rows
    plain, angle, belt = PlainMount(scenario), row.plate_angle, scenario.belt
    motor, driven = plain.shafts(angle)
    small, large = scenario.motor.pulley_radius, scenario.driven.pulley_radius
    lean, heading = math.asin((large - small) / abs(driven - motor)), (driven - motor)
    heading /= abs(heading)
    normals = [heading * np.exp(side * 1j * (math.pi / 2 + lean)) for side in (1, -1)]
    hinge, adjuster = plain.hinge, scenario.adjuster
    pins = complex(*adjuster.plate_pin), complex(*adjuster.base_pin)
    at = complex(*scenario.motor.shaft) - hinge
    back = -heading * np.exp(-1j * angle) * 1.5 * small
    other = complex(*scenario.plate.center_of_mass) - hinge

    free = belt.length - large * (math.pi + 2 * lean)

    def pair(point):
        return float(point.real), float(point.imag)

    model = mujoco.MjModel.from_xml_string(
        MODEL.format(
            g=g,
            fixed=sites(
                {
                    "left": driven + large * normals[0],
                    "right": driven + large * normals[1],
                    "base_pin": pins[1],
                }
            ),
            moving=sites({"far": at + back, "plate_pin": pins[0] - hinge}),
            hinge=pair(hinge),
            motor=pair(at),
            radius=float(small),
            mass=scenario.motor.weight / g,
            other=pair(other),
            other_mass=scenario.plate.weight / g,
            belt=belt.count * belt.stiffness / belt.length,
            free=free,
            rate=adjuster.coil.rate,
            unloaded=abs(pins[0] - pins[1]) + row.extension,
        )
    )
    data = mujoco.MjData(model)
    data.qpos[0] = angle + 0.01
    for _ in range(20000):
        mujoco.mj_step(model, data)
    assert abs(data.qvel[0]) < 1e-9
    assert data.qpos[0] == pytest.approx(angle, abs=1e-6)
    stretch = data.ten_length[model.tendon("belt").id] - free
    assert belt.stiffness / belt.length * stretch == pytest.approx(row.tension, rel=2e-4)
    pressed = data.ten_length[model.tendon("spring").id] - abs(pins[0] - pins[1]) - row.extension
    length = adjuster.coil.free_length - pressed
    assert row.spring_length == pytest.approx(length, abs=1e-6)
