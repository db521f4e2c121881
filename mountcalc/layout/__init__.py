"""The layout of a mount as a picture to scale."""

from __future__ import annotations

from typing import TYPE_CHECKING

from mountcalc.front_door import front_door

if TYPE_CHECKING:
    from mountcalc.layout.layout import belt_at
    from mountcalc.layout.parts import Pen, bounds_of, draw_scale_bar
    from mountcalc.layout.schematic import Segment, schematic_of

__all__ = ["Pen", "Segment", "belt_at", "bounds_of", "draw_scale_bar", "schematic_of"]

if not TYPE_CHECKING:
    __getattr__, __dir__ = front_door(
        __name__,
        {
            "Pen": "parts",
            "Segment": "schematic",
            "belt_at": "layout",
            "bounds_of": "parts",
            "draw_scale_bar": "parts",
            "schematic_of": "schematic",
        },
    )
