"""The gentlest setting as it is told: methods, weight alone, remedies, picture."""

from __future__ import annotations

from typing import TYPE_CHECKING

from mountcalc.front_door import front_door

if TYPE_CHECKING:
    from mountcalc.setting.methods_page import (
        balance_words,
        method_label,
        methods_text,
        methods_why,
        spring_words,
    )
    from mountcalc.setting.weights import keeps_sentence

__all__ = [
    "balance_words",
    "keeps_sentence",
    "method_label",
    "methods_text",
    "methods_why",
    "spring_words",
]

if not TYPE_CHECKING:
    __getattr__, __dir__ = front_door(
        __name__,
        {
            "balance_words": "methods_page",
            "keeps_sentence": "weights",
            "method_label": "methods_page",
            "methods_text": "methods_page",
            "methods_why": "methods_page",
            "spring_words": "methods_page",
        },
    )
