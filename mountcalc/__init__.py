"""mountcalc: lay out and set a hinged motor mount.

>>> import mountcalc
>>> scenario = mountcalc.read_scenario("cider-mill.toml")  # doctest: +SKIP
>>> table = mountcalc.tension_table(scenario, turns=[0, 1, 2])  # doctest: +SKIP

Everything is in SI units; the modules load when they are first used, so that importing the
package costs nothing.
"""

from __future__ import annotations

import importlib
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from mountcalc.errors import MountcalcError
    from mountcalc.scenario.model import Scenario
    from mountcalc.scenario.reader import parse_scenario, read_scenario
    from mountcalc.table.table import tension_table

__all__ = ["MountcalcError", "Scenario", "parse_scenario", "read_scenario", "tension_table"]


_HOMES = {
    "MountcalcError": "mountcalc.errors",
    "Scenario": "mountcalc.scenario.model",
    "parse_scenario": "mountcalc.scenario.reader",
    "read_scenario": "mountcalc.scenario.reader",
    "tension_table": "mountcalc.table.table",
}


def __getattr__(name: str) -> object:
    if name in _HOMES:
        return getattr(importlib.import_module(_HOMES[name]), name)
    raise AttributeError(f"module 'mountcalc' has no attribute {name!r}")


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})
