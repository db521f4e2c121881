"""The drawings of a mount at true scale."""

from __future__ import annotations

from typing import TYPE_CHECKING

from mountcalc.front_door import front_door

if TYPE_CHECKING:
    from mountcalc.draw.build import Build, motor_size, rim_radii
    from mountcalc.draw.cuts import Cut, guard_holes, pieces
    from mountcalc.draw.drawings import drawings_of, refuse_larger

__all__ = [
    "Build",
    "Cut",
    "drawings_of",
    "guard_holes",
    "motor_size",
    "pieces",
    "refuse_larger",
    "rim_radii",
]

if not TYPE_CHECKING:
    __getattr__, __dir__ = front_door(
        __name__,
        {
            "Build": "build",
            "Cut": "cuts",
            "pieces": "cuts",
            "drawings_of": "drawings",
            "guard_holes": "cuts",
            "motor_size": "build",
            "refuse_larger": "drawings",
            "rim_radii": "build",
        },
    )
