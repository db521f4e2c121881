"""An unknown drive: from a measurement to the belt to buy, and back."""

from __future__ import annotations

from typing import TYPE_CHECKING

from mountcalc.front_door import front_door

if TYPE_CHECKING:
    from mountcalc.measure.drive import MeasureQuestion
    from mountcalc.measure.measure import measure_drive
    from mountcalc.measure.results import Candidate

__all__ = ["Candidate", "MeasureQuestion", "measure_drive"]

if not TYPE_CHECKING:
    __getattr__, __dir__ = front_door(
        __name__, {"Candidate": "results", "MeasureQuestion": "drive", "measure_drive": "measure"}
    )
