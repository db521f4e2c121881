"""The scenarios that ship: what each teaches, and a copy to change."""

from __future__ import annotations

from typing import TYPE_CHECKING

from mountcalc.front_door import front_door

if TYPE_CHECKING:
    from mountcalc.example.shipped import example_files, lessons

__all__ = ["example_files", "lessons"]

if not TYPE_CHECKING:
    __getattr__, __dir__ = front_door(__name__, {"example_files": "shipped", "lessons": "shipped"})
