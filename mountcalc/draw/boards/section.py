"""The base in the plane of the drawing: how it stands clear of the swing, what is said of it."""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from enum import StrEnum
from functools import partial

import numpy as np
import shapely

from mountcalc.draw.boards.side import (
    BoardSide,
    Meeting,
    board_side,
    board_sizes,
    meeting_on,
    motor_feet,
    template_size,
)
from mountcalc.draw.build import Build, motor_size, once
from mountcalc.draw.remarks import Remark, Remarks
from mountcalc.draw.stop import STOP_GAP
from mountcalc.handbook.hardware import Face
from mountcalc.handbook.rows import INCH
from mountcalc.record import Record
from mountcalc.scenario.drawn_plate import BoardFrame, plate_line
from mountcalc.scenario.model import AdjusterKind
from mountcalc.scenario.text.writing import Display, Vector

_ONE_WAY = math.cos(math.radians(0.5))  # of the angle between ways that are one at the bench
_NEARLY = math.radians(20.0)  # from flat open, within which a level or upright strip is looked for
STEPS = 65  # plate angles at which what swings is looked at
_NOTHING = 0.5e-6  # [m2] of overlap: boards that just touch
_ROUND = 16  # chords of a quarter of the motor's body
_NEAREST_STOP = 0.5  # of the plate's length: no stop stands nearer to the hinge
_STRAIGHT = math.sin(math.radians(0.25))
_BESIDE = 0.02  # [m] that a shaft is to stand beside the hinge to tell a side by it
_UNIT = {Display.INCH: INCH, Display.METRIC: 0.01}


class Swung(StrEnum):
    """What swings, in words."""

    PLATE = "the plate"
    FEET = "the motor's feet"
    BODY = "the motor's body"


class Met(Record):
    """What comes furthest into the base: which, how deep [m], at which plate angle [rad]."""

    part: Swung
    depth: float
    plate_angle: float


def stop_to_stop(build: Build) -> tuple[float, float]:
    """The plate angles between a stop beyond install and one beyond take-up."""
    gap = STOP_GAP / (_NEAREST_STOP * board_side(build).length)
    return build.swing.low - gap, build.swing.high + gap


def deepest(
    build: Build, base: Sequence[Vector], angles: tuple[float, float] | None = None
) -> Met | None:
    """What of plate and motor comes furthest into the base between angles: from stop to stop."""
    fixed = shapely.Polygon(base)
    found = [
        Met(part, way_out(fixed, shape), float(angle))
        for angle in np.linspace(*(angles or stop_to_stop(build)), STEPS)
        for part, shape in swung(build, float(angle))
        if fixed.intersection(shape).area > _NOTHING
    ]
    return max(found, key=lambda one: one.depth, default=None)


def swung(build: Build, angle: float) -> Iterator[tuple[Swung, shapely.Polygon]]:
    """What swings with the plate."""
    yield Swung.PLATE, shapely.Polygon(board_side(build).corners(angle))
    yield Swung.FEET, shapely.Polygon(motor_feet(build, angle))
    shaft = build.turned(build.scenario.motor.shaft, angle)
    yield Swung.BODY, shapely.Point(shaft).buffer(motor_size(build).body, quad_segs=_ROUND)


def way_out(one: shapely.Polygon, other: shapely.Polygon) -> float:
    """How far one of two convex outlines has to move to be out of the other."""
    corners = [shapely.get_coordinates(outline.exterior) for outline in (one, other)]
    sides = np.vstack([np.diff(points, axis=0) for points in corners])
    sides = sides[np.any(sides != 0.0, axis=1)]
    square = np.array([-sides[:, 1], sides[:, 0]]) / np.linalg.norm(sides, axis=1)
    shadows = [points @ square for points in corners]  # on a line square to each side
    low, start = (line.min(0) for line in shadows)
    high, end = (line.max(0) for line in shadows)
    return max(0.0, float(np.minimum(high - start, end - low).min()))


class Stands(StrEnum):
    """What the way of a base was taken from."""

    GIVEN = "given"
    ADJUSTER = "adjuster"
    CLOSED = "closed"
    OPEN = "open"


class BaseSection(BoardSide):
    """The base in the drawing's plane: it lies behind its face by what a leaf stands out of it.

    It carries hinges and adjuster where it stands ``with_adjuster``; ``met`` comes into it.
    """

    stands: Stands = Stands.GIVEN
    with_adjuster: bool = False
    met: Met | None = None

    @property
    def top(self) -> float:
        """Height of its highest point [m]: the wood under a leaf."""
        return max(y for _, y in self.corners())


@once
def base_section(build: Build) -> BaseSection:
    """The base as it is given, or as the first way to stand that keeps clear of plate and motor."""
    tried: list[BaseSection] = []
    for candidate in _candidates(build):
        met = deepest(build, candidate.corners())
        if met is None:
            return candidate
        tried.append(replace(candidate, met=met))
    return min(tried, key=lambda one: one.met.depth if one.met else 0.0)


def is_one_face(frame: BoardFrame, other: BoardFrame) -> bool:
    """Whether two faces through the hinge's axis are one, as near as a bench tells."""
    ways = zip((frame.along, frame.normal), (other.along, other.normal), strict=True)
    return all(one[0] * two[0] + one[1] * two[1] >= _ONE_WAY for one, two in ways)


def _candidates(build: Build) -> Iterator[BaseSection]:
    """What is looked at in turn; ``met`` is open yet."""
    sizes, line, base = board_sizes(build), adjuster_line(build), build.scenario.parts.base
    thick = template_size(build, "thickness").value
    on_edge = build.scenario.parts.hinges.into_base in {Face.EDGE, Face.END}
    under_leaf = sizes.edge + sizes.leaf_width
    strip = partial(
        BaseSection,
        edge=sizes.edge,
        length=under_leaf + sizes.beyond,
        thickness=thick if base.thickness is None else base.thickness,
        drop=0.0 if on_edge else sizes.leaf_thickness - sizes.mortise,
    )
    direction, stands = base.direction, Stands.GIVEN
    if direction is None:
        direction, stands = math.atan2(line.along[1], line.along[0]), Stands.ADJUSTER
    frame = _on_hinge(build, direction)
    meeting = meeting_on(build, line, "base")
    if meeting is not None and is_one_face(frame, line):
        longest = max(meeting.high, under_leaf) + sizes.beyond
        yield strip(frame, stands=stands, length=longest, with_adjuster=True)
    if stands is Stands.GIVEN:
        yield strip(frame, stands=stands)
        return
    # The hinge closes where the plate turns towards the side that the motor stands on.
    plate, angles = plate_line(build.scenario), stop_to_stop(build)
    closing, opening = angles[::-1] if plate.side > 0 else angles
    yield strip(_on_hinge(build, plate.direction + closing), stands=Stands.CLOSED)
    middle = plate.direction + 0.5 * (closing + opening) + math.pi
    square = 0.5 * math.pi * round(middle / (0.5 * math.pi))
    if abs(middle - square) <= _NEARLY:
        yield strip(_on_hinge(build, square), stands=Stands.OPEN)
    yield strip(_on_hinge(build, plate.direction + opening + math.pi), stands=Stands.OPEN)


def _on_hinge(build: Build, direction: float) -> BoardFrame:
    """The face of a base in a direction [rad]: the leaf on it looks at that of the closed plate."""
    way, side = (math.cos(direction), math.sin(direction)), plate_line(build.scenario).side
    return BoardFrame(build.hinge, way, (side * way[1], -side * way[0]))


@once
def adjuster_line(build: Build) -> BoardFrame:
    """The face that one board for hinges and adjuster would have, seen from the plate."""
    adjuster, hinge, plate = build.scenario.adjuster, complex(*build.hinge), build.frame
    way = towards = 0j
    if adjuster.base_pin is not None and adjuster.plate_pin is not None:
        way, towards = complex(*adjuster.base_pin) - hinge, complex(*adjuster.plate_pin) - hinge
    elif adjuster.face is not None and adjuster.axis is not None and adjuster.tip is not None:
        way, to_tip = cmath.rect(1.0, adjuster.face), complex(*adjuster.tip) - hinge
        if (way.conjugate() * to_tip).real < 0:
            way = -way
        # A screw in the base pushes away from it; one in the plate pushes onto it.
        sign = 1.0 if adjuster.kind is AdjusterKind.JACK_IN_BASE else -1.0
        towards = cmath.rect(sign, adjuster.axis)
    if way == 0:
        return replace(plate, normal=(-plate.normal[0], -plate.normal[1]))
    along = way / abs(way)
    out = 1j * along if ((1j * along).conjugate() * towards).real >= 0 else -1j * along
    return BoardFrame(build.hinge, (along.real, along.imag), (out.real, out.imag))


def level_edge(build: Build) -> tuple[str, float]:
    """The level edge that heights are measured from."""
    floor, pin = build.scenario.parts.base.floor, build.hinge[1]
    if floor is not None and floor < pin:
        return "the floor", floor
    return "the level of the hinge pin", pin


def say_base_height(remarks: Remarks, build: Build) -> None:
    """How the base stands and how high."""
    remarks.add([base_stands(build)])
    floor = build.scenario.parts.base.floor
    if floor is None:
        remarks.say("base.no_floor")
        return
    height, top = build.hinge[1] - floor, base_section(build).top - floor
    remarks.facts |= {"hinge_above_floor": height, "base_top": top}
    key = "base.height" if height > 0 else "base.floor_above_pin"
    remarks.say(key, height=height, top=top)


def base_stands(build: Build) -> Remark:
    """Which way the base's face runs, and what that was taken from."""
    section, swing = base_section(build), build.swing
    across, up = (-part for part in section.frame.normal)
    behind = "under it" if up < 0 else "above it"
    if abs(up) <= abs(across):
        behind = f"behind it, {side_of(build, across)}"
    # The base looks at the plate that closes: the plate's own hand is the other one.
    end = swing.high if section.frame.pulley_side < 0 else swing.low
    is_install = abs(end - swing.install) <= abs(end - swing.take_up)
    why = Remark(f"base.{section.stands}", {"closing": "install" if is_install else "take-up"})
    way = way_of(build, section.frame.along)
    on_edge = build.scenario.parts.hinges.into_base in {Face.EDGE, Face.END}
    leaves = "next to the edge with the leaves" if on_edge else "with the leaves"
    return Remark("base.runs", {"leaves": leaves, "way": way, "behind": behind, "why": why})


def say_base_places(remarks: Remarks, build: Build, meeting: Meeting | None) -> None:
    """Where strip and block stand from the edges that the assembly is measured from."""
    level, hinge, upright = level_edge(build), build.hinge, build.scenario.driven.shaft[0]

    def place(x: float, y: float) -> str:
        way, height = "below" if y < level[1] else "above", build.bench(abs(y - level[1]))
        across = build.bench(abs(x - upright))
        return f"{height} {way} {level[0]} and {across} from the upright through the driven shaft"

    near, far, *_ = base_section(build).corners()
    remarks.say("base.edges", near=place(*near), far=place(*far))
    if meeting is not None:
        across, up = meeting.from_axis
        at, met = place(hinge[0] + across, hinge[1] + up), Remark(f"base.{meeting.kind}")
        remarks.say("base.block_place", met=met, place=at)


def say_base_caution(remarks: Remarks, build: Build) -> None:
    """Warn of a base that stands in the way of plate or motor."""
    section = base_section(build)
    met, given = section.met, section.stands is Stands.GIVEN
    if met is None:
        return
    remarks.say(
        "base.in_the_way",
        what="As base.direction has it" if given else "No way that was tried is clear: as drawn",
        part=met.part.value,
        depth=met.depth,
        where=build.swing.where(met.plate_angle),
        turn="turn the base" if given else "give base.direction, or move the motor off the hinge",
    )


def way_of(build: Build, way: Vector) -> str:
    """A direction from the hinge's axis: level, upright, or so far for so far."""
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
