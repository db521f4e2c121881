"""The picture of a setting as a file."""

from __future__ import annotations

from mountcalc.pages.own_settings import image_of, own_settings
from mountcalc.requirements.results import Setting
from mountcalc.scenario.model import Scenario

__all__ = ["setting_picture"]


def setting_picture(scenario: Scenario, setting: Setting, form: str = "png") -> bytes:
    """Picture of a setting and the range around it."""
    with own_settings():
        from mountcalc.setting.pictures.plot import setting_figure, setting_tables  # noqa: PLC0415

        return image_of(setting_figure(scenario, setting, *setting_tables(scenario, setting)), form)
