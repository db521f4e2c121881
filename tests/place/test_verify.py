"""The final word on one layout: install and take-up lie in the travel that the solver uses."""

import dataclasses

import numpy as np
import pytest
from search_spaces import cider

from mountcalc.place.feasible.drives import belt_room, drives_of
from mountcalc.place.feasible.feasibility import Feasibility
from mountcalc.place.feasible.layouts import DIMENSIONS
from mountcalc.place.verify import Verified, verify
from mountcalc.scenario.search import Search


@pytest.fixture(scope="module")
def found():
    scenario, space = cider()
    points = np.random.default_rng(2).random((400, len(DIMENSIONS)))
    room = belt_room(scenario, space)
    judged = Feasibility(scenario, space, drives_of(scenario, space, *room)).samples(points)
    return Search(scenario, space), judged


def holding(found):
    """The first layout that holds."""
    search, judged = found
    for index in range(len(judged.kept)):
        if isinstance(verify(search, judged.layouts, judged.measures, index), Verified):
            return index
    raise AssertionError("none holds")


@pytest.mark.parametrize("end", ["install", "take_up"])
def test_what_the_solver_cuts_off_is_refused(found, end):
    search, judged = found
    index = holding(found)
    # Past a right angle no jack bears, and past a line with both shafts no plate tightens.
    angles = getattr(judged.measures, end).copy()
    angles[index] = np.copysign(2.5, angles[index] - judged.measures.snug[index])
    measures = dataclasses.replace(judged.measures, **{end: angles})
    answer = verify(search, judged.layouts, measures, index)
    assert not isinstance(answer, Verified)
    told = [one for one in answer if one.name == "travel"]
    assert len(told) == 1
    assert "cannot be used: there" in told[0].sentence


def test_a_set_point_that_the_solver_does_not_find_is_refused(found):
    """As it was searched, before it is rounded to what a hand reads."""
    search, judged = found
    index = holding(found)
    turns = judged.measures.set_turns.copy()
    turns[index] += 1e-5 * max(turns[index], 1.0)
    measures = dataclasses.replace(judged.measures, set_turns=turns)
    answer = verify(search, judged.layouts, measures, index)
    assert not isinstance(answer, Verified)
    assert [one.name for one in answer] == ["setting"]


def test_one_travel_is_told_and_a_bolt_that_gives_needs_more_thread(found):
    search, judged = found
    index = holding(found)
    sought = float(judged.measures.bolt_travel[index])
    rigid = verify(search, judged.layouts, judged.measures, index)
    assert rigid.placed.bolt_travel == pytest.approx(sought, rel=2e-3)  # points are rounded
    adjuster = dataclasses.replace(search.scenario.adjuster, spring=30e3)
    gives = dataclasses.replace(search.scenario, adjuster=adjuster)
    told = verify(
        dataclasses.replace(search, scenario=gives), judged.layouts, judged.measures, index
    )
    assert told.placed.bolt_travel != pytest.approx(sought, rel=2e-2)
    for thread, names in ((1e-6, []), (-1e-6, ["thread_length"])):
        space = dataclasses.replace(search.space, thread_length=told.placed.bolt_travel + thread)
        answer = verify(Search(gives, space), judged.layouts, judged.measures, index)
        assert ([] if isinstance(answer, Verified) else [one.name for one in answer]) == names
