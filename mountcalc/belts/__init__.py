"""Which belt: every length of the section in the mount."""

from __future__ import annotations

from typing import TYPE_CHECKING

from mountcalc.front_door import front_door

if TYPE_CHECKING:
    from mountcalc.belts.choice import choose_belt, own_belt

__all__ = ["choose_belt", "own_belt"]

if not TYPE_CHECKING:
    __getattr__, __dir__ = front_door(__name__, dict.fromkeys(__all__, "choice"))
