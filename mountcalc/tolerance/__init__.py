"""What errors of building and of knowing do to a mount: many builds of one drawing."""

from __future__ import annotations

from typing import TYPE_CHECKING

from mountcalc.front_door import front_door

if TYPE_CHECKING:
    from mountcalc.tolerance import tolerance
    from mountcalc.tolerance.judge import judged, rooms_of
    from mountcalc.tolerance.page import in_words
    from mountcalc.tolerance.precautions import WIDER, wider
    from mountcalc.tolerance.results import Tolerance
    from mountcalc.tolerance.sample import builds_of

__all__ = [
    "WIDER",
    "Tolerance",
    "builds_of",
    "in_words",
    "judged",
    "rooms_of",
    "tolerance",
    "wider",
]

if not TYPE_CHECKING:
    __getattr__, __dir__ = front_door(
        __name__,
        {
            "Tolerance": "results",
            "WIDER": "precautions",
            "in_words": "page",
            "tolerance": "tolerance",
            "builds_of": "sample",
            "judged": "judge",
            "rooms_of": "judge",
            "wider": "precautions",
        },
    )
