"""Pitches of screw threads, by the designation that a scenario gives.

- Unified threads: Shigley's Mechanical Engineering Design, Table 8-2 (ANSI B1.1-1974).
- ISO metric coarse threads: ISO 262, with stress areas of ISO 898-1, from memory.

The tables print no pitch of inch threads but diameters and areas that hold it:
d2 = D - 0.649519 p, A_t = pi/4 (D - 0.9743 p)^2; metric A_t = pi/4 ((d2 + d3)/2)^2 with
d3 = d - 1.226869 p.
"""

import math

import pytest
from scipy.constants import inch, milli
from textbook_mounts import drive_file

from mountcalc import parse_scenario
from mountcalc.scenario.text.threads import read_thread
from mountcalc.table import tension_table

# Half of the last digit that is printed; the table's areas of 5/16-24 and 1/2-20 are one lower in
# the last digit than their formula.
DIAMETER_IN, DIAMETER_MM = 5e-5, 5e-4
AREA_IN2 = 1.5e-4
AREA_RELATIVE = 0.004  # metric areas are printed with three figures

# D, d2, A_t [in, in^2].
UNIFIED = {
    "1/4-20": (0.2500, 0.2175, 0.0318),
    "5/16-18": (0.3125, 0.2764, 0.0524),
    "3/8-16": (0.3750, 0.3344, 0.0775),
    "7/16-14": (0.4375, 0.3911, 0.1063),
    "1/2-13": (0.5000, 0.4500, 0.1419),
    "1/4-28": (0.2500, 0.2268, 0.0364),
    "5/16-24": (0.3125, 0.2854, 0.0580),
    "3/8-24": (0.3750, 0.3479, 0.0878),
    "1/2-20": (0.5000, 0.4675, 0.1599),
}
# d, p, d2, A_t [mm, mm^2].
METRIC_COARSE = {
    "M5": (5, 0.8, 4.480, 14.2),
    "M6": (6, 1.0, 5.350, 20.1),
    "M8": (8, 1.25, 7.188, 36.6),
    "M10": (10, 1.5, 9.026, 58.0),
    "M12": (12, 1.75, 10.863, 84.3),
    "M16": (16, 2.0, 14.701, 157),
}


@pytest.mark.parametrize("name", UNIFIED)
def test_table_8_2(name):
    diameter, pitch_diameter, area = UNIFIED[name]
    pitch = read_thread(name).pitch / inch
    assert diameter - 0.649519 * pitch == pytest.approx(pitch_diameter, abs=DIAMETER_IN)
    assert math.pi / 4 * (diameter - 0.9743 * pitch) ** 2 == pytest.approx(area, abs=AREA_IN2)


@pytest.mark.parametrize("name", METRIC_COARSE)
def test_iso_262_coarse(name):
    diameter, pitch_mm, pitch_diameter, area = METRIC_COARSE[name]
    pitch = read_thread(name).pitch / milli
    assert pitch == pytest.approx(pitch_mm)
    assert read_thread(f"{name}x{pitch_mm}").pitch / milli == pytest.approx(pitch_mm)
    assert diameter - 0.649519 * pitch == pytest.approx(pitch_diameter, abs=DIAMETER_MM)
    mean = diameter - (0.649519 + 1.226869) / 2 * pitch
    assert math.pi / 4 * mean**2 == pytest.approx(area, rel=AREA_RELATIVE)


@pytest.mark.parametrize(
    ("name", "pitch"),
    [("3/8-16", inch / 16), ("1/2-13", inch / 13), ("M10", 1.5e-3), ("M12x1.25", 1.25e-3)],
)
def test_a_turn_moves_the_adjuster_by_a_pitch(name, pitch):
    """Through the reader and solver; the drive is ours."""
    text = drive_file(
        "20 in",
        driven={"pulley_diameter": "9 in", "power": "0.4 hp"},
        motor={"pulley_diameter": "3 in", "speed": "1725 rpm"},
        belt={"length": "59.3 in", "section": "A"},
    ).replace("M10x1.5", name)
    table = tension_table(parse_scenario(text), [0, 1])
    assert table.advance_per_turn == pytest.approx(pitch)
    moved = table.rows[1].extension - table.rows[0].extension
    assert abs(moved) == pytest.approx(pitch)
