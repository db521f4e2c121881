"""The tension table: loads against turns."""

from __future__ import annotations

from typing import TYPE_CHECKING

from mountcalc.front_door import front_door

if TYPE_CHECKING:
    from mountcalc.table import words
    from mountcalc.table.pictures import ZERO_WORDS, loads_figure
    from mountcalc.table.results import Case, Row, TensionTable
    from mountcalc.table.table import tension_table

__all__ = [
    "ZERO_WORDS",
    "Case",
    "Row",
    "TensionTable",
    "loads_figure",
    "tension_table",
    "words",
]

if not TYPE_CHECKING:
    __getattr__, __dir__ = front_door(
        __name__,
        {
            "ZERO_WORDS": "pictures",
            "Case": "results",
            "Row": "results",
            "TensionTable": "results",
            "loads_figure": "pictures",
            "tension_table": "table",
            "words": "words",
        },
    )
