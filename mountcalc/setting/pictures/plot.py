"""The picture of a setting: between slip and the bearings' limits, and where to set the bolt."""

from __future__ import annotations

import dataclasses

import numpy as np
from matplotlib.figure import Figure

from mountcalc.requirements.promises import promises_of
from mountcalc.requirements.results import Setting
from mountcalc.scenario.model import Rotation, Scenario
from mountcalc.setting.pictures.bars import setting_bars
from mountcalc.setting.pictures.curves import setting_curves
from mountcalc.setting.pictures.heading import curves_heading, verdict
from mountcalc.setting.pictures.series import SettingSeries
from mountcalc.table import TensionTable, tension_table

__all__ = ["setting_figure", "setting_tables"]

_FINE = 161
# Shown past the last number of turns that matters.
_PAST = 1.12
# Of the most turns: a minimum further off than this is only pointed at.
_REACH = 4.0


def setting_figure(
    scenario: Scenario, setting: Setting, table: TensionTable, other: TensionTable | None = None
) -> Figure:
    """Draw a setting."""
    tables = (table,) if other is None else (table, other)
    series = SettingSeries.of(scenario, setting, tables)
    if len(series.rows) > 1 and series.rows[0].turns is not None:
        lines = curves_heading(scenario, setting, table, both_ways=other is not None)
        return setting_curves(series, setting.title, lines)
    return setting_bars(series, setting.title, (verdict(scenario, setting),))


def setting_tables(
    scenario: Scenario, setting: Setting
) -> tuple[TensionTable, TensionTable | None]:
    """Tables for the picture: fine, from zero to a little past all that is marked."""
    turns = _fine_turns(scenario, setting)
    other = None
    if scenario.motor.reverses:
        motor = scenario.motor
        rotation = Rotation.CW if motor.rotation is Rotation.CCW else Rotation.CCW
        turned = dataclasses.replace(motor, rotation=rotation)
        other = tension_table(dataclasses.replace(scenario, motor=turned), turns)
    return tension_table(scenario, turns), other


def _fine_turns(scenario: Scenario, setting: Setting) -> np.ndarray | None:
    """Turns of the picture; None without an adjuster."""
    promises = promises_of(scenario)
    if not promises.solved.mount.has_adjuster:
        return None
    shown = [turns for turns in (setting.turns_max, setting.new_turns, setting.set_turns) if turns]
    fewest = setting.turns_min or 0.0
    if not shown or fewest <= _REACH * max(shown):
        shown.append(fewest)
    useful = [row.turns for row in tension_table(scenario).rows if row.turns is not None]
    last = _PAST * max(shown) if max(shown) > 0 else max(useful)
    last = min(last, promises.last_turn)
    return np.linspace(0.0, last, _FINE) if last > 0 else np.zeros(1)
