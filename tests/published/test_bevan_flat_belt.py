"""T. Bevan, The Theory of Machines, example 1, p. 228: power of a flat belt.

mu = .3, wrap 165 deg, initial tension 500 lbf (T1 + T2 = 2 T0), 3600 ft/min: 44.40 hp.
"""

import math

import pytest
from scipy.constants import foot, hp, lbf, minute
from textbook_mounts import drive_file, driven_for_wrap, open_belt, set_until

from mountcalc.formulas import belt as formulas

HUNDREDTH_HP = 0.005 / 44.40  # half of the last digit that is printed
SPEED = 3600 * foot / minute


def test_power_from_initial_tension():
    share = formulas.slip_share(0.3, math.radians(165))
    pull = formulas.pull_per_belt(44.40 * hp, SPEED, 1)
    assert formulas.least_tension(pull, share, 0.0) / lbf == pytest.approx(500, rel=HUNDREDTH_HP)


def test_power_through_the_solver():
    """Pulleys of our own, .5 m driving and one that leaves 165 deg on it: neither is given."""
    large = driven_for_wrap(0.5, math.radians(165), 3.0)
    text = drive_file(
        "3 m",
        driven={"pulley_diameter": f"{large!r} m", "power": "44.40 hp"},
        motor={"pulley_diameter": "0.5 m", "speed": f"{SPEED / 0.25!r} rad/s"},
        belt={"length": f"{open_belt(0.5, large, 3.0).length!r} m", "traction": 0.3},
    )
    row = set_until(text, lambda row: row.tension, 500 * lbf)
    assert row.running.grip == pytest.approx(1, rel=HUNDREDTH_HP)
