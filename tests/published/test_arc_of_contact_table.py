"""Machinery's Handbook, 31st edition, p. 2581, Table 12 (ANSI/RMA IP-20): arc of contact."""

import math

import pytest
from textbook_mounts import open_belt

# Arc of contact [deg] on the smaller pulley for (D - d)/C of 0, 0.1, 0.2, ... 1.5.
ARCS_DEG = (180, 174, 169, 163, 157, 151, 145, 139, 133, 127, 120, 113, 106, 99, 91, 83)
WHOLE_DEGREE = 0.5  # printed to whole degrees


@pytest.mark.parametrize(("tenths", "arc_deg"), list(enumerate(ARCS_DEG)))
def test_table_12(tenths, arc_deg):
    center, small = 10.0, 1.0
    wrap = open_belt(small, small + tenths / 10 * center, center).small_wrap
    assert math.degrees(wrap) == pytest.approx(arc_deg, abs=WHOLE_DEGREE)
