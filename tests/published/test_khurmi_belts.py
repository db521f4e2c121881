"""Belt examples of R. S. Khurmi and J. K. Gupta, Theory of Machines, chapter 11.

11.4 (power of a flat belt), 11.12 (power from the initial tension), 11.15 (length, width and
initial tension), 11.17 and 11.18 (V-belts with centrifugal tension), 11.19 (length).
Where an example gives a wrap and no pulleys, the driven pulley is made to leave that wrap.
"""

import math

import pytest
from scipy.constants import minute
from textbook_mounts import drive_file, driven_for_wrap, open_belt, set_until

from mountcalc.formulas import belt as formulas

RPM = 2 * math.pi / minute

# Half of the last digit that is printed, of lengths in m and of powers.
HUNDREDTH_M = 0.005
POWER_7_89, POWER_15_7, POWER_171_69, POWER_6_53 = (
    0.005 / 7.89,
    0.05 / 15.7,
    0.005 / 171.69,
    0.005 / 6.53,
)
# 11.15 goes through e^(mu wrap) = 2.477 taken from log tables, right to about 1e-4.
LOG_TABLES = 2e-4
HALF_GROOVE = math.radians(15)


def length_text(small, large, center):
    return f"{open_belt(small, large, center).length!r} m"


def drive_with_wrap(*, diameter, wrap_deg, driven, **motor):
    """A drive on 3 m centres whose driven pulley leaves a wrap on a motor pulley [m]."""
    large = driven_for_wrap(diameter, math.radians(wrap_deg), 3.0)
    belt = {"length": length_text(diameter, large, 3.0)} | motor.pop("belt")
    return drive_file(
        "3 m",
        driven={"pulley_diameter": f"{large!r} m"} | driven,
        motor={"pulley_diameter": f"{diameter!r} m"} | motor,
        belt=belt,
    )


def test_example_11_15_length():
    assert open_belt(0.24, 0.60, 3).length == pytest.approx(7.33, abs=HUNDREDTH_M)


def test_example_11_19_length():
    assert open_belt(1 / 3, 1, 1.75).length == pytest.approx(5.66, abs=HUNDREDTH_M)


def test_example_11_4_power():
    """T1 = 2500 N, mu = .25, wrap 160 deg, .6 m pulley at 200 rpm: 7.89 kW."""
    text = drive_with_wrap(
        diameter=0.6,
        wrap_deg=160,
        driven={"power": "7.89 kW"},
        speed="200 rpm",
        belt={"traction": 0.25},
    )
    row = set_until(text, lambda row: row.running.tight, 2500)
    assert row.running.grip == pytest.approx(1, rel=POWER_7_89)


def test_example_11_12_power_from_initial_tension():
    """T0 = 2000 N, mu = .3, wrap 150 deg, .4 m pulley at 500 rpm: 15.7 kW, as T1 + T2 = 2 T0."""
    text = drive_with_wrap(
        diameter=0.4,
        wrap_deg=150,
        driven={"power": "15.7 kW"},
        speed="500 rpm",
        belt={"traction": 0.3},
    )
    row = set_until(text, lambda row: row.tension, 2000)
    assert row.running.grip == pytest.approx(1, rel=POWER_15_7)


def test_example_11_15_initial_tension_and_width():
    """4 kW, .24 m at 300 rpm to .6 m, 3 m apart, mu = .3, 10 N per mm: T0 = 1249.5 N, 178.0 mm."""
    text = drive_file(
        "3 m",
        driven={"pulley_diameter": "0.6 m", "power": "4 kW"},
        motor={"pulley_diameter": "0.24 m", "speed": "300 rpm"},
        belt={"length": length_text(0.24, 0.6, 3.0), "traction": 0.3},
    )
    row = set_until(text, lambda row: row.tension, 1249.5)
    assert row.running.grip == pytest.approx(1, rel=LOG_TABLES)
    assert row.running.tight / 10 == pytest.approx(178.0, abs=0.05)


def test_example_11_17_power_of_two_v_belts():
    """750 mm^2, 7 MPa, 1200 kg/m^3, mu = .12, groove 30 deg, .3 m at 1500 rpm, half a turn."""
    v = 1500 * RPM * 0.15
    centrifugal = formulas.centrifugal_tension(1200 * 750e-6, v)
    share = formulas.slip_share(0.12 / math.sin(HALF_GROOVE), math.pi)
    pull = formulas.pull_per_belt(171.69e3, v, 2)
    least = formulas.least_tension(pull, share, centrifugal)
    tight, _ = formulas.strand_tensions(least, pull)
    assert tight == pytest.approx(7e6 * 750e-6, rel=POWER_171_69)


def test_example_11_17_best_speed():
    """Power is greatest where the centrifugal tension is a third of what the belt may carry."""
    v = 2807 * RPM * 0.15
    third = 7e6 * 750e-6 / 3
    assert formulas.centrifugal_tension(1200 * 750e-6, v) == pytest.approx(third, rel=1 / 2807)


def test_example_11_17_through_the_solver():
    """A wrap of half a turn means equal pulleys."""
    text = drive_file(
        "1 m",
        driven={"pulley_diameter": "0.3 m", "power": "171.69 kW"},
        motor={"pulley_diameter": "0.3 m", "speed": "1500 rpm"},
        belt={
            "count": 2,
            "length": length_text(0.3, 0.3, 1.0),
            "mass": "0.9 kg/m",
            "traction": 0.12 / math.sin(HALF_GROOVE),
        },
    )
    row = set_until(text, lambda row: row.running.tight, 5250)
    assert row.running.grip == pytest.approx(1, rel=POWER_171_69)


def best_speed_11_18():
    """Of a belt of .35 kg/m that may carry 560 N: Tc is a third of that."""
    return math.sqrt(560 / (3 * 0.35))


def test_example_11_18_power():
    """20 x 20 mm, 1.4 MPa, .35 kg/m, mu = .15, groove 30 deg, wrap 140 deg: 6.53 kW at best."""
    v = best_speed_11_18()
    share = formulas.slip_share(0.15 / math.sin(HALF_GROOVE), math.radians(140))
    pull = formulas.pull_per_belt(6.53e3, v, 1)
    least = formulas.least_tension(pull, share, formulas.centrifugal_tension(0.35, v))
    tight, _ = formulas.strand_tensions(least, pull)
    assert tight == pytest.approx(1.4e6 * 0.02**2, rel=POWER_6_53)


def test_example_11_18_through_the_solver():
    """The pulley is ours: .3 m, turned so that the belt runs at its best speed."""
    text = drive_with_wrap(
        diameter=0.3,
        wrap_deg=140,
        driven={"power": "6.53 kW"},
        speed=f"{best_speed_11_18() / 0.15 / RPM!r} rpm",
        belt={"traction": 0.15 / math.sin(HALF_GROOVE), "mass": "0.35 kg/m"},
    )
    row = set_until(text, lambda row: row.running.tight, 560)
    assert row.running.grip == pytest.approx(1, rel=POWER_6_53)
