"""Rules between the keys of a scenario: what no single value can tell.

A rule runs on whatever keys are good and is silent where one that it needs is not.
"""

from __future__ import annotations

import math
from collections.abc import Iterator

from mountcalc.belts.sections import known_sections
from mountcalc.belts.sections import section as v_section
from mountcalc.scenario.facts import Facts, Finding, path_of
from mountcalc.scenario.model import AdjusterKind, Vector
from mountcalc.scenario.wording import listed, shown
from mountcalc.units import si_factor

__all__ = ["check"]

_SAME_PLACE = 1e-6  # [m]
_ALONG_FACE = 0.05  # least |axis . normal|: beyond it the tip slides instead of pushing
_TWO = 2
_CLEARANCE_OVER_DIAMETER = 0.1  # from there on it is no running clearance

_TURNING = ("thread", "advance_per_turn")
_JACK_POINTS = ("tip", "axis", "face")
_LINK_POINTS = ("base_pin", "plate_pin")
_REQUIRED = {
    AdjusterKind.JACK_IN_BASE: _JACK_POINTS,
    AdjusterKind.JACK_IN_PLATE: _JACK_POINTS,
    AdjusterKind.LINK: _LINK_POINTS,
    AdjusterKind.NONE: (),
}
_ADJUSTER_WANTED = {
    "tip": 'missing: the point where the tip bears as drawn (such as ["4 in", "-1 in"])',
    "axis": 'missing: the way the tip moves as the screw extends (such as "left")',
    "face": 'missing: a direction along the face that the tip bears on (such as "up")',
    "base_pin": 'missing: the point of the pin in the base (such as ["4 in", "-1 in"])',
    "plate_pin": 'missing: the point of the pin in the plate as drawn (such as ["4 in", "-1 in"])',
}
_BELT_WANTED = {
    "stiffness": 'force that would stretch one belt to twice its length (such as "12000 lbf")',
    "mass": 'mass of one belt per length (such as "0.1 kg/m")',
    "traction": "coefficient of friction, wedging included (such as 0.5)",
}


def check(facts: Facts) -> list[Finding]:
    """Return what is wrong between the keys of a scenario."""
    rules = (_pulleys, _two_bearings, _bearings_apart, _starting_limits, _bearing_boxes,
             _belt, _plate, _adjuster_keys, _jack, _link, _adjuster_limit)  # fmt: skip
    return [finding for rule in rules for finding in rule(facts)]


def _found(key: str, text: str) -> Finding:
    return Finding(path_of(key), text)


def _apart(a: Vector, b: Vector) -> float:
    return math.hypot(a[0] - b[0], a[1] - b[1])


def _both(length: float) -> str:
    return f"{length / si_factor('in'):.4g} in ({length / si_factor('mm'):.4g} mm)"


def _pulleys(facts: Facts) -> Iterator[Finding]:
    """The pulleys must not overlap as drawn."""
    shafts = facts.get("driven.shaft", "motor.shaft")
    if shafts is None:
        return
    distance = _apart(*shafts)
    if distance < _SAME_PLACE:
        yield _found("motor.shaft", "the motor's shaft and the driven shaft are at the same place")
        return
    diameters = facts.get("driven.pulley_diameter", "motor.pulley_diameter")
    if diameters is not None and distance <= sum(diameters) / 2:
        yield _found(
            "motor.shaft",
            f"the pulleys overlap as drawn: the shafts are {_both(distance)} apart, the pulleys' "
            f"radii add up to {_both(sum(diameters) / 2)}",
        )


def _two_bearings(facts: Facts) -> Iterator[Finding]:
    count = facts.counts.get("driven.bearing", _TWO)
    if count != _TWO:
        key = "driven.bearing" + (".2" if count > _TWO else "")
        yield _found(key, f"exactly two [[driven.bearing]] wanted, found {count}")


def _bearings_apart(facts: Facts) -> Iterator[Finding]:
    positions = facts.get("driven.bearing.0.position", "driven.bearing.1.position")
    if positions is not None and abs(positions[0] - positions[1]) < _SAME_PLACE:
        yield _found(
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
            yield _found(f"{table}.starting_limit", "a starting limit below the limit itself")


def _bearing_boxes(facts: Facts) -> Iterator[Finding]:
    """A clearance is far below the journal's diameter; only a cap can be dowelled."""
    for index in range(facts.counts.get("driven.bearing", 0)):
        table = f"driven.bearing.{index}"
        sizes = facts.get(f"{table}.clearance", f"{table}.journal_diameter")
        if sizes is not None and sizes[0] >= _CLEARANCE_OVER_DIAMETER * sizes[1] * (1 - 1e-9):
            yield _found(
                f"{table}.clearance",
                f"clearance below a tenth of the journal's diameter wanted, got {sizes[0]:.4g} m "
                f"for {sizes[1]:.4g} m (it is the bore's diameter less the journal's)",
            )
        cap = {f"{table}.{name}" for name in ("cap_dowelled", "cap_direction")} & facts.present
        if cap == {f"{table}.cap_dowelled"}:
            yield _found(
                f"{table}.cap_dowelled",
                "goes with cap_direction only: give the side of the shaft that the cap is on "
                '(such as "up")',
            )


def _belt(facts: Facts) -> Iterator[Finding]:
    """Stiffness, mass and traction come from the section where they are not given."""
    if "belt" not in facts.tables:
        return
    missing = [name for name in _BELT_WANTED if f"belt.{name}" not in facts.present]
    if {"driven.traction", "motor.traction"} <= facts.present and "traction" in missing:
        missing.remove("traction")
    if not missing:
        return
    wanted = listed((f"{name} ({_BELT_WANTED[name]})" for name in missing), "and")
    if "belt.section" not in facts.present:
        yield _found("belt", f"section missing (such as {shown('A')}), or else {wanted}")
    elif (section := facts.get("belt.section")) and v_section(section[0]) is None:
        yield _found(
            "belt.section",
            f"nothing is known of section {shown(section[0])} (known: "
            f"{listed(known_sections(), 'and')}), so give {wanted}",
        )


def _plate(facts: Facts) -> Iterator[Finding]:
    weight = facts.get("plate.weight")
    if weight is not None and weight[0] > 0 and "plate.center_of_mass" not in facts.present:
        yield _found(
            "plate.center_of_mass",
            'missing: point wanted (such as ["-20 in", "-4 in"]), since the plate has a weight',
        )


def _adjuster_keys(facts: Facts) -> Iterator[Finding]:
    """Each kind of adjuster has its own keys."""
    kind = facts.get("adjuster.kind")
    if kind is None:
        return
    required = _REQUIRED[kind[0]]
    allowed = {"kind", *required}
    if kind[0] != AdjusterKind.NONE:
        allowed |= {"acts", *_TURNING}
        if not any(f"adjuster.{name}" in facts.present for name in _TURNING):
            yield _found(
                "adjuster.thread",
                'missing: screw thread (such as "3/8-16" or "M10x1.5"), or else advance_per_turn',
            )
    for name in required:
        if f"adjuster.{name}" not in facts.present:
            yield _found(f"adjuster.{name}", _ADJUSTER_WANTED[name])
    for key in sorted(facts.present):
        name = key.removeprefix("adjuster.")
        if name != key and name not in allowed:
            yield _found(key, _foreign(name, kind[0]))


def _foreign(name: str, kind: AdjusterKind) -> str:
    """Say which kinds of adjuster a key belongs to."""
    if name in ("acts", *_TURNING):
        return f"an adjuster of kind {shown(kind.value)} has no '{name}'"
    kinds = listed(shown(other.value) for other, keys in _REQUIRED.items() if name in keys)
    return f"'{name}' is a key of kind {kinds}, not of kind {shown(kind.value)}"


def _jack(facts: Facts) -> Iterator[Finding]:
    """A screw must not move along the face that it bears on."""
    directions = facts.get("adjuster.axis", "adjuster.face")
    if directions is not None and abs(math.sin(directions[0] - directions[1])) < _ALONG_FACE:
        yield _found(
            "adjuster.axis",
            "the screw moves along the face that its tip bears on (within 3 degrees): it would "
            "slide instead of pushing; face is the direction along the face, not square to it",
        )


def _link(facts: Facts) -> Iterator[Finding]:
    """A link needs three different places: base pin, plate pin and hinge."""
    pins = facts.get("adjuster.base_pin", "adjuster.plate_pin")
    if pins is not None and _apart(*pins) < _SAME_PLACE:
        yield _found("adjuster.plate_pin", "both pins of the link are at the same place")
    for name in _LINK_POINTS:
        pin = facts.get(f"adjuster.{name}", "plate.hinge")
        if pin is not None and _apart(*pin) < _SAME_PLACE:
            yield _found(f"adjuster.{name}", "a pin of the link is on the hinge: it turns nothing")


def _adjuster_limit(facts: Facts) -> Iterator[Finding]:
    """Where there is no adjuster, nothing can be asked of it."""
    kind = facts.get("adjuster.kind")
    if kind is not None and kind[0] == AdjusterKind.NONE and "limits.adjuster" in facts.present:
        yield _found(
            "limits.adjuster", f"an adjuster of kind {shown(kind[0].value)} carries no load"
        )
