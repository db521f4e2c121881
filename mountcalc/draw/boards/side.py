"""Boards and hinges: their sizes, the plate from its edge, where the adjuster meets it."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator

import numpy as np

from mountcalc.draw.build import Build, motor_size, once, turned
from mountcalc.draw.remarks import Remark
from mountcalc.draw.screws import drawn_diameter
from mountcalc.handbook.rows import INCH, Datum
from mountcalc.record import Record
from mountcalc.scenario import boards
from mountcalc.scenario.boards import BoardSizes
from mountcalc.scenario.drawn_plate import BoardFrame
from mountcalc.scenario.model import Acts, AdjusterKind
from mountcalc.scenario.text.threads import bolt_diameter
from mountcalc.scenario.text.writing import Display, Vector
from mountcalc.strength.bolt_length import BLOCK_DEPTH, LEAST_CROSSING

_STEPS = 65
_FLAT = 1e-3  # [m] what a board and a block are out of true
_SQUARE = math.sin(math.radians(0.5))
_OVER = {Display.INCH: 12 * INCH, Display.METRIC: 0.3}  # of a rule [m]
_STEEPEST = 1e-6  # square of the cosine of a face that stands square to the plate
_AS_GOOD_AS_SQUARE = 0.4e-3  # [m] from face to face: half of what a rule shows


def template_size(build: Build, name: str) -> Datum:
    """A size that templates take."""
    return boards.template_size(build.display, name)


@once
def board_sizes(build: Build) -> BoardSizes:
    """The sizes of the boards of a mount."""
    return boards.board_sizes(build.scenario)


def taken_notes(build: Build, sizes: BoardSizes, without: Collection[str]) -> tuple[str, ...]:
    """What was taken, in one sentence; none where all is given."""
    found = [
        f"{words} {build.bench(size.value) if is_length else f'{size.value:.0f}'} ({size.sure})"
        for name, (words, size, is_length) in sizes.taken.items()
        if name not in without
    ]
    return (f"Taken where the scenario does not say: {'; '.join(found)}.",) if found else ()


class Meeting(Record):
    """Where an adjuster meets a board, along the board from the hinge's axis [m].

    ``kind`` is "pad" (under a bolt's tip), "hole" or "pin"; it is ``at`` one place as the belt is
    snug, ``from_axis`` in the mount's plane, and moves between ``low`` and ``high``; the
    ``diameter`` of a hole is None where the thread's name does not tell.
    """

    kind: str
    at: float
    low: float
    high: float
    from_axis: Vector
    text: str
    remarks: tuple[Remark, ...]
    diameter: float | None = None


@once
def meeting_on_plate(build: Build) -> Meeting | None:
    """Where the adjuster meets the plate."""
    return meeting_on(build, build.frame, "plate")


def meeting_on(build: Build, frame: BoardFrame, board: str) -> Meeting | None:
    """Where the adjuster meets a board that runs so: "plate", "base", or "block" of the base."""
    adjuster, on_plate = build.scenario.adjuster, board == "plate"
    if adjuster.kind is AdjusterKind.NONE:
        return None
    if adjuster.kind is AdjusterKind.LINK:
        pin = adjuster.plate_pin if on_plate else adjuster.base_pin
        assert pin is not None
        at, remarks = frame.distance(pin), list[Remark]()
        if on_plate:
            remarks += _off_face(frame.height(pin), "The link's pin on the plate")
        from_axis = at * frame.along[0], at * frame.along[1]
        return Meeting("pin", at, at, at, from_axis, "link's pin", tuple(remarks))
    if (adjuster.kind is AdjusterKind.JACK_IN_PLATE) == on_plate:
        return _bolt_hole(build, frame, board)
    # The tip bears on it: on the plate as drawn, on the base as it stands.
    swing, text = build.swing, "bolt's tip bears here"
    angles = np.append(np.linspace(swing.low, swing.high, _STEPS), swing.snug)
    state = build.mount.adjuster(angles)
    tips = zip(*(one.tolist() for one in np.broadcast_arrays(state.at_x, state.at_y)), strict=True)
    turns = -angles if on_plate else np.zeros_like(angles)
    points = [build.turned(tip, turn) for tip, turn in zip(tips, turns.tolist(), strict=True)]
    places, height = [frame.distance(point) for point in points], frame.height(points[-1])
    low, high = min(places), max(places)
    key = "adjuster.pad_on_plate" if on_plate else "adjuster.pad_on_base"
    remarks = [Remark(key, {"wanders": high - low, "board": board})]
    if on_plate:
        remarks += [*_off_face(height, "The bolt's tip"), *_leaning_face(build)]
    elif board == "base" and abs(height) > _FLAT:
        numbers = {"off": abs(height), "way": "off" if height > 0 else "behind"}
        remarks.append(Remark("adjuster.face_off_base", numbers))
    from_axis = points[-1][0] - build.hinge[0], points[-1][1] - build.hinge[1]
    return Meeting("pad", places[-1], low, high, from_axis, text, tuple(remarks))


def _leaning_face(build: Build) -> Iterator[Remark]:
    """How far the face that a tip bears on is out of parallel with the plate."""
    adjuster, over = build.scenario.adjuster, _OVER[build.display]
    leans = 0.0 if adjuster.face is None else abs(build.frame.slope(adjuster.face)[1])
    if leans > _SQUARE:
        lean = leans / math.sqrt(max(1.0 - leans**2, _STEEPEST))
        yield Remark("adjuster.face_leans", {"off": lean * over, "run": over})


def _bolt_hole(build: Build, frame: BoardFrame, board: str) -> Meeting | None:
    """Where a bolt passes through a board, how it leans in it, and where its thread is."""
    adjuster = build.scenario.adjuster
    assert adjuster.tip is not None
    assert adjuster.axis is not None
    along, out = frame.slope(adjuster.axis)
    if abs(out) < LEAST_CROSSING:
        return None
    at = frame.distance(adjuster.tip) - frame.height(adjuster.tip) * along / out
    thread = adjuster.thread
    bolt = None if thread is None else bolt_diameter(thread)
    text, hole = f"clearance hole for bolt{f' {thread.name}' if thread else ''}", None
    # Through the plate, or through what carries the bolt.
    in_base, depth = board != "plate", board_sizes(build).thickness
    if in_base:
        depth = BLOCK_DEPTH * drawn_diameter(adjuster)
    off = abs(along / out) * depth
    # The viewer looks onto the face: deeper in, the axis has gone the other way.
    numbers = {
        "board": board,
        "depth": depth,
        "off": off,
        "way": "nearer the hinge" if along / out > 0 else "further from the hinge",
        # Pushing, the tip drives the nut back along the bolt; pulling is the other way round.
        "bears": Remark(f"adjuster.{adjuster.acts or Acts.PUSH}"),
    }
    keys = ["adjuster.hole_square" if off < _AS_GOOD_AS_SQUARE else "adjuster.hole_leans"]
    keys += ["adjuster.hole", *(["adjuster.block_depth"] if in_base else [])]
    if bolt is not None:
        spare = template_size(build, "bolt_clearance")
        hole, numbers = bolt + spare.value, numbers | {"wider": spare.value, "sure": spare.sure}
        text += f", {build.bench(hole)} across"
        keys.append("adjuster.hole_wider")
    from_axis = at * frame.along[0], at * frame.along[1]
    remarks = tuple(Remark(key, numbers) for key in keys)
    return Meeting("hole", at, at, at, from_axis, text, remarks, hole)


def _off_face(height: float, name: str) -> Iterator[Remark]:
    """How a point stands to the face that the motor stands on."""
    if abs(height) >= _FLAT:
        key = "adjuster.off_the_face" if height > 0 else "adjuster.behind_the_face"
        yield Remark(key, {"name": name, "off": abs(height)})


class BoardSide(Record):
    """A board cut across the hinge's axis [m]: the plate, whose face the motor stands on.

    ``edge`` and ``length`` are from the pin to its near edge and to its far one; its wood lies a
    ``drop`` behind the ``frame`` through the pin.
    """

    frame: BoardFrame
    edge: float
    length: float
    thickness: float
    drop: float = 0.0
    notes: tuple[str, ...] = ()

    def at(self, along: float, off: float, plate_angle: float) -> Vector:
        """A point so far along the face and off it."""
        (x, y), way, out = self.frame.hinge, self.frame.along, self.frame.normal
        point = x + along * way[0] + off * out[0], y + along * way[1] + off * out[1]
        return turned(point, self.frame.hinge, plate_angle)

    def corners(self, plate_angle: float = 0.0) -> tuple[Vector, ...]:
        """Near and far on the face, far and near on the back, at a plate angle [rad]."""
        near, far, face, back = self.edge, self.length, -self.drop, -self.drop - self.thickness
        places = ((near, face), (far, face), (far, back), (near, back))
        return tuple(self.at(along, off, plate_angle) for along, off in places)


@once
def board_side(build: Build) -> BoardSide:
    """The board of the plate; where its length is not given, long enough for what stands on it."""
    sizes, frame, given = board_sizes(build), build.frame, build.scenario.parts.plate.length
    edge = sizes.edge
    if given is not None:
        return BoardSide(frame, edge, edge + given, sizes.thickness)
    shaft, motor = frame.distance(build.scenario.motor.shaft), build.scenario.parts.frame
    ends = [edge + sizes.leaf_width, shaft]
    if motor is not None:
        ends.append(shaft + 0.5 * (motor.feet_across + motor.hole))
    meeting = meeting_on_plate(build)
    if meeting is not None:
        ends.append(meeting.high)
    note = "plate.length is not given: drawn long enough for what stands on it."
    return BoardSide(frame, edge, max(ends) + sizes.beyond, sizes.thickness, notes=(note,))


def motor_feet(build: Build, plate_angle: float) -> list[Vector]:
    """The outline of the motor's feet on what packs them up, at a plate angle [rad]."""
    board, size, frame = board_side(build), motor_size(build), build.scenario.parts.frame
    shaft = build.scenario.motor.shaft
    low = 0.0 if frame is None else board.frame.height(shaft) - frame.shaft_height
    high, middle, half = low + size.foot_height, board.frame.distance(shaft), size.half_feet
    places = ((-half, low), (half, low), (half, high), (-half, high))
    return [board.at(middle + along, off, plate_angle) for along, off in places]


def across_remark(build: Build) -> Remark:
    """Where the adjuster stands across plate and base."""
    across, bolts = build.scenario.adjuster.across, build.scenario.adjuster.bolts
    if bolts:
        places = " and ".join(
            f"{build.bench(abs(one.across))} {'towards' if one.across > 0 else 'away from'} it"
            for one in bolts
        )
        return Remark("adjuster.two_bolts", {"places": places})
    if not across:
        return Remark("adjuster.across_unknown" if across is None else "adjuster.across_middle")
    way = "towards the pulley's end" if across > 0 else "away from the pulley's end"
    return Remark("adjuster.across", {"across": abs(across), "way": way})
