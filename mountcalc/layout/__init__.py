"""The mount as a picture to scale."""

from __future__ import annotations

from typing import TYPE_CHECKING

from mountcalc.front_door import front_door

if TYPE_CHECKING:
    from mountcalc.layout.figure import layout_figure
    from mountcalc.layout.layout import (
        Layout,
        Pose,
        Segment,
        belt_at,
        mount_as_drawn,
        mount_layout,
        poses_at,
        schematic_of,
    )
    from mountcalc.layout.parts import (
        Pen,
        draw_keep_outs,
        draw_scale_bar,
        fill_keep_outs,
        room_beside,
    )

__all__ = [
    "Layout",
    "Pen",
    "Pose",
    "Segment",
    "belt_at",
    "draw_keep_outs",
    "draw_scale_bar",
    "fill_keep_outs",
    "layout_figure",
    "mount_as_drawn",
    "mount_layout",
    "poses_at",
    "room_beside",
    "schematic_of",
]

if not TYPE_CHECKING:
    __getattr__, __dir__ = front_door(
        __name__,
        dict.fromkeys(__all__, "parts")
        | dict.fromkeys(
            (
                *("Layout", "Pose", "Segment", "belt_at", "mount_as_drawn", "mount_layout"),
                *("poses_at", "schematic_of"),
            ),
            "layout",
        )
        | {"layout_figure": "figure"},
    )
