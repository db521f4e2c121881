"""A load that sits on the driven pulley has no place of its own: it goes where the pulley goes."""

from dataclasses import replace

import pytest
from invented_scenarios import JACK_IN_BASE, changed
from messages import told

from mountcalc.check.changes import loads_elsewhere, nearer_pulley
from mountcalc.scenario.driven import LoadPlace
from mountcalc.scenario.reader import parse_scenario
from mountcalc.scenario.writer import scenario_text

LOAD = 'position = "7 in"'
ON = 'on = "pulley"'


def with_load(*lines):
    return changed(JACK_IN_BASE, (LOAD, "\n".join(lines)))


def test_a_load_on_the_pulley_is_where_the_pulley_is():
    scenario = parse_scenario(with_load(ON))
    (load,) = scenario.driven.loads
    assert load.on is LoadPlace.PULLEY
    assert load.position == scenario.driven.pulley_position != 0
    own = parse_scenario(with_load('position = "-3 in"', ON))  # the pulley's own place
    assert own == scenario


def test_it_is_written_as_it_was_read():
    scenario = parse_scenario(with_load(ON))
    text = scenario_text(scenario)
    assert 'on = "pulley"' in text
    assert parse_scenario(text).driven.loads == scenario.driven.loads


@pytest.mark.parametrize(
    ("lines", "wanted"),
    [
        (
            (),
            'driven.load[1].position: missing: length wanted (such as "14 1/2 in" or "370 mm"), '
            'its place along the shaft, or else on = "pulley"',
        ),
        (
            (LOAD, ON),
            'driven.load[1].position: leave it out: on = "pulley" puts the load where '
            "pulley_position is",
        ),
        (('on = "shaft"',), 'driven.load[1].on: "pulley" wanted, got "shaft"'),
    ],
)
def test_a_load_without_a_place_or_with_two(lines, wanted):
    assert told(with_load(*lines)) == [wanted]


def test_the_pulley_takes_its_weight_along():
    """A pulley that hangs out 3 in and comes half-way to its bearing."""
    scenario = parse_scenario(with_load(ON))
    changed_to = nearer_pulley(scenario, 0.0).scenario.driven
    assert changed_to.loads[0].position == changed_to.pulley_position
    assert changed_to.pulley_position == pytest.approx(0.5 * scenario.driven.pulley_position)
    apart = parse_scenario(with_load(LOAD))
    assert nearer_pulley(apart, 0.0).scenario.driven.loads == apart.driven.loads


def test_a_load_on_the_pulley_is_not_moved_by_itself():
    scenario = parse_scenario(with_load(ON))
    free = replace(scenario, may_change=replace(scenario.may_change, loads=True))
    assert loads_elsewhere(free, 0.0) is None
