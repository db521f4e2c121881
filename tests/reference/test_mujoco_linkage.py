"""The linkage's kernels against a rigid-body engine, MuJoCo.

Its plane is x-z here, with the hinge about -y so that its angle counts as ours does. A
spatial tendon may not wrap two pulleys in a row; so the tendon runs from one tangent point of the
fixed pulley around the plate's pulley to the other, and the fixed pulley's arc is added by hand. As
the belt's path is the shortest around the pulleys, sites that stay on those tangent points give
the same derivative.
"""

import mujoco
import numpy as np
import pytest
from drives import Drive, random_drives

from mountcalc.linkage import kernels

# Both sides work in double precision; a hundred times what was seen.
RELATIVE = 1e-13
# Half a digit or so of what the regression's figures have.
LISTED_LENGTH, LISTED_SLOPE, LISTED_ARM, LISTED_MOMENT = 1e-9, 1e-8, 1e-9, 1e-6
# Moments and slopes can be near zero while their parts are not: of the lever arms' size.
ABSOLUTE = 1e-14

MODEL = """
<mujoco>
  <compiler angle="radian"/>
  <option gravity="0 0 -{g!r}"/>
  <worldbody>
    {fixed}
    <body name="plate" pos="{hinge[0]!r} 0 {hinge[1]!r}">
      <joint name="hinge" type="hinge" axis="0 -1 0"/>
      <geom name="pulley" type="cylinder" size="{radius!r} 0.01" zaxis="0 1 0" mass="{mass!r}"
            pos="{motor[0]!r} 0 {motor[1]!r}"/>
      <geom name="weight" type="sphere" size="0.01" mass="{other_mass!r}"
            pos="{other[0]!r} 0 {other[1]!r}"/>
      {moving}
    </body>
  </worldbody>
  <tendon>
    <spatial name="belt">
      <site site="driven_left"/><geom geom="pulley" sidesite="far"/><site site="driven_right"/>
    </spatial>
    <spatial name="left"><site site="motor_left"/><site site="driven_left"/></spatial>
    <spatial name="right"><site site="motor_right"/><site site="driven_right"/></spatial>
    <spatial name="link"><site site="plate_pin"/><site site="base_pin"/></spatial>
  </tendon>
</mujoco>
"""


class Engine:
    """The drive in the engine, at its plate angle; tendons by name, moments about the hinge."""

    def __init__(self, drive, *, mass=10.0, other=(0.1, 0.2), other_mass=3.0, pins=None, g=9.81):
        plate_pin, base_pin = pins if pins is not None else (drive.motor, drive.driven)
        normals = drive.normals()
        reach = drive.motor_now - drive.driven
        back = drive.turned_back(1.5 * drive.motor_radius * reach / np.hypot(*reach))
        fixed = {
            "driven_left": drive.driven + drive.driven_radius * normals[0],
            "driven_right": drive.driven + drive.driven_radius * normals[1],
            "base_pin": base_pin,
        }
        at = drive.motor - drive.hinge
        moving = {
            "far": at + back,
            "motor_left": at + drive.turned_back(drive.motor_radius * normals[0]),
            "motor_right": at + drive.turned_back(drive.motor_radius * normals[1]),
            "plate_pin": plate_pin - drive.hinge,
        }
        text = MODEL.format(
            g=g,
            fixed=_sites(fixed),
            moving=_sites(moving),
            hinge=_plain(drive.hinge),
            motor=_plain(at),
            radius=float(drive.motor_radius),
            mass=float(mass),
            other=_plain(other - drive.hinge),
            other_mass=float(other_mass),
        )
        self.model = mujoco.MjModel.from_xml_string(text)
        self.data = mujoco.MjData(self.model)
        self.data.qpos[0] = drive.angle
        mujoco.mj_forward(self.model, self.data)

    def length(self, tendon):
        return self.data.ten_length[self.model.tendon(tendon).id]

    def slope(self, tendon):
        """Derivative of a tendon's length by the plate angle."""
        slopes = np.array(self.data.ten_J).ravel()  # stored sparsely, one entry a tendon here
        return slopes[self.model.tendon(tendon).id]

    @property
    def weight_moment(self):
        """What holds the weights at rest, and so their moment with the opposite sign."""
        return self.data.qfrc_bias[0]


def _plain(vector):
    return [float(value) for value in vector]


def _sites(points):
    places = {name: _plain(point) for name, point in points.items()}
    return "\n".join(
        f'<site name="{name}" pos="{x!r} 0 {z!r}"/>' for name, (x, z) in places.items()
    )


def test_belt_path_and_its_derivative():
    for drive in random_drives():
        engine = Engine(drive)
        path = kernels.belt_path(*drive.kernel_arguments)
        arc = drive.driven_radius * (np.pi + 2 * _beta(drive))
        assert path.length == pytest.approx(engine.length("belt") + arc, rel=RELATIVE)
        assert path.length_slope == pytest.approx(engine.slope("belt"), rel=RELATIVE, abs=ABSOLUTE)


def _beta(drive):
    center = np.hypot(*(drive.driven - drive.motor_now))
    return np.arcsin((drive.driven_radius - drive.motor_radius) / center)


def test_strand_arms_and_spans():
    for drive in random_drives():
        engine = Engine(drive)
        strands = kernels.strands(*drive.kernel_arguments)
        span = np.sqrt(kernels.belt_path(*drive.kernel_arguments).span_squared)
        for arm, tendon in ((strands.arm_plus, "left"), (strands.arm_minus, "right")):
            assert arm == pytest.approx(engine.slope(tendon), rel=RELATIVE, abs=ABSOLUTE)
            assert span == pytest.approx(engine.length(tendon), rel=RELATIVE)


def test_strand_directions():
    for drive in random_drives():
        strands = kernels.strands(*drive.kernel_arguments)
        left, right = drive.normals()
        across = drive.driven - drive.motor_now
        reach = drive.driven_radius - drive.motor_radius
        assert (strands.normal_plus_x, strands.normal_plus_y) == pytest.approx(left)
        assert (strands.normal_minus_x, strands.normal_minus_y) == pytest.approx(right)
        for x, y, normal in (
            (strands.along_plus_x, strands.along_plus_y, left),
            (strands.along_minus_x, strands.along_minus_y, right),
        ):
            span = across + reach * normal
            assert (x, y) == pytest.approx(span / np.hypot(*span))


def test_weight_moment():
    rng = np.random.default_rng(1)
    for drive in random_drives():
        mass, other_mass = rng.uniform(0.5, 50, 2)
        other = rng.uniform(-1, 1, 2)
        engine = Engine(drive, mass=mass, other=other, other_mass=other_mass, g=9.80665)
        moment = 9.80665 * sum(
            weight * kernels.plate_point(drive.angle, *drive.hinge, *point).y_slope
            for weight, point in ((mass, drive.motor), (other_mass, other))
        )
        scale = 9.80665 * (mass + other_mass)
        assert moment == pytest.approx(engine.weight_moment, rel=RELATIVE, abs=ABSOLUTE * scale)


def test_link_extension_and_its_derivative():
    rng = np.random.default_rng(2)
    for drive in random_drives():
        pins = rng.uniform(-1, 1, (2, 2))
        engine = Engine(drive, pins=pins)
        link = kernels.link(drive.angle, *drive.hinge, *pins[0], *pins[1])
        drawn = np.hypot(*(pins[0] - pins[1]))
        assert link.extension + drawn == pytest.approx(engine.length("link"), rel=RELATIVE)
        assert link.extension_slope == pytest.approx(
            engine.slope("link"), rel=RELATIVE, abs=ABSOLUTE
        )


def listed(clockwise):
    """The drive of the regressions below, its angle counted clockwise there.

    Their figures are our own, worked out once and not published anywhere: they keep the numbers
    from drifting, and what checks them is the engine, above.
    """
    hinge, motor = np.array([0.30, -0.35]), np.array([0.42, -0.02])
    return Drive(hinge, motor, np.zeros(2), 0.03175, 0.1016, -clockwise)


@pytest.mark.parametrize(
    ("clockwise", "center", "length", "slope", "moment"),
    [
        (-0.10, 0.38658, 1.204739971, 0.67350334, 8.481282),
        (0.00, 0.42048, 1.271513702, 0.66134989, 11.772000),
        (0.15, 0.46982, 1.368967346, 0.63691143, 16.477574),
    ],
)
def test_regression_of_paths_and_moments(clockwise, center, length, slope, moment):
    drive = listed(clockwise)
    path = kernels.belt_path(*drive.kernel_arguments)
    assert path.center_distance == pytest.approx(center, abs=1e-5)
    assert path.length == pytest.approx(length, abs=LISTED_LENGTH)
    assert -path.length_slope == pytest.approx(slope, abs=LISTED_SLOPE)
    height = kernels.plate_point(drive.angle, *drive.hinge, *drive.motor)
    assert 10 * 9.81 * height.y_slope == pytest.approx(moment, abs=LISTED_MOMENT)
    engine = Engine(drive, mass=10.0, other_mass=1e-9)
    assert engine.weight_moment == pytest.approx(moment, abs=LISTED_MOMENT)


def test_regression_of_strands():
    """At 0.05 rad: the upper strand is the right one, seen from the motor."""
    drive = listed(0.05)
    strands = kernels.strands(*drive.kernel_arguments)
    path = kernels.belt_path(*drive.kernel_arguments)
    assert path.center_distance == pytest.approx(0.437141664, abs=LISTED_ARM)
    assert np.degrees(strands.beta) == pytest.approx(9.194592, abs=1e-6)
    assert np.sqrt(path.span_squared) == pytest.approx(0.431524984, abs=LISTED_ARM)
    assert -strands.arm_minus == pytest.approx(0.377352633, abs=LISTED_ARM)
    assert -strands.arm_plus == pytest.approx(0.276607833, abs=LISTED_ARM)
    moment = 120 * strands.arm_minus + 40 * strands.arm_plus
    assert moment == pytest.approx(-56.346629, abs=LISTED_MOMENT)
