"""Where the adjuster meets the plate: a pad under a bolt's tip, a bolt's hole, a link's pin."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from mountcalc.draw.boards.bolt_hole import bolt_diameter
from mountcalc.draw.boards.bolt_words import bolt_words
from mountcalc.draw.boards.sizes import template_size
from mountcalc.draw.build import Build, Swing, once, turned
from mountcalc.pages.bench_lengths import bench_length
from mountcalc.scenario.drawn_plate import BoardFrame
from mountcalc.scenario.model import AdjusterKind, Display, Vector
from mountcalc.units import si_factor

__all__ = ["Meeting", "bolt_hole", "contact_points", "meeting_on_plate"]

_STEPS = 65
_FLAT = 1e-3  # [m] what a board and a block are out of true
_SQUARE = math.sin(math.radians(0.5))
# A bolt nearer to parallel with a board than this (sine) does not pass through it.
_LEAST_CROSSING = 0.3
_OVER = {Display.INCH: 12 * si_factor("in"), Display.METRIC: 0.3}  # of a rule [m]
_STEEPEST = 1e-6  # square of the cosine of a face that stands square to the plate


@dataclass(frozen=True, slots=True)
class Meeting:
    """Where an adjuster meets a board, along the board from the hinge's axis [m].

    Attributes
    ----------
    kind : {"pad", "hole", "pin"}
    at : float [m]
        As the belt is snug.
    low, high : float [m]
        Between which it moves from install to take-up.
    diameter : float or None [m]
        Of the hole; None where nothing is bored, or the thread's name does not tell.
    text : str
        What is pointed at.
    notes : tuple of str
        How it stands to the board.
    """

    kind: str
    at: float
    low: float
    high: float
    diameter: float | None
    text: str
    notes: tuple[str, ...]


@once
def meeting_on_plate(build: Build) -> Meeting | None:
    """Where the adjuster meets the plate."""
    adjuster, frame, swing = build.scenario.adjuster, build.frame, build.swing
    if adjuster.kind is AdjusterKind.JACK_IN_BASE:
        return _pad(build, frame, swing)
    if adjuster.kind is AdjusterKind.JACK_IN_PLATE:
        return bolt_hole(build, frame)
    if adjuster.kind is AdjusterKind.LINK:
        assert adjuster.plate_pin is not None
        at = frame.distance(adjuster.plate_pin)
        notes = _off_face(build, frame.height(adjuster.plate_pin), "The link's pin on the plate")
        return Meeting("pin", at, at, at, None, "link's pin", notes)
    return None


def contact_points(build: Build, angles: np.ndarray, *, on_plate: bool) -> tuple[Vector, ...]:
    """Where a bolt's tip bears at plate angles, on the plate as drawn or in the plane."""
    state = build.mount.adjuster(angles)
    x, y = np.broadcast_to(state.at_x, angles.shape), np.broadcast_to(state.at_y, angles.shape)
    points = [(float(across), float(up)) for across, up in zip(x, y, strict=True)]
    if not on_plate:
        return tuple(points)
    hinge = build.scenario.plate.hinge
    return tuple(
        turned(point, hinge, -float(angle)) for point, angle in zip(points, angles, strict=True)
    )


def _pad(build: Build, frame: BoardFrame, swing: Swing) -> Meeting:
    angles = np.append(np.linspace(swing.low, swing.high, _STEPS), swing.snug)
    points = contact_points(build, angles, on_plate=True)
    places = [frame.distance(point) for point in points]
    heights = frame.height(points[-1])
    wanders = bench_length(max(places) - min(places), build.display)
    assert build.scenario.adjuster.face is not None
    _, leans = frame.slope(build.scenario.adjuster.face)
    notes = [
        f"The bolt's tip moves {wanders} along the plate from install to take-up: hard metal "
        "under all of it.",
        *_off_face(build, heights, "The bolt's tip"),
    ]
    if abs(leans) > _SQUARE:
        over = _OVER[build.display]
        lean = abs(leans) / math.sqrt(max(1.0 - leans**2, _STEEPEST))
        off, run = (bench_length(one, build.display) for one in (lean * over, over))
        notes.append(
            f"The face that the tip bears on is out of parallel with the plate: {off} in every "
            f"{run}."
        )
    text = "bolt's tip bears here"
    return Meeting("pad", places[-1], min(places), max(places), None, text, tuple(notes))


def bolt_hole(build: Build, frame: BoardFrame, *, board: str = "plate") -> Meeting | None:
    """Where a bolt passes through a board."""
    adjuster = build.scenario.adjuster
    assert adjuster.tip is not None
    assert adjuster.axis is not None
    assert adjuster.thread is not None
    along, out = frame.slope(adjuster.axis)
    if abs(out) < _LEAST_CROSSING:
        return None
    at = frame.distance(adjuster.tip) - frame.height(adjuster.tip) * along / out
    bolt = bolt_diameter(adjuster.thread)
    spare = template_size(build.scenario, "bolt_clearance")
    hole = None if bolt is None else bolt + spare.value
    text = f"clearance hole for bolt {adjuster.thread.name}"
    notes = bolt_words(build, along / out, board)
    if hole is not None:
        text += f", {bench_length(hole, build.display)} across"
        wider = bench_length(spare.value, build.display)
        notes = (*notes, f"The bolt's hole is {wider} wider than the bolt ({spare.sure}).")
    return Meeting("hole", at, at, at, hole, text, notes)


def _off_face(build: Build, height: float, name: str) -> tuple[str, ...]:
    """How a point stands to the face that the motor stands on."""
    if abs(height) < _FLAT:
        return ()
    text = bench_length(abs(height), build.display)
    if height > 0:
        return (f"{name} stands {text} off the face that the motor stands on: a block carries it.",)
    return (
        f"{name} is {text} behind the face that the motor stands on; from the plate's back "
        "take off its thickness.",
    )
