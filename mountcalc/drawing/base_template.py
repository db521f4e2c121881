"""The template of the other half of the hinged pair: the base, seen from the plate."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from mountcalc.drawing.base_block import Block, block_items, block_note, block_of
from mountcalc.drawing.base_room import meets_motor
from mountcalc.drawing.bench_lengths import bench_length
from mountcalc.drawing.board_cautions import screw_cautions
from mountcalc.drawing.board_sheet import Board, board_items, meeting_items, pointed_at
from mountcalc.drawing.hinge_leaves import hinge_leaves
from mountcalc.drawing.model import Drawing, Item, Point
from mountcalc.drawing.plate_adjuster import Meeting, bolt_hole, contact_points
from mountcalc.drawing.plate_frame import BoardFrame, plate_frame
from mountcalc.drawing.plate_sizes import plate_width
from mountcalc.drawing.plate_words import (
    base_board_notes,
    datum_note,
    hinge_notes,
    notes_of_other_hand,
)
from mountcalc.drawing.swing import Swing, swing_of
from mountcalc.drawing.template_sizes import TemplateSizes, template_size
from mountcalc.scenario.model import AdjusterKind, Scenario, Vector

__all__ = ["base_template"]

_STEPS = 65
_FLAT = 1e-3  # [m]


def base_template(scenario: Scenario) -> Drawing:
    """The board that carries the hinges' other leaves, and the adjuster's fixed end.

    Parameters
    ----------
    scenario : Scenario
        The mount with its parts.

    Returns
    -------
    Drawing
        Hinge at the bottom, the origin where the two datum edges meet. As nothing tells how the
        base runs, it is taken along the face that a bolt bears on, or to the base's pin.

    Raises
    ------
    MountError
        Where the belt never becomes snug.
    """
    frame, swing = _frame(scenario), swing_of(scenario)
    meeting, notes = _meeting(scenario, frame, swing)
    sizes = TemplateSizes(scenario)
    hinges = sizes.hinges()
    width = plate_width(scenario, hinges, sizes)
    beyond = sizes.length(None, "length_beyond", "board beyond the last hole")
    high = 0.0 if meeting is None else meeting.high - hinges.edge
    board = Board(width, max(high, hinges.leaf_width) + beyond, hinges, hinge_leaves(hinges, width))
    thickness = template_size(scenario, "thickness").value
    met = meets_motor(scenario, frame, (board.length + hinges.edge, thickness), swing)
    cautions = (
        *_cautions(scenario, meeting, hinges.edge),
        *screw_cautions(scenario, None, "base"),
    )
    at = None if meeting is None else (0.5 * width, meeting.at - hinges.edge)
    block = None
    if met and meeting is not None and at is not None:
        board = replace(board, length=hinges.leaf_width + beyond)
        strip = (board.length + hinges.edge, thickness)
        cautions = (*_apart_cautions(met=meets_motor(scenario, frame, strip, swing)), *cautions)
        reach = (meeting.low - hinges.edge, meeting.high - hinges.edge)
        block = block_of(scenario, at, reach, board.length)
        notes = (*notes, block_note(block, scenario.display))
    is_pad = meeting is not None and meeting.kind == "pad"
    pad = sizes.length(None, "pad", "metal around the bolt's tip") if is_pad else 0.0
    view, other = (_view(frame.pulley_side * turn) for turn in (1, -1))
    return Drawing(
        name="base",
        title=f"Base: {scenario.title}",
        view=view,
        other_hand={view: other} | notes_of_other_hand(scenario, board),
        items=_items(scenario, board, meeting, pad, block),
        notes=(
            *notes,
            datum_note("left"),
            *hinge_notes(scenario, board),
            *base_board_notes(scenario, meets=meeting is not None),
            *swing.notes,
            *sizes.notes,
        ),
        cautions=cautions,
        true_scale=True,
        facts=_facts(board, meeting),
    )


def _view(pulley_side: float) -> str:
    side = "right" if pulley_side > 0 else "left"
    return f"Seen from the plate, hinge at the bottom, the motor's pulley on the {side}"


def _items(
    scenario: Scenario, board: Board, meeting: Meeting | None, pad: float, block: Block | None
) -> tuple[Item, ...]:
    display = scenario.display
    if meeting is None:
        return board_items(board, (), (), (), display)
    at: Point = (0.5 * board.width, meeting.at - board.hinges.edge)
    parts = tuple(meeting_items(meeting, at[0], board.hinges.edge, pad))
    named_at = pointed_at(meeting, at)
    if block is None:
        return board_items(board, parts, [at], [(named_at, meeting.text)], display)
    size = f"{bench_length(board.width, display)} x {bench_length(board.length, display)}"
    edge = tuple((share * board.width, board.length) for share in (0.2, 0.3, 0.4, 0.6, 0.7, 0.8))
    named = (edge, f"strip for the hinges, {size}")
    return (
        *board_items(board, parts, [at], [named], display),
        *block_items(block, parts, (named_at, meeting.text), board.width, display),
    )


def _apart_cautions(*, met: bool) -> Iterator[str]:
    yield (
        "A base in one board would stand where the motor's feet or body are: it is drawn as a "
        "strip for the hinges and a block of its own for the adjuster."
    )
    if met:
        yield "Even the strip for the hinges meets the motor: move the motor away from the hinge."


def _frame(scenario: Scenario) -> BoardFrame:
    """The base's face, seen from the plate."""
    adjuster, hinge = scenario.adjuster, scenario.plate.hinge
    plate = plate_frame(scenario)
    if adjuster.kind is AdjusterKind.LINK and adjuster.base_pin is not None:
        way = _minus(adjuster.base_pin, hinge)
        assert adjuster.plate_pin is not None
        return _facing(hinge, way, _minus(adjuster.plate_pin, hinge), plate)
    if adjuster.face is None or adjuster.axis is None or adjuster.tip is None:
        return replace(plate, normal=(-plate.normal[0], -plate.normal[1]))
    way = (math.cos(adjuster.face), math.sin(adjuster.face))
    to_tip = _minus(adjuster.tip, hinge)
    if way[0] * to_tip[0] + way[1] * to_tip[1] < 0:
        way = (-way[0], -way[1])
    # A screw in the base pushes away from it; one in the plate pushes onto it.
    sign = 1.0 if adjuster.kind is AdjusterKind.JACK_IN_BASE else -1.0
    towards = (sign * math.cos(adjuster.axis), sign * math.sin(adjuster.axis))
    return _facing(hinge, way, towards, plate)


def _facing(hinge: Vector, way: Vector, towards: Vector, plate: BoardFrame) -> BoardFrame:
    """A board along a way whose face looks towards a direction."""
    length = math.hypot(*way)
    if length == 0.0:
        return replace(plate, normal=(-plate.normal[0], -plate.normal[1]))
    along = (way[0] / length, way[1] / length)
    left = (-along[1], along[0])
    looks_left = left[0] * towards[0] + left[1] * towards[1] >= 0
    return BoardFrame(hinge, along, left if looks_left else (-left[0], -left[1]))


def _meeting(
    scenario: Scenario, frame: BoardFrame, swing: Swing
) -> tuple[Meeting | None, tuple[str, ...]]:
    """Where the adjuster meets the base, and what was taken for the base."""
    adjuster, display = scenario.adjuster, scenario.display
    if adjuster.kind is AdjusterKind.NONE:
        return None, ("Without an adjuster the base carries the hinges only.",)
    if adjuster.kind is AdjusterKind.LINK:
        assert adjuster.base_pin is not None
        at = frame.distance(adjuster.base_pin)
        taken = "The base is taken to run from the hinge to the link's pin on it (estimate)."
        return Meeting("pin", at, at, at, None, "link's pin", ()), (taken,)
    taken = (
        "The base is taken to run through the hinge's axis, parallel to the face that the bolt "
        "bears on as drawn (estimate); build another one by the same distances."
    )
    if adjuster.kind is AdjusterKind.JACK_IN_BASE:
        hole = bolt_hole(scenario, frame, board="base")
        return hole, (taken, *(() if hole is None else hole.notes))
    points = contact_points(scenario, np.linspace(swing.low, swing.high, _STEPS), on_plate=False)
    snug = contact_points(scenario, np.array([swing.snug]), on_plate=False)[0]
    places = [frame.distance(point) for point in (*points, snug)]
    height = frame.height(snug)
    wanders = bench_length(max(places) - min(places), display)
    notes = [taken, f"The bolt's tip moves {wanders} along the base: hard metal under all of it."]
    if abs(height) > _FLAT:
        way = "off" if height > 0 else "behind"
        notes.append(
            f"The face that the tip bears on is {bench_length(abs(height), display)} {way} that "
            "line."
        )
    meeting = Meeting(
        "pad", places[-1], min(places), max(places), None, "bolt's tip bears here", ()
    )
    return meeting, tuple(notes)


def _cautions(scenario: Scenario, meeting: Meeting | None, edge: float) -> tuple[str, ...]:
    if meeting is None or meeting.low > edge:
        return ()
    place = bench_length(meeting.low - edge, scenario.display)
    return (f"The adjuster meets the base {place} from the hinged edge: off this board.",)


def _facts(board: Board, meeting: Meeting | None) -> dict[str, float]:
    facts = {"width": board.width, "length": board.length, "axis_below_edge": board.hinges.edge}
    if meeting is not None:
        facts |= {"bolt_x": 0.5 * board.width, "bolt_y": meeting.at - board.hinges.edge}
        if meeting.diameter is not None:
            facts["bolt_hole"] = meeting.diameter
    return facts


def _minus(one: Vector, other: Vector) -> Vector:
    return one[0] - other[0], one[1] - other[1]
