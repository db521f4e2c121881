import pytest

from mountcalc.scenario.reader import parse_scenario

# An invented mount, round numbers: hinge below the motor, everything in line for mental arithmetic.
BASE = """
title = "Invented test mount"
[driven]
shaft = ["0 m", "0 m"]
pulley_diameter = "0.2 m"
pulley_position = "-0.1 m"
power = "{power}"
starting_factor = 2
[[driven.bearing]]
position = "0 m"
journal_diameter = "30 mm"
length = "60 mm"
limit = "0.2 MPa"
[[driven.bearing]]
position = "0.3 m"
journal_diameter = "30 mm"
length = "60 mm"
limit = "0.2 MPa"
[motor]
shaft = ["-0.5 m", "{motor_y}"]
pulley_diameter = "{motor_pulley}"
power = "1 kW"
speed = "1400 rpm"
rotation = "{rotation}"
weight = "{weight}"
[belt]
length = "{length}"
stiffness = "50 kN"
mass = "0.1 kg/m"
traction = 0.5
[plate]
hinge = ["{hinge_x}", "{hinge_y}"]
travel = ["{low}", "{high}"]
[adjuster]
{adjuster}
"""
JACK = """kind = "jack-in-base"
thread = "M10x1.5"
tip = ["-0.5 m", "0.1 m"]
axis = "left"
face = "up"
acts = "{acts}"
"""


def mount_text(acts="push", adjuster=None, **changes):
    values = {
        "power": "300 W", "motor_y": "0 m", "motor_pulley": "0.1 m", "rotation": "ccw",
        "weight": "100 N", "length": "1.476 m", "hinge_x": "-0.5 m", "hinge_y": "-0.4 m",
        "low": "-10 deg", "high": "10 deg",
    } | changes  # fmt: skip
    jack = JACK.format(acts=acts) if adjuster is None else adjuster
    return BASE.format(adjuster=jack, **values)


@pytest.fixture
def make_mount():
    return lambda *args, **changes: parse_scenario(mount_text(*args, **changes), "mount.toml")
