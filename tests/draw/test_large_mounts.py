"""What is large is refused in one line or drawn in bounded memory."""

import dataclasses
import tracemalloc

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from hypothesis.extra.numpy import arrays
from sizes import examples

from mountcalc.drafting.names.choice import LineMap
from mountcalc.draw.build import Build
from mountcalc.draw.drawings import DRAWINGS, drawings_of
from mountcalc.errors import MountError
from mountcalc.scenario.reader import read_scenario

CIDER = read_scenario("scenarios/cider-mill.toml")
COORDINATES = st.floats(-1e4, 1e4, width=32)


def moved(part, **places):
    return dataclasses.replace(CIDER, **{part: dataclasses.replace(getattr(CIDER, part), **places)})


def with_bearing(**changes):
    first, second = CIDER.driven.bearings
    return moved("driven", bearings=(first, dataclasses.replace(second, **changes)))


def with_parts(part, **changes):
    found = dataclasses.replace(getattr(CIDER.parts, part), **changes)
    return dataclasses.replace(CIDER, parts=dataclasses.replace(CIDER.parts, **{part: found}))


@pytest.mark.parametrize(
    ("scenario", "key"),
    [
        (moved("driven", shaft=(11.0, 0.0)), "driven.shaft"),
        (moved("driven", pulley_radius=9.6), "driven.pulley_diameter"),
        (moved("motor", shaft=(0.0, -12.0)), "motor.shaft"),
        (moved("motor", pulley_radius=1e4), "motor.pulley_diameter"),
        (moved("adjuster", tip=(0.0, 1e4)), "adjuster.tip"),
        (moved("driven", pulley_position=-10.1), "driven.pulley_position"),
        (with_bearing(position=1e4), "driven.bearing[1].position"),
        (with_bearing(journal_diameter=1e4), "driven.bearing[0].journal_diameter"),
        (with_parts("base", floor=-1e4), "base.floor"),
        (with_parts("along", motor_pulley=12.0), "motor.pulley_position"),
        (with_parts("guard", position=12.0), "guard.position"),
        (moved("belt", width=1.1), "belt.width"),
    ],
)
@pytest.mark.parametrize("name", DRAWINGS)
def test_a_mount_that_is_too_large_is_one_line_that_names_the_key(scenario, key, name):
    with pytest.raises(MountError, match=r" m \([0-9.e+]+ ft\)") as told:
        drawings_of(Build(scenario), [name])
    assert told.value.key == key


@settings(deadline=None, max_examples=examples(40, 8))
@given(arrays(float, (7, 4), elements=COORDINATES), st.floats(1.0, 9.0))
def test_a_map_of_any_size_stays_small_and_finds_every_line(lines, weight):
    tracemalloc.start()
    layer = LineMap.of(lines, np.full(len(lines), weight))
    most = tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert most < 600e6
    assert layer.sums.size < 9e6  # a level line has two rows of corners
    lengths = np.hypot(lines[:, 2] - lines[:, 0], lines[:, 3] - lines[:, 1])
    assert layer.sums[-1, -1] == pytest.approx(weight * lengths.sum(), rel=1e-9)
    middles = 0.5 * (lines[:, :2] + lines[:, 2:])
    around = np.column_stack([middles - layer.cell, middles + layer.cell])
    assert (layer.under(around)[lengths > 0.01] > 0.0).all()


def test_a_map_of_a_bench_sheet_has_the_finest_cells():
    lines = np.array([[0.0, 0.0, 0.9, 0.0], [0.9, 0.0, 0.9, 0.9]])
    assert LineMap.of(lines, np.ones(2)).cell == 0.0005
    assert LineMap.of(3.0 * lines, np.ones(2)).cell > 0.0005
