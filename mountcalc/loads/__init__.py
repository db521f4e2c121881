"""What each part of the mount carries, in three dimensions, and what shakes it."""

from __future__ import annotations

from typing import TYPE_CHECKING

from mountcalc.front_door import front_door

if TYPE_CHECKING:
    from mountcalc.loads.judgements import loads_judgements
    from mountcalc.loads.loads import part_loads, space_loads
    from mountcalc.loads.page import parts_text
    from mountcalc.loads.results import RIGID, Part, PartLoad, SpaceLoads, Stiffness, Wood

__all__ = [
    "RIGID",
    "Part",
    "PartLoad",
    "SpaceLoads",
    "Stiffness",
    "Wood",
    "loads_judgements",
    "part_loads",
    "parts_text",
    "space_loads",
]

if not TYPE_CHECKING:
    __getattr__, __dir__ = front_door(
        __name__,
        {
            "Part": "results",
            "PartLoad": "results",
            "RIGID": "results",
            "SpaceLoads": "results",
            "Stiffness": "results",
            "Wood": "results",
            "loads_judgements": "judgements",
            "part_loads": "loads",
            "parts_text": "page",
            "space_loads": "loads",
        },
    )
