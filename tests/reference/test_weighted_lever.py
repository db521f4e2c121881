"""A weighted lever that pulls on a belt around a wheel, against the moments about its pivot.

Our own numbers: the arrangement and the formulas are those of Tayal, Engineering Mechanics, 7.5,
but what that text prints as its answers was not to be had, so this is no published check.

100 N on a .50 m arm; the tight strand pulls on a .25 m arm, the slack strand passes through the
pivot; wrap 225 deg, mu = .5, wheel radius .25 m: T1 = 100 (.50)/.25, T2 = T1 e^(-mu wrap) and
M = (T1 - T2) r.

There the lever holds the belt's ends; here it carries the wheel, which puts the same moments on
it. A wrap of 225 deg makes the wheel the larger pulley, so the driven one has to grip by
more (traction 5). The stiff belt (1 GN) keeps the lever where it is drawn.
"""

import math

import pytest
from textbook_mounts import mount_file

from mountcalc import parse_scenario
from mountcalc.equilibrium.states import State
from mountcalc.table import tension_table

TIGHT = 100 * 0.50 / 0.25
SLACK = TIGHT * math.exp(-0.5 * math.radians(225))
LEVER_MOVES = 1e-5  # of its arms
RADIUS, CENTER = 0.25, 0.5
TILT = math.radians(22.5)
POWER, SPEED = 1000.0, 100.0  # [W], [rad/s]: they set the unit of grip only
PULL = POWER / SPEED / RADIUS


@pytest.fixture
def row():
    """The wheel is at the origin, the driven pulley to its right; the strands meet beyond it.

    The hinge is on the lower, slack strand, where the upper strand passes it at .25 m.
    """
    meet = RADIUS / math.sin(TILT)
    back = 0.25 / math.sin(2 * TILT)
    hinge = (meet - back * math.cos(TILT), -back * math.sin(TILT))
    small = RADIUS - CENTER * math.sin(TILT)
    length = 2 * CENTER * math.cos(TILT) + math.pi * (RADIUS + small) + 2 * (RADIUS - small) * TILT
    text = mount_file(
        driven={
            "shaft": [f"{CENTER} m", "0 m"],
            "pulley_diameter": f"{2 * small!r} m",
            "power": f"{POWER} W",
            "traction": 5,
        },
        motor={
            "shaft": ["0 m", "0 m"],
            "pulley_diameter": f"{2 * RADIUS} m",
            "speed": f"{SPEED} rad/s",
            "rotation": "ccw",
            "weight": "100 N",
            "center_of_mass": [f"{hinge[0] - 0.5!r} m", f"{hinge[1]!r} m"],
        },
        belt={"length": f"{length!r} m", "traction": 0.5},
        plate={"hinge": [f"{coordinate!r} m" for coordinate in hinge]},
        adjuster={"kind": "none"},
    )
    return tension_table(parse_scenario(text)).rows[0]


def test_moment_at_slip(row):
    assert row.running.state is State.RIDING
    assert row.running.grip * PULL * RADIUS == pytest.approx(
        (TIGHT - SLACK) * RADIUS, rel=LEVER_MOVES
    )


def test_tight_strand_whatever_the_load(row):
    """The slack strand has no arm, so the tight one's tension is the weight's at any load."""
    for case in row.cases.values():
        assert case.tight == pytest.approx(TIGHT, rel=LEVER_MOVES)
    assert row.running.slack == pytest.approx(TIGHT - PULL, rel=LEVER_MOVES)
