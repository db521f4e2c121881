"""What is said beside the guard's panel: how it is made, and what guards must keep."""

from __future__ import annotations

import math

from mountcalc.drawing.along_stack import along_stack
from mountcalc.drawing.bench_lengths import bench_length
from mountcalc.drawing.centre_lists import fixing_note
from mountcalc.drawing.edge_strip import Bend, strip_length
from mountcalc.drawing.guard_section_words import tell_plate
from mountcalc.drawing.guard_shape import GuardShape
from mountcalc.drawing.guard_sizes import made
from mountcalc.drawing.panel_words import panel_of, tell_strip
from mountcalc.drawing.reach import Opening, reach_distance, widest_opening
from mountcalc.drawing.reminders import closing, reminders
from mountcalc.drawing.told import Told
from mountcalc.scenario.model import Display, Scenario

__all__ = ["fixing_holes", "guard_cautions", "guard_notes"]

# Wood [m] between two cuts, or a cut and an edge, below which a panel breaks out (estimate).
_LEAST_WEB = 0.005
_SLOT_CURE = (
    "the opening needs a cover, such as a disc on the shaft or a flap that moves with the plate."
)
_RING_CURE = "close it to a smaller opening, or fix a collar to the panel around it."


def guard_notes(scenario: Scenario, shape: GuardShape, bends: tuple[Bend, ...]) -> tuple[str, ...]:
    """How the panel and its strip are made.

    Parameters
    ----------
    scenario : Scenario
        The mount.
    shape : GuardShape
        Its panel.
    bends : tuple of Bend
        Relief cuts for each arc of the outline.

    Returns
    -------
    tuple of str
        Sentences.
    """
    display, sizes = scenario.display, shape.sizes
    length = strip_length(shape.outline, sizes.cuts.neutral)
    whole = strip_length(shape.outline, 0.5 * sizes.thickness)
    cut = "; ".join(
        f"on {bench_length(one.radius, display)} radius {one.cuts} over "
        f"{bench_length(one.length, display)}"
        for one in bends
    )
    return (
        f"The outline keeps {bench_length(sizes.clearance, display)} around belt and pulleys from "
        "install to take-up; inside the slot the motor's shaft keeps "
        f"{bench_length(sizes.slot_clearance, display)}.",
        f"Edge strip, {bench_length(sizes.thickness, display)} thick with relief cuts on every "
        f"bend: {bench_length(length, display)} long, butt to butt (one that is bent whole, "
        f"without cuts: {bench_length(whole, display)}). Leave it longer and trim it at the butt.",
        *_strip_width(scenario),
        f"Relief cuts, {bench_length(sizes.cuts.skin, display)} left under each, and so many that "
        f"the strip stands off by no more than {bench_length(made('facet'), display)} between them "
        f"(estimates), evenly spaced: {cut}. A skin "
        "that cracks wants closer cuts: try an offcut first.",
        f"{len(shape.holes)} fixing holes, {bench_length(2 * shape.holes[0].radius, display)} "
        f"across, no more than {bench_length(made('hole_spacing'), display)} apart and half the "
        "clearance inside the edge (estimates).",
        fixing_holes(shape, "left", display),
        "The front is the same outline without openings. Where a pulley cannot be taken off, saw "
        "the panel through the opening to go over the shaft.",
        *shape.driven.notes,
        *_tight_places(scenario, shape),
        *shape.swing.notes,
        *sizes.notes,
    )


def fixing_holes(shape: GuardShape, side: str, display: Display) -> str:
    """Where the fixing holes go, from the corner of the blank.

    Parameters
    ----------
    shape : GuardShape
        The panel.
    side : str
        Of the picture on which the upright datum edge is.
    display : Display
        Units of the bench.

    Returns
    -------
    str
        A sentence.
    """
    left, bottom, _, _ = shape.outline.bounds
    centres = [hole.centre for hole in shape.holes]
    return fixing_note([(x - left, y - bottom) for x, y in centres], side, display)


def guard_cautions(scenario: Scenario, shape: GuardShape) -> tuple[str, ...]:
    """What may reach through the panel, and what rules are to be remembered.

    Parameters
    ----------
    scenario : Scenario
        The mount.
    shape : GuardShape
        Its panel.

    Returns
    -------
    tuple of str
        Sentences; none says that anything is enough.
    """
    display, slot = scenario.display, shape.slot
    spare = bench_length(shape.sizes.slot_clearance, display)
    return (
        *shape.driven.cautions,
        *_plate(scenario, shape),
        f"The slot holds the shaft from install to take-up and {spare} more: a stop has to catch "
        "the plate before the shaft meets the slot's end if the belt comes off or breaks.",
        _reach(scenario, "The motor's slot", _SLOT_CURE, (2.0 * slot.half_width, slot.length)),
        _ring(scenario, shape),
        *reminders(),
        closing(),
    )


def _plate(scenario: Scenario, shape: GuardShape) -> list[str]:
    """The plate in the guard's way."""
    stack, told = along_stack(scenario), Told(scenario.display)
    if stack is not None:
        tell_plate(told, scenario, stack, shape)
    return told.cautions


def _ring(scenario: Scenario, shape: GuardShape) -> str:
    """The gap at the driven shaft, in words."""
    driven = shape.driven
    if driven.gap is None:
        across = bench_length(2.0 * driven.radius, scenario.display)
        return (
            f"The gap that the {driven.around} leaves in its hole, {across} across, is not known: "
            f"measure it, and where a finger goes in {_RING_CURE}"
        )
    return _reach(scenario, f"The gap around the {driven.around}", _RING_CURE, (driven.gap, None))


def _reach(scenario: Scenario, name: str, cure: str, size: tuple[float, float | None]) -> str:
    """An opening against the table of reach, in words."""
    display = scenario.display
    width, length = size
    wide = f"{name} is {bench_length(width, display)} wide"
    found = reach_distance(Opening.SLOT, width, length)
    if found is None:
        return f"{wide}: more than {bench_length(widest_opening(), display)}, whole arms reach in."
    least = f"{found.value * 1e3:.0f} mm"
    if display is Display.INCH:
        least += f" ({bench_length(found.value, display)})"
    wanted = f"{wide}: {found.source} wants {least} to the danger"
    air = _air_to_pulleys(scenario)
    if air is None:
        return f"{wanted}; measure from the panel to the nearest pulley."
    there = bench_length(max(air, 0.0), display)
    if air >= found.value:
        return f"{wanted}; the nearest pulley's side is {there} from the panel."
    return f"{wanted}, and the nearest pulley's side is {there} from the panel: {cure}"


def _air_to_pulleys(scenario: Scenario) -> float | None:
    """From the panel to the nearest pulley [m]; None where positions are not known."""
    stack = along_stack(scenario)
    place = None if stack is None else panel_of(scenario, stack)[1]
    return None if place is None else place.air_before


def _strip_width(scenario: Scenario) -> tuple[str, ...]:
    """How wide the strip has to be, as far as positions along the shafts tell."""
    stack, given = along_stack(scenario), scenario.parts.guard.strip_width
    told = Told(scenario.display)
    if stack is not None:
        tell_strip(told, scenario, stack)
    if "strip_least_width" in told.facts:
        return (*(note for note in told.notes if "guard.clearance" not in note), *told.cautions)
    if given is not None:
        return (f"The strip is {bench_length(given, scenario.display)} wide.",)
    return ("The strip's width is the depth of the guard: measure over pulleys and shaft ends.",)


def _tight_places(scenario: Scenario, shape: GuardShape) -> tuple[str, ...]:
    """Where the panel's own cuts come too near to each other."""
    display, sizes, slot = scenario.display, shape.sizes, shape.slot
    found = []
    edge = sizes.motor_radius + sizes.clearance - slot.half_width
    screws = edge - 0.5 * sizes.clearance - shape.holes[0].radius
    rim = sizes.driven_radius + sizes.clearance - shape.opening.radius
    opening = f"the opening for the {shape.driven.around}"
    smaller = "take a smaller guard.slot_clearance"
    cure = f"{smaller}{'' if shape.driven.gap is not None else ' or guard.bearing_opening'}"
    for left, places, how in (
        (edge, "the slot and the panel's edge", smaller),
        (screws, "the slot and the nearest fixing holes", smaller),
        (_between(shape), f"the slot and {opening}", cure),
        (rim, f"{opening} and the panel's edge", cure),
    ):
        if left <= 0:
            found.append(f"Nothing is left between {places}: {how}.")
        elif left < _LEAST_WEB:
            found.append(
                f"Only {bench_length(left, display)} are left between {places}, where "
                f"{bench_length(_LEAST_WEB, display)} are wanted (estimate): {how}."
            )
    if sizes.clearance < 2.0 * made("screw_head"):
        found.append(
            f"A clearance of {bench_length(sizes.clearance, display)} is narrow for screw heads "
            "inside the guard: sink them, or screw from behind."
        )
    return tuple(found)


def _between(shape: GuardShape) -> float:
    """What is left of the panel between the slot and the driven shaft's opening [m]."""
    slot, centre = shape.slot, shape.opening.centre
    towards = math.atan2(centre[1] - slot.hinge[1], centre[0] - slot.hinge[0])
    ends = [slot.at(slot.start), slot.at(slot.end)]
    if (towards - slot.start) % math.tau <= slot.end - slot.start:
        ends.append(slot.at(towards))
    nearest = min(math.dist(point, centre) for point in ends)
    return nearest - slot.half_width - shape.opening.radius
