"""The pictures of one mount as files: computed on a fine grid of turns, then drawn."""

from __future__ import annotations

import numpy as np

from mountcalc.layout.layout import mount_layout
from mountcalc.pages.own_settings import image_of, own_settings
from mountcalc.scenario.model import Scenario
from mountcalc.table import tension_table

__all__ = [
    "pictures",
]

_FINE = 161


def pictures(scenario: Scenario, turns: float | None = None) -> dict[str, bytes]:
    """PNG images by name."""
    coarse = tension_table(scenario)
    shown = [row.turns for row in coarse.rows if row.turns is not None]
    if shown:
        fine = tension_table(scenario, np.linspace(shown[0], max(shown[-1], shown[0]), _FINE))
        other = turns if turns is not None else shown[len(shown) // 2]
    else:
        fine, other = coarse, 0.0
    layout = mount_layout(scenario, other)
    with own_settings():
        from mountcalc.layout.plot import layout_figure  # noqa: PLC0415
        from mountcalc.table import loads_figure  # noqa: PLC0415

        return {
            "loads": image_of(loads_figure(scenario, fine)),
            "layout": image_of(layout_figure(layout)),
        }
