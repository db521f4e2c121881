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
from mountcalc.scenario.model import Acts, Adjuster, AdjusterKind
from mountcalc.scenario.text.writing import Vector
from mountcalc.thresholds import ROUNDING

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
    past_motor, past_shaft, past_adjuster = _passing(build, turn, last, reaches)
    # Board on the wider side of the adjuster, and beside the motor [m].
    half, frame = 0.5 * board_sizes(build).width, build.scenario.parts.frame
    places = build.scenario.adjuster.places or (0.0,)
    adjuster = half + max(-max(places), min(places))
    adjuster -= _adjuster_radius(build.scenario.adjuster) + STOP_AIR
    motor = -math.inf  # nobody knows how long it is
    if frame is not None:
        # From under the middle of the feet to both ends of the body; the other side has room.
        front = 0.5 * max(frame.feet_along) + frame.shoulder_to_foot
        front += build.scenario.parts.along.motor_feet or 0.0
        motor = half - min(front, frame.body_length - front) - STOP_AIR
    choices: tuple[tuple[Beside, Bools], ...] = (
        (Beside.NOTHING, past_shaft & past_motor & past_adjuster),
        (Beside.ADJUSTER, past_shaft & past_motor & (adjuster >= STOP_ACROSS)),
        (Beside.MOTOR, past_shaft & (min(adjuster, motor) >= STOP_ACROSS)),
    )
    for beside, fits in choices:
        if fits.any():
            return StopPlace(float(reaches[fits.argmax()]), beside)
    longer = np.arange(furthest + _STEP, furthest + _LONGER, _STEP)
    clear = np.all(_passing(build, turn, last, longer), axis=0)
    wanted = float(longer[clear.argmax()]) + STOP_HALF + _FROM_END - board.edge
    return StopPlace(furthest, Beside.NO_ROOM, wanted if clear.any() else None)


def _passing(build: Build, turn: int, last: float, reaches: Floats) -> tuple[Bools, Bools, Bools]:
    """Which blocks at places along the plate pass the motor, the driven shaft, the adjuster.

    All in the plate's own axes as it lies on the block, with the face that leads: the motor's, or
    the back of the plate.
    """
    scenario, frame, swing, size = build.scenario, build.frame, build.swing, motor_size(build)
    side, adjuster, driven = plate_line(scenario).side, scenario.adjuster, scenario.driven
    out = 1 if turn == side else -1
    face = 0.0 if out > 0 else -board_side(build).thickness
    angles = last + turn * STOP_GAP / np.hypot(reaches, face)

    def apart(point: Vector, turned_by: Floats) -> Floats:
        """From the blocks to a point of the drawing turned about the hinge [rad]."""
        along, height, turns = frame.distance(point), frame.height(point), side * turned_by
        across = np.abs(along * np.cos(turns) - height * np.sin(turns) - reaches) - STOP_HALF
        up = out * (along * np.sin(turns) + height * np.cos(turns) - face)
        beyond = np.maximum(up - STOP_DEPTH, -up)
        found: Floats = np.hypot(np.maximum(across, 0.0), np.maximum(beyond, 0.0))
        return found

    # Body, pulley and feet of the motor, from the other end of the swing on.
    shaft, start = scenario.motor.shaft, swing.low if turn > 0 else swing.high
    back, radius = np.linspace(0.0, start - angles, _ANGLES), max(size.body, rim_radii(build)[0])
    past_motor = apart(shaft, back).min(axis=0) >= radius + STOP_AIR
    if out > 0:
        feet = size.half_feet + STOP_HALF + STOP_AIR
        past_motor &= np.abs(reaches - frame.distance(shaft)) >= feet
    # The driven shaft may reach as far back as the plate.
    thick = max(driven.shaft_diameter or 0.0, *(one.journal_diameter for one in driven.bearings))
    past_shaft = apart(driven.shaft, -angles) >= 0.5 * thick + STOP_AIR
    # Bolt or link, where it is on that side of the plate: 1 is the motor's, -1 the other, 0 both.
    meeting, stands = meeting_on_plate(build), 0
    if adjuster.kind is AdjusterKind.JACK_IN_BASE and adjuster.axis is not None:
        stands = -1 if frame.slope(adjuster.axis)[1] > 0 else 1
    elif adjuster.base_pin is not None:
        stands = 1 if frame.height(adjuster.base_pin) > 0 else -1
    past_adjuster = np.ones(len(reaches), dtype=bool)
    if meeting is not None and stands in {0, out}:
        keep = _adjuster_radius(adjuster) + STOP_HALF + STOP_AIR
        past_adjuster = (reaches < meeting.low - keep) | (reaches > meeting.high + keep)
    return past_motor, past_shaft, past_adjuster


def _adjuster_radius(adjuster: Adjuster) -> float:
    """What is to be kept free about its axis [m]: for a link's wrench, for the block of a bolt."""
    diameter = drawn_diameter(adjuster)
    if adjuster.kind is AdjusterKind.LINK:
        return wrench_room(diameter).radius
    return (BLOCK_SHARE if adjuster.kind is AdjusterKind.JACK_IN_BASE else 0.5) * diameter


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
