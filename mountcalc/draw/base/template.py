"""The template of the other half of the hinged pair: the base, seen from the plate."""

from __future__ import annotations

from dataclasses import dataclass
from functools import partial

from mountcalc.drafting.drawing import Drawing
from mountcalc.drafting.items import Item, Point
from mountcalc.drafting.names.callouts import callouts
from mountcalc.draw.at_a_glance import Wish, with_glance
from mountcalc.draw.base.adjuster import adjuster_line, meeting_on_base, meeting_place
from mountcalc.draw.base.block import (
    Block,
    block_beside,
    block_drawn,
    block_place,
    block_wish,
    block_words,
)
from mountcalc.draw.base.section import base_section
from mountcalc.draw.base.words import base_board_words, base_cautions, base_places, base_stands
from mountcalc.draw.boards.bolt_across import place_across
from mountcalc.draw.boards.cautions import screw_cautions
from mountcalc.draw.boards.hinge_leaves import hinge_leaves
from mountcalc.draw.boards.plate_adjuster import Meeting
from mountcalc.draw.boards.plate_sizes import plate_width
from mountcalc.draw.boards.plate_words import datum_note, hinge_notes, notes_of_other_hand
from mountcalc.draw.boards.sheet import (
    FIRST,
    Board,
    board_drawn,
    board_wishes,
    meeting_items,
    on_board,
    pointed_at,
)
from mountcalc.draw.boards.sizes import TemplateSizes, template_size
from mountcalc.draw.build import Build
from mountcalc.draw.keep_outs import keep_out_cautions
from mountcalc.pages.bench_lengths import bench_length, bench_size
from mountcalc.scenario.model import AdjusterKind, Display

__all__ = ["base_template"]

_APART = (
    "A base in one board with what the adjuster meets would stand where plate or motor swing, or "
    "runs another way: it is drawn as a strip for the hinges and a block for the adjuster."
)


def base_template(build: Build) -> Drawing:
    """The board that carries the hinges' other leaves, and the adjuster's fixed end."""
    section, display = base_section(build), build.display
    sizes = TemplateSizes(build.scenario)
    hinges = sizes.hinges()
    width = plate_width(build, hinges, sizes)
    sizes.length(None, "length_beyond", "board beyond the last hole")
    board = Board(width, section.length - hinges.edge, hinges, hinge_leaves(hinges, width))
    laid_out = partial(_sheet, build, board)
    sheet = laid_out(1.0)
    meeting, block = sheet.meeting, sheet.block
    if sheet.pad:
        sizes.length(None, "pad", "metal around the bolt's tip")
    cautions = _cautions(build, meeting, hinges.edge) if block is None else (_APART,)
    view, other = (_view(section.frame.pulley_side * turn) for turn in (1, -1))
    template = Drawing(
        display=display,
        name="base",
        title=f"Base: {build.scenario.title}",
        view=view,
        other_hand={view: other} | notes_of_other_hand(build, board),
        items=_items(display, sheet),
        notes=(
            *_adjuster_notes(build, meeting),
            base_stands(build),
            *base_places(build, None if block is None else block_place(block)),
            *([] if block is None else block_words(build, block, adjuster_line(build))),
            datum_note("left"),
            *hinge_notes(build, board),
            *base_board_words(build, meets=meeting is not None),
            *build.swing.notes,
            *sizes.notes,
        ),
        cautions=(
            *base_cautions(build),
            *keep_out_cautions(build, "the base"),
            *cautions,
            *screw_cautions(build, build.scenario.parts.base.thickness, "base"),
        ),
        true_scale=True,
        facts=_facts(sheet),
    )
    return with_glance(
        template,
        lambda scale: _drawn(display, laid_out(scale), scale),
        lambda scale: _wishes(display, laid_out(scale)),
    )


@dataclass(frozen=True, slots=True)
class _Sheet:
    """What is on it; ``at`` [m] is where the adjuster meets board or block."""

    board: Board
    meeting: Meeting | None = None
    at: Point | None = None
    pad: float = 0.0
    block: Block | None = None

    @property
    def parts(self) -> tuple[Item, ...]:
        """Where the adjuster meets it, as it is made."""
        if self.meeting is None or self.at is None:
            return ()
        return tuple(meeting_items(self.meeting, self.at[0], self.board.hinges.edge, self.pad))


def _sheet(build: Build, board: Board, scale: float) -> _Sheet:
    """What is drawn, laid out for 1:scale."""
    swing, section, line = build.swing, base_section(build), adjuster_line(build)
    met = "base" if section.with_adjuster else "block"
    meeting = meeting_on_base(build, line, swing, board=met)
    if meeting is None:
        return _Sheet(board)
    pad = template_size(build.scenario, "pad").value if meeting.kind == "pad" else 0.0
    if section.with_adjuster:
        x = place_across(build, section.frame, board.width)
        return _Sheet(board, meeting, (x, meeting.at - board.hinges.edge), pad)
    place = meeting_place(build, line, meeting, swing)
    block = block_beside(build, board, meeting, place, scale)
    return _Sheet(board, block.meeting, block.meets, pad, block)


def _view(pulley_side: float) -> str:
    side = "right" if pulley_side > 0 else "left"
    return f"Seen from the plate, hinge at the bottom, the motor's pulley on the {side}"


def _items(display: Display, sheet: _Sheet) -> tuple[Item, ...]:
    """At true scale: names stay on their piece, so that they cost no sheet."""
    board, block = sheet.board, sheet.block
    drawn = _on_strip(display, sheet, 1.0)
    if block is None:
        return on_board(board, _wishes(display, sheet), drawn)
    own, of_strip = _of_block(display, sheet, block), _of_strip(display, sheet)
    beside = block_drawn(block, display)
    around = (0.0, block.bottom - FIRST, board.width, block.top + FIRST)
    names = callouts(own, [*sheet.parts, *beside], 1.0, around)
    return (*on_board(board, of_strip, drawn), *beside, *names)


def _drawn(display: Display, sheet: _Sheet, scale: float) -> list[Item]:
    """All but names, placed for 1:scale."""
    beside = [] if sheet.block is None else block_drawn(sheet.block, display, scale)
    return [*_on_strip(display, sheet, scale), *beside]


def _on_strip(display: Display, sheet: _Sheet, scale: float) -> list[Item]:
    is_measured = sheet.block is None or sheet.block.in_place
    measured = [sheet.at] if is_measured and sheet.at is not None else []
    return board_drawn(sheet.board, sheet.parts, measured, display, scale)


def _wishes(display: Display, sheet: _Sheet) -> list[Wish]:
    own = _of_block(display, sheet, sheet.block)
    return [*own, *_of_strip(display, sheet)]


def _of_strip(display: Display, sheet: _Sheet) -> list[Wish]:
    board = sheet.board
    if sheet.block is None:
        return board_wishes(board, display)
    edge = tuple((share * board.width, board.length) for share in (0.2, 0.3, 0.4, 0.6, 0.7, 0.8))
    size = bench_size(board.width, board.length, display)
    return [(edge, f"strip for the hinges, {size}"), *board_wishes(board, display)]


def _of_block(display: Display, sheet: _Sheet, block: Block | None) -> list[Wish]:
    """Where the adjuster meets it, and the block that it meets."""
    own = [] if block is None else [block_wish(block, display)]
    if sheet.meeting is not None and sheet.at is not None:
        own.append((pointed_at(sheet.meeting, sheet.at), sheet.meeting.text))
    return own


def _adjuster_notes(build: Build, meeting: Meeting | None) -> tuple[str, ...]:
    if build.scenario.adjuster.kind is AdjusterKind.NONE:
        return ("Without an adjuster the base carries the hinges only.",)
    return () if meeting is None else meeting.notes


def _cautions(build: Build, meeting: Meeting | None, edge: float) -> tuple[str, ...]:
    if meeting is None or meeting.low > edge:
        return ()
    place = bench_length(meeting.low - edge, build.display)
    return (f"The adjuster meets the base {place} from the hinged edge: off this board.",)


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
