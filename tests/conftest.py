"""What all tests share. Modules that several test files import stand in ``tests/helpers``.

Hypothesis has no deadlines here, and draws the same examples every time where ``CI`` is set.
"""

import functools
import os
import sys
from pathlib import Path
from typing import NamedTuple

import numpy as np
import pytest
import sizes
from hypothesis import HealthCheck, settings

from mountcalc.cli import main

SCENARIOS = Path(__file__).parents[1] / "scenarios"
FINE = 61

# Mounts are large, and a fixture of a test serves all its examples.
_NO_FAULTS = (
    HealthCheck.too_slow,
    HealthCheck.data_too_large,
    HealthCheck.function_scoped_fixture,
)
settings.register_profile(
    "ci", derandomize=True, database=None, deadline=None, suppress_health_check=_NO_FAULTS
)
settings.register_profile("bench", deadline=None, suppress_health_check=_NO_FAULTS)
settings.load_profile("ci" if os.environ.get("CI") else "bench")


def pytest_addoption(parser):
    parser.addoption("--full", action="store_true", help="long tests at their full size")


def pytest_configure(config):
    sizes.FULL = config.getoption("full")
    # Programs that tests start keep their compiled modules, as installed ones do: 0.2 s each.
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)


class Done(NamedTuple):
    code: int
    out: str
    err: str


@pytest.fixture
def mountcalc(monkeypatch, capsys):
    """Run the command line in this process; warnings are errors here."""

    def run(*arguments):
        monkeypatch.setattr(sys, "argv", ["mountcalc", *map(str, arguments)])
        with pytest.raises(SystemExit) as stop:
            main()
        captured = capsys.readouterr()
        return Done(int(stop.value.code or 0), captured.out, captured.err)

    return run


@pytest.fixture(params=sorted(SCENARIOS.glob("*.toml")), ids=lambda path: path.stem)
def scenario_file(request):
    return request.param


@pytest.fixture
def cider():
    return SCENARIOS / "cider-mill.toml"


@pytest.fixture(scope="session")
def population():
    """Mounts of fixed seeds with their tables, or with the refusal where there is none."""
    from population import solved_population

    return solved_population()


@pytest.fixture(scope="session")
def views():
    """Assembly and view along the shafts of a scenario file, by their names."""
    from mountcalc.draw.build import Build
    from mountcalc.draw.drawings import drawings_of
    from mountcalc.scenario.reader import read_scenario

    @functools.cache
    def drawn_views(scenario_file):
        found = drawings_of(Build(read_scenario(scenario_file)), ["assembly", "along-shafts"])
        return {view.name: view for view in found}

    return drawn_views


@pytest.fixture
def plain_names(monkeypatch, request):
    """Drawings are made without looking for places of their names."""
    from plain_names import place_plainly

    assert "views" not in request.fixturenames, "what is drawn now would be kept for other tests"
    place_plainly(monkeypatch)


@pytest.fixture(scope="session")
def drawn_loads():
    """The loads of a mount by its name, drawn once: (scenario, table, figure)."""
    from plot_mounts import MOUNTS

    from mountcalc.table.pictures import loads_figure
    from mountcalc.table.table import tension_table

    @functools.cache
    def draw(name):
        scenario = MOUNTS[name]
        table = tension_table(scenario)
        if len(table.rows) > 1:
            ends = table.rows[0].turns, table.rows[-1].turns
            table = tension_table(scenario, np.linspace(*ends, FINE))
        return scenario, table, loads_figure(scenario, table)

    return draw


@pytest.fixture(scope="session")
def drawn_layout():
    """The layout of a mount by its name, drawn once: (scenario, layout, figure)."""
    from plot_mounts import MOUNTS

    from mountcalc.layout.figure import layout_figure
    from mountcalc.layout.layout import mount_layout
    from mountcalc.table.table import tension_table

    @functools.cache
    def draw(name):
        scenario = MOUNTS[name]
        turns = [row.turns for row in tension_table(scenario).rows]
        layout = mount_layout(scenario, turns[len(turns) // 2] or 0.0)
        return scenario, layout, layout_figure(layout)

    return draw
