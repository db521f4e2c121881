"""Pictures of many builds: what is drawn is what was found, and all of it can be read."""

import numpy as np
import pytest
from plot_mounts import MOUNTS, SHIPPED, assert_readable, by_gid, shown_texts
from sizes import size

import mountcalc
from mountcalc.tolerance.pictures import tolerance_figure
from mountcalc.tolerance.tolerance import tolerance
from mountcalc.units import si_factor

ODD = ["clockwise metric", "odd names"]
DRAWN = size([*SHIPPED, *ODD], ["cider-mill", "forge-blower", "grindstone", "job-press", *ODD])


@pytest.fixture(scope="module", params=DRAWN)
def drawn(request):
    scenario = MOUNTS[request.param]
    found = tolerance(scenario, 200, 2)
    return scenario, found, tolerance_figure(scenario, found)


def test_all_of_it_can_be_read(drawn):
    assert_readable(drawn[2])


def test_bands_are_those_of_the_rows(drawn):
    scenario, found, figure = drawn
    force = si_factor("lbf" if scenario.display == "inch" else "N")
    for percent in (5, 50, 95):
        lines = by_gid(figure, f"p{percent}")
        assert len(lines) == bool(found.rows)
        for line in lines:
            turns, tensions = line.get_data()
            assert list(turns) == [row.turns for row in found.rows]
            wanted = [getattr(row, f"tension_p{percent}") for row in found.rows]
            assert np.asarray(tensions) * force == pytest.approx(np.array(wanted))
    set_lines = by_gid(figure, "line set")
    assert [line.get_xdata()[0] for line in set_lines] == (
        [] if found.set_turns is None or not found.rows else [found.set_turns]
    )


def test_bars_are_the_shares_and_add_up(drawn):
    _, found, figure = drawn
    heights = sorted(
        patch.get_height() for bar in by_gid(figure, "bar") for patch in [bar] if patch.get_width()
    )
    asked = [
        [getattr(one, f"{answer}_share") or 0.0 for one in found.shares]
        for answer in ("snug_turns", "tension_per_turn", "set_tension")
    ]
    answers = sum(1 for shares in asked if any(shares))
    assert sum(heights) == pytest.approx(100 * answers, abs=1.0 * answers)
    for shares in asked:
        if any(shares):
            assert any(height == pytest.approx(100 * max(shares)) for height in heights)
    told = {text.get_text() for text, _ in shown_texts(figure)}
    assert ("tension by weight" in told) == (found.zero is None)


def test_the_library_draws_what_the_command_draws(drawn):
    scenario, _, figure = drawn
    again = mountcalc.plot_tolerance(scenario, builds=200, seed=2)
    said = [[text.get_text() for text, _ in shown_texts(one)] for one in (figure, again)]
    assert said[0] == said[1]
