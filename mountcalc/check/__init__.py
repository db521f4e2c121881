"""Every judgement there is of a mount, and what cures those that fail."""

from __future__ import annotations

from typing import TYPE_CHECKING

from mountcalc.front_door import front_door

if TYPE_CHECKING:
    from mountcalc.check.cures.changes import CHANGES, Change, weight_alone_of
    from mountcalc.check.cures.cures import NOTHING
    from mountcalc.check.cures.holding_changes import hold_back, spring_in_series
    from mountcalc.check.judged import Judged, judge
    from mountcalc.check.set_point import SetPoint, find_set_point

__all__ = [
    "CHANGES",
    "NOTHING",
    "Change",
    "Judged",
    "SetPoint",
    "find_set_point",
    "hold_back",
    "judge",
    "spring_in_series",
    "weight_alone_of",
]

if not TYPE_CHECKING:
    __getattr__, __dir__ = front_door(
        __name__,
        {
            "CHANGES": "cures.changes",
            "Change": "cures.changes",
            "Judged": "judged",
            "NOTHING": "cures.cures",
            "SetPoint": "set_point",
            "find_set_point": "set_point",
            "hold_back": "cures.holding_changes",
            "judge": "judged",
            "spring_in_series": "cures.holding_changes",
            "weight_alone_of": "cures.changes",
        },
    )
