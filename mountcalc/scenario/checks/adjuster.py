"""Rules between the keys of the adjuster: each kind has its own."""

from __future__ import annotations

import math
from collections.abc import Iterator

from mountcalc.scenario.file.facts import Facts, Finding, found
from mountcalc.scenario.file.wording import listed, shown
from mountcalc.scenario.model import AdjusterKind, Vector

__all__ = ["ADJUSTER_RULES"]

_SAME_PLACE = 1e-6  # [m]
_ALONG_FACE = 0.05  # least |axis . normal|: beyond it the tip slides instead of pushing
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


def _apart(a: Vector, b: Vector) -> float:
    return math.hypot(a[0] - b[0], a[1] - b[1])


def _adjuster_keys(facts: Facts) -> Iterator[Finding]:
    """Each kind of adjuster has its own keys."""
    kind = facts.get("adjuster.kind")
    if kind is None:
        return
    required = _REQUIRED[kind[0]]
    allowed = {"kind", *required}
    if kind[0] != AdjusterKind.NONE:
        allowed |= {"acts", "across", *_TURNING}
        if not any(f"adjuster.{name}" in facts.present for name in _TURNING):
            yield found(
                "adjuster.thread",
                'missing: screw thread (such as "3/8-16" or "M10x1.5"), or else advance_per_turn',
            )
    for name in required:
        if f"adjuster.{name}" not in facts.present:
            yield found(f"adjuster.{name}", _ADJUSTER_WANTED[name])
    for key in sorted(facts.present):
        name = key.removeprefix("adjuster.")
        if name != key and name not in allowed:
            yield found(key, _foreign(name, kind[0]))


def _foreign(name: str, kind: AdjusterKind) -> str:
    """Say which kinds of adjuster a key belongs to."""
    if name in ("acts", "across", *_TURNING):
        return f"an adjuster of kind {shown(kind.value)} has no '{name}'"
    kinds = listed(shown(other.value) for other, keys in _REQUIRED.items() if name in keys)
    return f"'{name}' is a key of kind {kinds}, not of kind {shown(kind.value)}"


def _jack(facts: Facts) -> Iterator[Finding]:
    """A screw must not move along the face that it bears on."""
    directions = facts.get("adjuster.axis", "adjuster.face")
    if directions is not None and abs(math.sin(directions[0] - directions[1])) < _ALONG_FACE:
        yield found(
            "adjuster.axis",
            "the screw moves along the face that its tip bears on (within 3 degrees): it would "
            "slide instead of pushing; face is the direction along the face, not square to it",
        )


def _link(facts: Facts) -> Iterator[Finding]:
    """A link needs three different places: base pin, plate pin and hinge."""
    pins = facts.get("adjuster.base_pin", "adjuster.plate_pin")
    if pins is not None and _apart(*pins) < _SAME_PLACE:
        yield found("adjuster.plate_pin", "both pins of the link are at the same place")
    for name in _LINK_POINTS:
        pin = facts.get(f"adjuster.{name}", "plate.hinge")
        if pin is not None and _apart(*pin) < _SAME_PLACE:
            yield found(f"adjuster.{name}", "a pin of the link is on the hinge: it turns nothing")


def _adjuster_limit(facts: Facts) -> Iterator[Finding]:
    """Where there is no adjuster, nothing can be asked of it."""
    kind = facts.get("adjuster.kind")
    if kind is not None and kind[0] == AdjusterKind.NONE and "limits.adjuster" in facts.present:
        yield found(
            "limits.adjuster", f"an adjuster of kind {shown(kind[0].value)} carries no load"
        )


ADJUSTER_RULES = (_adjuster_keys, _jack, _link, _adjuster_limit)
"""Each takes the facts and yields what is wrong."""
