"""Mounts in which the x and y of one point are swapped: a slip of whoever types them."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from mountcalc.scenario.model import Scenario, Vector
from mountcalc.scenario.text.quantity_writing import UNITS_TO_WRITE

__all__ = ["SwappedPoint", "swapped_points"]

_POINTS = (
    ("motor", "shaft"),
    ("plate", "hinge"),
    ("driven", "shaft"),
    ("adjuster", "tip"),
    ("adjuster", "plate_pin"),
    ("adjuster", "base_pin"),
    ("motor", "center_of_mass"),
    ("plate", "center_of_mass"),
)


@dataclass(frozen=True, slots=True)
class SwappedPoint:
    """A mount with one point swapped: its key, how it would be typed, and the mount."""

    key: str
    typed: str
    scenario: Scenario


def swapped_points(scenario: Scenario) -> Iterator[SwappedPoint]:
    """The mounts that differ from a scenario in one point, whose x and y are swapped."""
    units = UNITS_TO_WRITE[scenario.display]
    for table, name in _POINTS:
        point: Vector | None = getattr(getattr(scenario, table), name)
        if point is None or point[0] == point[1]:
            continue
        turned = point[1], point[0]
        changes = {name: turned}
        if table == "motor" and scenario.motor.center_of_mass == point:
            changes["center_of_mass"] = turned
        part = replace(getattr(scenario, table), **changes)
        typed = f"{name} = {units.point(turned)}"
        yield SwappedPoint(f"{table}.{name}", typed, replace(scenario, **{table: part}))
