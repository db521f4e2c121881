"""R. C. Hibbeler, Engineering Mechanics: Statics, 14th edition, problem 8-104: a pivoted motor.

A motor of 20 kg, pinned at C, hangs on its belt by its weight: the weight acts 100 mm from C, the
tight strand passes C at 100 mm, the slack one at 200 mm; pulley radius 50 mm, half a turn of
wrap, mu = .3. Its equations are T2 (100) + T1 (200) = 20 (9.81)(100), T2 = T1 e^(.3 pi) and
M = (T2 - T1) r; its answer M = 3.37 N m is quoted from memory, and the equations give it.

To be a whole scenario the example needs: a driven pulley, of the same size because both wraps
are half a turn, which makes the strands parallel wherever it is; a stiff belt (1 GN) without
mass, so that the plate does not leave the drawn position; a power and a speed, which only set the
unit that grip counts in; bearings, which do not act on the motor.
"""

import math

import pytest
from textbook_mounts import mount_file

from mountcalc import parse_scenario, tension_table
from mountcalc.results import State

HUNDREDTH_NM = 0.005  # half of the last digit that is printed
WEIGHT = 20 * 9.81
RATIO = math.exp(0.3 * math.pi)
# The stiff belt lets the plate move by 1e-6 rad, and the arms of .1 m by 1e-6 of themselves.
ARMS_MOVE = 1e-5
ANY_POWER, ANY_SPEED = 50.0, 150.0  # [W], [rad/s]
PULL = ANY_POWER / ANY_SPEED / 0.05


def pivoted_motor(rotation, power=ANY_POWER):
    """C is at the origin; the strands run level, .1 m and .2 m above it, to the right."""
    return parse_scenario(
        mount_file(
            driven={"shaft": ["600 mm", "150 mm"], "pulley_diameter": "100 mm"}
            | {"power": f"{power} W"},
            motor={
                "shaft": ["-100 mm", "150 mm"],
                "pulley_diameter": "100 mm",
                "speed": f"{ANY_SPEED} rad/s",
                "rotation": rotation,
                "weight": f"{WEIGHT} N",
            },
            belt={"length": f"{2 * 0.7 + 0.1 * math.pi!r} m", "traction": 0.3},
            plate={"hinge": ["0 mm", "0 mm"]},
            adjuster={"kind": "none"},
        )
    )


def solution(tight_arm, slack_arm):
    """Slack and tight tension at slip, from the book's equations."""
    slack = WEIGHT * 0.1 / (tight_arm * RATIO + slack_arm)
    return slack, slack * RATIO


def test_problem_8_104_moment_at_slip():
    """Clockwise rotation makes the lower strand, the one 100 mm from C, the tight one."""
    row = tension_table(pivoted_motor("cw")).rows[0]
    assert row.running.state is State.RIDING
    assert row.running.grip * PULL * 0.05 == pytest.approx(3.37, abs=HUNDREDTH_NM)


def test_problem_8_104_tensions_when_the_motor_is_stalled():
    """A load far above what the belt carries leaves the strands at the limit of slip."""
    row = tension_table(pivoted_motor("cw", power=2000)).rows[0]
    slack, tight = solution(0.1, 0.2)
    assert row.running.slips
    assert row.running.slack == pytest.approx(slack, rel=ARMS_MOVE)
    assert row.running.tight == pytest.approx(tight, rel=ARMS_MOVE)
    assert row.running.pull * 0.05 == pytest.approx(3.37, abs=HUNDREDTH_NM)


def test_problem_8_104_at_rest():
    """The first equation with T1 = T2."""
    row = tension_table(pivoted_motor("cw")).rows[0]
    assert row.rest.state is State.RIDING
    assert row.tension == pytest.approx(WEIGHT * 0.1 / 0.3, rel=ARMS_MOVE)
    assert row.rest.shaft_load == pytest.approx(2 * WEIGHT * 0.1 / 0.3, rel=ARMS_MOVE)


def test_problem_8_104_reversed():
    """Not in the book: its equations with the tight strand 200 mm from C."""
    row = tension_table(pivoted_motor("ccw")).rows[0]
    slack, tight = solution(0.2, 0.1)
    assert row.running.grip * PULL == pytest.approx(tight - slack, rel=ARMS_MOVE)


def test_problem_8_104_under_part_load():
    """Not in the book: its first equation with T2 - T1 given, below slip."""
    row = tension_table(pivoted_motor("cw")).rows[0]
    slack = (WEIGHT * 0.1 - PULL * 0.1) / 0.3
    assert row.running.slack == pytest.approx(slack, rel=ARMS_MOVE)
    assert row.running.tight == pytest.approx(slack + PULL, rel=ARMS_MOVE)
