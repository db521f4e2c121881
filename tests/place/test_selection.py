"""Which layouts at marks are solved at last, and what is said of those that are refused."""

import dataclasses
from types import SimpleNamespace

import numpy as np
import pytest
from search_spaces import ALL

from mountcalc.console.choices import Prefer
from mountcalc.place.search import search as finishing
from mountcalc.place.search.optimiser import Optimiser
from mountcalc.place.verify import Refusal
from mountcalc.scenario.search import Search


@pytest.fixture(scope="module")
def optimiser():
    scenario, space = ALL["cider"]()
    search = Search(scenario, dataclasses.replace(space, samples=512))
    optimiser = Optimiser.of(search, Prefer.FINE)
    list(optimiser.run())
    return optimiser


def finished(optimiser, monkeypatch, refusal):
    """What is told where every layout is refused, and which were solved."""
    tried = []

    def refused(_search, _layouts, _measures, index):
        tried.append(index)
        return (refusal,)

    monkeypatch.setattr(finishing, "verify", refused)
    selection = finishing.Selection.of(optimiser)
    selection.best(3)
    for_all, others = selection.refusals()
    return SimpleNamespace(for_all=for_all, others=others, tried=tried)


def test_only_what_is_the_same_for_every_layout_is_of_the_mount(optimiser, monkeypatch):
    done = finished(optimiser, monkeypatch, Refusal("driven-speed", "too fast"))
    (why,) = done.for_all
    assert why.sentence == "this is so whatever the layout: too fast"
    assert (len(done.tried), done.others) == (3, ())


def test_the_same_words_of_layouts_are_not_of_the_mount_and_others_are_tried(
    optimiser, monkeypatch
):
    done = finished(
        optimiser, monkeypatch, Refusal("keep-out:floor", "its bolt is too near to floor")
    )
    assert done.for_all == ()
    (why,) = done.others
    assert why.sentence.startswith("of layouts that passed all else")
    assert len(done.tried) == why.count >= 12


def test_near_twins_of_refused_layouts_are_not_solved(optimiser, monkeypatch):
    done = finished(optimiser, monkeypatch, Refusal("grip", "too little grip"))
    space = optimiser.search.space
    ranked = optimiser.on_grid.take(finishing.ranking(optimiser.on_grid.goals, Prefer.FINE)).choices
    for at, one in enumerate(done.tried):
        for other in done.tried[:at]:
            moved = [
                abs(getattr(ranked, name)[one] - getattr(ranked, name)[other])
                / np.ptp(getattr(space, name))
                for name in ("hinge_x", "hinge_y", "reach")
            ]
            height = abs(ranked.motor_height[one] - ranked.motor_height[other])
            tall = height / np.ptp(space.motor_height) / 5
            listed = any(
                getattr(ranked, name)[one] != getattr(ranked, name)[other]
                for name in ("kind", "acts", "side")
            )
            assert listed or max(*moved, tall) >= 0.01 - 1e-9
    assert len(done.tried) < len(optimiser.on_grid)
