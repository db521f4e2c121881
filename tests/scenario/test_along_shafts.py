"""Where hinges, bolts and motor are along the shafts: what is read, taken and refused."""

import math

import pytest
from invented_scenarios import FULL, TWO_BOLTS, WEIGHT_ALONE, changed
from messages import told

from mountcalc.scenario.boards import board_sizes, evenly_spaced, hinge_leaves
from mountcalc.scenario.reader import parse_scenario

INCH = 0.0254
TWO = ('acts = "push"\n', f'acts = "push"\n{TWO_BOLTS}')


def placed(*middles):
    return "number = 2", f"across = [{', '.join(map(repr, middles))}]".replace("'", '"')


def test_two_bolts_stand_where_each_is_said_to_and_one_where_across_says():
    assert parse_scenario(changed(FULL, TWO)).adjuster.places == pytest.approx((-3 * INCH, 0.070))
    one = changed(FULL, ('acts = "push"\n', 'acts = "push"\nacross = "-1 in"\n'))
    assert parse_scenario(one).adjuster.places == pytest.approx((-INCH,))
    assert parse_scenario(FULL).adjuster.places == (0.0,)
    assert parse_scenario(WEIGHT_ALONE).adjuster.places == ()


def test_the_middle_of_two_bolts_is_where_the_adjuster_stands():
    assert parse_scenario(changed(FULL, TWO)).adjuster.across == pytest.approx(
        0.5 * (0.070 - 3 * INCH)
    )


def test_two_bolts_change_into_one_and_back():
    two = parse_scenario(changed(FULL, TWO))
    one = two.with_(adjuster={"across": 0.01})
    assert one.adjuster.places == (0.01,)
    again = one.with_(adjuster={"bolt": [{"across": -0.04}, {"across": 0.05}]})
    assert again.adjuster.places == (-0.04, 0.05)


def test_hinges_stand_where_they_are_said_to():
    sizes = board_sizes(parse_scenario(changed(FULL, placed("-2 1/4 in", "1 in"))))
    assert sizes.number == 2
    assert sizes.hinges == pytest.approx((-2.25 * INCH, INCH))
    for side in (1, -1):
        leaves = hinge_leaves(sizes, side)
        middles = sorted(side * (0.5 * (one.left + one.right) - 4 * INCH) for one in leaves)
        assert middles == pytest.approx(sizes.hinges)
        assert leaves[0].left < leaves[1].left


def test_hinges_that_are_not_placed_are_spread_over_the_width():
    sizes = board_sizes(parse_scenario(FULL))
    assert sizes.hinges == evenly_spaced(2, 3 * INCH, 8 * INCH)
    assert math.fsum(sizes.hinges) == pytest.approx(0.0)


@pytest.mark.parametrize(
    ("changes", "message"),
    [
        ((('acts = "push"\n', 'acts = "push"\n[[adjuster.bolt]]\nacross = "1 in"\n'),),
         "adjuster.bolt: exactly two [[adjuster.bolt]] wanted, found 1; one alone is put by "
         "adjuster.across"),
        ((TWO, ('across = "-3 in"', 'across = "70 mm"')),
         "adjuster.bolt[2].across: both bolts are at the same place"),
        ((('acts = "push"\n', f'acts = "push"\nacross = "1 in"\n{TWO_BOLTS}'),),
         "adjuster.across: leave it out: each [[adjuster.bolt]] has its own"),
        ((placed("1 in", "2 in"),),
         "hinge.across: hinges of 3 in (76.2 mm) there would overlap"),
        ((placed("2 in", "2 in"),),
         'hinge.across: each only once wanted, got "2 in" twice'),
        ((placed("-3 in", "2 in"),),
         "hinge.across: a hinge would stand beyond the plate of 8 in (203.2 mm)"),
        ((("number = 2", 'number = 2\nacross = ["2 in"]'),),
         "hinge.across: as many as hinge.number wanted, 2, got 1"),
        ((('frame = "56"', 'frame = "56"\nphases = 4'),),
         "motor.phases: whole number from 1 to 3 wanted, got 4"),
    ],
)  # fmt: skip
def test_what_cannot_stand_there_is_one_line(changes, message):
    assert told(changed(FULL, *changes)) == [message]


def test_no_adjuster_has_no_bolts():
    (line,) = told(WEIGHT_ALONE + '[[adjuster.bolt]]\nacross = "1 in"\n')
    assert line.startswith("adjuster.bolt: an adjuster of kind \"none\" has no 'bolt'")
