"""A layout as the scenario of a mount: for the ordinary solver, as a hand reads it, as a file."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from mountcalc.console.choices import Prefer
from mountcalc.place.feasible.clearances import written_stops
from mountcalc.place.feasible.drives import belts_of
from mountcalc.place.feasible.layouts import ACTIONS, KINDS, Layouts
from mountcalc.place.results import Placement
from mountcalc.scenario.drawn_plate import hinge_edge
from mountcalc.scenario.model import (
    Acts,
    Adjuster,
    AdjusterKind,
    Display,
    Plate,
    Scenario,
    Vector,
)
from mountcalc.scenario.parts import Base, Parts
from mountcalc.scenario.search import Action, Search, SearchSpace
from mountcalc.scenario.writer import scenario_text
from mountcalc.units import STANDARD_GRAVITY, si_factor

__all__ = ["as_scenario", "as_written", "layout_files"]

# Packing [m] that is thinner is what arithmetic leaves of none.
_ROUNDING = 1e-6
# What lengths are rounded to [m], and a plate's weight [N]; directions are to a tenth of a degree.
_LENGTH = {Display.INCH: si_factor("in") / 64, Display.METRIC: 1e-4}
_WEIGHT = {
    Display.INCH: 0.01 * si_factor("lb") * STANDARD_GRAVITY,
    Display.METRIC: 0.01 * STANDARD_GRAVITY,
}

_LONGEST_TITLE = 120  # as a scenario's title may be
_BY = {Prefer.FINE: "sensitivity", Prefer.COMPACT: "compactness", Prefer.LIGHT_BOLT: "light bolt"}


def as_scenario(
    scenario: Scenario, space: SearchSpace, layouts: Layouts, index: int, swing: Vector
) -> Scenario:
    """The mount of one layout, with every value explicit."""

    def at(name: str) -> Vector:
        place = getattr(layouts, name)[index]
        return float(place.real), float(place.imag)

    motor, shaft, hinge = scenario.motor, at("motor"), at("hinge")
    # The motor's centre of mass keeps its place beside the shaft.
    beside = motor.center_of_mass[0] - motor.shaft[0], motor.center_of_mass[1] - motor.shaft[1]
    length = float(layouts.plate_length[index])
    middle = _moved(_moved(hinge, at("along"), 0.5 * length), at("normal"), space.plate_middle)
    low, high = written_stops(*swing)
    along, tip, axis = at("along"), at("tip"), at("axis")
    direction = math.atan2(along[1], along[0])
    thread, kind = space.threads[layouts.thread[index]], KINDS[layouts.kind[index]]
    adjuster = Adjuster(
        kind=kind,
        acts=Acts.PULL if ACTIONS[layouts.acts[index]] is Action.PULL else Acts.PUSH,
        thread=thread,
        advance_per_turn=thread.pitch,
        across=scenario.adjuster.across,
    )
    if kind is AdjusterKind.LINK:
        base = _moved(tip, axis, -space.link_length)
        adjuster = replace(adjuster, plate_pin=tip, base_pin=base)
    else:
        adjuster = replace(adjuster, tip=tip, axis=math.atan2(axis[1], axis[0]), face=direction)
    return replace(
        scenario,
        motor=replace(motor, shaft=shaft, center_of_mass=_moved(shaft, beside, 1.0)),
        belt=belts_of(scenario, space)[layouts.belt[index]],
        plate=Plate(
            hinge=hinge,
            travel=(float(low), float(high)),
            weight=scenario.plate.weight * length / space.plate_length,
            center_of_mass=middle,
        ),
        adjuster=adjuster,
        parts=_parts(scenario, space, layouts, index, direction),
    )


def _moved(point: Vector, direction: Vector, distance: float) -> Vector:
    return point[0] + distance * direction[0], point[1] + distance * direction[1]


def _parts(
    scenario: Scenario, space: SearchSpace, layouts: Layouts, index: int, direction: float
) -> Parts:
    """What is drawn of the layout: places along the shafts and what is bought stay.

    A floor that the layout's hinge is not above is gone, since no file may say so; the search
    notes of which layouts. So is a mortise as deep as the layout's plate is thick. What lifts the
    motor's feet is what its shaft is higher than its frame, if it is: reading the file notes it
    where the frame is the higher one.
    """
    parts, floor, thickness = scenario.parts, scenario.parts.base.floor, space.plate_thickness
    board, hinges, frame = parts.plate, parts.hinges, parts.frame
    stands = floor is None or floor < float(layouts.hinge_y[index])
    if hinges.mortise_depth is not None and hinges.mortise_depth >= thickness:
        hinges = replace(hinges, mortise_depth=None)
    height = float(layouts.motor_height[index])
    beyond = 0.0 if frame is None else height - frame.shaft_height
    board = replace(
        board,
        # The board begins at the hinge's edge.
        length=float(layouts.plate_length[index]) - hinge_edge(parts.hinges, scenario.display),
        thickness=thickness,
        layers=board.layers if board.thickness in {None, thickness} else None,
        direction=direction,
    )
    return replace(
        parts,
        plate=board,
        hinges=hinges,
        base=parts.base if stands else Base(),
        packing=beyond if beyond > _ROUNDING else 0.0,
    )


def as_written(scenario: Scenario) -> Scenario:
    """The mount of a layout with what the search reckoned rounded as a hand reads it.

    What lies on the grid of a rule and what the file said stay.
    """
    step, weight = _LENGTH[scenario.display], _WEIGHT[scenario.display]
    plate, adjuster, parts = scenario.plate, scenario.adjuster, scenario.parts

    def length(value: float | None) -> Any:  # noqa: ANN401  # None stays None
        return None if value is None else round(value / step) * step

    def point(at: Vector | None) -> Any:  # noqa: ANN401
        return None if at is None else (length(at[0]), length(at[1]))

    def tenths(angle: float | None) -> float | None:
        return None if angle is None else math.radians(round(math.degrees(angle) * 10) / 10)

    # A weight of some, at its step, is at least one step.
    heavy = max(round(plate.weight / weight), 1) * weight if plate.weight > 0 else plate.weight
    return replace(
        scenario,
        plate=replace(plate, weight=heavy, center_of_mass=point(plate.center_of_mass)),
        adjuster=replace(
            adjuster,
            tip=point(adjuster.tip),
            base_pin=point(adjuster.base_pin),
            plate_pin=point(adjuster.plate_pin),
            axis=tenths(adjuster.axis),
            face=tenths(adjuster.face),
        ),
        parts=replace(
            parts,
            plate=replace(
                parts.plate,
                length=length(parts.plate.length),
                direction=tenths(parts.plate.direction),
            ),
            packing=length(parts.packing),
        ),
    )


def layout_files(
    search: Search, placement: Placement, mounts: Sequence[Scenario], folder: Path, stem: str
) -> tuple[dict[Path, bytes], Placement]:
    """Scenario files of the layouts, and the placement with their names in it."""
    paths = [folder / f"{stem}-{layout.rank}.toml" for layout in placement.layouts]
    files = {
        path: _text(search, placement, layout.rank, mount).encode()
        for path, layout, mount in zip(paths, placement.layouts, mounts, strict=True)
    }
    named = tuple(
        replace(layout, scenario_file=str(path))
        for path, layout in zip(paths, placement.layouts, strict=True)
    )
    return files, replace(placement, layouts=named)


def _text(search: Search, placement: Placement, rank: int, mount: Scenario) -> str:
    by = _BY[placement.prefer]
    remarks = (
        f"A layout that mountcalc place found: number {rank} by {by}, of {placement.feasible} that "
        f"would do",
        f"among {placement.evaluated} tried (seed {placement.seed}). Its dimensions are rounded to "
        "what can be marked out.",
        "mountcalc table, setting and check take this file as it is.",
        "",
    )
    title = _titled(placement.title, f": layout {rank} by {by}")
    return scenario_text(replace(mount, title=title), remarks, search.typed)


def _titled(title: str, ending: str) -> str:
    room = _LONGEST_TITLE - len(ending)
    return (title if len(title) <= room else title[: room - 1].rstrip() + "…") + ending
