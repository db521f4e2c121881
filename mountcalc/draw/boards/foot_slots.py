"""Slots in a plate for the screws of a motor's feet."""

from __future__ import annotations

import math
from dataclasses import dataclass

from mountcalc.drafting.items import Arc, Item, Layer, Line, Point
from mountcalc.handbook.frames import MotorFrame

__all__ = ["FootSlot", "foot_slots", "slot_items"]


@dataclass(frozen=True, slots=True)
class FootSlot:
    """A slot along the motor's shaft; all [m]: its middle, its width, how far it is lengthened."""

    centre: Point
    width: float
    extra: float

    @property
    def length(self) -> float:
        """Over its round ends [m]."""
        return self.width + 2.0 * self.extra

    @property
    def corners(self) -> tuple[Point, ...]:
        """Where its straight sides end [m]."""
        (x, y), radius = self.centre, 0.5 * self.width
        ways = (-1, 1)
        return tuple((x + a * self.extra, y + b * radius) for a in ways for b in ways)


def foot_slots(
    frame: MotorFrame, middle: Point, towards_end: int, extra: float
) -> tuple[FootSlot, ...]:
    """The slots for a frame's feet."""
    nearest = 0.5 * max(frame.feet_along)
    across = 0.5 * frame.feet_across
    places = [nearest, *(nearest - distance for distance in sorted(frame.feet_along))]
    return tuple(
        FootSlot((middle[0] + towards_end * place, middle[1] + side * across), frame.hole, extra)
        for place in places
        for side in (-1, 1)
    )


def slot_items(slot: FootSlot) -> tuple[Item, ...]:
    """A slot as it is drawn, with its centre lines."""
    x, y = slot.centre
    radius, extra = 0.5 * slot.width, slot.extra
    cross = 1.6 * radius
    quarter = 0.5 * math.pi
    return (
        Line((x - extra, y - radius), (x + extra, y - radius), Layer.CUT),
        Arc((x + extra, y), radius, -quarter, quarter, Layer.CUT),
        Line((x + extra, y + radius), (x - extra, y + radius), Layer.CUT),
        Arc((x - extra, y), radius, quarter, 3.0 * quarter, Layer.CUT),
        Line((x - extra - cross, y), (x + extra + cross, y), Layer.CENTRE),
        Line((x, y - cross), (x, y + cross), Layer.CENTRE),
    )
