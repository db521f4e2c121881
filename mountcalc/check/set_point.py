"""Where a mount is judged: its set point, and as far to both sides as a hand may miss it."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from mountcalc.equilibrium.solve import Cases
from mountcalc.errors import InputError
from mountcalc.record import Record
from mountcalc.requirements.requirements import Requirements, requirements_of
from mountcalc.requirements.results import Setting
from mountcalc.requirements.setting import gentlest_setting, idles
from mountcalc.scenario.model import Scenario
from mountcalc.table import words
from mountcalc.thresholds import ROUNDING

TIGHT = -1
"""Entry of the tightest place in every array of a set point."""


class SetPoint(Record):
    """A mount solved at its set point, and as loose and as tight as a hand may leave it.

    That is the hand's error in turns to either side, and besides, where no turns were asked for,
    as loose or tight as the belt may be where the leading method reads its aim.

    ``turns`` [-] is None without an adjuster; ``cases`` has the three load cases for each
    rotation that the mount runs in, each with the entries loose, set, tight; without an
    adjuster there is one entry.
    """

    requirements: Requirements
    setting: Setting
    turns: float | None
    reason: str
    cases: tuple[Cases, ...]

    @property
    def scenario(self) -> Scenario:
        """The mount."""
        return self.requirements.scenario

    @property
    def middle(self) -> int:
        """Entry of the set point itself in every array."""
        return self.cases[0].rest.phi.size // 2

    @property
    def has_adjuster(self) -> bool:
        """Whether anything but weight and belt can fix the plate."""
        return self.requirements.solved.mount.has_adjuster

    def at(self, turns: float) -> SetPoint:
        """The same mount at other turns, without an error of the hand."""
        return replace(self, turns=turns, cases=tuple(self.requirements.cases([turns])))


def find_set_point(scenario: Scenario, turns: float | None = None) -> SetPoint:
    """Solve a mount where it is to be judged."""
    requirements, setting = requirements_of(scenario), gentlest_setting(scenario)
    at, reason, places = None, "the one position that weight alone finds", np.zeros(1)
    if requirements.solved.mount.has_adjuster:
        at, reason = _turns(requirements, setting, turns)
        way, last = requirements.solved, requirements.last_turn
        first = way.turns_at(way.travel.slack_end)
        if not first - ROUNDING <= at <= last + ROUNDING:
            raise InputError(
                f"turns: the travel is from {first:.2f} to {last:.2f} turns, got {at:g}"
            )
        error = scenario.limits.turn_error
        reason += f", with the adjuster up to {words.counted_turns(error)} off either way"
        places = np.clip([at - error, at, at + error], first, last)
        if turns is None and setting.methods:
            # Out to the tensions that the aim of the method that leads may stand for.
            leads = setting.methods[0]
            most = math.inf if leads.tension_high is None else leads.tension_high
            loose, tight = requirements.turns_for([leads.tension_low, most])
            reason += f", and as loose or tight as the {leads.name.words} may leave it"
            places[0] = min(places[0], float(loose))
            places[2] = max(places[2], min(float(tight), last))
    return SetPoint(requirements, setting, at, reason, tuple(requirements.cases(places)))


def _turns(requirements: Requirements, setting: Setting, asked: float | None) -> tuple[float, str]:
    """Where to judge, and why there."""
    if asked is not None:
        if not math.isfinite(asked):
            raise InputError(f"turns: a finite number is wanted, got {asked}")
        return float(asked), "the turns that were asked for"
    if idles(requirements.scenario):
        return 0.0, "no power being asked"
    found = (
        (setting.set_turns, "the gentlest setting"),
        (setting.turns_min, "the fewest turns with the wanted grip, as there is no setting"),
        (setting.turns_max, "the most turns within all limits, as nothing grips"),
        (setting.free_turns, "where the adjuster comes free, as nothing grips"),
        (requirements.last_turn, "the tight end of the travel, as nothing grips"),
    )
    return next((turns, why) for turns, why in found if turns is not None)
