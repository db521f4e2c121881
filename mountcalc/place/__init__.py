"""Where hinge and bolt may go: a search over layouts."""

from __future__ import annotations

from typing import TYPE_CHECKING

from mountcalc.front_door import front_door

if TYPE_CHECKING:
    from mountcalc.place.search.search import find_layouts

__all__ = ["find_layouts"]

if not TYPE_CHECKING:
    __getattr__, __dir__ = front_door(__name__, {"find_layouts": "search.search"})
