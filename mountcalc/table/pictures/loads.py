"""Tension, shaft load and bearing loads against turns, with the limits drawn in."""

from __future__ import annotations

from matplotlib.figure import Figure

from mountcalc.scenario.model import Scenario
from mountcalc.table.pictures.bars import bars_figure
from mountcalc.table.pictures.curves import curves_figure
from mountcalc.table.results import TensionTable

__all__ = ["loads_figure"]


def loads_figure(scenario: Scenario, table: TensionTable) -> Figure:
    """Draw a tension table.

    Parameters
    ----------
    scenario : Scenario
        The mount, for its limits and display units.
    table : TensionTable
        From :func:`mountcalc.table.table.tension_table`, best on a fine grid of turns.

    Returns
    -------
    Figure
        Curves over turns; bars where there is a single setting (or no adjuster).
    """
    turns = [row.turns for row in table.rows if row.turns is not None]
    if len(turns) > 1:
        return curves_figure(scenario, table)
    return bars_figure(scenario, table)
