"""Rules between the keys of boards and hardware; see `mountcalc.scenario.file.rules`."""

from __future__ import annotations

from collections.abc import Iterator

from mountcalc.handbook.wood import known_woods, wood
from mountcalc.scenario.file.tables import Facts, Finding, found
from mountcalc.scenario.hardware import Giving
from mountcalc.scenario.model import AdjusterKind
from mountcalc.scenario.text.threads import bolt_diameter
from mountcalc.scenario.text.wording import both, listed, shown
from mountcalc.thresholds import ROUNDING

_WASHERS = (("feet.washer", "feet.bolt"), ("adjuster.pad", "adjuster.thread"))
_MOISTURE = ("moisture_from", "moisture_to")


def hardware(facts: Facts) -> Iterator[Finding]:
    """A pin goes into its knuckles, a bolt into its washers; moisture has a dry and a damp end."""
    sizes, leaf = facts.get("hinge.pin_diameter", "hinge.knuckle_diameter"), 0.0
    if sizes is not None and sizes[0] < sizes[1]:  # else it is too thick without a leaf, too
        leaf = _first(facts, "hinge.leaf_thickness") or 0.0
    if sizes is not None and sizes[0] >= sizes[1] - leaf:
        less = f" less hinge.leaf_thickness, {both(sizes[1] - leaf)}," if leaf else ""
        of = less or f" of {both(sizes[1])}"
        yield found(
            "hinge.pin_diameter",
            f"less than hinge.knuckle_diameter{of} wanted, got {both(sizes[0])}",
        )
    yield from _too_large(facts)
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


def _too_large(facts: Facts) -> Iterator[Finding]:
    """Sizes that no other leaves room for."""
    is_jack = facts.get("adjuster.kind") not in {None, (AdjusterKind.LINK,)}
    feet, thread = facts.get("feet.bolt", "motor.frame"), facts.get("adjuster.thread")
    across = bolt_diameter(thread[0]) if thread is not None and is_jack else None
    bolt = None if feet is None else bolt_diameter(feet[0])
    half = None if (width := facts.get("plate.width")) is None else 0.5 * width[0]
    limits: tuple[tuple[str, float | None, str], ...] = (
        ("hinge.play", _first(facts, "hinge.pin_diameter"), "hinge.pin_diameter"),
        ("adjuster.pad", None if half is None else 2.0 * half, "plate.width"),
        ("motor.across", half, "half of plate.width"),
        ("motor.center_across", None if half is None else 2.0 * half, "plate.width"),
    )
    for key, most, what in limits:
        got = _first(facts, key)
        if got is not None and most is not None and abs(got) >= most:
            yield found(key, f"less than {what}, {both(most)}, wanted, got {both(got)}")
    pad = _first(facts, "adjuster.pad")
    if pad is not None and across is not None and pad < across * (1 - ROUNDING):
        yield found(
            "adjuster.pad",
            f"no less than the bolt's {both(across)} wanted, got {both(pad)}; leave it out where "
            "the bare tip bears",
        )
    if feet is not None and bolt is not None and bolt > feet[1].hole * (1 + ROUNDING):
        yield found(
            "feet.bolt",
            f"a bolt that passes the feet's holes of {both(feet[1].hole)} wanted (frame "
            f"{feet[1].name}), got {both(bolt)}",
        )


def _first(facts: Facts, key: str) -> float | None:
    """The length of a key, where that is good."""
    found = facts.get(key)
    return None if found is None else float(found[0])


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
