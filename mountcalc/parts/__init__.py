"""What to buy and to cut for a mount."""

from __future__ import annotations

from typing import TYPE_CHECKING

from mountcalc.front_door import front_door

if TYPE_CHECKING:
    from mountcalc.parts.page import ESTIMATES, by_table
    from mountcalc.parts.parts import parts_list
    from mountcalc.parts.results import Part, PartsList

__all__ = ["ESTIMATES", "Part", "PartsList", "by_table", "parts_list"]

if not TYPE_CHECKING:
    __getattr__, __dir__ = front_door(
        __name__,
        {
            "ESTIMATES": "page",
            "Part": "results",
            "PartsList": "results",
            "by_table": "page",
            "parts_list": "parts",
        },
    )
