"""The tension table: loads against turns."""

from __future__ import annotations

from typing import TYPE_CHECKING

from mountcalc.front_door import front_door

if TYPE_CHECKING:
    from mountcalc.table import giving, words
    from mountcalc.table.page import setting_grid
    from mountcalc.table.pictures import loads_figure
    from mountcalc.table.results import Row, TensionTable, TightenBy
    from mountcalc.table.table import tension_table

__all__ = [
    "Row",
    "TensionTable",
    "TightenBy",
    "giving",
    "loads_figure",
    "setting_grid",
    "tension_table",
    "words",
]

if not TYPE_CHECKING:
    __getattr__, __dir__ = front_door(
        __name__,
        {
            "Row": "results",
            "TensionTable": "results",
            "TightenBy": "results",
            "giving": "giving",
            "loads_figure": "pictures",
            "setting_grid": "page",
            "tension_table": "table",
            "words": "words",
        },
    )
