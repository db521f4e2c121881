"""A layout as the scenario of a mount: for the ordinary solver, as a hand reads it, as a file."""

from __future__ import annotations

import cmath
import math
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import Any

from mountcalc.console.choices import Prefer
from mountcalc.place.feasible.clearances import written_stops
from mountcalc.place.feasible.drives import belts_of
from mountcalc.place.feasible.layouts import KINDS, Layouts
from mountcalc.place.results import Placement
from mountcalc.scenario.drawn_plate import hinge_edge
from mountcalc.scenario.model import Acts, Adjuster, AdjusterKind, Plate, Scenario
from mountcalc.scenario.parts import Base, Parts
from mountcalc.scenario.search import Search, SearchSpace
from mountcalc.scenario.text.writing import Display, Vector
from mountcalc.scenario.writer import scenario_text
from mountcalc.thresholds import SAME_PLACE
from mountcalc.units import STANDARD_GRAVITY, si_factor

# What lengths are rounded to [m], and a plate's weight [N]; directions are to a tenth of a degree.
_LENGTH = {Display.INCH: si_factor("in") / 64, Display.METRIC: 1e-4}
_WEIGHT = {
    Display.INCH: 0.01 * si_factor("lb") * STANDARD_GRAVITY,
    Display.METRIC: 0.01 * STANDARD_GRAVITY,
}

_LONGEST_TITLE = 120  # as a scenario's title may be
_BY = {
    Prefer.FINE: "least tension per turn",
    Prefer.COMPACT: "shortest plate",
    Prefer.LIGHT_BOLT: "least force in the bolt",
}


def as_scenario(
    scenario: Scenario, space: SearchSpace, layouts: Layouts, index: int, swing: Vector
) -> Scenario:
    """The mount of one layout, with every value explicit."""
    motor, one = scenario.motor, layouts.take(slice(index, index + 1))
    hinge, shaft, tip, along, normal, axis = (
        complex(getattr(one, name)[0])
        for name in ("hinge", "motor", "tip", "along", "normal", "axis")
    )
    # The motor's centre of mass keeps its place beside the shaft.
    beside = complex(*motor.center_of_mass) - complex(*motor.shaft)
    length, direction = float(one.plate_length[0]), cmath.phase(along)
    low, high = written_stops(*swing)
    thread, kind = space.threads[one.thread[0]], KINDS[one.kind[0]]
    adjuster = Adjuster(
        kind=kind,
        acts=Acts.PULL if one.pulls[0] else Acts.PUSH,
        thread=thread,
        advance_per_turn=thread.pitch,
        across=scenario.adjuster.across,
        bolts=scenario.adjuster.bolts,
    )
    if kind is AdjusterKind.LINK:
        base = tip - space.link_length * axis
        adjuster = replace(adjuster, plate_pin=_at(tip), base_pin=_at(base))
    else:
        adjuster = replace(adjuster, tip=_at(tip), axis=cmath.phase(axis), face=direction)
    return replace(
        scenario,
        motor=replace(motor, shaft=_at(shaft), center_of_mass=_at(shaft + beside)),
        belt=belts_of(scenario, space)[one.belt[0]],
        plate=Plate(
            hinge=_at(hinge),
            travel=(float(low), float(high)),
            weight=scenario.plate.weight * length / space.plate_length,
            center_of_mass=_at(hinge + 0.5 * length * along + space.plate_middle * normal),
        ),
        adjuster=adjuster,
        parts=_parts(scenario, space, one, direction),
    )


def _at(place: complex) -> Vector:
    return place.real, place.imag


def _parts(scenario: Scenario, space: SearchSpace, one: Layouts, direction: float) -> Parts:
    """What is drawn of the layout: places along the shafts and what is bought stay.

    A floor that the layout's hinge is not above is gone, since no file may say so; the search
    notes of which layouts. So is a mortise as deep as the layout's plate is thick. What lifts the
    motor's feet is what its shaft is higher than its frame, if it is: reading the file notes it
    where the frame is the higher one.
    """
    parts, floor, thickness = scenario.parts, scenario.parts.base.floor, space.plate_thickness
    board, hinges, frame = parts.plate, parts.hinges, parts.frame
    if hinges.mortise_depth is not None and hinges.mortise_depth >= thickness:
        hinges = replace(hinges, mortise_depth=None)
    beyond = 0.0 if frame is None else float(one.motor_height[0]) - frame.shaft_height
    board = replace(
        board,
        # The board begins at the hinge's edge.
        length=float(one.plate_length[0]) - hinge_edge(parts.hinges, scenario.display),
        thickness=thickness,
        layers=board.layers if board.thickness in {None, thickness} else None,
        direction=direction,
    )
    return replace(
        parts,
        plate=board,
        hinges=hinges,
        base=parts.base if floor is None or floor < float(one.hinge_y[0]) else Base(),
        packing=beyond if beyond > SAME_PLACE else 0.0,
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
        f"Layout {rank} of mountcalc place, ranked by the {by}. Of {placement.evaluated} tried "
        f"(seed {placement.seed}) {placement.feasible} will do.",
        "Its sizes are rounded to what can be marked out.",
        "mountcalc table, setting and check take this file as it is.",
        "",
    )
    title, ending = placement.title, f": layout {rank}"
    room = _LONGEST_TITLE - len(ending)
    title = title if len(title) <= room else title[: room - 1].rstrip() + "…"
    return scenario_text(replace(mount, title=title + ending), remarks, search.typed)
