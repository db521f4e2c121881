"""A log fitted: what it tells, and the scenario with what was fitted."""

from __future__ import annotations

import datetime as dt
import math
import tomllib
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import NamedTuple

import numpy as np

from mountcalc.errors import MountError
from mountcalc.fit.fitted_file import fitted_text
from mountcalc.fit.fitted_keys import fitted_keys
from mountcalc.fit.fitting import fit_readings
from mountcalc.fit.readings import Reading
from mountcalc.fit.results import Fit, TurnGives
from mountcalc.pages.amounts import significant
from mountcalc.scenario.file.tables import TABLES
from mountcalc.scenario.keys import declared
from mountcalc.scenario.model import AdjusterKind, Scenario
from mountcalc.scenario.text.quantities import read_number_text
from mountcalc.scenario.text.writing import UNITS_TO_WRITE, Display, UnitsToWrite, number_text
from mountcalc.table import tension_table

_FIGURES = 4  # of what was fitted: more would tell nothing


class FittedMount(NamedTuple):
    """What was fitted, by ``keys`` of the scenario as TOML has them, and the scenario with them."""

    fit: Fit
    scenario: Scenario
    keys: Mapping[str, Mapping[str, str]]

    def file(self, text: str) -> bytes:
        """The scenario's file, of which the text is given, with what was fitted."""
        how = f"on {dt.date.today()} from {len(self.fit.readings)} readings"  # noqa: DTZ011
        return fitted_text(text, self.keys, how).encode()


def fit_log(
    scenario: Scenario, readings: Sequence[Reading], source: str = "readings"
) -> FittedMount:
    """Fit readings; ``source`` is what errors call their log."""
    fit = fit_readings(scenario, readings, source)
    keys = _written(fitted_keys(scenario, fit), scenario.display)
    tables = {
        table: tomllib.loads("\n".join(f"{key} = {value}" for key, value in several.items()))
        for table, several in keys.items()
    }
    fitted = scenario.with_(**tables)
    gave, gives = _turn_gives(scenario), _turn_gives(fitted)
    return FittedMount(replace(fit, turn_gave=gave, turn_gives=gives), fitted, keys)


def _written(
    keys: Mapping[str, Mapping[str, float]], display: Display
) -> dict[str, dict[str, str]]:
    """Keys as a file has them, rounded, in the units of display."""
    every = UNITS_TO_WRITE[display].units
    units = UnitsToWrite({kind: names[:1] for kind, names in every.items()}, frozenset())
    written = dict[str, dict[str, str]]()
    for table, several in keys.items():
        forms = {
            key.name: key.form for part in TABLES[table].parts for key in declared(part, table)
        }
        for name, value in several.items():
            write = forms[name].write
            assert write is not None
            number, _, unit = write(value, units).strip('"').partition(" ")
            number = number_text(significant(read_number_text(number), _FIGURES))
            text = f'"{number} {unit}"' if unit else number
            written.setdefault(table, {})[name] = text
    return written


def _turn_gives(scenario: Scenario) -> TurnGives | None:
    """What the first turn from zero gives, where there is one."""
    if scenario.adjuster.kind is AdjusterKind.NONE:
        return None
    try:
        columns = tension_table(scenario, [0.0, 1.0]).columns()
    except MountError:  # past a dead centre
        return None
    low, high = (float(np.diff(columns[name])[0]) for name in ("tension_low", "tension_high"))
    return TurnGives(low, high) if math.isfinite(low) and math.isfinite(high) else None
