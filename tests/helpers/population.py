"""A fixed population of random mounts, solved once for all tests that look at it."""

from __future__ import annotations

from dataclasses import dataclass

from random_mounts import TURNS, seeded_mount

from mountcalc.errors import MountError
from mountcalc.scenario.model import Scenario
from mountcalc.table.results import TensionTable
from mountcalc.table.table import tension_table

__all__ = ["SEEDS", "Solved", "solved_population"]

# The seeds above a hundred were looked for: mounts that tighten themselves without end.
SEEDS = (*range(100), 103, 106, 385, 1091)


@dataclass(frozen=True)
class Solved:
    """A mount, and its table or the text of its refusal."""

    scenario: Scenario
    table: TensionTable | None
    refusal: str


def solved_population() -> dict[int, Solved]:
    """By seed."""
    return {seed: _solved(seeded_mount(seed)) for seed in SEEDS}


def _solved(scenario: Scenario) -> Solved:
    try:
        return Solved(scenario, tension_table(scenario, TURNS), "")
    except MountError as error:
        return Solved(scenario, None, str(error))
