"""Rules between the keys of the bearings and of the loads between them."""

from __future__ import annotations

from collections.abc import Iterator

from mountcalc.scenario.file.facts import Facts, Finding, found

__all__ = ["BEARING_RULES"]

_SAME_PLACE = 1e-6  # [m]
_TWO = 2
_CLEARANCE_OVER_DIAMETER = 0.1  # from there on it is no running clearance


def _two_bearings(facts: Facts) -> Iterator[Finding]:
    count = facts.counts.get("driven.bearing", _TWO)
    if count != _TWO:
        key = "driven.bearing" + (".2" if count > _TWO else "")
        yield found(key, f"exactly two [[driven.bearing]] wanted, found {count}")


def _bearings_apart(facts: Facts) -> Iterator[Finding]:
    positions = facts.get("driven.bearing.0.position", "driven.bearing.1.position")
    if positions is not None and abs(positions[0] - positions[1]) < _SAME_PLACE:
        yield found(
            "driven.bearing.1.position", "both bearings are at the same place along the shaft"
        )


def _starting_limits(facts: Facts) -> Iterator[Finding]:
    for index in range(facts.counts.get("driven.bearing", 0)):
        table = f"driven.bearing.{index}"
        limits = facts.get(f"{table}.limit", f"{table}.starting_limit")
        if limits is None:
            continue
        limit, starting = limits
        area = 1.0
        if limit.is_pressure != starting.is_pressure:
            sides = facts.get(f"{table}.journal_diameter", f"{table}.length")
            if sides is None:
                continue
            area = sides[0] * sides[1]
        if starting.as_load(area) < limit.as_load(area) * (1 - 1e-9):
            yield found(f"{table}.starting_limit", "a starting limit below the limit itself")


def _bearing_boxes(facts: Facts) -> Iterator[Finding]:
    """A clearance is far below the journal's diameter; only a cap can be dowelled."""
    for index in range(facts.counts.get("driven.bearing", 0)):
        table = f"driven.bearing.{index}"
        sizes = facts.get(f"{table}.clearance", f"{table}.journal_diameter")
        if sizes is not None and sizes[0] >= _CLEARANCE_OVER_DIAMETER * sizes[1] * (1 - 1e-9):
            yield found(
                f"{table}.clearance",
                f"clearance below a tenth of the journal's diameter wanted, got {sizes[0]:.4g} m "
                f"for {sizes[1]:.4g} m (it is the bore's diameter less the journal's)",
            )
        cap = {f"{table}.{name}" for name in ("cap_dowelled", "cap_direction")} & facts.present
        if cap == {f"{table}.cap_dowelled"}:
            yield found(
                f"{table}.cap_dowelled",
                "goes with cap_direction only: give the side of the shaft that the cap is on "
                '(such as "up")',
            )


def _loads(facts: Facts) -> Iterator[Finding]:
    """A load has a position of its own, or that of what it sits on."""
    for index in range(facts.counts.get("driven.load", 0)):
        table = f"driven.load.{index}"
        if table not in facts.tables:
            continue
        given = {name for name in ("position", "on") if f"{table}.{name}" in facts.present}
        if not given:
            yield found(
                f"{table}.position",
                'missing: length wanted (such as "14 1/2 in" or "370 mm"), its place along the '
                'shaft, or else on = "pulley"',
            )
        places = facts.get(f"{table}.position", "driven.pulley_position")
        if len(given) == _TWO and places and abs(places[0] - places[1]) >= _SAME_PLACE:
            yield found(
                f"{table}.position",
                'leave it out: on = "pulley" puts the load where pulley_position is',
            )


BEARING_RULES = (_two_bearings, _bearings_apart, _starting_limits, _bearing_boxes, _loads)
"""Each takes the facts and yields what is wrong."""
