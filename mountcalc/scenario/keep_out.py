"""Ground that parts of a mount must stay clear of."""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

__all__ = ["BarredPart", "KeepOut"]


class BarredPart(StrEnum):
    """A part of the mount that a keep-out may bar; room for the wrench goes with the bolt."""

    PLATE = "plate"
    MOTOR = "motor"
    BOLT = "bolt"
    BELT = "belt"


@dataclass(frozen=True, slots=True)
class KeepOut:
    """Ground that ``parts`` of the mount must clear.

    ``corners`` [m] are those of a simple polygon, in order.
    """

    name: str
    corners: tuple[tuple[float, float], ...]
    parts: tuple[BarredPart, ...] = tuple(BarredPart)
