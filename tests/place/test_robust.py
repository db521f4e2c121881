"""``place --robust``: ranked by how many builds keep all, whatever else is the same."""

import dataclasses
import json

import numpy as np
import pytest
from search_spaces import ALL

from mountcalc.console.choices import Prefer
from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.travel import usable_travel
from mountcalc.pages.as_json import as_json
from mountcalc.place.page import place_text
from mountcalc.place.results import place_csv, whole_percent
from mountcalc.place.robust import BUILDS, kept_builds, ranked_by_builds
from mountcalc.place.search.search import find_layouts
from mountcalc.requirements.setting import gentlest_setting
from mountcalc.scenario.search import Search
from mountcalc.tolerance import WIDER, builds_of


@pytest.fixture(scope="module")
def search():
    scenario, space = ALL["cider"]()
    return Search(scenario, dataclasses.replace(space, samples=1024, seed=3))


@pytest.fixture(scope="module")
def found(search):
    return find_layouts(search, Prefer.FINE, 5)


@pytest.fixture(scope="module")
def ranked(found):
    return ranked_by_builds(found)


def test_the_share_of_builds_ranks(found, ranked):
    layouts = ranked.placement.layouts
    assert len(layouts) > 2
    shares = [one.builds.percent for one in layouts]
    assert shares == sorted(shares, reverse=True)
    assert shares[0] > shares[-1]
    assert [one.rank for one in layouts] == list(range(1, len(layouts) + 1))
    before = [dataclasses.replace(one, rank=0) for one in found.placement.layouts]
    after = [dataclasses.replace(one, rank=0, builds=None) for one in layouts]
    assert sorted(after, key=before.index) == before
    # Of the same share in whole per cents the one that led before leads.
    places = [(-share, before.index(one)) for share, one in zip(shares, after, strict=True)]
    assert places == sorted(places)


def test_scenarios_and_measures_go_along(ranked):
    for at, (layout, scenario) in enumerate(
        zip(ranked.placement.layouts, ranked.scenarios, strict=True)
    ):
        assert scenario.plate.hinge == pytest.approx(layout.hinge)
        assert ranked.measures.set_turns[at] == pytest.approx(layout.set_turns, abs=0.1)
        assert layout.builds == kept_builds(scenario, ranked.placement.seed)


def test_the_same_seed_gives_the_same_answer(found, ranked):
    again = ranked_by_builds(found)
    assert again.placement == ranked.placement
    other = dataclasses.replace(found.placement, seed=found.placement.seed + 1)
    others = ranked_by_builds(dataclasses.replace(found, placement=other)).placement.layouts
    kept = {one.hinge: one.builds.kept for one in ranked.placement.layouts}
    for one in others:  # within four deviations of a share of so many
        assert one.builds.kept == pytest.approx(kept[one.hinge], abs=2 * np.sqrt(2 / BUILDS))
    assert any(one.builds.kept != kept[one.hinge] for one in others)


def test_shares_are_those_of_builds_judged_one_by_one(ranked):
    """Some builds of the first layout by setting, belts' rooms by the plate's ends."""
    scenario, told = ranked.scenarios[0], ranked.placement.layouts[0].builds
    builds, opened, rooms = builds_of(scenario, BUILDS, ranked.placement.seed), [], []
    for row in range(25):
        one = builds.alone(row)
        opened.append(gentlest_setting(one).turns_min is not None)
        mount = Mount.of(one)
        travel = usable_travel(mount)
        ends = travel.slack_end.angle, travel.snug, travel.tight_end.angle
        rooms.append(np.diff([float(mount.path(at).center_distance) for at in ends]))
    assert np.mean(opened) == pytest.approx(told.open, abs=0.1)
    # Rooms as they are wanted of the drawing: what the layout was found with.
    drawn = Mount.of(scenario)
    angles = ranked.placement.layouts[0].plate_angles
    wanted = np.diff([float(drawn.path(at).center_distance)
                      for at in (angles.install, angles.snug, angles.take_up)])  # fmt: skip
    kept = np.mean(np.array(rooms) >= wanted - 2e-4, axis=0)
    assert kept == pytest.approx([told.goes_on, told.takes_up], abs=0.3)


def test_wider_stops_help_and_are_only_told(ranked):
    for scenario, layout in zip(ranked.scenarios, ranked.placement.layouts, strict=True):
        low, high = scenario.plate.travel
        travel = low - WIDER, high + WIDER
        wider = dataclasses.replace(
            scenario, plate=dataclasses.replace(scenario.plate, travel=travel)
        )
        again = kept_builds(wider, ranked.placement.seed)
        assert again.kept == pytest.approx(layout.builds.kept_wider, abs=0.01)
        assert layout.builds.kept_wider >= layout.builds.kept


def test_page_and_data_tell_it_only_where_it_is_asked_for(search, found, ranked):
    pages = [
        place_text(search, one.placement, one.scenarios[0], more=more)
        for one in (found, ranked) for more in (False, True)
    ]  # fmt: skip
    assert "builds" not in pages[0]
    assert "Builds:" not in pages[1]
    for page in pages[2:]:
        assert "Builds:" in page
        assert max(map(len, page.splitlines())) <= 80
        told = ranked.placement.layouts[0].builds
        text = " ".join(page.split())
        assert f"{told.percent} % keep all" in text
        assert f"{whole_percent(told.kept_wider)} % keep all; clearances" in text
    assert len(pages[2].splitlines()) <= 45
    plain, ranked_plain = (json.loads(as_json(one.placement)) for one in (found, ranked))
    assert plain["builds"] is None
    assert plain["layouts"][0]["builds_kept"] is None
    assert ranked_plain["builds"] == BUILDS
    assert ranked_plain["layouts"][0]["builds_kept"] == ranked.placement.layouts[0].builds.kept
    assert "builds_kept" in place_csv(ranked.placement).splitlines()[0]


def test_no_layouts_are_no_layouts_still():
    scenario, space = ALL["cider"]()
    space = dataclasses.replace(space, samples=256, plate_length=0.01)
    nothing = ranked_by_builds(find_layouts(Search(scenario, space), Prefer.FINE, 2))
    assert nothing.placement.layouts == ()
    assert nothing.placement.builds == BUILDS


def test_all_or_none_is_told_only_where_it_is():
    assert [whole_percent(share) for share in (0.0, 0.001, 0.5, 0.999, 1.0)] == [0, 1, 50, 99, 100]
