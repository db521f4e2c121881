"""Distances of reach through openings: ISO 13857, Table 4, row by row as printed."""

from itertools import pairwise

import pytest

from mountcalc.draw.guard.sizes import reach_distance, widest_opening

# Opening up to [mm]; least distance [mm] for a slot, a square, a round hole.
TABLE_4 = (
    (4, 2, 2, 2),
    (6, 10, 5, 5),
    (8, 20, 15, 5),
    (10, 80, 25, 20),
    (12, 100, 80, 80),
    (20, 120, 120, 120),
    (30, 850, 120, 120),
    (40, 850, 200, 120),
    (120, 850, 850, 850),
)
SHAPES = ("slot", "square", "round")


@pytest.mark.parametrize("row", TABLE_4)
def test_a_row_holds_up_to_and_with_its_end(row):
    to, *wanted = row
    for shape, distance in zip(SHAPES, wanted, strict=True):
        found = reach_distance(shape, to * 1e-3)
        assert found.value == pytest.approx(distance * 1e-3)
        assert found.sure == "published"
        assert "ISO 13857" in found.source


@pytest.mark.parametrize(("row", "after"), list(pairwise(TABLE_4)))
def test_just_above_a_row_the_next_one_holds(row, after):
    for shape, distance in zip(SHAPES, after[1:], strict=True):
        assert reach_distance(shape, row[0] * 1e-3 + 1e-6).value == pytest.approx(distance * 1e-3)


def test_a_slot_no_longer_than_65_mm_stops_the_hand_at_the_thumb():
    assert reach_distance("slot", 0.025, 0.065).value == pytest.approx(0.2)
    assert reach_distance("slot", 0.025, 0.066).value == pytest.approx(0.85)
    # Only in the row from 20 to 30 mm.
    assert reach_distance("slot", 0.035, 0.065).value == pytest.approx(0.85)
    assert reach_distance("slot", 0.015, 0.065).value == pytest.approx(0.12)


def test_wider_than_the_table_nothing_is_said():
    assert widest_opening() == pytest.approx(0.12)
    assert reach_distance("slot", 0.121) is None


def test_a_wider_opening_is_never_nearer():
    for shape in SHAPES:
        values = [reach_distance(shape, size * 1e-3).value for size in range(1, 121)]
        assert values == sorted(values)
