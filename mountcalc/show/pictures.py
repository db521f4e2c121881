"""The pictures of one mount as PNG: computed on a fine grid of turns, then drawn."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

import numpy as np

from mountcalc.errors import MountError
from mountcalc.results import Setting, TensionTable
from mountcalc.scenario.model import Scenario
from mountcalc.show.layout_plot import layout_figure
from mountcalc.show.loads_plot import loads_figure
from mountcalc.tasks.layout import mount_layout
from mountcalc.tasks.table import tension_table

if TYPE_CHECKING:
    from matplotlib.figure import Figure

__all__ = ["pictures", "setting_picture"]

_FINE = 161
_PAST_RANGE = 1.15


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
    from mountcalc.show.setting_plot import setting_figure  # noqa: PLC0415

    return _png(setting_figure(scenario, setting, _setting_table(scenario, setting)))


def _setting_table(scenario: Scenario, setting: Setting) -> TensionTable:
    """A fine table from zero to past the range, or what is useful where there is none."""
    coarse = tension_table(scenario)
    shown = [row.turns for row in coarse.rows if row.turns is not None]
    if not shown:
        return coarse
    ends = (setting.turns_min, setting.turns_max, setting.new_turns, shown[-1])
    last = _PAST_RANGE * max(end for end in ends if end is not None)
    for end in (last, shown[-1]):  # past the range a dead centre may lie
        try:
            return tension_table(scenario, np.linspace(0.0, end, _FINE))
        except MountError:
            continue
    return coarse
