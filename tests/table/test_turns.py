"""Which rows a table has when nobody says."""

import numpy as np
import pytest
from setting_mounts import rigid

from mountcalc import parse_scenario, read_scenario
from mountcalc.errors import InputError
from mountcalc.pages.amounts import parse_turns
from mountcalc.requirements.requirements import requirements_of
from mountcalc.table import tension_table
from mountcalc.table.table import useful_turns


def test_parse_turns_is_exact_and_ends_at_b():
    assert list(parse_turns("0:1:1/3")) == pytest.approx([0, 1 / 3, 2 / 3, 1], abs=0)
    assert list(parse_turns("0:1:0.1"))[-1] == 1.0
    assert list(parse_turns("-1:0.5:1")) == [-1.0, 0.0, 0.5]
    assert list(parse_turns(" 2 ")) == [2.0]


def test_parse_turns_refuses_too_many():
    with pytest.raises(InputError, match="at most"):
        parse_turns("0:999999:0.0001")


def test_a_dozen_rows_from_zero_to_a_little_past_the_first_limit(scenario_file):
    scenario = read_scenario(scenario_file)
    table = tension_table(scenario)
    assert 1 <= len(table.rows) <= 13
    if table.tighten_by is None:
        return
    assert table.rows[0].turns == 0
    over = [row.turns for row in table.rows if row.worst_share_of_limit >= 1]
    last = table.rows[-1].turns
    assert over, "every scenario that ships reaches a limit"
    assert over[0] > 0
    assert last <= 1.35 * over[0] + (table.rows[1].turns if over[0] < 1 else 0.5)


def test_steps_are_those_of_a_hand(scenario_file):
    turns = useful_turns(read_scenario(scenario_file))
    if turns.size > 1:
        step = turns[1] - turns[0]
        assert np.allclose(np.diff(turns), step)
        assert 16 * step == pytest.approx(round(16 * step))


def test_limits_that_are_never_reached_end_with_the_travel(cider):
    text = cider.read_text().replace('"25 psi"', '"2500 psi"').replace('"50 psi"', '"5000 psi"')
    scenario = rigid(parse_scenario(text))
    requirements, turns = requirements_of(scenario), useful_turns(scenario)
    assert 2 <= turns.size <= 13
    assert turns[-1] <= requirements.last_turn
    assert np.all(requirements.worst(turns) < 1)


@pytest.mark.parametrize("turns", [[], [float("nan")], [float("inf")], ["x"], [[0, 1]], None])
def test_turns_in_the_library_are_checked(cider, turns):
    scenario = read_scenario(cider)
    if turns is None:
        assert tension_table(scenario, None).rows
        return
    with pytest.raises(InputError, match="turns"):
        tension_table(scenario, turns)
