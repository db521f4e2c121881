"""The template of the other half of the hinged pair: the base, seen from the plate."""

from __future__ import annotations

import math
from dataclasses import replace

from mountcalc.drafting.dimensions import SAME, Baseline, Run, baselines
from mountcalc.drafting.drawing import Drawing
from mountcalc.drafting.items import Item
from mountcalc.drafting.names.callouts import callouts
from mountcalc.draw.boards.section import (
    adjuster_line,
    base_section,
    base_stands,
    is_one_face,
    meeting_on_base,
    meeting_place,
    say_base_caution,
    say_base_places,
    side_of,
    way_of,
)
from mountcalc.draw.boards.side import Meeting, across_remark, board_sizes, template_size
from mountcalc.draw.boards.template import (
    FIRST,
    Block,
    Board,
    adjuster_across,
    board_drawn,
    board_wishes,
    meeting_items,
    meeting_wish,
    say_board,
    with_names,
)
from mountcalc.draw.build import Build
from mountcalc.draw.keep_outs import keep_out_cautions
from mountcalc.draw.remarks import LEFT, RIGHT, Remarks
from mountcalc.draw.views import Wish, drawing_of, with_glance
from mountcalc.pages.amounts import bench_size
from mountcalc.scenario.model import AdjusterKind, Display

_METAL = 2.0  # half a block over the metal around a bolt's tip (estimate)
_SAW = 0.004  # between strip and block where they come near [m]
_APART = 0.045  # between them where the block is not at its distance: room for dimensions [m]
_MET = {
    "hole": "A point of the bolt's axis",
    "pad": "The point under the bolt's tip at snug",
    "pin": "The link's pin",
}


def base_template(build: Build) -> Drawing:
    """The board that carries the hinges' other leaves, and the adjuster's fixed end."""
    display, board, remarks = build.display, _board(build, 1.0), Remarks(build.display)
    _say(remarks, build, board)
    remarks.facts |= board.facts
    if board.block is not None:
        across, up = board.block.from_axis
        remarks.facts |= {"block_across": across, "block_up": up}

    def drawn(scale: float) -> list[Item]:
        one = _board(build, scale)
        return [*board_drawn(one, display, scale), *_block_items(one, display, scale)]

    def wishes(scale: float) -> list[Wish]:
        one = _board(build, scale)
        return [*_of_block(build, one), *_of_strip(display, one)]

    # At true scale names stay on their piece, so that they cost no sheet.
    on_board = board_drawn(board, display, 1.0)
    items = with_names(board, wishes(1.0), on_board)
    if board.block is not None:
        beside = _block_items(board, display, 1.0)
        around = (0.0, board.block.bottom - FIRST, board.sizes.width, board.block.top + FIRST)
        names = callouts(_of_block(build, board), [*meeting_items(board), *beside], 1.0, around)
        items = (*with_names(board, _of_strip(display, board), on_board), *beside, *names)
    side = RIGHT if base_section(build).frame.pulley_side > 0 else LEFT
    return with_glance(drawing_of(build, remarks, "base", items, side), drawn, wishes)


def _board(build: Build, scale: float) -> Board:
    """What is drawn, laid out for a scale [-]."""
    section, sizes = base_section(build), board_sizes(build)
    edge = sizes.hinges.edge
    board = Board(sizes, section.length - edge)
    meeting = meeting_on_base(build, board="base" if section.with_adjuster else "block")
    if meeting is None:
        return board
    across = adjuster_across(build, section.frame.pulley_side)
    if section.with_adjuster:
        return replace(board, meeting=meeting, across=across)
    from_axis, half = meeting_place(build, meeting), _METAL * sizes.pad
    in_place = is_one_face(section.frame, adjuster_line(build))
    if not in_place:  # it stands at the datum edge, where it costs no further sheet
        across = half
        away = board.length + _APART * scale + half + edge - meeting.low
        low, at, high = (place + away for place in (meeting.low, meeting.at, meeting.high))
        meeting = replace(meeting, low=low, at=at, high=high)
    bottom, top = max(meeting.low - edge - half, board.length + _SAW), meeting.high - edge + half
    block = Block(across - half, bottom, across + half, top, from_axis, in_place)
    return replace(board, meeting=meeting, across=across, block=block)


def _block_items(board: Board, display: Display, scale: float) -> list[Item]:
    """The block with its own dimensions."""
    block, first = board.block, FIRST * scale
    if block is None or board.at is None:
        return []
    across = Baseline(Run.ACROSS, (block.left, block.top), block.top + first, 1, scale, display)
    up = Baseline(Run.UP, (block.right, block.bottom), block.right + first, 1, scale, display)
    measured = [board.at, (block.right, block.top)]
    return [block.outline, *baselines(across, measured), *baselines(up, measured)]


def _of_strip(display: Display, board: Board) -> list[Wish]:
    if board.block is None:
        return board_wishes(board, display)
    width, length = board.sizes.width, board.length
    edge = tuple((share * width, length) for share in (0.2, 0.3, 0.4, 0.6, 0.7, 0.8))
    size = bench_size(width, length, display)
    return [(edge, f"strip for the hinges, {size}"), *board_wishes(board, display)]


def _of_block(build: Build, board: Board) -> list[Wish]:
    """The block that the adjuster meets, and where it meets it."""
    block = board.block
    if block is None:
        return meeting_wish(board)
    where = "" if block.in_place else "; its place is in the notes"
    own = (block.outline.points, f"block, {block.size(build)}{where}")
    return [own, *meeting_wish(board)]


def _say(remarks: Remarks, build: Build, board: Board) -> None:
    meeting, block, base = board.meeting, board.block, build.scenario.parts.base
    if build.scenario.adjuster.kind is AdjusterKind.NONE:
        remarks.say("base.no_adjuster")
    elif meeting is not None:
        remarks.add(meeting.remarks)
    remarks.notes_of([base_stands(build)])
    met = (_MET[meeting.kind], block.from_axis) if meeting and block else None
    say_base_places(remarks, build, met)
    say_base_caution(remarks, build)
    remarks.cautions_of(keep_out_cautions(build, "the base"))
    edge = board.sizes.hinges.edge
    if meeting is not None and block is not None and board.at is not None:
        remarks.say("base.two_pieces")
        if block.in_place:
            remarks.say("base.block_in_place", across=board.at[0], up=board.at[1])
        else:
            runs, place = _runs(build, meeting), _level_and_plumb(build, block)
            met_at = _MET[meeting.kind]
            remarks.say("base.block_elsewhere", met=met_at, place=place, runs=runs)
        remarks.say("base.block", size=block.size(build))
    elif meeting is not None and meeting.low <= edge:
        remarks.say("base.adjuster_off_the_base", place=meeting.low - edge)
    say_board(remarks, build, board, base.thickness, "base")
    thick, taken = base.thickness, template_size(build, "thickness")
    remarks.say(
        "base.board",
        thick=taken.value if thick is None else thick,
        taken="taken " if thick is None else "",
        sure=f" ({taken.sure})" if thick is None else "",
    )
    if meeting is not None:
        remarks.add([across_remark(build)])
    remarks.notes_of(build.swing.notes)
    is_pad = meeting is not None and meeting.kind == "pad"
    remarks.notes_of(board.sizes.notes({"alignment", *([] if is_pad else ["pad"])}))


def _level_and_plumb(build: Build, block: Block) -> str:
    """Where the adjuster meets a block from the hinge's axis, level and plumb in words."""
    across, up = block.from_axis
    words = []
    if abs(up) > SAME:
        words.append(f"{build.bench(abs(up))} {'up' if up > 0 else 'down'}")
    if abs(across) > SAME:
        words.append(f"{build.bench(abs(across))} {side_of(build, across)},")
    return " and ".join(words)


def _runs(build: Build, meeting: Meeting) -> str:
    """The way of the bolt, or of the face under its tip."""
    adjuster, face = build.scenario.adjuster, way_of(build, adjuster_line(build).along)
    if meeting.kind == "hole" and adjuster.axis is not None:
        tip = math.cos(adjuster.axis), math.sin(adjuster.axis)
        return (
            f", and the bolt's tip comes out {way_of(build, tip)}: the block stands anywhere "
            f"along the bolt where it is clear of the swing, the face with its hole running {face}"
        )
    return f"; the face there runs {face}" if meeting.kind == "pad" else ""
