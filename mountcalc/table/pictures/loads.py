"""Tension, shaft load and bearing loads against turns, with the limits drawn in."""

from __future__ import annotations

from matplotlib.figure import Figure

from mountcalc.scenario.model import Scenario
from mountcalc.table.pictures.bars import bars_figure
from mountcalc.table.pictures.curves import curves_figure
from mountcalc.table.results import TensionTable

__all__ = ["loads_figure"]


def loads_figure(scenario: Scenario, table: TensionTable) -> Figure:
    """Draw a tension table."""
    turns = [row.turns for row in table.rows if row.turns is not None]
    if len(turns) > 1:
        return curves_figure(scenario, table)
    return bars_figure(scenario, table)
