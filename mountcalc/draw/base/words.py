"""What is said about the base that carries the hinge: how it stands, how high, what meets it."""

from __future__ import annotations

import math

from mountcalc.draw.base.section import BaseSection, Stands, base_section
from mountcalc.draw.build import Build
from mountcalc.draw.remarks import Remarks
from mountcalc.handbook.rows import INCH
from mountcalc.scenario.model import Display, Vector

_TAKEN = {
    Stands.ADJUSTER: "it is one board with what the adjuster meets",
    Stands.CLOSED: "so turned that the hinge just closes at the stop beyond {closing}",
    Stands.OPEN: "on the far side of the pin, where the hinge stands about flat open",
}
_STRAIGHT = math.sin(math.radians(0.25))
_BESIDE = 0.02  # [m] that a shaft is to stand beside the hinge to tell a side by it
_UNIT = {Display.INCH: INCH, Display.METRIC: 0.01}


def level_edge(build: Build) -> tuple[str, float]:
    """The level edge that heights are measured from."""
    floor, pin = build.scenario.parts.base.floor, build.hinge[1]
    if floor is not None and floor < pin:
        return "the floor", floor
    return "the level of the hinge pin", pin


def say_base_height(remarks: Remarks, build: Build) -> None:
    """How the base stands and how high."""
    remarks.notes_of([base_stands(build)])
    floor = build.scenario.parts.base.floor
    if floor is None:
        remarks.note("base.no_floor")
        return
    height, top = build.hinge[1] - floor, base_section(build).top - floor
    remarks.facts |= {"hinge_above_floor": height, "base_top": top}
    if height <= 0:
        remarks.note("base.floor_above_pin", below=-height)
    else:
        remarks.note("base.height", height=height, top=top)


def base_stands(build: Build) -> str:
    """Say which way the base's face runs, and what that was taken from."""
    section = base_section(build)
    across, up = (-part for part in section.frame.normal)
    if abs(up) > abs(across):
        behind = "under it" if up < 0 else "above it"
    else:
        behind = f"behind it, {side_of(build, across)}"
    runs = (
        f"From the hinge's axis the base's face with the leaves runs "
        f"{way_of(build, section.frame.along)}, its wood {behind}"
    )
    if section.stands is Stands.GIVEN:
        return f"{runs}, as base.direction has it."
    why = _TAKEN[section.stands].format(closing=_closing(build, section))
    return f"{runs}: {why} (estimate; base.direction would say it)."


def _closing(build: Build, section: BaseSection) -> str:
    """The end of the swing at which the hinge closes."""
    swing = build.swing
    # The base looks at the plate that closes: the plate's own hand is the other one.
    end = swing.high if section.frame.pulley_side < 0 else swing.low
    return "install" if abs(end - swing.install) <= abs(end - swing.take_up) else "take-up"


def say_base_places(remarks: Remarks, build: Build, meets: tuple[str, Vector] | None) -> None:
    """Where strip and block stand from the edges that the assembly is measured from."""
    level, hinge, upright = level_edge(build), build.hinge, build.scenario.driven.shaft[0]

    def place(point: Vector) -> str:
        way = "below" if point[1] < level[1] else "above"
        height, across = build.bench(abs(point[1] - level[1])), build.bench(abs(point[0] - upright))
        return f"{height} {way} {level[0]} and {across} from the upright through the driven shaft"

    near, far, *_ = base_section(build).corners
    remarks.note("base.edges", near=place(near), far=place(far))
    if meets is not None:
        met, (across, up) = meets
        at = place((hinge[0] + across, hinge[1] + up))
        remarks.note("base.block_place", met=met, place=at)


def say_base_caution(remarks: Remarks, build: Build) -> None:
    """Warn of a base that stands in the way of plate or motor."""
    section = base_section(build)
    met, given = section.met, section.stands is Stands.GIVEN
    if met is None:
        return
    remarks.caution(
        "base.in_the_way",
        what="As base.direction has it" if given else "No way that was tried is clear: as drawn",
        part=met.part.value,
        depth=met.depth,
        where=build.swing.where(met.plate_angle),
        turn="turn the base" if given else "give base.direction, or move the motor off the hinge",
    )


def way_of(build: Build, way: Vector) -> str:
    """A direction from the hinge's axis as it is set out, in a mirrored copy too.

    Level, upright, or so far for so far.
    """
    across, up = way
    vertical = "up" if up > 0 else "down"
    if abs(across) < _STRAIGHT:
        return f"straight {vertical}"
    side = side_of(build, across)
    if abs(up) < _STRAIGHT:
        return f"level, {side}"
    unit = _UNIT[build.display]
    least = build.bench(unit)
    if abs(up) >= abs(across):
        return f"{vertical}, {least} {side} for every {build.bench(unit * abs(up / across))}"
    return f"{side}, {least} {vertical} for every {build.bench(unit * abs(across / up))}"


def side_of(build: Build, across: float) -> str:
    """Which side that is, by the shaft that stands beside the hinge."""
    scenario, hinge = build.scenario, build.hinge[0]
    driven, motor = (shaft[0] - hinge for shaft in (scenario.driven.shaft, scenario.motor.shaft))
    by_driven = abs(driven) >= min(_BESIDE, abs(motor))
    name, offset = ("driven", driven) if by_driven else ("motor's", motor)
    where = "towards" if across * offset >= 0 else "away from"
    return f"{where} the {name} shaft"
