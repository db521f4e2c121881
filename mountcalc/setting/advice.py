"""All that is said of a setting: the setting itself, weight alone, and what would widen it."""

from __future__ import annotations

from mountcalc.requirements.notes import margins, notes
from mountcalc.requirements.promises import promises_of
from mountcalc.requirements.results import Advice, Setting
from mountcalc.requirements.setting import gentlest_setting, idles
from mountcalc.scenario.model import Scenario
from mountcalc.setting.remedies import remedies
from mountcalc.setting.weights import weight_alone

__all__ = ["advise", "is_narrow"]

# A range of fewer errors of the hand than this is narrow.
_ERRORS_IN_A_RANGE = 4.0


def advise(scenario: Scenario, *, always_remedies: bool = False) -> Advice:
    """The gentlest setting with everything beside it."""
    setting = gentlest_setting(scenario)
    solved = promises_of(scenario).solved
    alone = weight_alone(scenario, setting)
    narrow = is_narrow(setting) and not idles(scenario) and not alone.keeps
    return Advice(
        setting=setting,
        weight_alone=alone,
        remedies=remedies(scenario) if always_remedies or narrow else (),
        margins=margins(solved),
        notes=notes(solved),
    )


def is_narrow(setting: Setting) -> bool:
    """Whether the range is closed, or hard to hit with the hand's error."""
    width = setting.fineness.turns_range
    narrow = width is not None and width < _ERRORS_IN_A_RANGE * setting.turn_error
    return not setting.open or narrow
