"""Which belt: every length of the section in the mount."""

from __future__ import annotations

from typing import TYPE_CHECKING

from mountcalc.front_door import front_door

if TYPE_CHECKING:
    from mountcalc.belts.choice import choose_belt, own_belt
    from mountcalc.belts.fitting import belt_name, fit, room_wanted
    from mountcalc.belts.results import Room

__all__ = ["Room", "belt_name", "choose_belt", "fit", "own_belt", "room_wanted"]

if not TYPE_CHECKING:
    __getattr__, __dir__ = front_door(
        __name__,
        {
            "Room": "results",
            "belt_name": "fitting",
            "choose_belt": "choice",
            "fit": "fitting",
            "own_belt": "choice",
            "room_wanted": "fitting",
        },
    )
