"""The pictures of one mount as PNG: computed on a fine grid of turns, then drawn."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

import numpy as np

from mountcalc.results.setting import Setting
from mountcalc.scenario.model import Scenario
from mountcalc.show.layout_plot import layout_figure
from mountcalc.show.loads_plot import loads_figure
from mountcalc.tasks.layout import mount_layout
from mountcalc.tasks.table import tension_table

if TYPE_CHECKING:
    from matplotlib.figure import Figure

__all__ = ["pictures", "setting_picture"]

_FINE = 161


def pictures(scenario: Scenario, turns: float | None = None) -> dict[str, bytes]:
    """PNG images by name.

    Parameters
    ----------
    scenario : Scenario
        The mount.
    turns : float [-], optional
        The other setting that the layout shows; by default about where the loads picture's
        range has its middle.

    Returns
    -------
    dict of str to bytes
        ``loads`` and ``layout``.
    """
    coarse = tension_table(scenario)
    shown = [row.turns for row in coarse.rows if row.turns is not None]
    if shown:
        fine = tension_table(scenario, np.linspace(shown[0], max(shown[-1], shown[0]), _FINE))
        other = turns if turns is not None else shown[len(shown) // 2]
    else:
        fine, other = coarse, 0.0
    return {
        "loads": _png(loads_figure(scenario, fine)),
        "layout": _png(layout_figure(mount_layout(scenario, other))),
    }


def _png(figure: Figure) -> bytes:
    stream = io.BytesIO()
    figure.savefig(stream, format="png")
    return stream.getvalue()


def setting_picture(scenario: Scenario, setting: Setting) -> bytes:
    """PNG image of a setting and the range around it.

    Parameters
    ----------
    scenario : Scenario
        The mount.
    setting : Setting
        Its setting.

    Returns
    -------
    bytes
        The image.
    """
    from mountcalc.show.setting_plot import setting_figure, setting_tables  # noqa: PLC0415

    return _png(setting_figure(scenario, setting, *setting_tables(scenario, setting)))
