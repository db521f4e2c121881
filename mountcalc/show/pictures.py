"""The pictures of one mount as files: computed on a fine grid of turns, then drawn."""

from __future__ import annotations

from pathlib import Path

import numpy as np

from mountcalc.errors import OutputError
from mountcalc.results.setting import Setting
from mountcalc.scenario.model import Scenario
from mountcalc.show.own_settings import PICTURE_FORMATS, image_of, own_settings
from mountcalc.tasks.layout import mount_layout
from mountcalc.tasks.table import tension_table

__all__ = ["picture_format", "pictures", "setting_picture"]

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
    layout = mount_layout(scenario, other)
    with own_settings():
        from mountcalc.show.layout_plot import layout_figure  # noqa: PLC0415
        from mountcalc.show.loads_plot import loads_figure  # noqa: PLC0415

        return {
            "loads": image_of(loads_figure(scenario, fine)),
            "layout": image_of(layout_figure(layout)),
        }


def picture_format(path: Path) -> str:
    """What a picture's name asks for.

    Parameters
    ----------
    path : Path
        Where it is to be written.

    Returns
    -------
    str
        One of ``mountcalc.show.own_settings.PICTURE_FORMATS``.

    Raises
    ------
    OutputError
        For any other ending.
    """
    ending = path.suffix.lower().removeprefix(".")
    if ending not in PICTURE_FORMATS:
        known = ", ".join(f".{one}" for one in PICTURE_FORMATS)
        raise OutputError(f"{path}: a picture's name ends in one of {known}")
    return ending


def setting_picture(scenario: Scenario, setting: Setting, form: str = "png") -> bytes:
    """Picture of a setting and the range around it.

    Parameters
    ----------
    scenario : Scenario
        The mount.
    setting : Setting
        Its setting.
    form : str
        One of ``mountcalc.show.own_settings.PICTURE_FORMATS``.

    Returns
    -------
    bytes
        The file.
    """
    with own_settings():
        from mountcalc.show.setting_plot import setting_figure, setting_tables  # noqa: PLC0415

        return image_of(setting_figure(scenario, setting, *setting_tables(scenario, setting)), form)
