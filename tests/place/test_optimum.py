"""The best layout is honest: no fixed grid finds a better one; more samples are never worse."""

import dataclasses
import itertools
from functools import lru_cache

import numpy as np
import pytest
from search_grounds import search_of
from search_spaces import ALL
from sizes import size

from mountcalc.console.choices import Prefer
from mountcalc.place.as_scenario import as_scenario
from mountcalc.place.feasible.feasibility import Feasibility
from mountcalc.place.feasible.layouts import DIMENSIONS
from mountcalc.place.search.objective import GOALS, beats, goals_of, ranking
from mountcalc.place.search.optimiser import Optimiser
from mountcalc.requirements.requirements import requirements_of
from mountcalc.scenario.model import AdjusterKind
from mountcalc.scenario.search import Action, Search

# A grid layout may be better by this, for the answer is rounded to marks.
BETTER = 0.02
GRID = {
    "hinge_x": size(40, 18),
    "hinge_y": size(40, 18),
    "reach": size(12, 8),
    "motor_height": size(4, 3),
}
SAMPLES = size(8192, 1024)
HALVES = ("motor_side", "adjuster")
COLUMN = {Prefer.FINE: 0, Prefer.COMPACT: 4, Prefer.LIGHT_BOLT: 3}
SOLVED = size(60, 15)
# What makes no difference besides: newtons at the bolt, where the best has next to none.
NOTHING = {Prefer.FINE: 0.0, Prefer.COMPACT: 0.0, Prefer.LIGHT_BOLT: 5.0}


def open_ground():
    scenario, space = ALL["cider"]()
    return Search(scenario, one_way(space))


def kept_ground():
    search = search_of()
    return dataclasses.replace(search, space=one_way(search.space))


def one_way(space):
    return dataclasses.replace(
        space,
        kinds=(AdjusterKind.JACK_IN_BASE,),
        acts=(Action.PUSH, Action.HOLD_BACK),
        threads=space.threads[:1],
        samples=SAMPLES,
        seed=3,
    )


PLACES = {"open": open_ground, "kept": kept_ground}


def grid():
    """Every combination, the ends of the ranges among them."""
    axes = {name: np.linspace(0.0, 1.0, count) for name, count in GRID.items()}
    axes |= {name: np.array([0.25, 0.75]) for name in HALVES}
    mesh = np.stack(np.meshgrid(*axes.values(), indexing="ij"), axis=-1).reshape(-1, len(axes))
    unit = np.zeros((len(mesh), len(DIMENSIONS)))
    for at, name in enumerate(axes):
        unit[:, DIMENSIONS.index(name)] = mesh[:, at]
    return unit


@lru_cache(maxsize=8)
def optimised(place, prefer):
    optimiser = Optimiser.of(PLACES[place](), prefer)
    assert list(optimiser.run())[-1] == 1.0
    assert optimiser.tried == SAMPLES
    return optimiser


@lru_cache(maxsize=2)
def judged_grid(place):
    """What the judge says of the grid, and the goals of its layouts that will do."""
    judged = Feasibility.of(PLACES[place]()).samples(grid())
    return judged, goals_of(judged)


def best(optimiser):
    return optimiser.on_grid.goals[ranking(optimiser.on_grid.goals, optimiser.prefer)[0]]


@pytest.mark.parametrize(
    ("place", "prefer"),
    size(
        list(itertools.product(PLACES, Prefer)),
        [("open", Prefer.FINE), ("kept", Prefer.COMPACT)],
    ),
)
def test_no_grid_finds_a_layout_that_is_better_by_more_than_rounding(place, prefer):
    found = best(optimised(place, prefer))
    _, goals = judged_grid(place)
    column = COLUMN[prefer]
    bound = found.copy()
    bound[column] *= 1 - BETTER
    assert not np.any(beats(goals, np.broadcast_to(bound, goals.shape), prefer))
    # The grid is fine enough to say so: it comes near the answer.
    near = found.copy()
    near[column] += max(0.15 * found[column], NOTHING[prefer])
    assert np.any(beats(goals, np.broadcast_to(near, goals.shape), prefer))


@pytest.mark.parametrize("place", size(list(PLACES), ["open"]))
def test_the_solver_knows_nothing_better_among_the_best_of_a_grid(place):
    """Tension per turn of grid layouts by the ordinary solver, not by the fast judge."""
    optimiser = optimised(place, Prefer.FINE)
    judged, goals = judged_grid(place)
    good = ranking(goals, Prefer.FINE)[:SOLVED]
    assert len(good) == SOLVED
    scenario, space = optimiser.search.scenario, optimiser.search.space
    layouts, measures = judged.layouts.take(good), judged.measures.take(good)
    for index in range(len(good)):
        swing = float(measures.install[index]), float(measures.take_up[index])
        requirements = requirements_of(as_scenario(scenario, space, layouts, index, swing))
        turns = measures.set_turns[index] + np.array([-1e-4, 1e-4])
        low, high = requirements.tension(turns)
        assert (high - low) / 2e-4 >= best(optimiser)[0] * (1 - BETTER)


@pytest.mark.parametrize(
    ("place", "prefer", "seed"),
    [
        ("open", Prefer.FINE, 1),
        ("open", Prefer.LIGHT_BOLT, 2),
        ("kept", Prefer.COMPACT, 3),
        ("kept", Prefer.FINE, 4),
    ][:: size(1, 2)],
)
def test_more_samples_are_never_worse(place, prefer, seed):
    search = PLACES[place]()
    samples = size(6000, 600)
    space = dataclasses.replace(search.space, samples=samples, seed=seed)
    optimiser = Optimiser.of(dataclasses.replace(search, space=space), prefer)
    answers = {}
    for _ in optimiser.run():
        answers[optimiser.tried] = (
            best(optimiser) if len(optimiser.on_grid) else np.full(len(GOALS), np.inf)
        )
    assert list(answers) == [*(2**power for power in range(8, 13) if 2**power < samples), samples]
    assert np.isfinite(answers[samples][0])
    for fewer, more in itertools.pairwise(answers.values()):
        assert not beats(fewer, more, prefer)


@pytest.mark.parametrize("place", size(list(PLACES), ["open"]))
def test_what_is_tried_first_does_not_depend_on_what_follows(place):
    search = PLACES[place]()
    few = dataclasses.replace(search, space=dataclasses.replace(search.space, samples=1500))
    short, long = Optimiser.of(few, Prefer.FINE), Optimiser.of(search, Prefer.FINE)
    states = [
        next(optimiser.on_grid for _ in optimiser.run() if optimiser.tried == 1024)
        for optimiser in (short, long)
    ]
    assert len(states[0]) > 10
    np.testing.assert_array_equal(states[0].goals, states[1].goals)
    np.testing.assert_array_equal(states[0].choices.reach, states[1].choices.reach)
