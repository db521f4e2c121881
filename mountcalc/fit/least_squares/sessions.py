"""Readings sorted into sessions, between which a belt beds in, and into settings of the bolt."""

from __future__ import annotations

import datetime as dt
from collections.abc import Sequence

import numpy as np

from mountcalc.equilibrium.solve import SolvedMount
from mountcalc.fit.least_squares.model import ReadingModel
from mountcalc.fit.readings import Reading, ReadingMethod
from mountcalc.scenario.model import Coil

# The tip tells turns wherever the zero is, a load at which the belt slips tells traction.
_NO_ZERO = (ReadingMethod.TIP, ReadingMethod.SLIP)


def model_of(
    solved: SolvedMount,
    readings: Sequence[Reading],
    give: float = 0.0,
    coil: Coil | None = None,
) -> ReadingModel:
    """The model of a log: a zero for each session that tells one, turns for each setting.

    All is one session where there would be more to find than readings to find it from.
    """
    keys = _session_keys(readings)
    tells = [one.turns is not None and one.method not in _NO_ZERO for one in readings]
    told = sorted({key for key, does in zip(keys, tells, strict=True) if does})
    if not told or len(told) + 1 >= sum(tells):
        told = [0]
    # What was read on a day that tells no zero goes with the day before that does.
    session = np.maximum(np.searchsorted(told, keys, side="right") - 1, 0)
    settings: dict[tuple[int, float], int] = {}
    has_error = solved.mount.scenario.limits.turn_error > 0
    setting = [
        settings.setdefault((day, one.turns), len(settings)) if one.turns and has_error else -1
        for day, one in zip(session.tolist(), readings, strict=True)
    ]
    numbers = np.array(setting, dtype=int)
    return ReadingModel(solved, tuple(readings), session, numbers, give, coil)


def _session_keys(readings: Sequence[Reading]) -> list[int]:
    """Number of each reading's session in order of time; without a time, that of the row before."""
    times = [time_of(one) for one in readings]
    by_hours = any(one.hours is not None for one in readings)
    when = [time[by_hours] for time in times]
    known = sorted({time for time in when if time is not None})
    keys, last = [], 0
    for time in when:
        if time is not None:
            last = known.index(time)
        keys.append(last)
    return keys


def time_of(reading: Reading) -> tuple[float | None, float | None]:
    """When it was read, in days and in running hours."""
    date = reading.date
    if isinstance(date, dt.datetime):
        date = date.date()
    return None if date is None else float(date.toordinal()), reading.hours
