"""Where the adjuster meets the plate: a pad under a bolt's tip, a bolt's hole, a link's pin."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from mountcalc.draw.boards.bolt_hole import bolt_diameter
from mountcalc.draw.boards.bolt_words import bolt_words
from mountcalc.draw.boards.sizes import template_size
from mountcalc.draw.swing import Swing, turned
from mountcalc.equilibrium.mount import Mount
from mountcalc.pages.bench_lengths import bench_length
from mountcalc.scenario.drawn_plate import BoardFrame
from mountcalc.scenario.model import AdjusterKind, Display, Scenario, Vector
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


def meeting_on_plate(scenario: Scenario, frame: BoardFrame, swing: Swing) -> Meeting | None:
    """Where the adjuster meets the plate."""
    adjuster = scenario.adjuster
    if adjuster.kind is AdjusterKind.JACK_IN_BASE:
        return _pad(scenario, frame, swing)
    if adjuster.kind is AdjusterKind.JACK_IN_PLATE:
        return bolt_hole(scenario, frame)
    if adjuster.kind is AdjusterKind.LINK:
        assert adjuster.plate_pin is not None
        at = frame.distance(adjuster.plate_pin)
        notes = _off_face(scenario, frame.height(adjuster.plate_pin), "The link's pin on the plate")
        return Meeting("pin", at, at, at, None, "link's pin", notes)
    return None


def contact_points(scenario: Scenario, angles: np.ndarray, *, on_plate: bool) -> tuple[Vector, ...]:
    """Where a bolt's tip bears at plate angles, on the plate as drawn or in the plane."""
    state = Mount.of(scenario).adjuster(angles)
    x, y = np.broadcast_to(state.at_x, angles.shape), np.broadcast_to(state.at_y, angles.shape)
    points = [(float(across), float(up)) for across, up in zip(x, y, strict=True)]
    if not on_plate:
        return tuple(points)
    hinge = scenario.plate.hinge
    return tuple(
        turned(point, hinge, -float(angle)) for point, angle in zip(points, angles, strict=True)
    )


def _pad(scenario: Scenario, frame: BoardFrame, swing: Swing) -> Meeting:
    angles = np.append(np.linspace(swing.low, swing.high, _STEPS), swing.snug)
    points = contact_points(scenario, angles, on_plate=True)
    places = [frame.distance(point) for point in points]
    heights = frame.height(points[-1])
    wanders = bench_length(max(places) - min(places), scenario.display)
    assert scenario.adjuster.face is not None
    _, leans = frame.slope(scenario.adjuster.face)
    notes = [
        f"The bolt's tip moves {wanders} along the plate from install to take-up: hard metal "
        "under all of it.",
        *_off_face(scenario, heights, "The bolt's tip"),
    ]
    if abs(leans) > _SQUARE:
        over = _OVER[scenario.display]
        lean = abs(leans) / math.sqrt(max(1.0 - leans**2, _STEEPEST))
        off, run = (bench_length(one, scenario.display) for one in (lean * over, over))
        notes.append(
            f"The face that the tip bears on is out of parallel with the plate: {off} in every "
            f"{run}."
        )
    text = "bolt's tip bears here"
    return Meeting("pad", places[-1], min(places), max(places), None, text, tuple(notes))


def bolt_hole(scenario: Scenario, frame: BoardFrame, *, board: str = "plate") -> Meeting | None:
    """Where a bolt passes through a board."""
    adjuster = scenario.adjuster
    assert adjuster.tip is not None
    assert adjuster.axis is not None
    assert adjuster.thread is not None
    along, out = frame.slope(adjuster.axis)
    if abs(out) < _LEAST_CROSSING:
        return None
    at = frame.distance(adjuster.tip) - frame.height(adjuster.tip) * along / out
    bolt = bolt_diameter(adjuster.thread)
    spare = template_size(scenario, "bolt_clearance")
    hole = None if bolt is None else bolt + spare.value
    text = f"clearance hole for bolt {adjuster.thread.name}"
    notes = bolt_words(scenario, along / out, board)
    if hole is not None:
        text += f", {bench_length(hole, scenario.display)} across"
        wider = bench_length(spare.value, scenario.display)
        notes = (*notes, f"The bolt's hole is {wider} wider than the bolt ({spare.sure}).")
    return Meeting("hole", at, at, at, hole, text, notes)


def _off_face(scenario: Scenario, height: float, name: str) -> tuple[str, ...]:
    """How a point stands to the face that the motor stands on."""
    if abs(height) < _FLAT:
        return ()
    text = bench_length(abs(height), scenario.display)
    if height > 0:
        return (f"{name} stands {text} off the face that the motor stands on: a block carries it.",)
    return (
        f"{name} is {text} behind the face that the motor stands on; from the plate's back "
        "take off its thickness.",
    )
