"""From checked tables to the bearings and loads of the driven shaft."""

from __future__ import annotations

import math

from mountcalc.scenario.file.schema import BearingTable, LoadTable
from mountcalc.scenario.model import Bearing, ShaftLoad, Vector

__all__ = ["build_bearing", "build_load"]

_STARTING_OVER_RUNNING_LIMIT = 2.0  # MPTA 401, for starting and occasional peaks


def build_bearing(table: BearingTable, number: int) -> Bearing:
    """Return a bearing; ``number``, from 1, names it where the file does not."""
    area = table.journal_diameter * table.length
    limit = table.limit.as_load(area)
    starting = table.starting_limit
    return Bearing(
        name=table.name or f"bearing {number}",
        position=table.position,
        journal_diameter=table.journal_diameter,
        length=table.length,
        limit=limit,
        starting_limit=(
            _STARTING_OVER_RUNNING_LIMIT * limit if starting is None else starting.as_load(area)
        ),
        limit_given_as_pressure=table.limit.is_pressure,
        clearance=table.clearance,
        cap_direction=table.cap_direction,
        cap_dowelled=table.cap_dowelled,
        groove_direction=table.groove_direction,
        service=table.service,
    )


def build_load(table: LoadTable, number: int, pulley: float) -> ShaftLoad:
    """Return a load on the shaft, whose pulley is at ``pulley`` [m].

    ``number``, from 1, names it where the file does not.
    """
    return ShaftLoad(
        name=table.name or f"load {number}",
        position=pulley if table.position is None else table.position,
        force=table.force,
        direction=_unit_vector(table.direction),
        when=table.when,
        on=table.on,
    )


def _unit_vector(angle: float) -> Vector:
    """Return the unit vector of a direction; the four named ones come out exact."""
    return round(math.cos(angle), 15) + 0.0, round(math.sin(angle), 15) + 0.0
