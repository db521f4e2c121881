"""Rules between the keys of boards and hardware; see `mountcalc.scenario.file.rules`."""

from __future__ import annotations

from collections.abc import Iterator

from mountcalc.handbook.wood import known_woods, wood
from mountcalc.scenario.file.tables import Facts, Finding, found
from mountcalc.scenario.hardware import Giving
from mountcalc.scenario.model import AdjusterKind
from mountcalc.scenario.text.threads import bolt_diameter
from mountcalc.scenario.text.wording import both, listed, shown

_WASHERS = (("feet.washer", "feet.bolt"), ("adjuster.pad", "adjuster.thread"))
_MOISTURE = ("moisture_from", "moisture_to")


def hardware(facts: Facts) -> Iterator[Finding]:
    """A pin goes into its knuckles, a bolt into its washers; moisture has a dry and a damp end."""
    sizes = facts.get("hinge.pin_diameter", "hinge.knuckle_diameter")
    if sizes is not None and sizes[0] >= sizes[1]:
        yield found(
            "hinge.pin_diameter",
            f"less than hinge.knuckle_diameter of {both(sizes[1])} wanted, got {both(sizes[0])}",
        )
    is_link = facts.get("adjuster.kind") == (AdjusterKind.LINK,)  # else its pad is under a tip
    for washer, thread in _WASHERS[: 1 + is_link]:
        pair = facts.get(washer, thread)
        across = None if pair is None else bolt_diameter(pair[1])
        if pair is not None and across is not None and pair[0] <= across:
            yield found(washer, f"more than the bolt's {both(across)} wanted, got {both(pair[0])}")
    hole = facts.get("feet.washer", "motor.frame")
    if hole is not None and facts.lacks("feet", "bolt") and hole[0] <= hole[1].hole:
        yield found(
            "feet.washer",
            f"more than the hole's {both(hole[1].hole)} wanted, got {both(hole[0])}",
        )
    yield from _board_that_gives(facts)
    ends = facts.get(*(f"wood.{name}" for name in _MOISTURE))
    if ends is not None and ends[1] <= ends[0]:
        yield found(
            "wood.moisture_to",
            f"more than wood.moisture_from wanted, {ends[0]:g}, got {ends[1]:g}",
        )
    missing = facts.lacks("wood", *_MOISTURE)
    if len(missing) == 1:
        yield found(
            f"wood.{missing[0]}", "missing: the other end of the wood's moisture, in percent"
        )


def _board_that_gives(facts: Facts) -> Iterator[Finding]:
    """What the parts give is computed from a board that is told."""
    if facts.get("adjuster.stiffness") != (Giving.PARTS,):
        return
    given = '"parts" computes it from the plate: '
    if missing := facts.lacks("plate", "material", "thickness"):
        keys = listed((f"plate.{name}" for name in missing), "and")
        yield found("adjuster.stiffness", f"{given}{keys} wanted, or a stiffness instead")
    elif (told := facts.get("plate.material")) is not None and wood(told[0]) is None:
        known = listed(map(shown, known_woods()))
        yield found(
            "adjuster.stiffness",
            f"{given}nothing is known of {shown(told[0])}; plate.material of a board that is "
            f"known wanted ({known}), or a stiffness instead",
        )
