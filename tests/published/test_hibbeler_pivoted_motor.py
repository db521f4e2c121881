"""R. C. Hibbeler, Engineering Mechanics: Statics, 14th edition, problem 8-104: a pivoted motor.

A motor of 20 kg, pinned at C, hangs on its belt by its weight: the weight acts 100 mm from C, the
tight strand passes C at 100 mm, the slack one at 200 mm; pulley radius 50 mm, half a turn of
wrap, mu = .3. Its equations are T2 (100) + T1 (200) = 20 (9.81)(100), T2 = T1 e^(.3 pi) and
M = (T2 - T1) r; its answer M = 3.37 N m is quoted from memory, and the equations give it.
"""

import pytest
from pivoted_motor import ARMS_MOVE, PULL, pivoted_motor, solution

from mountcalc.equilibrium.states import State
from mountcalc.table import tension_table

HUNDREDTH_NM = 0.005  # half of the last digit that is printed


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
