"""The template of the other half of the hinged pair: the base, seen from the plate."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from mountcalc.drafting.dimensions import SAME, Baseline, Run, baselines
from mountcalc.drafting.drawing import Drawing
from mountcalc.drafting.items import Item, Layer, Path, Point
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
from mountcalc.draw.boards.sheet import (
    FIRST,
    Board,
    board_drawn,
    board_facts,
    board_wishes,
    meeting_items,
    on_board,
    pointed_at,
    say_board,
    say_screws,
)
from mountcalc.draw.boards.side import (
    Meeting,
    across_remark,
    board_sizes,
    place_across,
    template_size,
)
from mountcalc.draw.build import Build
from mountcalc.draw.keep_outs import keep_out_cautions
from mountcalc.draw.remarks import LEFT, RIGHT, Remarks
from mountcalc.draw.views import Wish, drawing_of, with_glance
from mountcalc.pages.amounts import bench_size
from mountcalc.scenario.model import AdjusterKind, Display, Vector

_METAL = 2.0  # half a block over the metal around a bolt's tip (estimate)
_SAW = 0.004  # between strip and block where they come near [m]
_APART = 0.045  # between them where the block is not at its distance: room for dimensions [m]
_MET = {
    "hole": "A point of the bolt's axis",
    "pad": "The point under the bolt's tip at snug",
    "pin": "The link's pin",
}


@dataclass(frozen=True, slots=True)
class _Block:
    """The block that an adjuster meets where it is not one board with the base [m]."""

    left: float
    bottom: float
    right: float
    top: float
    from_axis: Vector
    in_place: bool

    @property
    def corners(self) -> tuple[Point, ...]:
        """Its outline, counter-clockwise from the lower left."""
        left, bottom, right, top = self.left, self.bottom, self.right, self.top
        return (left, bottom), (right, bottom), (right, top), (left, top)

    def size(self, build: Build) -> str:
        """Width and height in words."""
        return f"{build.bench(self.right - self.left)} x {build.bench(self.top - self.bottom)}"


@dataclass(frozen=True, slots=True)
class _Sheet:
    """What is on it; ``at`` [m] is where the adjuster meets board or block."""

    board: Board
    meeting: Meeting | None = None
    at: Point | None = None
    pad: float = 0.0
    block: _Block | None = None

    @property
    def parts(self) -> tuple[Item, ...]:
        """Where the adjuster meets it, as it is made."""
        if self.meeting is None or self.at is None:
            return ()
        return tuple(meeting_items(self.meeting, self.at[0], self.board.hinges.edge, self.pad))


def base_template(build: Build) -> Drawing:
    """The board that carries the hinges' other leaves, and the adjuster's fixed end."""
    section, sizes, display = base_section(build), board_sizes(build), build.display
    board, remarks = Board.of(sizes, section.length - sizes.hinges.edge), Remarks(display)
    sheet = _sheet(build, board, 1.0)
    _say(remarks, build, sheet)
    without = {"alignment", *([] if sheet.pad else ["pad"])}
    remarks.notes_of(sizes.notes(without))
    remarks.facts |= board_facts(board, sheet.meeting, sheet.at)
    if sheet.block is not None:
        across, up = sheet.block.from_axis
        remarks.facts |= {"block_across": across, "block_up": up}
    side = RIGHT if section.frame.pulley_side > 0 else LEFT
    template = drawing_of(build, remarks, "base", _items(build, sheet), side)

    def drawn(scale: float) -> list[Item]:
        one = _sheet(build, board, scale)
        beside = [] if one.block is None else _block_items(one, one.block, display, scale)
        return [*_on_strip(display, one, scale), *beside]

    def wishes(scale: float) -> list[Wish]:
        one = _sheet(build, board, scale)
        return [*_of_block(build, one), *_of_strip(display, one)]

    return with_glance(template, drawn, wishes)


def _sheet(build: Build, board: Board, scale: float) -> _Sheet:
    """What is drawn, laid out for a scale [-]."""
    section, edge, pad_size = base_section(build), board.hinges.edge, board_sizes(build).pad
    meeting = meeting_on_base(build, board="base" if section.with_adjuster else "block")
    if meeting is None:
        return _Sheet(board)
    pad = pad_size if meeting.kind == "pad" else 0.0
    across = place_across(build, section.frame)
    if section.with_adjuster:
        return _Sheet(board, meeting, (across, meeting.at - edge), pad)
    from_axis = meeting_place(build, meeting)
    in_place = is_one_face(section.frame, adjuster_line(build))
    half = _METAL * pad_size
    if not in_place:  # it stands at the datum edge, where it costs no further sheet
        across = half
        away = board.length + _APART * scale + half + edge - meeting.low
        low, at, high = (place + away for place in (meeting.low, meeting.at, meeting.high))
        meeting = replace(meeting, low=low, at=at, high=high)
    bottom, top = max(meeting.low - edge - half, board.length + _SAW), meeting.high - edge + half
    block = _Block(across - half, bottom, across + half, top, from_axis, in_place)
    return _Sheet(board, meeting, (across, meeting.at - edge), pad, block)


def _items(build: Build, sheet: _Sheet) -> tuple[Item, ...]:
    """At true scale: names stay on their piece, so that they cost no sheet."""
    board, block, display = sheet.board, sheet.block, build.display
    drawn, own = _on_strip(display, sheet, 1.0), _of_block(build, sheet)
    of_strip = _of_strip(display, sheet)
    if block is None:
        return on_board(board, [*own, *of_strip], drawn)
    beside = _block_items(sheet, block, display, 1.0)
    around = (0.0, block.bottom - FIRST, board.width, block.top + FIRST)
    names = callouts(own, [*sheet.parts, *beside], 1.0, around)
    return (*on_board(board, of_strip, drawn), *beside, *names)


def _on_strip(display: Display, sheet: _Sheet, scale: float) -> list[Item]:
    is_measured = sheet.block is None or sheet.block.in_place
    measured = [sheet.at] if is_measured and sheet.at is not None else []
    return board_drawn(sheet.board, sheet.parts, measured, display, scale)


def _block_items(sheet: _Sheet, block: _Block, display: Display, scale: float) -> list[Item]:
    """The block with its own dimensions."""
    first, (left, bottom), (right, top) = FIRST * scale, block.corners[0], block.corners[2]
    across = Baseline(Run.ACROSS, (left, top), top + first, 1, scale, display)
    up = Baseline(Run.UP, (right, bottom), right + first, 1, scale, display)
    measured = [*([] if sheet.at is None else [sheet.at]), (right, top)]
    outline = Path(block.corners, closed=True, layer=Layer.CUT)
    return [outline, *baselines(across, measured), *baselines(up, measured)]


def _of_strip(display: Display, sheet: _Sheet) -> list[Wish]:
    board = sheet.board
    if sheet.block is None:
        return board_wishes(board, display)
    edge = tuple((share * board.width, board.length) for share in (0.2, 0.3, 0.4, 0.6, 0.7, 0.8))
    size = bench_size(board.width, board.length, display)
    return [(edge, f"strip for the hinges, {size}"), *board_wishes(board, display)]


def _of_block(build: Build, sheet: _Sheet) -> list[Wish]:
    """The block that the adjuster meets, and where it meets it."""
    own: list[Wish] = []
    if sheet.block is not None:
        where = "" if sheet.block.in_place else "; its place is in the notes"
        own.append((sheet.block.corners, f"block, {sheet.block.size(build)}{where}"))
    if sheet.meeting is not None and sheet.at is not None:
        own.append((pointed_at(sheet.meeting, sheet.at), sheet.meeting.text))
    return own


def _say(remarks: Remarks, build: Build, sheet: _Sheet) -> None:
    meeting, block, base = sheet.meeting, sheet.block, build.scenario.parts.base
    if build.scenario.adjuster.kind is AdjusterKind.NONE:
        remarks.note("base.no_adjuster")
    elif meeting is not None:
        remarks.add(meeting.remarks)
    remarks.notes_of([base_stands(build)])
    met = (_MET[meeting.kind], block.from_axis) if meeting and block else None
    say_base_places(remarks, build, met)
    say_base_caution(remarks, build)
    remarks.cautions_of(keep_out_cautions(build, "the base"))
    if meeting is not None and block is not None and sheet.at is not None:
        _say_block(remarks, build, meeting, block, sheet.at)
    elif meeting is not None and meeting.low <= sheet.board.hinges.edge:
        remarks.caution("base.adjuster_off_the_base", place=meeting.low - sheet.board.hinges.edge)
    say_board(remarks, build, sheet.board)
    thick, taken = base.thickness, template_size(build, "thickness")
    remarks.note(
        "base.board",
        thick=taken.value if thick is None else thick,
        taken="taken " if thick is None else "",
        sure=f" ({taken.sure})" if thick is None else "",
    )
    if meeting is not None:
        remarks.add([across_remark(build)])
    remarks.notes_of(build.swing.notes)
    say_screws(remarks, build, thick, "base")


def _say_block(remarks: Remarks, build: Build, meeting: Meeting, block: _Block, at: Point) -> None:
    """How strip and block go together."""
    remarks.caution("base.two_pieces")
    if block.in_place:
        remarks.note("base.block_in_place", across=at[0], up=at[1])
    else:
        remarks.note(
            "base.block_elsewhere",
            met=_MET[meeting.kind],
            place=_level_and_plumb(build, block.from_axis),
            runs=_runs(build, meeting.kind),
        )
    remarks.note("base.block", size=block.size(build))


def _level_and_plumb(build: Build, from_axis: Vector) -> str:
    """Distances level and plumb in words."""
    across, up = from_axis
    words = []
    if abs(up) > SAME:
        words.append(f"{build.bench(abs(up))} {'up' if up > 0 else 'down'}")
    if abs(across) > SAME:
        words.append(f"{build.bench(abs(across))} {side_of(build, across)},")
    return " and ".join(words)


def _runs(build: Build, kind: str) -> str:
    """The way of the bolt, or of the face under its tip."""
    adjuster, face = build.scenario.adjuster, way_of(build, adjuster_line(build).along)
    if kind == "hole" and adjuster.axis is not None:
        tip = math.cos(adjuster.axis), math.sin(adjuster.axis)
        return (
            f", and the bolt's tip comes out {way_of(build, tip)}: the block stands anywhere "
            f"along the bolt where it is clear of the swing, the face with its hole running {face}"
        )
    return f"; the face there runs {face}" if kind == "pad" else ""
