"""Rules between the keys of the parts that are drawn."""

from __future__ import annotations

from collections.abc import Iterator

from mountcalc.scenario.file.facts import Facts, Finding, found
from mountcalc.scenario.file.wording import both

__all__ = ["PARTS_RULES"]

_ROUNDING = 1e-9
_SAME_PLACE = 1e-6  # [m]
_BEARINGS = ("driven.bearing.0.position", "driven.bearing.1.position")
_JOURNALS = ("driven.bearing.0.journal_diameter", "driven.bearing.1.journal_diameter")


def _mortise(facts: Facts) -> Iterator[Finding]:
    """A leaf is not let in through the whole plate, nor through the whole base."""
    for board in ("plate", "base"):
        depths = facts.get("hinge.mortise_depth", f"{board}.thickness")
        if depths is not None and depths[0] >= depths[1] * (1 - _ROUNDING):
            yield found(
                "hinge.mortise_depth",
                f"less than the {board}'s thickness of {both(depths[1])} wanted, got "
                f"{both(depths[0])}",
            )


def _knuckle(facts: Facts) -> Iterator[Finding]:
    """A knuckle is the leaf rolled around the pin."""
    sizes = facts.get("hinge.knuckle_diameter", "hinge.leaf_thickness")
    if sizes is not None and sizes[0] <= 2 * sizes[1] * (1 + _ROUNDING):
        yield found(
            "hinge.knuckle_diameter",
            "more than twice the leaf's thickness wanted, since the leaf is rolled around the pin, "
            f"got {both(sizes[0])} for a leaf of {both(sizes[1])}",
        )


def _hinges_on_plate(facts: Facts) -> Iterator[Finding]:
    """All hinges find room side by side along the plate's edge."""
    sizes = facts.get("hinge.leaf_length", "plate.width")
    if sizes is None:
        return
    number = facts.good.get("hinge.number", 1)
    if number * sizes[0] > sizes[1] * (1 + _ROUNDING):
        yield found(
            "plate.width",
            f"{number} hinge{'s' if number > 1 else ''} of {both(sizes[0])} along the hinge's "
            f"line do not fit on a plate of {both(sizes[1])}; its width is along that line",
        )


def _packing(facts: Facts) -> Iterator[Finding]:
    """What lies under the feet tells something only where the feet are known."""
    if "motor.packing" in facts.present and "motor.frame" not in facts.present:
        yield found(
            "motor.packing",
            'goes with frame only: give the frame of the motor (such as "56", "143T" or "IEC 80")',
        )


def _motor_face(facts: Facts) -> Iterator[Finding]:
    """Which way the motor's shaft sticks out is told by face and pulley."""
    places = facts.get("motor.face_position", "motor.pulley_position")
    if places is not None and abs(places[0] - places[1]) < _SAME_PLACE:
        yield found(
            "motor.face_position",
            "the motor's face is at the middle of its pulley: which way the shaft sticks out "
            "cannot be told",
        )


def _bearing_opening(facts: Facts) -> Iterator[Finding]:
    """A bearing is thicker than its journal, and so is the hole for it."""
    sizes = facts.get("guard.bearing_opening", *_JOURNALS)
    if sizes is not None and sizes[0] <= min(sizes[1:]) * (1 + _ROUNDING):
        yield found(
            "guard.bearing_opening",
            f"a hole for the bearing around a journal of {both(min(sizes[1:]))} wanted, got "
            f"{both(sizes[0])}",
        )


def _shaft_end(facts: Facts) -> Iterator[Finding]:
    """The driven shaft ends beyond the bearings, on the side of an overhung pulley."""
    places = facts.get("driven.shaft_end", "driven.pulley_position", *_BEARINGS)
    if places is None:
        return
    end, pulley, *bearings = places
    low, high = min(bearings), max(bearings)
    if low < end < high:
        yield found("driven.shaft_end", "a shaft's end beyond the bearings wanted, got one between")
    elif (pulley < low and end >= high) or (pulley > high and end <= low):
        yield found(
            "driven.shaft_end", "the end on the pulley's side wanted, got one beyond the other side"
        )


def _floor(facts: Facts) -> Iterator[Finding]:
    """The hinge is above the floor."""
    places = facts.get("base.floor", "plate.hinge")
    if places is not None and places[0] >= places[1][1]:
        yield found("base.floor", f"the hinge is not above it: its y is {both(places[1][1])}")


PARTS_RULES = (
    _mortise, _knuckle, _hinges_on_plate, _packing, _motor_face, _bearing_opening, _shaft_end,
    _floor,
)  # fmt: skip
"""Each takes the facts and yields what is wrong."""
