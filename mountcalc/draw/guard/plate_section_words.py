"""Sentences about a plate that comes into the guard."""

from __future__ import annotations

from mountcalc.drafting.told import Told
from mountcalc.draw.along.stack import AlongStack
from mountcalc.draw.build import Build, Swing
from mountcalc.draw.guard.panel_place import least_air
from mountcalc.draw.guard.panel_words import panel_of
from mountcalc.draw.guard.plate_section import PlateInGuard, plate_across, plate_in_guard
from mountcalc.draw.guard.shape import GuardShape

__all__ = ["tell_plate"]


def tell_plate(told: Told, build: Build, stack: AlongStack, shape: GuardShape) -> None:
    """Warn where the plate comes into the guard, or say what would tell."""
    place = panel_of(build, stack)[1]
    wanted: dict[str, object] = {
        "motor.frame": build.scenario.parts.frame,
        "motor.face_position": build.scenario.parts.along.motor_face,
    }
    if told.needs(wanted, "whether the plate comes into the guard") or place is None:
        return
    found = plate_in_guard(build, stack, shape, place)
    plate = plate_across(build, stack)
    assert plate is not None
    told.facts["plate_to_panel"] = place.back - plate[1]
    if found is None:
        return
    told.facts |= {
        "plate_in_guard_from": found.along[0],
        "plate_in_guard_to": found.along[1],
    }
    told.caution(_said(told, stack, found, shape.swing))


def _said(told: Told, stack: AlongStack, found: PlateInGuard, swing: Swing) -> str:
    plate, guard = (_positions(told, stack, ends) for ends in (found.plate, found.guard))
    covered = " to ".join(map(told.write, found.along))
    where = (
        "With the motor's feet on the middle of its width the plate stands at "
        f"{plate} along the shafts, panel and strip at {guard}"
    )
    overlap = (
        f"from install to take-up the guard covers the plate {covered} from its hinged edge, "
        f"most {_when(found.most, swing)}"
    )
    if found.deep > 0:
        meets = (
            f"The plate cuts into the guard, {told.write(found.deep)} deep from the panel's back. "
            f"{where}; {overlap}."
        )
    else:
        meets = (
            f"Only {told.write(-found.deep)} are left between the plate's edge and the panel's "
            f"back, where {told.write(least_air())} are wanted (estimate). {where}; {overlap}."
        )
    return f"{meets} What helps: {_cures(told, found)}."


def _positions(told: Told, stack: AlongStack, ends: tuple[float, float]) -> str:
    low, high = sorted(stack.outward * end for end in ends)
    return f"{told.write(low)} to {told.write(high)}"


def _when(angle: float, swing: Swing) -> str:
    nearest = min(
        (abs(swing.install - angle), "at install"),
        (abs(swing.snug - angle), "where the belt is snug"),
        (abs(swing.take_up - angle), "at take-up"),
    )
    return nearest[1] if nearest[0] < 0.05 * (swing.high - swing.low) else "between them"


def _cures(told: Told, found: PlateInGuard) -> str:
    cut = max(found.deep, 0.0) + least_air()
    notch = (
        f"a notch there, {told.write(cut)} deep in the plate's edge or as high as the plate in the "
        "panel's, and larger all round by that air"
    )
    elsewhere = "the panel further out, or the motor further back on a longer shaft"
    if found.widest is None:
        return f"{notch}; or {elsewhere} (no plate that carries motor and hinges is narrow enough)"
    return f"a plate no wider than {told.write(found.widest)}; {notch}; or {elsewhere}"
