"""A layout as the scenario of a mount: for the ordinary solver, as a hand reads it, as a file."""

from __future__ import annotations

import dataclasses
import math
from collections.abc import Sequence
from pathlib import Path

from mountcalc.handbook.frames import MotorFrame
from mountcalc.place.feasible.clearances import written_stops
from mountcalc.place.feasible.drives import belts_of
from mountcalc.place.feasible.layouts import ACTIONS, KINDS, Layouts
from mountcalc.place.results import Placement, Prefer
from mountcalc.scenario.drawn_plate import hinge_edge
from mountcalc.scenario.model import (
    Acts,
    Adjuster,
    AdjusterKind,
    Display,
    Motor,
    Plate,
    Scenario,
    Vector,
)
from mountcalc.scenario.parts import Base, Hinges, Parts, PlateBoard
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
_TENTHS = 10

_LONGEST_TITLE = 120  # as a scenario's title may be
_BY = {Prefer.FINE: "fineness", Prefer.COMPACT: "compactness", Prefer.LIGHT_BOLT: "light bolt"}


def as_scenario(
    scenario: Scenario, space: SearchSpace, layouts: Layouts, index: int, swing: Vector
) -> Scenario:
    """The mount of one layout, with every value explicit."""

    def at(name: str) -> float:
        return float(getattr(layouts, name)[index])

    length = at("plate_length")
    hinge = (at("hinge_x"), at("hinge_y"))
    middle = _moved(hinge, (at("along_x"), at("along_y")), 0.5 * length)
    middle = _moved(middle, (at("normal_x"), at("normal_y")), space.plate_middle)
    return dataclasses.replace(
        scenario,
        motor=_motor(scenario.motor, (at("motor_x"), at("motor_y"))),
        belt=belts_of(scenario, space)[layouts.belt[index]],
        plate=Plate(
            hinge=hinge,
            travel=_stops(swing),
            weight=scenario.plate.weight * length / space.plate_length,
            center_of_mass=middle,
        ),
        adjuster=_adjuster(scenario.adjuster.across, space, layouts, index),
        parts=_parts(scenario, space, layouts, index),
    )


def _moved(point: Vector, direction: Vector, distance: float) -> Vector:
    return point[0] + distance * direction[0], point[1] + distance * direction[1]


def _motor(motor: Motor, shaft: Vector) -> Motor:
    """The motor elsewhere, its centre of mass where it was beside the shaft."""
    beside = motor.center_of_mass[0] - motor.shaft[0], motor.center_of_mass[1] - motor.shaft[1]
    return dataclasses.replace(motor, shaft=shaft, center_of_mass=_moved(shaft, beside, 1.0))


def _parts(scenario: Scenario, space: SearchSpace, layouts: Layouts, index: int) -> Parts:
    """What is drawn of the layout: places along the shafts and what is bought stay.

    A floor that the layout's hinge is not above is gone, since no file may say so; the search
    notes of which layouts.
    """
    parts, floor = scenario.parts, scenario.parts.base.floor
    edge = hinge_edge(parts.hinges, scenario.display)
    stands = floor is None or floor < float(layouts.hinge_y[index])
    return dataclasses.replace(
        parts,
        plate=_board(parts.plate, space, layouts, index, edge),
        hinges=_hinges(parts.hinges, space.plate_thickness),
        base=parts.base if stands else Base(),
        packing=_packing(parts.frame, float(layouts.motor_height[index])),
    )


def _board(
    board: PlateBoard, space: SearchSpace, layouts: Layouts, index: int, edge: float
) -> PlateBoard:
    """The layout's board, which begins at the hinge's edge [m] from the pin."""
    thickness = space.plate_thickness
    return dataclasses.replace(
        board,
        length=float(layouts.plate_length[index]) - edge,
        thickness=thickness,
        layers=board.layers if board.thickness in {None, thickness} else None,
        direction=math.atan2(float(layouts.along_y[index]), float(layouts.along_x[index])),
    )


def _hinges(hinges: Hinges, thickness: float) -> Hinges:
    """The same, unless let into a thicker plate than the layout's, which no file may say."""
    depth = hinges.mortise_depth
    fits = depth is None or depth < thickness
    return hinges if fits else dataclasses.replace(hinges, mortise_depth=None)


def _packing(frame: MotorFrame | None, height: float) -> float:
    """What lifts the feet [m] so that the shaft is at the layout's height off the plate's face.

    Zero where the frame is as high or higher: reading the file notes by how much.
    """
    beyond = 0.0 if frame is None else height - frame.shaft_height
    return beyond if beyond > _ROUNDING else 0.0


def _stops(swing: Vector) -> Vector:
    low, high = written_stops(*swing)
    return float(low), float(high)


def _adjuster(across: float | None, space: SearchSpace, layouts: Layouts, index: int) -> Adjuster:
    kind = KINDS[layouts.kind[index]]
    thread = space.threads[layouts.thread[index]]
    tip = (float(layouts.tip_x[index]), float(layouts.tip_y[index]))
    axis = (float(layouts.axis_x[index]), float(layouts.axis_y[index]))
    pulls = ACTIONS[layouts.acts[index]] is Action.PULL
    common = Adjuster(
        kind=kind,
        acts=Acts.PULL if pulls else Acts.PUSH,
        thread=thread,
        advance_per_turn=thread.pitch,
        across=across,
    )
    if kind is AdjusterKind.LINK:
        base = _moved(tip, axis, -space.link_length)
        return dataclasses.replace(common, plate_pin=tip, base_pin=base)
    return dataclasses.replace(
        common,
        tip=tip,
        axis=math.atan2(axis[1], axis[0]),
        face=math.atan2(float(layouts.along_y[index]), float(layouts.along_x[index])),
    )


def as_written(scenario: Scenario) -> Scenario:
    """Round what the search reckoned of a mount; its marks and what the file said stay."""
    step, plate, parts = _LENGTH[scenario.display], scenario.plate, scenario.parts
    weight = _WEIGHT[scenario.display]
    return dataclasses.replace(
        scenario,
        plate=dataclasses.replace(
            plate,
            weight=_at_least_one(plate.weight, weight),
            center_of_mass=_point(plate.center_of_mass, step),
        ),
        adjuster=_rounded_adjuster(scenario.adjuster, step),
        parts=dataclasses.replace(
            parts,
            plate=dataclasses.replace(
                parts.plate,
                length=_rounded(parts.plate.length, step),
                direction=_direction(parts.plate.direction),
            ),
            packing=round(parts.packing / step) * step,
        ),
    )


def _rounded_adjuster(adjuster: Adjuster, step: float) -> Adjuster:
    return dataclasses.replace(
        adjuster,
        tip=None if adjuster.tip is None else _point(adjuster.tip, step),
        base_pin=None if adjuster.base_pin is None else _point(adjuster.base_pin, step),
        plate_pin=None if adjuster.plate_pin is None else _point(adjuster.plate_pin, step),
        axis=_direction(adjuster.axis),
        face=_direction(adjuster.face),
    )


def _at_least_one(value: float, step: float) -> float:
    """A weight at its step; none stays none."""
    return max(round(value / step), 1) * step if value > 0 else value


def _point(at: Vector, step: float) -> Vector:
    return round(at[0] / step) * step, round(at[1] / step) * step


def _rounded(value: float | None, step: float) -> float | None:
    return None if value is None else round(value / step) * step


def _direction(angle: float | None) -> float | None:
    return None if angle is None else math.radians(round(math.degrees(angle) * _TENTHS) / _TENTHS)


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
        dataclasses.replace(layout, scenario_file=str(path))
        for path, layout in zip(paths, placement.layouts, strict=True)
    )
    return files, dataclasses.replace(placement, layouts=named)


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
    return scenario_text(dataclasses.replace(mount, title=title), remarks, search.typed)


def _titled(title: str, ending: str) -> str:
    room = _LONGEST_TITLE - len(ending)
    return (title if len(title) <= room else title[: room - 1].rstrip() + "…") + ending
