"""What the picture of a setting draws: tables solved, as arrays over turns; both ways the worse."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any, NamedTuple

import numpy as np
from numpy.typing import NDArray

from mountcalc.equilibrium.bearings import CASES
from mountcalc.equilibrium.states import State
from mountcalc.requirements.requirements import requirements_of
from mountcalc.requirements.results import Setting
from mountcalc.scenario.model import Rotation, Scenario
from mountcalc.table import TensionTable, tension_table

Array = NDArray[np.float64]

_CARRIED = (State.HELD, State.RIDING)


def setting_tables(
    scenario: Scenario, setting: Setting
) -> tuple[TensionTable, TensionTable | None]:
    """Tables for the picture: fine, from zero to a little past all that is marked; both ways."""
    requirements, turns, other = requirements_of(scenario), None, None
    if requirements.solved.mount.has_adjuster:
        ends = (setting.turns_max, setting.new_turns, setting.set_turns)
        shown = [turns for turns in ends if turns]
        fewest = setting.turns_min or 0.0
        if not shown or fewest <= 4.0 * max(shown):  # one further off is only pointed at
            shown.append(fewest)
        last = 1.12 * max(shown)
        if last == 0:
            last = max(row.turns or 0.0 for row in tension_table(scenario).rows)
        last = min(last, requirements.last_turn)
        turns = np.linspace(0.0, last, 161) if last > 0 else np.zeros(1)
    if scenario.motor.reverses:
        motor = scenario.motor
        rotation = Rotation.CW if motor.rotation is Rotation.CCW else Rotation.CCW
        turned = replace(scenario, motor=replace(motor, rotation=rotation))
        other = tension_table(turned, turns)
    return tension_table(scenario, turns), other


class _Need(NamedTuple):
    """The grip that a case needs: what is wanted of it, or what it slips below."""

    case: str
    grip: float
    wanted: bool


@dataclass(frozen=True)
class SettingSeries:
    """The columns of one table, and of the table of the other rotation where the drive reverses.

    Values are SI, shares as fractions; NaN for what is not there.
    """

    scenario: Scenario
    setting: Setting
    ways: tuple[Mapping[str, NDArray[Any]], ...]

    @property
    def turns(self) -> Array:
        """Turns from zero [-]; the same both ways, as is all at rest."""
        return self.ways[0]["turns"]

    @property
    def needs(self) -> tuple[_Need, _Need]:
        """What running and starting need."""
        factor, promised = self.scenario.driven.starting_factor, self.scenario.limits.starting_grip
        starting = factor * (1.0 if promised is None else promised)
        return (
            _Need("running", self.setting.grip_wanted, wanted=True),
            _Need("starting", starting, wanted=promised is not None),
        )

    def grip(self, case: str) -> Array:
        """The smaller of both ways."""
        grip: Array = np.fmin.reduce([way[f"{case}_grip"] for way in self.ways])
        return grip

    def shares(self, bearing: int) -> dict[str, Array]:
        """Of a bearing's limit in each case, the larger of both ways."""
        key = f"bearing_{bearing + 1}_share_of_limit"
        return {case: np.fmax.reduce([way[f"{case}_{key}"] for way in self.ways]) for case in CASES}

    def kept(self) -> tuple[list[str], list[str]]:
        """Of grip and of limits at each turn: ``kept``, ``broken`` or a state without loads."""
        grips, limits = [], []
        for way in self.ways:
            for case in CASES:
                state = way[f"{case}_state"]
                carried = np.isin(state, _CARRIED)
                share = np.fmax.reduce(
                    [one for name, one in way.items()
                     if name.startswith(case) and name.endswith("share_of_limit")]
                )  # fmt: skip
                verdict = np.where(share <= 1, "kept", "broken")
                limits.append(np.where(carried, verdict, state))
                for need in self.needs:
                    if need.case == case and need.wanted:
                        grip = way[f"{case}_grip"]
                        verdict = np.where(grip >= need.grip, "kept", "broken")
                        nothing = np.where(carried, "kept", state)
                        grips.append(np.where(np.isfinite(grip), verdict, nothing))
        return _worst(grips), _worst(limits)


def _worst(found: Sequence[NDArray[np.str_]]) -> list[str]:
    return [
        "broken" if "broken" in keys else next((key for key in keys if key != "kept"), "kept")
        for keys in np.array(found).T.tolist()
    ]
