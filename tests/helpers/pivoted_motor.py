"""The motor that hangs on its belt by its weight, of Hibbeler's problem 8-104, as a scenario.

To be whole, the example needs: a driven pulley, of the same size because both wraps are half a
turn, which makes the strands parallel wherever it is; a stiff belt (1 GN) without mass, so that
the plate does not leave the drawn position; a power and a speed, which only set the unit that
grip counts in; bearings, which do not act on the motor.
"""

import math

from textbook_mounts import mount_file

from mountcalc import parse_scenario

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
