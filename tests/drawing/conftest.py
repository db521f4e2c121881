"""Views of the shipped mounts are drawn once for all tests of a process."""

import functools

import pytest

from mountcalc.draw.drawings import drawings_of
from mountcalc.scenario.reader import read_scenario


@pytest.fixture(scope="session")
def views():
    """Assembly and view along the shafts of a scenario file, by their names."""

    @functools.cache
    def drawn(scenario_file):
        names = ["assembly", "along-shafts"]
        found = drawings_of(read_scenario(scenario_file), names)
        return {view.name: view for view in found}

    return drawn
