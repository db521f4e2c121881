"""The template of the other half of the hinged pair: the base, seen from the plate."""

from __future__ import annotations

from dataclasses import dataclass

from mountcalc.drawing.base_adjuster import adjuster_line, meeting_on_base, meeting_place
from mountcalc.drawing.base_block import Block, block_beside, block_items, block_words
from mountcalc.drawing.base_section import base_section
from mountcalc.drawing.base_words import base_board_words, base_cautions, base_stands
from mountcalc.drawing.bench_lengths import bench_length, bench_size
from mountcalc.drawing.board_cautions import screw_cautions
from mountcalc.drawing.board_sheet import Board, board_items, meeting_items, pointed_at
from mountcalc.drawing.bolt_across import place_across
from mountcalc.drawing.hinge_leaves import hinge_leaves
from mountcalc.drawing.model import Drawing, Item, Point
from mountcalc.drawing.plate_adjuster import Meeting
from mountcalc.drawing.plate_sizes import plate_width
from mountcalc.drawing.plate_words import datum_note, hinge_notes, notes_of_other_hand
from mountcalc.drawing.swing import swing_of
from mountcalc.drawing.template_sizes import TemplateSizes
from mountcalc.scenario.model import AdjusterKind, Display, Scenario

__all__ = ["base_template"]

_APART = (
    "A base in one board with what the adjuster meets would stand where plate or motor swing, or "
    "runs another way: it is drawn as a strip for the hinges and a block for the adjuster."
)


def base_template(scenario: Scenario) -> Drawing:
    """The board that carries the hinges' other leaves, and the adjuster's fixed end.

    Parameters
    ----------
    scenario : Scenario
        The mount with its parts.

    Returns
    -------
    Drawing
        Hinge at the bottom, the origin where the two datum edges meet: one board as the base's
        section has it, or a strip for the hinges and a block for the adjuster.

    Raises
    ------
    MountError
        Where the belt never becomes snug.
    """
    swing, section, line = swing_of(scenario), base_section(scenario), adjuster_line(scenario)
    met = "base" if section.with_adjuster else "block"
    meeting = meeting_on_base(scenario, line, swing, board=met)
    sizes = TemplateSizes(scenario)
    hinges = sizes.hinges()
    width = plate_width(scenario, hinges, sizes)
    sizes.length(None, "length_beyond", "board beyond the last hole")
    board = Board(width, section.length - hinges.edge, hinges, hinge_leaves(hinges, width))
    block: Block | None = None
    block_notes: tuple[str, ...] = ()
    cautions = _cautions(scenario, meeting, hinges.edge)
    if meeting is not None and not section.with_adjuster:
        place = meeting_place(scenario, line, meeting, swing)
        block = block_beside(scenario, board, meeting, place)
        block_notes, cautions = block_words(scenario, block, line), (_APART,)
        meeting = block.meeting
    is_pad = meeting is not None and meeting.kind == "pad"
    pad = sizes.length(None, "pad", "metal around the bolt's tip") if is_pad else 0.0
    at = None if meeting is None else _place(scenario, board, meeting, block)
    sheet = _Sheet(board, meeting, at, pad, block)
    view, other = (_view(section.frame.pulley_side * turn) for turn in (1, -1))
    return Drawing(
        display=scenario.display,
        name="base",
        title=f"Base: {scenario.title}",
        view=view,
        other_hand={view: other} | notes_of_other_hand(scenario, board),
        items=_items(scenario.display, sheet),
        notes=(
            *_adjuster_notes(scenario, meeting),
            base_stands(scenario),
            *block_notes,
            datum_note("left"),
            *hinge_notes(scenario, board),
            *base_board_words(scenario, meets=meeting is not None),
            *swing.notes,
            *sizes.notes,
        ),
        cautions=(
            *base_cautions(scenario),
            *cautions,
            *screw_cautions(scenario, scenario.parts.base.thickness, "base"),
        ),
        true_scale=True,
        facts=_facts(sheet),
    )


@dataclass(frozen=True, slots=True)
class _Sheet:
    """What is on it; ``at`` [m] is where the adjuster meets board or block."""

    board: Board
    meeting: Meeting | None
    at: Point | None
    pad: float
    block: Block | None


def _view(pulley_side: float) -> str:
    side = "right" if pulley_side > 0 else "left"
    return f"Seen from the plate, hinge at the bottom, the motor's pulley on the {side}"


def _items(display: Display, sheet: _Sheet) -> tuple[Item, ...]:
    board, meeting, block, at = sheet.board, sheet.meeting, sheet.block, sheet.at
    if meeting is None or at is None:
        return board_items(board, (), (), (), display)
    parts = tuple(meeting_items(meeting, at[0], board.hinges.edge, sheet.pad))
    named_at = pointed_at(meeting, at)
    if block is None:
        return board_items(board, parts, [at], [(named_at, meeting.text)], display)
    size = bench_size(board.width, board.length, display)
    edge = tuple((share * board.width, board.length) for share in (0.2, 0.3, 0.4, 0.6, 0.7, 0.8))
    named = (edge, f"strip for the hinges, {size}")
    measured = [at] if block.in_place else []
    return (
        *board_items(board, parts, measured, [named], display),
        *block_items(block, parts, (named_at, meeting.text), board.width, display),
    )


def _adjuster_notes(scenario: Scenario, meeting: Meeting | None) -> tuple[str, ...]:
    if scenario.adjuster.kind is AdjusterKind.NONE:
        return ("Without an adjuster the base carries the hinges only.",)
    return () if meeting is None else meeting.notes


def _cautions(scenario: Scenario, meeting: Meeting | None, edge: float) -> tuple[str, ...]:
    if meeting is None or meeting.low > edge:
        return ()
    place = bench_length(meeting.low - edge, scenario.display)
    return (f"The adjuster meets the base {place} from the hinged edge: off this board.",)


def _place(scenario: Scenario, board: Board, meeting: Meeting, block: Block | None) -> Point:
    """Where the adjuster meets it on the sheet."""
    if block is not None:
        return block.meets
    frame = base_section(scenario).frame
    return place_across(scenario, frame, board.width), meeting.at - board.hinges.edge


def _facts(sheet: _Sheet) -> dict[str, float]:
    board, meeting, block = sheet.board, sheet.meeting, sheet.block
    facts = {"width": board.width, "length": board.length, "axis_below_edge": board.hinges.edge}
    if sheet.at is not None:
        facts |= dict(zip(("bolt_x", "bolt_y"), sheet.at, strict=True))
    if meeting is not None and meeting.diameter is not None:
        facts["bolt_hole"] = meeting.diameter
    if block is not None:
        facts |= {"block_across": block.from_axis[0], "block_up": block.from_axis[1]}
    return facts
