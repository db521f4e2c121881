"""Bearing loads of the driven shaft against a frame solver, Pynite.

The shaft lies along the frame's x; our x and y are its z and y. A bearing holds the shaft
square to itself and lets it tilt; what it carries is the opposite of the frame's reaction.
"""

import math

import numpy as np
import pytest
from Pynite import FEModel3D

from mountcalc import parse_scenario
from mountcalc.formulas.shaft import bearing_loads
from mountcalc.table import tension_table

# The frame solver inverts a stiffness matrix; a hundred times what was seen.
FRAME = 1e-9


def frame_loads(positions, forces, first, second):
    """Load vectors on two bearings, as a frame solver finds them."""
    frame = FEModel3D()
    frame.add_material("steel", 200e9, 77e9, 0.3, 7850)
    frame.add_section("shaft", 5e-4, 2e-8, 2e-8, 4e-8)
    stations = sorted({float(x) for x in (*positions, first, second)})
    for index, x in enumerate(stations):
        frame.add_node(f"N{index}", x, 0, 0)
    for index in range(len(stations) - 1):
        frame.add_member(f"M{index}", f"N{index}", f"N{index + 1}", "steel", "shaft")
    names = {x: f"N{index}" for index, x in enumerate(stations)}
    across = {"support_DY": True, "support_DZ": True}
    frame.def_support(names[first], support_DX=True, support_RX=True, **across)
    frame.def_support(names[second], **across)
    for x, (to_right, up) in zip(positions, forces, strict=True):
        frame.add_node_load(names[float(x)], "FZ", to_right)
        frame.add_node_load(names[float(x)], "FY", up)
    frame.analyze_linear()
    nodes = (frame.nodes[names[first]], frame.nodes[names[second]])
    return [-np.array([node.RxnFZ["Combo 1"], node.RxnFY["Combo 1"]]) for node in nodes]


def compare(positions, forces, first, second):
    loads = bearing_loads(positions, forces, first, second)
    size = np.abs(forces).sum()
    for ours, theirs in zip(loads, frame_loads(positions, forces, first, second), strict=True):
        assert ours == pytest.approx(theirs, rel=FRAME, abs=FRAME * size)


@pytest.mark.parametrize("place", ["overhung on the left", "overhung on the right", "between"])
def test_random_loads(place):
    """Five loads in any direction; the first is the pulley's."""
    rng = np.random.default_rng(len(place))
    low, high = {
        "overhung on the left": (-0.3, -0.05),
        "overhung on the right": (0.65, 0.9),
        "between": (0.05, 0.55),
    }[place]
    for _ in range(8):
        positions = [rng.uniform(low, high), *rng.uniform(-0.2, 0.9, 4)]
        forces = rng.uniform(-500, 500, (5, 2))
        compare(positions, forces, 0.0, 0.6)
        compare(positions, forces, 0.6, 0.0)


def test_load_over_a_bearing():
    compare([0.6, 0.2], np.array([(30.0, -40.0), (0.0, -10.0)]), 0.0, 0.6)


MILL = """
[driven]
shaft = ["0 mm", "0 mm"]
pulley_diameter = "220 mm"
pulley_position = "-80 mm"
power = "300 W"
[[driven.bearing]]
name = "pulley end"
position = "0 mm"
journal_diameter = "30 mm"
length = "70 mm"
limit = "0.2 MPa"
[[driven.bearing]]
name = "far end"
position = "400 mm"
journal_diameter = "30 mm"
length = "70 mm"
limit = "0.2 MPa"
[[driven.load]]
name = "rotor"
position = "210 mm"
force = "15 kg"
direction = "down"
[[driven.load]]
name = "cut"
position = "260 mm"
force = "60 N"
direction = "30 deg"
when = "running"
[motor]
shaft = ["-450 mm", "-120 mm"]
pulley_diameter = "80 mm"
power = "370 W"
speed = "1425 rpm"
rotation = "ccw"
weight = "12 kg"
[belt]
count = 2
length = "1420 mm"
stiffness = "50 kN"
mass = "0.1 kg/m"
traction = 0.5
[plate]
hinge = ["-500 mm", "-350 mm"]
travel = ["-12 deg", "12 deg"]
[adjuster]
kind = "link"
thread = "M10"
base_pin = ["-700 mm", "-200 mm"]
plate_pin = ["-510 mm", "-150 mm"]
"""


BELT_SPEED = 1425 * 2 * math.pi / 60 * 0.04


def belt_pull(row, case):
    """What both belts pull the driven shaft with, from the strand tensions and plain geometry.

    As the shaft feels it: less the centrifugal part, which only the running belt has.
    """
    phi = case.plate_angle
    hinge, motor = complex(-0.5, -0.35), complex(-0.45, -0.12)
    to_motor = hinge + (motor - hinge) * np.exp(1j * phi)  # the driven shaft is the origin
    lean = math.asin((0.11 - 0.04) / abs(to_motor))
    centrifugal = 0.1 * BELT_SPEED**2 if case is row.running else 0.0
    # Seen from the driven shaft, with the motor to the left, the strand below the line of
    # centres is the motor's left one: tight for counter-clockwise rotation.
    heading = to_motor / abs(to_motor)
    return 2 * (
        (case.tight - centrifugal) * heading * np.exp(1j * lean)
        + (case.slack - centrifugal) * heading * np.exp(-1j * lean)
    )


def test_through_the_solver():
    """Two belts, loads in several directions, every load case at three settings."""
    rows = tension_table(parse_scenario(MILL), [1.0, 2.0, 3.0]).rows
    for row in rows:
        for name, case in row.cases.items():
            pull = belt_pull(row, case)
            positions = [-0.08, 0.21]
            forces = [(pull.real, pull.imag), (0.0, -15 * 9.80665)]
            if name != "rest":
                positions.append(0.26)
                forces.append((60 * math.cos(math.pi / 6), 60 * math.sin(math.pi / 6)))
            expected = frame_loads(positions, forces, 0.0, 0.4)
            for bearing, vector in zip(case.bearings, expected, strict=True):
                assert bearing.load == pytest.approx(np.hypot(*vector), rel=FRAME)
                ours = bearing.load * np.exp(1j * bearing.direction)
                assert (ours.real, ours.imag) == pytest.approx(
                    tuple(vector), abs=FRAME * np.hypot(*vector)
                )
                assert bearing.pressure == pytest.approx(bearing.load / (0.03 * 0.07))
