"""What is said beside the guard's panel: how it is made, and what guards must keep."""

from __future__ import annotations

import math
from collections.abc import Iterator

from mountcalc.drafting.told import Told
from mountcalc.draw.along.stack import along_stack
from mountcalc.draw.build import Build, Swing
from mountcalc.draw.guard.openings.driven import HOUSING_OVER_JOURNAL
from mountcalc.draw.guard.openings.front import Passes, front_opening
from mountcalc.draw.guard.openings.reach_words import reach_cautions
from mountcalc.draw.guard.panel_place import least_air
from mountcalc.draw.guard.panel_words import panel_cautions, tell_strip
from mountcalc.draw.guard.places import guard_places
from mountcalc.draw.guard.plate_section_words import tell_plate
from mountcalc.draw.guard.shape import GuardShape
from mountcalc.draw.guard.sizes import made
from mountcalc.draw.guard.strip.words import Strip, strip_cautions, strip_notes
from mountcalc.draw.guard.webs import thin_places
from mountcalc.draw.reminders import closing, reminders
from mountcalc.pages.bench_lengths import fine_length
from mountcalc.scenario.model import Display

__all__ = ["guard_cautions", "guard_notes"]

_SWING = math.radians(0.05)  # what no build shows


def guard_notes(build: Build, shape: GuardShape, strip: Strip) -> tuple[str, ...]:
    """How the panel and its strip are made."""
    display, sizes = build.display, shape.sizes
    return (
        f"The outline keeps {fine_length(sizes.clearance, display)} around belt and pulleys from "
        "install to take-up; inside the slot the motor's shaft keeps "
        f"{fine_length(sizes.slot_clearance, display)}.",
        *_beyond(build, shape.swing),
        *strip_notes(shape, strip, display),
        *_strip_width(build),
        f"{len(shape.holes)} fixing holes, {fine_length(2 * shape.holes[0].radius, display)} "
        f"across, no more than {fine_length(made('hole_spacing'), display)} apart and half the "
        "clearance inside the edge (estimates).",
        *guard_places(shape, strip, "left", display),
        _fixed_to(shape, display),
        _front(front_opening(build, sizes), display),
        "Where a pulley cannot be taken off, saw the panel, and a front that the shaft passes, "
        "through the opening to go over the shaft.",
        *shape.driven.notes,
        *thin_places(shape, display),
        *shape.swing.notes,
        *sizes.notes,
    )


def _beyond(build: Build, swing: Swing) -> Iterator[str]:
    """How much further than the outline covers the build lets the plate swing."""
    low, high = build.scenario.plate.travel
    is_up = swing.install <= swing.take_up
    past = {
        "install": swing.low - low if is_up else high - swing.high,
        "take-up": high - swing.high if is_up else swing.low - low,
    }
    told = [f"{math.degrees(one):.1f} deg past {end}" for end, one in past.items() if one > _SWING]
    if told:
        yield (
            "Outline and slot cover install to take-up, not the whole travel that the build allows "
            f"(plate.travel), which goes on {' and '.join(told)}: with the guard on, the plate is "
            "not to swing further; the assembly has the stop that catches it."
        )


def _fixed_to(shape: GuardShape, display: Display) -> str:
    """What the fixing screws go into."""
    wide = fine_length(max(shape.sizes.clearance - least_air(), 0.0), display)
    return (
        "The strip lies around the panel's edge, so the fixing screws do not go into it: they go "
        "through the panel into blocks or a batten behind it that the machine's frame carries, as "
        "thick as the room behind the panel there. Blocks glued into the corner of strip and panel "
        f"join these, in front of the panel between the holes and no more than {wide} wide, so "
        "that belt and pulleys pass (estimate)."
    )


def _front(passes: Passes, display: Display) -> str:
    """The guard's front, in words."""
    same = "The front, on the strip's edge, is the same outline"
    opening = passes.opening
    if opening is None and passes.short is None:
        return (
            f"{same}. Whether the driven shaft passes it is not known (driven.shaft_end and what "
            "places the panel would tell); if it does, the front needs an opening as the panel's, "
            "which hands reach through in the same way."
        )
    if opening is None:
        assert passes.short is not None
        short = fine_length(passes.short, display)
        return f"{same} without openings: the driven shaft ends {short} behind it."
    across = fine_length(2.0 * opening.radius, display)
    if opening.housing is None:
        return (
            f"{same} with an opening for the driven shaft, which passes it: {across} across, about "
            "the same centre as the panel's."
        )
    return (
        f"{same} with an opening for the housing of bearing {opening.housing.name!r}, in which it "
        f"stands: {across} across, for a housing of {HOUSING_OVER_JOURNAL:.0f} times the journal "
        "(estimate), about the same centre as the panel's opening; measure the housing first."
    )


def guard_cautions(build: Build, shape: GuardShape, strip: Strip) -> tuple[str, ...]:
    """What may reach through the panel, and what rules are to be remembered."""
    spare = fine_length(shape.sizes.slot_clearance, build.display)
    return (
        *shape.driven.cautions,
        *_along(build, shape),
        *strip_cautions(shape, strip, build.display),
        f"The slot holds the shaft from install to take-up and {spare} more: a stop has to catch "
        "the plate before the shaft meets the slot's end if the belt comes off or breaks.",
        *reach_cautions(build, shape, front_opening(build, shape.sizes)),
        *reminders(build),
        closing(),
    )


def _along(build: Build, shape: GuardShape) -> list[str]:
    """What the guard meets along the shafts."""
    stack, told = along_stack(build), Told(build.display)
    if stack is not None:
        told.cautions += panel_cautions(build, stack)
        tell_strip(told, build, stack)
        tell_plate(told, build, stack, shape)
    return told.cautions


def _strip_width(build: Build) -> tuple[str, ...]:
    """How wide the strip has to be, as far as positions along the shafts tell."""
    stack, given = along_stack(build), build.scenario.parts.guard.strip_width
    told = Told(build.display)
    if stack is not None:
        tell_strip(told, build, stack)
    if "strip_least_width" in told.facts:
        return tuple(note for note in told.notes if "guard.clearance" not in note)
    if given is not None:
        return (f"The strip is {fine_length(given, build.display)} wide.",)
    return ("The strip's width is the depth of the guard: measure over pulleys and shaft ends.",)
