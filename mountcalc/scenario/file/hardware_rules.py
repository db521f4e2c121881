"""Rules between the keys of boards and hardware; see `mountcalc.scenario.file.rules`."""

from __future__ import annotations

from collections.abc import Iterator

from mountcalc.scenario.file.tables import Facts, Finding, found
from mountcalc.scenario.text.wording import both

_MOISTURE = ("moisture_from", "moisture_to")


def hardware(facts: Facts) -> Iterator[Finding]:
    """A pin goes into its knuckles, and moisture has two ends of which the second is the damper."""
    sizes = facts.get("hinge.pin_diameter", "hinge.knuckle_diameter")
    if sizes is not None and sizes[0] >= sizes[1]:
        yield found(
            "hinge.pin_diameter",
            f"less than hinge.knuckle_diameter of {both(sizes[1])} wanted, got {both(sizes[0])}",
        )
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
