"""Two pulleys and their plane, by hand."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mountcalc.draw.along.remarks import alignment

INCH = 0.0254
FOOT = 12 * INCH


def test_a_tenth_of_an_inch_per_foot_is_the_stricter_rule_for_v_belts():
    found = alignment(0.0, 0.0, 1.0, "A")
    slant, source = found.limit, found.source
    assert slant == pytest.approx(0.1 / 12)
    assert slant < math.tan(math.radians(0.5))
    assert "common practice" in source
    assert "from memory" in source


@pytest.mark.parametrize(("offset", "ok"), [(0.19, True), (0.2, True), (0.21, False)])
@pytest.mark.parametrize("way", [1, -1])
def test_two_feet_allow_a_fifth_of_an_inch(offset, ok, way):
    found = alignment((3 + way * offset) * INCH, 3 * INCH, 2 * FOOT, "A")
    assert found.limit == pytest.approx(0.2 * INCH)
    assert found.offset == pytest.approx(way * offset * INCH)
    assert found.ok is ok
    assert math.degrees(found.angle) == pytest.approx(math.degrees(offset / 24), rel=1e-4)


@pytest.mark.parametrize("flat", ["flat leather", None])
def test_a_flat_belt_takes_half(flat):
    assert alignment(0.0, 0.0, FOOT, flat).limit == pytest.approx(0.05 * INCH)
    assert "estimate" in alignment(0.0, 0.0, FOOT, flat).source


@given(st.floats(-1, 1), st.floats(-1, 1), st.floats(0.05, 5), st.floats(-3, 3))
def test_only_the_difference_counts_and_the_sides_are_alike(motor, driven, distance, origin):
    found = alignment(motor, driven, distance, "B")
    other = alignment(driven + origin, motor + origin, distance, "B")
    assert other.offset == pytest.approx(-found.offset, abs=1e-12)
    assert other.angle == pytest.approx(found.angle, abs=1e-12)
    assert 0 <= found.angle < math.pi / 2
    assert found.ok is (abs(motor - driven) <= found.limit * (1 + 1e-9))
