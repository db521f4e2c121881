"""What is said of the reasons: counted, not guessed; a lifted constraint is no reason any more."""

import dataclasses
import math
import re

import numpy as np
import pytest
from search_grounds import search_of
from search_spaces import ALL, why_not
from sizes import size

from mountcalc.place.feasible.feasibility import Feasibility
from mountcalc.place.feasible.layouts import DIMENSIONS
from mountcalc.place.feasible.reasons import Reason, reason_name
from mountcalc.place.search.optimiser import points
from mountcalc.place.search.relaxation import reasons_of, relaxations_of
from mountcalc.scenario.search import Action, MotorSide, Search

TRIED, MANY = 2048, size(8192, 2048)


@pytest.fixture(autouse=True, scope="module")
def few():
    """As many layouts are judged again as by a user's search."""


def searched(name):
    return search_of() if name == "grounds" else Search(*ALL[name]())


def counts_of(search, tried=TRIED):
    unit = points(0, tried, len(DIMENSIONS), search.space.seed)
    codes = Reason.KEEP_OUT + len(search.space.keep_outs)
    return np.bincount(Feasibility.of(search).samples(unit).reason, minlength=codes)


LIFTED = {
    Reason.MOTOR_SIDE: ("grindstone", 'motor_side = "either"'),
    Reason.DEAD_CENTRE: ("lathe", "leverage = 0"),
    Reason.THREAD_LENGTH: ("grindstone", "any thread_length"),
    Reason.ADJUSTER_LOAD: ("heavy", "an adjuster that carries any load"),
    Reason.HINGE_LOAD: ("heavy", "a hinge that carries any load"),
    Reason.BEARING: ("press", "bearings that carry any load"),
    Reason.MOTOR_IN_THE_WAY: ("cider", "bolt_beside_motor = true"),
}


@pytest.mark.parametrize("reason", LIFTED)
def test_a_reason_goes_when_its_constraint_is_lifted(reason):
    name, told = LIFTED[reason]
    search = searched(name)
    # A face_offset suits plates on one side of their motors only.
    search = dataclasses.replace(search, space=dataclasses.replace(search.space, face_offset=None))
    tried = size(16384, 4096)
    before = counts_of(search, tried)
    assert before[reason] > 0
    relaxation = next(
        relaxation for relaxation in relaxations_of(search) if relaxation.text == told
    )
    assert reason in relaxation.reasons
    after = counts_of(relaxation.search, tried)
    assert after[reason] == 0
    assert after[Reason.FEASIBLE] >= before[Reason.FEASIBLE]


@pytest.mark.parametrize("index", [0, 1, 3])  # the third is far from most
def test_a_keep_out_that_is_out_of_the_way_is_no_reason(index):
    search = searched("grounds")
    # Keep-outs are asked last: what else is in the way would hide them.
    space = dataclasses.replace(search.space, bolt_beside_motor=True)
    search = dataclasses.replace(search, space=space)
    gone = search.space.keep_outs[index]
    before = counts_of(search, MANY)
    assert before[Reason.KEEP_OUT + index] > 0
    relaxation = next(
        one for one in relaxations_of(search) if f'"{gone.name}" out of the way' in one.text
    )
    assert relaxation.reasons == {Reason.KEEP_OUT + index}
    left = relaxation.search.space.keep_outs
    assert left == tuple(one for one in search.space.keep_outs if one is not gone)
    # Feasible again: what is before it in order fails as before; what it stood for will do or
    # fails by what follows.
    after = counts_of(relaxation.search, MANY)
    ahead = Reason.KEEP_OUT + index
    np.testing.assert_array_equal(after[1:ahead], before[1:ahead])
    assert np.all(after[ahead:] >= before[ahead + 1 :])
    assert after[Reason.FEASIBLE] > before[Reason.FEASIBLE]
    freed = (after[ahead:] - before[ahead + 1 :]).sum() + after[0] - before[0]
    assert freed == before[ahead]
    named = Feasibility.of(relaxation.search).samples(
        points(0, MANY, len(DIMENSIONS), search.space.seed)
    )
    assert f"keep_out:{gone.name}" not in why_not(named, left)


def test_a_longer_plate_weighs_no_more_for_its_length():
    search = searched("grindstone")
    longer = next(one for one in relaxations_of(search) if "plate_length" in one.text).search
    per_length = search.scenario.plate.weight / search.space.plate_length
    assert longer.scenario.plate.weight / longer.space.plate_length == pytest.approx(per_length)
    before, after = counts_of(search), counts_of(longer)
    assert after[Reason.PLATE_LENGTH] < before[Reason.PLATE_LENGTH]


def test_ranges_are_widened_to_one_side_and_stay_lengths():
    search = searched("grindstone")
    widened = {}
    for relaxation in relaxations_of(search):
        name = relaxation.text.split(" from ")[0]
        if name in {"hinge_x", "hinge_y", "reach", "motor_height"}:
            widened.setdefault(name, []).append(getattr(relaxation.search.space, name))
    assert set(widened) == {"hinge_x", "hinge_y", "reach", "motor_height"}
    for name, ((less, high), (low, more)) in widened.items():
        assert (low, high) == getattr(search.space, name)
        assert less < low
        assert more == pytest.approx(2 * high - low)
        assert less > 0 or name.startswith("hinge")


@pytest.mark.parametrize("name", ["grounds", "grindstone", "heavy"])
def test_the_numbers_that_are_told_are_those_of_a_recount(name):
    search = searched(name)
    counts = counts_of(search)
    told, notes = reasons_of(search, counts)
    assert notes == ()
    names = [reason_name(code, search.space.keep_outs) for code in range(1, len(counts))]
    assert {why.reason: why.count for why in told} == {
        key: count for key, count in zip(names, counts[1:], strict=True) if count
    }
    pattern = re.compile(r"; with (.+) ([\d,]+) of ([\d,]+) will do, not ([\d,]+)$")
    advised = [match for why in told if (match := pattern.search(why.sentence))]
    assert len(advised) >= 3
    assert len({match[1] for match in advised}) == len(advised)
    for match in advised[:4]:
        relaxation = next(one for one in relaxations_of(search) if one.text == match[1])
        after = counts_of(relaxation.search)
        numbers = [int(text.replace(",", "")) for text in match.groups()[1:]]
        assert numbers == [after[Reason.FEASIBLE], TRIED, counts[Reason.FEASIBLE]]
        assert after[Reason.FEASIBLE] > counts[Reason.FEASIBLE]


def test_where_one_thing_is_in_the_way_it_is_named_with_what_it_lets_through():
    search = searched("grindstone")
    space = dataclasses.replace(search.space, thread_length=1e-3)
    search = dataclasses.replace(search, space=space)
    counts = counts_of(search, 8192)
    assert counts[Reason.FEASIBLE] == 0
    _, (note,) = reasons_of(search, counts)
    free = dataclasses.replace(search, space=dataclasses.replace(space, thread_length=math.inf))
    through = counts_of(free, 8192)[Reason.FEASIBLE]
    assert through > 0
    assert note.startswith("No layout will do as it is. Of 8,192 tried again")
    assert f"{through:,} with any thread_length" in note


def test_where_two_things_are_in_the_way_no_single_one_is_promised():
    search = searched("grindstone")
    space = dataclasses.replace(
        search.space,
        thread_length=1e-3,
        plate_length=0.06,
        acts=tuple(Action),
        motor_side=MotorSide.EITHER,
    )
    search = dataclasses.replace(search, space=space)
    counts = counts_of(search)
    _, (note,) = reasons_of(search, counts)
    assert "more than one is in the way" in note
