"""Stops that catch the plate when the belt breaks: where they find room, what they take up."""

from __future__ import annotations

import math
from enum import Enum

import numpy as np
from numpy.typing import NDArray

from mountcalc.drafting.items import Layer
from mountcalc.draw.boards.side import board_side, board_sizes, meeting_on_plate
from mountcalc.draw.build import Build, motor_size, once, rim_radii, turned
from mountcalc.draw.remarks import Remarks
from mountcalc.draw.screws import BLOCK_SHARE, drawn_diameter, wrench_room
from mountcalc.draw.views import ViewParts, on_sides
from mountcalc.record import Record
from mountcalc.scenario.drawn_plate import plate_line
from mountcalc.scenario.model import Acts, AdjusterKind, Vector
from mountcalc.tolerances import ROUNDING

# Sizes of the block, all estimates [m].
STOP_HALF, STOP_DEPTH, STOP_ACROSS = 0.015, 0.040, 0.040
"""Half its length along the plate, how far it stands out from it, its width along the shafts."""

STOP_AIR = 0.006  # from the block to whatever passes it [m] (estimate)
STOP_GAP = 0.006  # from the block to the plate where the belt needs it last [m] (estimate)
_STEP = 0.001  # [m] between the places that are tried
_LEAST_SHARE = 0.5  # of the plate's length: nearer to the hinge the stop takes more force
_FROM_END = 0.005  # from the block to the plate's far edge [m] (estimate)
_LONGER = 0.4  # [m] by which a longer plate is tried
_ANGLES = 65

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]


class Beside(Enum):
    """What a stop stands beside along the shafts, because it is not clear of it in the view."""

    NOTHING = "nothing"  # it is clear of all in the view
    ADJUSTER = "the adjuster"
    MOTOR = "the motor"
    NO_ROOM = "no room"  # not even there


class StopPlace(Record):
    """Where a stop meets the plate: the middle of its block, along the plate from the hinge [m].

    ``wanted_length`` [m] is, where there is no room, the plate's length at which there is.
    """

    reach: float
    beside: Beside
    wanted_length: float | None = None


class Catch(Record):
    """A stop, and what the plate does until it meets it.

    Without a belt the plate goes ``turn`` (+1 counter-clockwise), which ``tightens`` the belt or
    not, rests on the stop at a ``plate_angle`` and meets it ``at`` a point [m], whose ``normal``
    points into the stop; ``last`` is where the belt needs it last [rad]. From snug on the motor
    falls by ``drop`` [m] and the stop takes up an ``energy`` [J]; ``held`` where the adjuster
    carries the weight at snug.
    """

    turn: int
    tightens: bool
    plate_angle: float
    last: float
    at: Vector
    normal: Vector
    drop: float
    energy: float
    held: bool
    place: StopPlace

    @property
    def beyond(self) -> str:
        """The position that it stands beyond, in words."""
        return "take-up" if self.tightens else "install"

    @property
    def corners(self) -> tuple[Vector, ...]:
        """The outline of its block [m]."""
        (x, y), (a, b) = self.at, self.normal
        half, deep = STOP_HALF, STOP_DEPTH
        places = ((-half, 0.0), (half, 0.0), (half, deep), (-half, deep))
        return tuple((x - side * b + off * a, y + side * a + off * b) for side, off in places)


@once
def catches(build: Build) -> tuple[Catch, ...]:
    """The stops that a plate wants."""
    mount, swing = build.mount, build.swing
    ways = set()
    for angle in swing.three:
        moment = float(mount.weight_moment(angle))
        if abs(moment) <= ROUNDING * mount.weight_scale or swing.install == swing.take_up:
            ways.add(0)  # the weight drives the plate nowhere
        else:
            ways.add(-1 if moment > 0 else 1)
    tightening = 1 if swing.take_up > swing.install else -1
    turns = (tightening, -tightening) if 0 in ways or len(ways) > 1 else tuple(ways)
    return tuple(_catch(build, turn, tightens=turn == tightening) for turn in turns)


def _catch(build: Build, turn: int, *, tightens: bool) -> Catch:
    swing, board, hinge = build.swing, board_side(build), build.hinge
    motor, plate, snug = build.scenario.motor, build.scenario.plate, build.swing.snug
    last = swing.take_up if tightens else swing.install
    place = stop_place(build, turn, last)
    is_face = turn == plate_line(build.scenario).side
    point = board.at(place.reach, 0.0 if is_face else -board.thickness, 0.0)
    sign = 1.0 if is_face else -1.0
    out = sign * board.frame.normal[0], sign * board.frame.normal[1]
    angle = last + turn * STOP_GAP / math.dist(point, hinge)

    def fall(mass: Vector) -> float:
        return build.turned(mass, snug)[1] - build.turned(mass, angle)[1]

    # Whether the adjuster carries the weight without a belt: F = sum W y' / s'.
    mount, acts = build.mount, build.scenario.adjuster.acts
    held = mount.has_adjuster and acts is Acts.BOTH
    if mount.has_adjuster and acts in {Acts.PUSH, Acts.PULL}:
        force = float(mount.weight_moment(snug)) / float(mount.adjuster(snug).extension_slope)
        held = force >= 0 if acts is Acts.PUSH else force <= 0
    drop = fall(motor.center_of_mass)
    return Catch(
        turn=turn,
        tightens=tightens,
        plate_angle=angle,
        last=last,
        at=build.turned(point, angle),
        normal=turned(out, (0.0, 0.0), angle),
        drop=drop,
        energy=motor.weight * drop + plate.weight * fall(plate.center_of_mass),
        held=held,
        place=place,
    )


def stop_place(build: Build, turn: int, last: float) -> StopPlace:
    """Look for room along the plate for a stop, the furthest from the hinge first."""
    board = board_side(build)
    nearest = _LEAST_SHARE * board.length
    furthest = max(nearest, board.length - STOP_HALF - _FROM_END)
    reaches = np.arange(furthest, nearest - _STEP, -_STEP)
    here = _Blocks(build, turn, last, reaches)
    passes = here.passes_motor() & here.passes_driven_shaft()
    # Board on the wider side of the adjuster, and beside the motor [m].
    half, frame = 0.5 * board_sizes(build).width, build.scenario.parts.frame
    across = abs(build.scenario.adjuster.across or 0.0)
    adjuster, motor = half + across - here.adjuster_radius - STOP_AIR, -math.inf
    if frame is not None:  # else nobody knows how long the motor is
        # From under the middle of the feet to both ends of the body; the other side has room.
        front = 0.5 * max(frame.feet_along) + frame.shoulder_to_foot
        motor = half - min(front, frame.body_length - front) - STOP_AIR
    choices: tuple[tuple[Beside, Bools], ...] = (
        (Beside.NOTHING, passes & here.passes_adjuster()),
        (Beside.ADJUSTER, passes & (adjuster >= STOP_ACROSS)),
        (Beside.MOTOR, here.passes_driven_shaft() & (min(adjuster, motor) >= STOP_ACROSS)),
    )
    for beside, fits in choices:
        if fits.any():
            return StopPlace(float(reaches[fits.argmax()]), beside)
    longer = np.arange(furthest + _STEP, furthest + _LONGER, _STEP)
    there = _Blocks(build, turn, last, longer)
    clear = there.passes_motor() & there.passes_driven_shaft() & there.passes_adjuster()
    wanted = float(longer[clear.argmax()]) + STOP_HALF + _FROM_END - board.edge
    return StopPlace(furthest, Beside.NO_ROOM, wanted if clear.any() else None)


class _Blocks:
    """Blocks at several places along the plate, in the plate's own axes as it lies on them [m]."""

    def __init__(self, build: Build, turn: int, last: float, reaches: Floats) -> None:
        self.build, self.turn, self.reaches = build, turn, reaches
        # The face that leads: the motor's, or the back of the plate.
        self.side = plate_line(build.scenario).side
        self.out = 1 if turn == self.side else -1
        self.off = 0.0 if self.out > 0 else -board_side(build).thickness
        self.angles = last + turn * STOP_GAP / np.hypot(reaches, self.off)
        # What is to be kept free about the adjuster's axis: for a wrench, for the block of a bolt.
        adjuster = build.scenario.adjuster
        diameter, in_block = drawn_diameter(adjuster), adjuster.kind is AdjusterKind.JACK_IN_BASE
        self.adjuster_radius = (BLOCK_SHARE if in_block else 0.5) * diameter
        if adjuster.kind is AdjusterKind.LINK:
            self.adjuster_radius = wrench_room(diameter).radius

    def passes_motor(self) -> Bools:
        """Where body, pulley and feet of the motor pass from the other end of the swing on."""
        motor, swing = motor_size(self.build), self.build.swing
        shaft = self.build.scenario.motor.shaft
        start = swing.low if self.turn > 0 else swing.high
        back = np.linspace(0.0, start - self.angles, _ANGLES)
        radius = max(motor.body, rim_radii(self.build)[0])
        passes: Bools = self._apart(shaft, back).min(axis=0) >= radius + STOP_AIR
        if self.out < 0:
            return passes
        off = np.abs(self.reaches - self.build.frame.distance(shaft))
        return np.asarray(passes & (off >= motor.half_feet + STOP_HALF + STOP_AIR))

    def passes_driven_shaft(self) -> Bools:
        """Where the driven shaft, which may reach as far back as the plate, passes."""
        driven = self.build.scenario.driven
        journals = (one.journal_diameter for one in driven.bearings)
        thick = max(driven.shaft_diameter or 0.0, *journals)
        return np.asarray(self._apart(driven.shaft, -self.angles) >= 0.5 * thick + STOP_AIR)

    def passes_adjuster(self) -> Bools:
        """Where bolt or link is not on its side of the plate, or not near it."""
        meeting, adjuster = meeting_on_plate(self.build), self.build.scenario.adjuster
        frame, side = self.build.frame, 0  # on both, or +1 on the motor's side, -1 behind it
        if adjuster.kind is AdjusterKind.JACK_IN_BASE and adjuster.axis is not None:
            side = -1 if frame.slope(adjuster.axis)[1] > 0 else 1
        elif adjuster.kind is AdjusterKind.LINK and adjuster.base_pin is not None:
            side = 1 if frame.height(adjuster.base_pin) > 0 else -1
        if meeting is None or side not in {0, self.out}:
            return np.ones(len(self.reaches), dtype=bool)
        keep = self.adjuster_radius + STOP_HALF + STOP_AIR
        return (self.reaches < meeting.low - keep) | (self.reaches > meeting.high + keep)

    def _apart(self, point: Vector, turned_by: Floats) -> Floats:
        """From the blocks to a point of the drawing turned about the hinge [rad] in their axes."""
        frame, turn = self.build.frame, self.side * turned_by
        along, height = frame.distance(point), frame.height(point)
        across = np.abs(along * np.cos(turn) - height * np.sin(turn) - self.reaches) - STOP_HALF
        up = self.out * (along * np.sin(turn) + height * np.cos(turn) - self.off)
        beyond = np.maximum(up - STOP_DEPTH, -up)
        apart: Floats = np.hypot(np.maximum(across, 0.0), np.maximum(beyond, 0.0))
        return apart


def draw_stop(parts: ViewParts, build: Build, stop: Catch) -> None:
    """Draw the block that the plate's far part rests on; where there is no room only name that."""
    name, board = f"stop beyond {stop.beyond}", board_side(build)
    if stop.place.beside is Beside.NO_ROOM:
        offs = (0.0, -0.5 * board.thickness, -board.thickness)
        ends = (board.at(board.length, off, stop.last) for off in offs)
        parts.name(f"strap instead of a stop, {stop.beyond}", *ends)
        return
    corners = stop.corners
    parts.outline(corners, Layer.VISIBLE)
    inside = 0.5 * (corners[0][0] + corners[2][0]), 0.5 * (corners[0][1] + corners[2][1])
    beside = ", beside the motor" if stop.place.beside is Beside.MOTOR else ""
    parts.name(f"{name}{beside}", inside, *corners, *on_sides(corners, (0.5,)))
    parts.points[name] = stop.at


def say_stops(remarks: Remarks, build: Build) -> None:
    """Say where stops stand and what they catch."""
    stops, (low, high) = catches(build), build.scenario.plate.travel
    if len(stops) > 1:
        remarks.say("stop.both_sides")
    for stop in stops:
        if len(stops) == 1:
            holds = stop.held and build.scenario.adjuster.kind is not AdjusterKind.NONE
            way = "away from the driven shaft" if stop.tightens else "towards the driven shaft"
            remarks.say("stop.adjuster_holds" if holds else "stop.nothing_holds", way=way)
        facts = {"angle": stop.plate_angle, "drop": stop.drop, "energy": stop.energy}
        of = f"stop_{stop.beyond.replace('-', '_')}"
        remarks.facts |= {f"{of}_{name}": value for name, value in facts.items()}
        longer, beside = stop.place.wanted_length, stop.place.beside
        key = "no_room" if longer is None else "no_room_but_longer"
        if beside is not Beside.NO_ROOM:
            key = "stands" if beside is Beside.NOTHING else "stands_beside"
        size = (2.0 * STOP_HALF, STOP_DEPTH, STOP_ACROSS)
        where = {"beyond": stop.beyond, "gap": STOP_GAP, "beside": beside.value}
        remarks.say(f"stop.{key}", size=size, length=longer, **where)
        if stop.drop > 0:
            key = "stop.drop_and_energy" if stop.energy > 0 else "stop.drop"
            remarks.say(key, drop=stop.drop, energy=stop.energy)
        if not low <= stop.plate_angle <= high:
            remarks.say("stop.outside_the_travel", beyond=stop.beyond)
