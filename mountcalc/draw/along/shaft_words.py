"""Sentences about the shafts' reach and their ends."""

from __future__ import annotations

from mountcalc.drafting.told import Told
from mountcalc.draw.along.shaft_ends import (
    MotorReach,
    ProjectingEnd,
    driven_end,
    motor_reach,
    projecting_end,
    unguarded_share,
)
from mountcalc.draw.along.stack import AlongStack
from mountcalc.draw.build import Build
from mountcalc.draw.guard.panel_place import least_air
from mountcalc.draw.guard.sizes import guard_sizes

__all__ = ["tell_driven_end", "tell_motor_end", "tell_motor_reach"]

_FLUSH = 5e-5  # [m] what no rule on the bench shows


def tell_motor_reach(told: Told, build: Build, stack: AlongStack) -> None:
    """Say whether the motor's shaft reaches through its pulley."""
    parts = build.scenario.parts
    wanted: dict[str, object] = {
        "motor.frame": parts.frame,
        "motor.face_position": parts.along.motor_face,
        "motor.pulley_position": parts.along.motor_pulley,
        "motor.pulley_width": parts.along.motor_pulley_width,
    }
    if told.needs(wanted, "whether the motor's shaft reaches through its pulley"):
        return
    assert parts.frame is not None
    assert stack.motor_face is not None
    assert stack.motor_shaft_end is not None
    assert stack.motor_pulley is not None
    panel = guard_sizes(build).thickness + 2 * least_air()
    found = motor_reach(stack.motor_face, stack.motor_shaft_end, stack.motor_pulley, panel)
    told.facts |= {
        "motor_shaft_beyond_pulley": found.beyond,
        "motor_bore_held": found.held,
    }
    shaft = (
        f"The shaft of frame {parts.frame.name} is {told.write(parts.frame.shaft_length)} long "
        f"({parts.frame.source}, {parts.frame.sure})"
    )
    if abs(found.beyond) < _FLUSH:
        told.note(f"{shaft}: it ends flush with the pulley's front.")
    elif found.beyond > 0:
        told.note(f"{shaft}: it ends {told.write(found.beyond)} beyond the pulley's front.")
    else:
        told.caution(
            f"{shaft}: it ends {told.write(-found.beyond)} short of the pulley's front and "
            f"carries {told.write(found.held)} of its bore."
        )
    _middles(told, stack.motor_face, found, stack.motor_pulley.middle)


def tell_motor_end(told: Told, build: Build, stack: AlongStack) -> None:
    """Say how far the motor's shaft sticks out of its pulley."""
    frame = build.scenario.parts.frame
    if frame is None or stack.motor_shaft_end is None or stack.motor_pulley is None:
        return
    found = projecting_end(stack.motor_shaft_end, frame.shaft_diameter, stack.motor_pulley)
    if found.length <= _FLUSH:
        return
    _end(told, build, "motor", found)


def tell_driven_end(told: Told, build: Build, stack: AlongStack) -> None:
    """Say how far the driven shaft's end sticks out."""
    wanted: dict[str, object] = {
        "driven.shaft_end": stack.driven_shaft_end,
        "driven.pulley_width": stack.driven_pulley,
    }
    if told.needs(wanted, "how far the driven shaft's end sticks out"):
        return
    driven = build.scenario.driven
    diameter = driven.shaft_diameter
    if diameter is None:
        nearest = min(driven.bearings, key=lambda one: abs(one.position - driven.pulley_position))
        diameter = nearest.journal_diameter
    found = driven_end(stack, diameter)
    assert found is not None
    _end(told, build, "driven", found)


def _middles(told: Told, face: float, found: MotorReach, middle: float) -> None:
    """Where the middle of the motor's pulley may be, counted from the motor's face."""
    if found.least > found.most + _FLUSH:
        short = told.write(found.least - found.most)
        told.caution(
            f"The motor's shaft is {short} too short for its pulley and the guard's panel behind "
            "it: take a narrower pulley, a thinner panel, or let the "
            "panel pass around the motor."
        )
        return
    least, most = told.write(found.least - face), told.write(found.most - face)
    may = f"must be {least}" if least == most else f"may be {least} to {most}"
    told.note(
        "For its whole bore on the shaft and the panel behind it, the middle of the motor's "
        f"pulley {may} from the motor's face; it is {told.write(middle - face)} from it."
    )


def _end(told: Told, build: Build, shaft: str, found: ProjectingEnd) -> None:
    told.facts[f"{shaft}_end_projects"] = found.length
    name = "motor's shaft" if shaft == "motor" else "driven shaft"
    if found.length <= _FLUSH:
        inside = "" if found.length > -_FLUSH else f"{told.write(-found.length)} behind "
        told.note(f"The {name} ends {inside or 'flush with '}the front of {found.past}.")
        return
    sticks = f"The end of the {name} sticks {told.write(found.length)} out of {found.past}"
    rule = unguarded_share()
    allowed = f"half its diameter, {told.write(found.allowed)} ({rule.source}, {rule.sure})"
    if found.ok:
        told.note(f"{sticks}, not more than {allowed}.")
        return
    cap = found.length + (guard_sizes(build).clearance)
    told.facts[f"{shaft}_cap_length"] = cap
    told.caution(
        f"{sticks}, more than {allowed}: cover it with a cap that stands still, at least "
        f"{told.write(cap)} deep, or shorten it."
    )
