"""Sentences about the guard's panel along the shafts."""

from __future__ import annotations

from mountcalc.drafting.dimensions import SAME
from mountcalc.drafting.told import Told
from mountcalc.draw.along.stack import AlongStack, Place
from mountcalc.draw.build import Build
from mountcalc.draw.guard.panel_place import Gap, PanelPlace, gap_of, least_air, panel_place
from mountcalc.draw.guard.sizes import guard_sizes

__all__ = [
    "bearing_before",
    "guard_front",
    "least_strip_width",
    "panel_cautions",
    "panel_of",
    "tell_panel",
    "tell_strip",
]

_AIR_SOURCE = "estimate"


def panel_of(build: Build, stack: AlongStack) -> tuple[Gap | None, PanelPlace | None]:
    """The room for the guard's panel, and where it stands in it."""
    gap, guard = gap_of(stack), build.scenario.parts.guard
    if gap is None or gap.width <= 0:
        return gap, None
    middle = None if guard.position is None else stack.outward * guard.position
    return gap, panel_place(stack, gap, guard_sizes(build).thickness, middle)


def bearing_before(stack: AlongStack) -> Place | None:
    """The bearing next before the driven pulley, to which its shaft passes the guard's front."""
    before = [one for one in stack.bearings if one.middle > stack.driven_middle]
    return min(before, key=lambda one: one.middle, default=None)


def least_strip_width(build: Build, stack: AlongStack) -> float | None:
    """How wide the strip around the panel has to be."""
    place = panel_of(build, stack)[1]
    pulleys = [one for one in (stack.motor_pulley, stack.driven_pulley) if one is not None]
    if place is None or not pulleys:
        return None
    driven_end = stack.driven_shaft_end if bearing_before(stack) is None else None
    ends = [one for one in (stack.motor_shaft_end, driven_end) if one is not None]
    outermost = max([one.front for one in pulleys] + ends)
    return outermost + guard_sizes(build).clearance - place.back


def guard_front(build: Build, stack: AlongStack) -> float | None:
    """Where the strip ends, and the guard's front lies on it."""
    place, least = panel_of(build, stack)[1], least_strip_width(build, stack)
    if place is None or least is None:
        return None
    given = build.scenario.parts.guard.strip_width
    return place.back + (least if given is None else given)


def tell_panel(told: Told, build: Build, stack: AlongStack) -> None:
    """Say where the guard's panel stands."""
    parts = build.scenario.parts
    gap, place = panel_of(build, stack)
    wanted: dict[str, object] = {
        "motor.face_position": parts.along.motor_face,
        "motor.pulley_position": parts.along.motor_pulley,
        "motor.pulley_width": parts.along.motor_pulley_width,
        "driven.pulley_width": parts.along.driven_pulley_width,
    }
    told.needs(wanted, "all that bounds the guard's panel along the shafts")
    if gap is None:
        return
    told.facts["panel_gap"] = gap.width
    told.cautions += panel_cautions(build, stack)
    if place is None:
        return
    told.notes.extend(note for note in guard_sizes(build).notes if "guard.thickness" in note)
    _placed(told, gap, place)


def tell_strip(told: Told, build: Build, stack: AlongStack) -> None:
    """Say how wide the strip around the panel has to be."""
    guard, sizes = build.scenario.parts.guard, guard_sizes(build)
    width = least_strip_width(build, stack)
    if width is None:
        return
    told.notes.extend(note for note in sizes.notes if "guard.clearance" in note)
    told.facts["strip_least_width"] = width
    if width <= 0:
        told.caution(
            "At guard.position the panel stands in front of all pulleys and shaft ends: it guards "
            "none of them."
        )
        return
    asked = (
        f"From the panel's back to {told.write(sizes.clearance)} in front of the outermost "
        f"pulley or shaft end are {told.write(width)}"
    )
    if guard.strip_width is None:
        told.note(f"{asked}: the least width of the strip around the panel.")
    elif guard.strip_width < width - SAME:
        told.caution(
            f"{asked}; guard.strip_width is {told.write(guard.strip_width)}, "
            f"{told.write(width - guard.strip_width)} short."
        )
    else:
        told.note(f"{asked}; guard.strip_width is {told.write(guard.strip_width)}.")


def panel_cautions(build: Build, stack: AlongStack) -> tuple[str, ...]:
    """What the panel meets or comes too near to along the shafts."""
    gap, place = panel_of(build, stack)
    if gap is None or (place is not None and place.fits):
        return ()
    told = Told(build.display)
    between = f"between {gap.behind} and {gap.before}"
    least = f"{told.write(least_air())} ({_AIR_SOURCE})"
    if place is None:
        return (
            f"There is no room for a panel {between}: they overlap by "
            f"{told.write(-gap.width)} along the shafts.",
        )
    if build.scenario.parts.guard.position is None:
        return (
            f"The guard's panel does not stand clear: there are {told.write(gap.width)} "
            f"{between}, and a panel of {told.write(place.front - place.back)} needs {least} of "
            "air on each side.",
        )
    return (
        f"At guard.position the panel {_air(told, place.air_behind, f'into {gap.behind}')} and "
        f"{_air(told, place.air_before, f'past the back of {gap.before}')}. Keep {least} of air on "
        "each side.",
    )


def _placed(told: Told, gap: Gap, place: PanelPlace) -> None:
    told.facts |= {
        "panel_air_behind": place.air_behind,
        "panel_air_before": place.air_before,
    }
    if place.fits:
        told.note(
            f"The guard's panel stands between {gap.behind} and {gap.before} with "
            f"{told.write(place.air_behind)} of air behind it and {told.write(place.air_before)} "
            "before it."
        )
    _spacer(told, place)


def _air(told: Told, air: float, where: str) -> str:
    if air < 0:
        return f"reaches {told.write(-air)} {where}"
    there = where.removeprefix("into ").removeprefix("past the back of ")
    return f"has {told.write(air)} of air to {there}"


def _spacer(told: Told, place: PanelPlace) -> None:
    if place.spacer is None or place.air_before < 0:
        return
    if place.spacer <= 0:
        told.note(
            f"The panel's back is {told.write(-place.spacer)} behind the bearing's face: it "
            "needs an opening around the bearing, and no spacer can stand on that face."
        )
        return
    told.facts["spacer"] = place.spacer
    told.note(
        f"Spacers of {told.write(place.spacer)} between the bearing's face and the back of "
        "the panel put it there."
    )
