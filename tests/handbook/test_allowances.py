"""Room for fitting and taking up: the published table cell by cell, and where it has none."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mountcalc.handbook.belts.designation import read_designation
from mountcalc.handbook.belts.lengths import (
    allowances,
    percentage_allowances,
    series,
)
from mountcalc.handbook.belts.sections import known_sections
from mountcalc.handbook.rows import load

INCH = 0.0254
NUMBERS = load("belt_lengths")["numbers"]

# ANSI/RMA and MPTA, common practice, in inches: numbers, to install A and 4L, B and 5L, C, D, and
# to take up. 4L and 5L belts by the classical number of the same inside length.
CLASSICAL = [
    (26, 35, 0.8, 1.0, None, None, 1.0),
    (38, 55, 0.8, 1.0, 1.5, None, 1.5),
    (60, 85, 0.8, 1.3, 1.5, None, 2.0),
    (90, 112, 1.0, 1.3, 1.5, None, 2.5),
    (120, 144, 1.0, 1.3, 1.5, 2.0, 3.0),
    (158, 180, None, 1.3, 2.0, 2.0, 3.5),
    (195, 210, None, 1.5, 2.0, 2.0, 4.0),
    (240, 240, None, 1.5, 2.0, 2.5, 4.5),
    (270, 300, None, 1.5, 2.0, 2.5, 5.0),
    (330, 390, None, None, 2.0, 2.5, 6.0),
]
# 3V, 5V, 8V.
NARROW = [
    (250, 475, 0.5, None, None, 1.0),
    (500, 710, 0.8, 1.0, None, 1.2),
    (750, 1060, 0.8, 1.0, 1.5, 1.5),
    (1120, 1250, 0.8, 1.0, 1.5, 1.8),
    (1320, 1700, 0.8, 1.0, 1.5, 2.2),
    (1800, 2000, None, 1.0, 1.8, 2.5),
    (2120, 2240, None, 1.2, 1.8, 2.8),
    (2360, 2360, None, 1.2, 1.8, 3.0),
    (2500, 2650, None, 1.2, 1.8, 3.2),
    (2800, 3000, None, 1.2, 1.8, 3.5),
    (3150, 3150, None, 1.2, 1.8, 4.0),
    (3350, 3550, None, 1.5, 2.0, 4.0),
]


def cells(rows, columns):
    """Every cell that is printed, at both ends of its row."""
    for low, high, *installs, take_up in rows:
        for name, install in zip(columns, installs, strict=True):
            if install is not None:
                yield from ((name, number, install, take_up) for number in {low, high})


@pytest.mark.parametrize(
    ("name", "number", "install", "take_up"),
    [
        *cells(CLASSICAL, ("A", "B", "C", "D")),
        *cells(CLASSICAL, ("AX", "BX", "CX", "D")),
        *cells(NARROW, ("3V", "5V", "8V")),
    ],
)
def test_every_cell_of_the_table(name, number, install, take_up):
    # Where a section begins or ends within a row, its own end stands for the row's.
    ((least, most),) = (span for unit, span in NUMBERS[name].items() if unit != "mm")
    belt = read_designation(f"{name}{min(max(number, least), most)}")
    for found, inches in zip(allowances(belt), (install, take_up), strict=True):
        assert found.sure == "common practice"
        assert found.value == pytest.approx(inches * INCH)


@pytest.mark.parametrize(
    ("text", "install", "take_up"),
    [("8V3750", 2.0, 4.5), ("8V4250", 2.0, 5.5), ("8V5000", 2.0, 5.5)],
)
def test_the_longest_narrow_belts_are_from_memory(text, install, take_up):
    """By the take-up's share of the length they go on as the printed rows do, 1.1 to 1.4 %."""
    belt = read_designation(text)
    found = allowances(belt)
    assert [one.value for one in found] == pytest.approx([install * INCH, take_up * INCH])
    assert {one.sure for one in found} == {"from memory"}
    assert 0.0105 < found[1].value / belt.pitch_length < 0.0145


@pytest.mark.parametrize(("text", "install"), [("C420", 2.3), ("D420", 3.0), ("D660", 3.0)])
def test_the_longest_belts_take_up_a_share(text, install):
    belt = read_designation(text)
    assert allowances(belt)[0].value == pytest.approx(install * INCH)
    assert allowances(belt)[1].value == pytest.approx(0.015 * belt.pitch_length)


@pytest.mark.parametrize(
    ("light", "classical"),
    [("4L460", "A44"), ("4L570", "A55"), ("4L370", "A35"), ("4L1000", "A98"), ("5L880", "B85"),
     ("5L580", "B55")],
)  # fmt: skip
def test_light_duty_belts_are_as_the_classical_ones_of_their_inside(light, classical):
    light, classical = read_designation(light), read_designation(classical)
    assert light.inside_length == pytest.approx(classical.inside_length, abs=1e-9)
    assert allowances(light) == allowances(classical)
    assert {one.sure for one in allowances(light)} == {"common practice"}


@pytest.mark.parametrize(
    "text",
    ["3L300", "Z 1000", "A 1250", "SPB 2500", "E240",
     "A25", "AX20", "B24", "4L200", "4L270", "5L270"],
)  # fmt: skip
def test_where_the_table_has_none_it_is_a_share_of_the_length(text):
    """Other sections, millimetres, and what is past either end of the table."""
    belt = read_designation(text)
    shares = percentage_allowances(belt.pitch_length)
    assert allowances(belt) == shares


@pytest.mark.parametrize(("text", "first"), [("A26", 1.0), ("4L280", 1.0), ("3V250", 1.0)])
def test_the_table_begins_with_its_first_number(text, first):
    """An inch less of inside length, as above, is in no row."""
    belt = read_designation(text)
    assert allowances(belt)[1].value == pytest.approx(first * INCH)
    assert allowances(belt)[0].sure == "common practice"


@pytest.mark.parametrize(
    ("text", "take_up"),
    [("A150", 3.5), ("A200", 4.0), ("4L2000", 4.0), ("B330", 6.0), ("D110", 2.5)],
)
def test_to_take_up_there_is_one_column_for_all_sections(text, take_up):
    """To install, the section has no entry in that row: so only that is a share of the length."""
    belt = read_designation(text)
    assert allowances(belt)[1].value == pytest.approx(take_up * INCH)
    assert allowances(belt)[1].sure == "common practice"
    assert allowances(belt)[0] == percentage_allowances(belt.pitch_length)[0]


def test_the_shares():
    # DIN practice (Roloff/Matek, from memory); spliced belts are given 1.5 to 2 % of the length.
    install, take_up = percentage_allowances(2.0)
    assert install.value == pytest.approx(0.030)
    assert take_up.value == pytest.approx(0.060)
    assert install.sure == take_up.sure == "from memory"


@given(name=st.sampled_from(known_sections()), data=st.data())
def test_room_is_a_small_share_of_the_length(name, data):
    belt = data.draw(st.sampled_from(series(name)))
    # The least of the table is 1.2 in for a 5V3150, the greatest 4 in for the shortest belts.
    for allowance in allowances(belt):
        assert 0.0038 * belt.pitch_length < allowance.value < 0.08 * belt.pitch_length


@pytest.mark.parametrize("name", ["A", "B", "C", "D", "3V", "5V", "8V", "4L", "5L"])
def test_longer_belts_want_no_less_room_where_the_table_has_them(name):
    listed = [belt for belt in series(name) if allowances(belt)[0].sure == "common practice"]
    assert len(listed) > 10
    for found in zip(*map(allowances, listed), strict=True):
        rooms = [allowance.value for allowance in found]
        assert rooms == sorted(rooms)
