"""Every judgement there is of a mount, and what cures those that fail."""

from __future__ import annotations

from typing import TYPE_CHECKING

from mountcalc.front_door import front_door

if TYPE_CHECKING:
    from mountcalc.check import check
    from mountcalc.check.changes import (
        CHANGES,
        hold_back,
        spring_in_series,
    )
    from mountcalc.check.evaluation import Evaluation, evaluate
    from mountcalc.check.page import DOUBTS, FAILS, judged_first, kept_badly, of_verdict
    from mountcalc.check.results import NOTHING, Check
    from mountcalc.check.set_point import SetPoint, find_set_point

__all__ = [
    "CHANGES",
    "DOUBTS",
    "FAILS",
    "NOTHING",
    "Check",
    "Evaluation",
    "SetPoint",
    "check",
    "evaluate",
    "find_set_point",
    "hold_back",
    "judged_first",
    "kept_badly",
    "of_verdict",
    "spring_in_series",
]

if not TYPE_CHECKING:
    __getattr__, __dir__ = front_door(
        __name__,
        {
            "CHANGES": "changes",
            "DOUBTS": "page",
            "FAILS": "page",
            "Check": "results",
            "check": "check",
            "judged_first": "page",
            "kept_badly": "page",
            "of_verdict": "page",
            "Evaluation": "evaluation",
            "NOTHING": "results",
            "SetPoint": "set_point",
            "evaluate": "evaluation",
            "find_set_point": "set_point",
            "hold_back": "changes",
            "spring_in_series": "changes",
        },
    )
