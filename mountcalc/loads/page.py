"""What each part carries, in words: the worst of all load cases."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence

from mountcalc.loads.results import Part, PartLoad, Wood
from mountcalc.pages.amounts import FORCE, TORQUE
from mountcalc.pages.page import bullets
from mountcalc.scenario.text.writing import Display


def parts_text(loads: Sequence[PartLoad], display: Display) -> str:
    """A section of a page; nothing where nothing rests."""
    if not loads:
        return ""
    lines = [*_hinges(loads, display), *_bolts(loads, display), *_feet(loads, display)]
    return (
        "WHAT EACH PART CARRIES (most, of all cases; hinges from the motor's far end)\n"
        + bullets([*lines, _plate(loads, display)])
    )


def _of(loads: Sequence[PartLoad], part: Part, on: Wood = Wood.PLATE) -> list[PartLoad]:
    return [one for one in loads if one.part is part and one.on is on]


def _worst(loads: Sequence[PartLoad], size: Callable[[PartLoad], float], display: Display) -> str:
    """The greatest of a size, none below zero."""
    return FORCE.text(max(0.0, *map(size, loads)), display, 2)


def _out(load: PartLoad) -> float:
    return load.out


def _side(load: PartLoad) -> float:
    return load.side


def _hinges(loads: Sequence[PartLoad], display: Display) -> Iterator[str]:
    """Each pin, and of each leaf the worst screw."""
    pins = _of(loads, Part.HINGE)
    for name in dict.fromkeys(one.name for one in pins):
        pin = _worst(
            [one for one in pins if one.name == name],
            lambda one: math.hypot(one.out, one.along_plate),
            display,
        )
        said = []
        for on in Wood:
            screws = [one for one in _of(loads, Part.SCREW, on) if one.name.startswith(f"{name} ")]
            out, side = (_worst(screws, size, display) for size in (_out, _side))
            said.append(f"a screw in the {on} up to {out} drawn out and {side} across")
        yield f"{name.capitalize()}: its pin {pin}; {'; '.join(said)}."


def _bolts(loads: Sequence[PartLoad], display: Display) -> Iterator[str]:
    """Each bolt along and across."""
    bolts = _of(loads, Part.BOLT)
    for name in dict.fromkeys(one.name for one in bolts):
        own = [one for one in bolts if one.name == name]
        along = _worst(own, lambda one: abs(one.out), display)
        yield f"{name.capitalize()}: {along} along it, {_worst(own, _side, display)} across."


def _feet(loads: Sequence[PartLoad], display: Display) -> Iterator[str]:
    """The bolt of the worst foot."""
    pull, side = (_worst(_of(loads, Part.FOOT), size, display) for size in (_out, _side))
    yield f"The motor's feet: a bolt up to {pull} pulled and {side} across."


def _plate(loads: Sequence[PartLoad], display: Display) -> str:
    """Its worst section for each kind of load."""
    plate = _of(loads, Part.PLATE)
    bent, turned, sheared = (
        max(plate, key=lambda one: abs(getattr(one, name))) for name in ("moment", "twist", "out")
    )
    return (
        f"The plate: bending {TORQUE.text(abs(bent.moment), display, 2)} {bent.name}, twist "
        f"{TORQUE.text(abs(turned.twist), display, 2)} {turned.name}, shear "
        f"{FORCE.text(abs(sheared.out), display, 2)} {sheared.name}."
    )
