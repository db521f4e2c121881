"""Rules between the keys of plate, hinges, motor and adjuster: a part of `rules`."""

from __future__ import annotations

import math
from collections.abc import Iterator
from itertools import pairwise

from mountcalc.scenario.file.tables import Facts, Finding, found
from mountcalc.scenario.hardware import BoltMake
from mountcalc.scenario.keys import declared
from mountcalc.scenario.model import Acts, AdjusterKind
from mountcalc.scenario.text.wording import both, listed, shown
from mountcalc.thresholds import ROUNDING, SAME_PLACE

_TWO = 2
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
    "axis": 'missing: the way the tip moves as the bolt comes out (such as "left")',
    "face": 'missing: a direction along the face that the tip bears on (such as "up")',
    "base_pin": 'missing: the point of the pin in the base (such as ["4 in", "-1 in"])',
    "plate_pin": 'missing: the point of the pin in the plate as drawn (such as ["4 in", "-1 in"])',
}


def plate(facts: Facts) -> Iterator[Finding]:
    """A weight has its place; hinges, motor and floor go with the plate."""
    if facts.good.get("plate.weight", 0.0) > 0 and facts.lacks("plate", "center_of_mass"):
        yield found(
            "plate.center_of_mass",
            'missing: point wanted (such as ["-20 in", "-4 in"]), since the plate has a weight',
        )
    sizes, number = facts.get("hinge.leaf_length", "plate.width"), facts.good.get("hinge.number", 1)
    if sizes is not None and number * sizes[0] > sizes[1] * (1 + ROUNDING):
        yield found(
            "plate.width",
            f"{number} hinge{'s' if number > 1 else ''} of {both(sizes[0])} along the hinge's "
            f"line do not fit on a plate of {both(sizes[1])}; its width is along that line",
        )
    yield from _hinges(facts)
    if facts.lacks("motor", "packing", "frame") == ["frame"]:
        yield found(
            "motor.packing",
            'goes with frame only: give the frame of the motor (such as "56", "143T" or "IEC 80")',
        )
    heights = facts.get("base.floor", "plate.hinge")
    if heights is not None and heights[0] >= heights[1][1]:
        yield found("base.floor", f"the hinge is not above it: its y is {both(heights[1][1])}")


def _hinges(facts: Facts) -> Iterator[Finding]:
    """Hinges that are placed are as many as are counted, beside one another, on the plate."""
    placed, number = facts.good.get("hinge.across", ()), facts.good.get("hinge.number")
    if number is not None and placed and len(placed) != number:
        yield found("hinge.across", f"as many as hinge.number wanted, {number}, got {len(placed)}")
    length = facts.good.get("hinge.leaf_length")
    if length is None:
        return
    if any(after - one < length * (1 - ROUNDING) for one, after in pairwise(sorted(placed))):
        yield found("hinge.across", f"hinges of {both(length)} there would overlap")
    width = facts.good.get("plate.width", math.inf)
    if any(2 * abs(one) + length > width * (1 + ROUNDING) for one in placed):
        yield found("hinge.across", f"a hinge would stand beyond the plate of {both(width)}")


def adjuster(facts: Facts) -> Iterator[Finding]:
    """Each kind of adjuster has its own keys; where there is none, nothing can be asked of it."""
    kind = facts.good.get("adjuster.kind")
    if kind is None:
        return
    allowed = {"kind", *_REQUIRED[kind]}
    if kind is not AdjusterKind.NONE:
        allowed |= {"acts", "across", "bolt", "zero_turns", "stiffness", "spring", *_TURNING}
        allowed |= {one.name for one in declared(BoltMake, "adjuster")}
        yield from _bolts(facts, facts.tables_of("adjuster.bolt"))
        if len(facts.lacks("adjuster", *_TURNING)) == _TWO:
            yield found(
                "adjuster.thread",
                'missing: screw thread (such as "3/8-16" or "M10x1.5"), or else advance_per_turn',
            )
        by_kind = Acts.BOTH if kind is AdjusterKind.LINK else Acts.PUSH
        acts = facts.good.get("adjuster.acts", by_kind)
        if "adjuster.spring" in facts.tables and acts is Acts.BOTH:
            yield found(
                "adjuster.acts",
                '"push" or "pull" wanted, since a spring is pressed one way only, got "both"',
            )
    elif not facts.lacks("limits", "adjuster"):
        yield found("limits.adjuster", 'an adjuster of kind "none" carries no load')
    for name in facts.lacks("adjuster", *_REQUIRED[kind]):
        yield found(f"adjuster.{name}", _ADJUSTER_WANTED[name])
    for key in sorted(facts.present):
        name = key.removeprefix("adjuster.")
        if name == key or name in allowed or "." in name:
            continue
        kinds = listed(shown(other.value) for other, keys in _REQUIRED.items() if name in keys)
        words = f"'{name}' is a key of kind {kinds}, not of kind {shown(kind.value)}"
        yield found(
            key, words if kinds else f"an adjuster of kind {shown(kind.value)} has no '{name}'"
        )


def _bolts(facts: Facts, bolts: list[str]) -> Iterator[Finding]:
    """Bolts with places of their own are two, apart from one another."""
    if not bolts:
        return
    if len(bolts) != _TWO:
        key = bolts[_TWO] if len(bolts) > _TWO else "adjuster.bolt"
        yield found(
            key,
            f"exactly two [[adjuster.bolt]] wanted, found {len(bolts)}; one alone is put by "
            "adjuster.across",
        )
        return
    places = facts.get(*(f"{one}.across" for one in bolts))
    if places is not None and abs(places[0] - places[1]) < SAME_PLACE:
        yield found("adjuster.bolt.1.across", "both bolts are at the same place")
    if not facts.lacks("adjuster", "across"):
        yield found("adjuster.across", "leave it out: each [[adjuster.bolt]] has its own")
