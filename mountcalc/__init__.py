"""mountcalc: lay out and set a hinged motor mount.

One function for each command, in SI units; each tells in its ``help`` what it takes and gives.

>>> import mountcalc
>>> scenario = mountcalc.read_scenario("scenarios/cider-mill.toml")
>>> mountcalc.setting(scenario).setting.set_turns
1.6875
>>> stiffer = scenario.with_(belt={"stiffness": "80 kN"})
>>> mountcalc.setting(stiffer).setting.set_turns < 1.6875
True

Modules load when they are first used, so that importing the package costs nothing.
"""

from __future__ import annotations

import importlib
from typing import TYPE_CHECKING

from mountcalc.version import __version__

if TYPE_CHECKING:
    from mountcalc.belts.results import BeltChoice
    from mountcalc.card.results import BenchCard
    from mountcalc.check.results import Check
    from mountcalc.errors import (
        InputError,
        MountcalcError,
        MountError,
        OutputError,
        ScenarioError,
    )
    from mountcalc.explain.results import Explanation
    from mountcalc.fit.results import Fit
    from mountcalc.fit.strum.strand import Strummed
    from mountcalc.library import (
        PlacePlots,
        Plots,
        belts,
        card,
        check,
        draw,
        example,
        explain,
        fit,
        measure,
        new,
        parts,
        place,
        plot,
        plot_fit,
        plot_layout,
        plot_place,
        plot_setting,
        plot_strum,
        plot_tolerance,
        report,
        restorer,
        setting,
        strum,
        table,
        tables,
        tolerance,
    )
    from mountcalc.measure.drive import MeasureQuestion
    from mountcalc.measure.results import Measured
    from mountcalc.new.results import Understood
    from mountcalc.parts.results import PartsList
    from mountcalc.place.results import Placement
    from mountcalc.place.search.search import Found
    from mountcalc.report.restorer.results import RestorerSheet
    from mountcalc.requirements.results import Advice
    from mountcalc.scenario.model import Scenario
    from mountcalc.scenario.reader import parse_scenario, parse_search, read_scenario, read_search
    from mountcalc.scenario.search import Search
    from mountcalc.table.many import Tables
    from mountcalc.table.results import TensionTable
    from mountcalc.tolerance.results import Tolerance

__all__ = [
    "Advice",
    "BeltChoice",
    "BenchCard",
    "Check",
    "Explanation",
    "Fit",
    "Found",
    "InputError",
    "MeasureQuestion",
    "Measured",
    "MountError",
    "MountcalcError",
    "OutputError",
    "PartsList",
    "PlacePlots",
    "Placement",
    "Plots",
    "RestorerSheet",
    "Scenario",
    "ScenarioError",
    "Search",
    "Strummed",
    "Tables",
    "TensionTable",
    "Tolerance",
    "Understood",
    "__version__",
    "belts",
    "card",
    "check",
    "draw",
    "example",
    "explain",
    "fit",
    "measure",
    "new",
    "parse_scenario",
    "parse_search",
    "parts",
    "place",
    "plot",
    "plot_fit",
    "plot_layout",
    "plot_place",
    "plot_setting",
    "plot_strum",
    "plot_tolerance",
    "read_scenario",
    "read_search",
    "report",
    "restorer",
    "setting",
    "strum",
    "table",
    "tables",
    "tolerance",
]

_HOMES = {
    "belts.results": ("BeltChoice",),
    "card.results": ("BenchCard",),
    "errors": ("InputError", "MountError", "MountcalcError", "OutputError", "ScenarioError"),
    "check.results": ("Check",),
    "explain.results": ("Explanation",),
    "fit.results": ("Fit",),
    "fit.strum.strand": ("Strummed",),
    "library": (
        *("PlacePlots", "Plots", "belts", "card", "check", "draw", "example", "fit", "measure"),
        "explain",
        *("new", "parts", "place", "plot", "plot_fit", "plot_layout", "plot_place", "plot_setting"),
        *("plot_strum", "plot_tolerance", "report", "restorer", "setting", "strum", "table"),
        *("tables", "tolerance"),
    ),
    "measure.drive": ("MeasureQuestion",),
    "measure.results": ("Measured",),
    "new.results": ("Understood",),
    "parts.results": ("PartsList",),
    "place.results": ("Placement",),
    "place.search.search": ("Found",),
    "report.restorer.results": ("RestorerSheet",),
    "requirements.results": ("Advice",),
    "scenario.model": ("Scenario",),
    "scenario.reader": ("parse_scenario", "parse_search", "read_scenario", "read_search"),
    "scenario.search": ("Search",),
    "table.many": ("Tables",),
    "table.results": ("TensionTable",),
    "tolerance.results": ("Tolerance",),
}

# A package becomes an attribute of this one as it is first imported, and only then. Those that are
# named as a function are imported now, empty as they are, so that it is the function for good.
for _room in (
    *("table", "belts", "check", "setting", "measure", "card", "fit", "place", "tolerance", "draw"),
    *("parts", "report", "example", "new", "explain"),
):
    importlib.import_module(f"mountcalc.{_room}")
    del globals()[_room]


def __getattr__(name: str) -> object:
    for home, names in _HOMES.items():
        if name in names:
            thing = getattr(importlib.import_module(f"mountcalc.{home}"), name)
            globals()[name] = thing
            return thing
    raise AttributeError(f"module 'mountcalc' has no attribute {name!r}")


def __dir__() -> list[str]:
    return __all__
