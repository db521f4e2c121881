"""The bench card: how the tension is weighed, heard and pressed."""

from __future__ import annotations

from typing import TYPE_CHECKING

from mountcalc.front_door import front_door

if TYPE_CHECKING:
    from mountcalc.card.card import bench_card
    from mountcalc.card.page import card_words
    from mountcalc.card.results import BenchCard

__all__ = ["BenchCard", "bench_card", "card_words"]

if not TYPE_CHECKING:
    __getattr__, __dir__ = front_door(
        __name__,
        {
            "BenchCard": "results",
            "bench_card": "card",
            "card_words": "page",
        },
    )
