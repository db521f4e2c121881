"""What the picture of a setting draws: solved, as arrays over turns; both ways the worse one."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mountcalc.equilibrium.states import State
from mountcalc.requirements.requirements import requirements_of
from mountcalc.requirements.results import Setting
from mountcalc.scenario.model import Rotation, Scenario
from mountcalc.table import Case, Row, TensionTable, tension_table

__all__ = ["CASE_WORDS", "GripLine", "SettingSeries", "setting_tables"]

Array = NDArray[np.float64]

CASE_WORDS = {"rest": "at rest", "running": "running", "starting": "starting"}
_CARRIED = (State.HELD, State.RIDING)
_FINE = 161
_PAST = 1.12  # shown past the last number of turns that matters
_REACH = 4.0  # of the most turns: a minimum further off than this is only pointed at


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
    requirements = requirements_of(scenario)
    if not requirements.solved.mount.has_adjuster:
        return None
    shown = [turns for turns in (setting.turns_max, setting.new_turns, setting.set_turns) if turns]
    fewest = setting.turns_min or 0.0
    if not shown or fewest <= _REACH * max(shown):
        shown.append(fewest)
    useful = [row.turns for row in tension_table(scenario).rows if row.turns is not None]
    last = _PAST * max(shown) if max(shown) > 0 else max(useful)
    last = min(last, requirements.last_turn)
    return np.linspace(0.0, last, _FINE) if last > 0 else np.zeros(1)


@dataclass(frozen=True, slots=True)
class GripLine:
    """The grip that a case needs: what is wanted of it, or what it slips below."""

    case: str
    value: float
    wanted: bool


@dataclass(frozen=True)
class SettingSeries:
    """Rows of one table, and of the table of the other rotation where the drive reverses.

    Values are SI, shares as fractions; NaN for None.
    """

    scenario: Scenario
    setting: Setting
    ways: tuple[tuple[Row, ...], ...]

    @classmethod
    def of(
        cls, scenario: Scenario, setting: Setting, tables: tuple[TensionTable, ...]
    ) -> SettingSeries:
        """Rows in the order of their turns; those without turns (no adjuster) as they are."""
        ways = [tuple(sorted(table.rows, key=lambda row: row.turns or 0.0)) for table in tables]
        return cls(scenario, setting, tuple(ways))

    @property
    def rows(self) -> tuple[Row, ...]:
        """The rows as the mount is shown; turns and rest are the same both ways."""
        return self.ways[0]

    @property
    def turns(self) -> Array:
        """Turns from zero [-]."""
        return np.array([row.turns for row in self.rows], dtype=float)

    def tension(self, name: str = "tension") -> Array:
        """Rest tension [N]: ``tension``, ``tension_low`` or ``tension_high``."""
        return np.array([getattr(row, name) for row in self.rows], dtype=float)

    def grip(self, case: str) -> Array:
        """Grip of a case [-], the smaller of both ways."""
        return _worse(np.fmin, [[row.cases[case].grip for row in rows] for rows in self.ways])

    def grip_lines(self) -> list[GripLine]:
        """What running and starting need."""
        limits = self.scenario.limits
        start = self.scenario.driven.starting_factor
        promised = limits.starting_grip
        starting = start if promised is None else start * promised
        return [
            GripLine("running", self.setting.grip_wanted, wanted=True),
            GripLine("starting", starting, wanted=promised is not None),
        ]

    def share(self, bearing: int) -> tuple[Array, list[str]]:
        """Worst share of a bearing's limit over all cases, and the case it is reached in."""
        shares = {name: self.case_share(bearing, name) for name in CASE_WORDS}
        stack = np.stack([np.nan_to_num(each, nan=-1.0) for each in shares.values()])
        worst, which = stack.max(axis=0), stack.argmax(axis=0)
        names = list(shares)
        return np.where(worst < 0, np.nan, worst), [names[index] for index in which]

    def case_share(self, bearing: int, case: str) -> Array:
        """Share of a bearing's limit in one case [-], the larger of both ways."""
        ways = [
            [row.cases[case].bearings[bearing].share_of_limit for row in rows] for rows in self.ways
        ]
        return _worse(np.fmax, ways)

    def grip_keys(self) -> list[str]:
        """Whether the wanted grip is kept, for each row: ``kept``, ``broken`` or a state."""
        lines = [line for line in self.grip_lines() if line.wanted]
        return [
            self._worst_key(rows, lambda row: [_grip_key(row.cases[x.case], x) for x in lines])
            for rows in zip(*self.ways, strict=True)
        ]

    def bearing_keys(self) -> list[str]:
        """The same for the bearings' limits."""
        return [
            self._worst_key(rows, lambda row: [_share_key(row.cases[name]) for name in CASE_WORDS])
            for rows in zip(*self.ways, strict=True)
        ]

    @staticmethod
    def _worst_key(rows: tuple[Row, ...], keys: Callable[[Row], list[str]]) -> str:
        found = [key for row in rows for key in keys(row)]
        states = [key for key in found if key not in {"kept", "broken"}]
        if "broken" in found:
            return "broken"
        return states[0] if states else "kept"


def _worse(pick: np.ufunc, ways: list[list[float | None]]) -> Array:
    worst: Array = pick.reduce(np.array(ways, dtype=float), axis=0)
    return worst


def _grip_key(case: Case, line: GripLine) -> str:
    if case.grip is not None:
        return "kept" if case.grip >= line.value else "broken"
    return "kept" if case.state in _CARRIED else case.state.value


def _share_key(case: Case) -> str:
    if case.state not in _CARRIED:
        return case.state.value
    return "kept" if max(case.shares_of_limits.values()) <= 1 else "broken"
