"""A motor that hangs on its belt by its weight, against the moments about its pivot.

Our own cases, in no book: the equations are those of Hibbeler's problem 8-104 (pivot C, weight at
100 mm, strands at 100 mm and 200 mm) at rest, below slip, and with the rotation reversed.
"""

import pytest
from pivoted_motor import ARMS_MOVE, PULL, WEIGHT, pivoted_motor, solution

from mountcalc.equilibrium.states import State
from mountcalc.table import tension_table


def test_at_rest():
    """The first equation with T1 = T2."""
    row = tension_table(pivoted_motor("cw")).rows[0]
    assert row.rest.state is State.RIDING
    assert row.tension == pytest.approx(WEIGHT * 0.1 / 0.3, rel=ARMS_MOVE)
    assert row.rest.shaft_load == pytest.approx(2 * WEIGHT * 0.1 / 0.3, rel=ARMS_MOVE)


def test_reversed():
    """The equations with the tight strand 200 mm from C."""
    row = tension_table(pivoted_motor("ccw")).rows[0]
    slack, tight = solution(0.2, 0.1)
    assert row.running.grip * PULL == pytest.approx(tight - slack, rel=ARMS_MOVE)


def test_under_part_load():
    """The first equation with T2 - T1 given, below slip."""
    row = tension_table(pivoted_motor("cw")).rows[0]
    slack = (WEIGHT * 0.1 - PULL * 0.1) / 0.3
    assert row.running.slack == pytest.approx(slack, rel=ARMS_MOVE)
    assert row.running.tight == pytest.approx(slack + PULL, rel=ARMS_MOVE)
