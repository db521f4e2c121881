"""The rows that a table has when nobody says reach past every setting and the first limit."""

import numpy as np
from hypothesis import given, settings
from hypothesis import strategies as st
from random_mounts import ADJUSTED, seeded_mount
from sizes import examples

from mountcalc.errors import MountError
from mountcalc.requirements.requirements import requirements_of
from mountcalc.requirements.setting import gentlest_setting
from mountcalc.table.table import useful_turns


@settings(max_examples=examples(25))
@given(st.integers(0, 10**6))
def test_rows_reach_past_every_setting_and_limit(seed):
    scenario = seeded_mount(seed, ADJUSTED)
    try:
        last = requirements_of(scenario).last_turn
        setting = gentlest_setting(scenario)
    except MountError:
        return
    turns = useful_turns(scenario)
    assert turns[0] == 0
    assert np.all(np.diff(turns) > 0)
    assert turns.size <= 15
    assert turns.size >= 8 or turns[-1] == last
    shown = [setting.turns_max, setting.set_turns, setting.new_turns]
    assert all(turn is None or turns[-1] > turn or turns[-1] == last for turn in shown)
