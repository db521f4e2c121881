"""The gentlest setting as it is told: methods, weight alone, remedies, picture."""

from __future__ import annotations

from typing import TYPE_CHECKING

from mountcalc.front_door import front_door

if TYPE_CHECKING:
    from mountcalc.setting.advice import advise
    from mountcalc.setting.methods_page import (
        HEADS,
        above_all,
        balance_words,
        method_label,
        method_rows,
        methods_head,
        methods_text,
        methods_why,
        spring_words,
    )
    from mountcalc.setting.page import WIDEN, new_belt, open_or_closed, range_ends, widen
    from mountcalc.setting.pictures import setting_figure
    from mountcalc.setting.series import setting_tables
    from mountcalc.setting.weights import keeps_sentence

__all__ = [
    "HEADS",
    "WIDEN",
    "above_all",
    "advise",
    "balance_words",
    "keeps_sentence",
    "method_label",
    "method_rows",
    "methods_head",
    "methods_text",
    "methods_why",
    "new_belt",
    "open_or_closed",
    "range_ends",
    "setting_figure",
    "setting_tables",
    "spring_words",
    "widen",
]

if not TYPE_CHECKING:
    __getattr__, __dir__ = front_door(
        __name__,
        {
            "WIDEN": "page",
            "methods_head": "methods_page",
            "above_all": "methods_page",
            "HEADS": "methods_page",
            "advise": "advice",
            "balance_words": "methods_page",
            "keeps_sentence": "weights",
            "method_label": "methods_page",
            "method_rows": "methods_page",
            "methods_text": "methods_page",
            "methods_why": "methods_page",
            "new_belt": "page",
            "open_or_closed": "page",
            "range_ends": "page",
            "setting_figure": "pictures",
            "setting_tables": "series",
            "spring_words": "methods_page",
            "widen": "page",
        },
    )
