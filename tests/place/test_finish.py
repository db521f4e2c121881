"""Which layouts at marks are solved at last, and what is said of those that are refused."""

import dataclasses
from types import SimpleNamespace

import numpy as np
import pytest
from search_spaces import ALL

from mountcalc.place.results import Prefer
from mountcalc.place.search import finish as finishing
from mountcalc.place.search.hunt import Hunt
from mountcalc.place.verify import Refusal
from mountcalc.scenario.search import Search


@pytest.fixture(scope="module")
def hunt():
    scenario, space = ALL["cider"]()
    search = Search(scenario, dataclasses.replace(space, samples=512))
    hunt = Hunt.of(search, Prefer.FINE)
    list(hunt.run())
    return hunt


def finished(hunt, monkeypatch, refusal):
    """What is told where every layout is refused, and which were solved."""
    tried = []

    def refused(_search, _layouts, _measures, index):
        tried.append(index)
        return (refusal,)

    monkeypatch.setattr(finishing, "verify", refused)
    told = finishing.finish(hunt.search, hunt.judge, hunt.marked, Prefer.FINE, 3)
    return SimpleNamespace(told=told, tried=tried)


def test_only_what_is_the_same_for_every_layout_is_of_the_mount(hunt, monkeypatch):
    done = finished(hunt, monkeypatch, Refusal("driven-speed", "too fast"))
    (why,) = done.told.refused_for_all
    assert why.sentence == "this is of the mount itself, whatever the layout: too fast"
    assert (len(done.tried), done.told.refused) == (3, ())


def test_the_same_words_of_layouts_are_not_of_the_mount_and_others_are_tried(hunt, monkeypatch):
    done = finished(hunt, monkeypatch, Refusal("keep-out:floor", "its bolt is too near to floor"))
    assert done.told.refused_for_all == ()
    (why,) = done.told.refused
    assert why.sentence.startswith("of layouts that passed all else")
    assert len(done.tried) == why.count >= 12


def test_near_twins_of_refused_layouts_are_not_solved(hunt, monkeypatch):
    done = finished(hunt, monkeypatch, Refusal("grip", "too little grip"))
    space = hunt.search.space
    ranked = hunt.marked.take(finishing.ranking(hunt.marked.goals, Prefer.FINE)).choices
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
    assert len(done.tried) < len(hunt.marked)
