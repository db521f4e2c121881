"""F. P. Beer and E. R. Johnston, Vector Mechanics for Engineers: problem 3.151, Sample Problem 8.8.

3.151: a motor of 32 lb on a base, its shaft 4 in above the base, a pulley of 2 in radius; the
upper strand pulls 140 lb at 30 deg above the horizontal, the lower one 60 lb level. Published:
R = 185.2 lb at 11.84 deg, meeting the base 23.3 in (23.289) to the left of the shaft's line;
the moment about the point below the shaft is 694.97 + 70.0 + 120 lb in.

8.8: the belt of pulley A (r = 8 in) may carry 600 lb, mu = .25, and slips first on the other
pulley, where its wrap is 120 deg: the greatest torque on A is 1957 lb in.
"""

import math

import numpy as np
import pytest
from scipy.constants import inch, lbf
from textbook_mounts import drive_file, mount_file, set_until

from mountcalc import parse_scenario
from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.solve import solve_mount
from mountcalc.table import tension_table

# Half of the last digit that is printed.
TENTH, HUNDREDTH, THOUSANDTH, UNIT = 0.05, 0.005, 5e-4, 0.5
PULL = 80.0  # 140 lb - 60 lb
MEAN = 100.0
MOMENT = 694.97 + 70.0 + 120.0
STIFFNESS = 1e9  # [N], of the belt that all examples share
CENTER = 40.0  # of our own choice
SPEED = 100.0  # [rad/s], of our own choice: it sets the power only


def motor_on_base(hinge_x):
    """The motor of 3.151 in a mount whose hinge is on the base, ``hinge_x`` [in] along it.

    The origin is on the base below the motor shaft. The strands part by 30 deg, so the driven
    pulley lies 15 deg above the level at a radius that tilts each strand by 15 deg more; its
    distance is ours and changes no force on the motor. The link that holds the plate runs level
    8 in above the base. The set tension is 100 lb, half of 140 + 60; the belt is cut so that it
    has that tension in the position as drawn.
    """
    tilt = math.radians(15)
    at = (CENTER * math.cos(tilt), 4 + CENTER * math.sin(tilt))
    radius = 2 + CENTER * math.sin(tilt)
    path = 2 * CENTER * math.cos(tilt) + math.pi * (radius + 2) + 2 * (radius - 2) * tilt
    length = path / (1 + MEAN * lbf / STIFFNESS)
    return mount_file(
        driven={
            "shaft": [f"{at[0]!r} in", f"{at[1]!r} in"],
            "pulley_diameter": f"{2 * radius!r} in",
            "power": f"{PULL * lbf * 2 * inch * SPEED!r} W",
        },
        motor={
            "shaft": ["0 in", "4 in"],
            "pulley_diameter": "4 in",
            "speed": f"{SPEED} rad/s",
            "rotation": "ccw",
            "weight": "32 lbf",
        },
        belt={"length": f"{length!r} in", "stiffness": f"{STIFFNESS} N", "traction": 1.0},
        plate={"hinge": [f"{hinge_x} in", "0 in"]},
        adjuster={
            "kind": "link",
            "thread": "3/8-16",
            "plate_pin": [f"{hinge_x} in", "8 in"],
            "base_pin": [f"{hinge_x - 20} in", "8 in"],
        },
    )


@pytest.fixture
def reaction():
    """What hinge and link together push the plate of 3.151 with, and the link's share [lb]."""
    solved = solve_mount(Mount.of(parse_scenario(motor_on_base(0))))
    place = solved.place(-solved.zero_extension / solved.advance)
    case = solved.case(place, solved.demands["running"])
    assert case.tight[0] / lbf == pytest.approx(140, abs=TENTH)
    assert case.slack[0] / lbf == pytest.approx(60, abs=TENTH)
    level = np.array([1.0, 0.0])  # a link in compression pushes the plate's pin to the right
    return (case.hinge[0] + case.adjuster[0] * level) / lbf, case.adjuster[0] / lbf


def test_problem_3_151_resultant(reaction):
    force, _ = reaction
    assert np.hypot(*force) == pytest.approx(185.2, abs=TENTH)
    assert math.degrees(math.atan2(*(-force[::-1]))) == pytest.approx(11.84, abs=HUNDREDTH)


def test_problem_3_151_moment_about_the_base_point(reaction):
    """The hinge is that point, so only the link, 8 in above it, balances the moment."""
    _, link = reaction
    assert link * 8 == pytest.approx(-MOMENT, abs=HUNDREDTH)  # the first part is 694.974


def test_problem_3_151_line_of_action(reaction):
    force, link = reaction
    assert 8 * link / -force[1] == pytest.approx(-23.289, abs=THOUSANDTH)


def test_problem_3_151_hinge_on_the_line_of_action():
    """Hinged where the book's resultant meets the base, the plate needs no adjuster."""
    text = motor_on_base(-23.289)
    row = set_until(text, lambda row: row.tension, MEAN * lbf)
    assert row.running.tight / lbf == pytest.approx(140, abs=TENTH)
    assert row.running.hinge / lbf == pytest.approx(185.2, abs=TENTH)
    # The line of action is printed to .001 in; its 38 lb of lift has that arm, the link 8 in.
    assert abs(row.running.adjuster / lbf) < 38 * THOUSANDTH / 8 * 1.1
    assert abs(row.rest.adjuster / lbf) > 1


def pulley_a(load):
    """A under a load [lb in], driven by a pulley of 1 in radius (from memory) that is 14 in away.

    That leaves a wrap of 120 deg on the smaller pulley.
    """
    return drive_file(
        "14 in",
        driven={"pulley_diameter": "16 in", "power": f"{load * lbf * inch * SPEED / 8!r} W"},
        motor={"pulley_diameter": "2 in", "speed": f"{SPEED} rad/s"},
        belt={
            "length": f"{28 * math.cos(math.pi / 6) + 9 * math.pi + 14 * math.pi / 6!r} in",
            "traction": 0.25,
        },
    )


def test_sample_problem_8_8_torque_on_a():
    text = pulley_a(load=1957)
    assert tension_table(parse_scenario(text), [0]).snug.center_distance / inch == pytest.approx(14)
    row = set_until(text, lambda row: row.running.tight, 600 * lbf)
    assert row.running.grip * 1957 == pytest.approx(1957, abs=UNIT)


def test_sample_problem_8_8_torque_on_a_stalled_machine():
    """With twice the load the belt slips, and the torque on A is the greatest there is."""
    row = set_until(pulley_a(load=2 * 1957), lambda row: row.running.tight, 600 * lbf)
    assert row.running.slips
    assert row.running.pull / lbf * 8 == pytest.approx(1957, abs=UNIT)
