"""What errors of building and of knowing do to a mount: many builds of one drawing."""

from __future__ import annotations

from typing import TYPE_CHECKING

from mountcalc.front_door import front_door

if TYPE_CHECKING:
    from mountcalc.tolerance.judge import judged, rooms_of
    from mountcalc.tolerance.precautions import WIDER, wider
    from mountcalc.tolerance.sample import builds_of

__all__ = ["WIDER", "builds_of", "judged", "rooms_of", "wider"]

if not TYPE_CHECKING:
    __getattr__, __dir__ = front_door(
        __name__,
        {
            "WIDER": "precautions",
            "builds_of": "sample",
            "judged": "judge",
            "rooms_of": "judge",
            "wider": "precautions",
        },
    )
