"""The pictures of one mount as files: computed on a fine grid of turns, then drawn."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np

from mountcalc.layout.layout import mount_layout
from mountcalc.pages.own_settings import image_of, own_settings
from mountcalc.scenario.model import Scenario
from mountcalc.table import tension_table

if TYPE_CHECKING:
    from matplotlib.figure import Figure

__all__ = ["figures", "pictures"]

_FINE = 161


def figures(scenario: Scenario, turns: float | None = None) -> dict[str, Figure]:
    """Figures by name."""
    coarse = tension_table(scenario)
    shown = [row.turns for row in coarse.rows if row.turns is not None]
    if shown:
        fine = tension_table(scenario, np.linspace(shown[0], max(shown[-1], shown[0]), _FINE))
        other = turns if turns is not None else shown[len(shown) // 2]
    else:
        fine, other = coarse, 0.0
    layout = mount_layout(scenario, other)
    with own_settings():
        from mountcalc.layout.figure import layout_figure  # noqa: PLC0415
        from mountcalc.table import loads_figure  # noqa: PLC0415

        return {"loads": loads_figure(scenario, fine), "layout": layout_figure(layout)}


def pictures(scenario: Scenario, turns: float | None = None) -> dict[str, bytes]:
    """PNG images by name."""
    with own_settings():
        return {name: image_of(figure) for name, figure in figures(scenario, turns).items()}
