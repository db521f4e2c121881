"""Tables of random mounts, for tests that have nothing to say about mounts that are refused."""

from __future__ import annotations

from collections.abc import Sequence

from hypothesis import reject
from random_mounts import TURNS

from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.solve import Cases, SolvedMount, solve_mount
from mountcalc.equilibrium.states import State
from mountcalc.errors import MountError
from mountcalc.scenario.model import Scenario
from mountcalc.table.results import TensionTable
from mountcalc.table.table import tension_table

__all__ = ["RESTING", "solved_or_other", "table_or_other"]

RESTING = (State.HELD, State.RIDING)


def table_or_other(scenario: Scenario, turns: Sequence[float] = TURNS) -> TensionTable:
    """The table, or another example where the mount has no zero."""
    try:
        return tension_table(scenario, turns)
    except MountError:
        reject()


def solved_or_other(scenario: Scenario) -> tuple[SolvedMount, Cases]:
    """The solver's own view of the same rows, or another example."""
    try:
        solved = solve_mount(Mount.of(scenario))
        return solved, solved.cases(solved.place(TURNS))
    except MountError:
        reject()
