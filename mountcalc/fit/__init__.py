"""From readings at the machine to this belt and this build, and how sure."""

from __future__ import annotations

from typing import TYPE_CHECKING

from mountcalc.front_door import front_door

if TYPE_CHECKING:
    from mountcalc.fit.answer import fit_log
    from mountcalc.fit.log import given_readings

__all__ = ["fit_log", "given_readings"]

if not TYPE_CHECKING:
    __getattr__, __dir__ = front_door(__name__, {"fit_log": "answer", "given_readings": "log"})
