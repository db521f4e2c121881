"""The block that an adjuster meets where the base cannot be one board with it."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

from mountcalc.drafting.dimensions import SAME, Baseline, Run, baselines
from mountcalc.drafting.items import Item, Layer, Path, Point
from mountcalc.draw.at_a_glance import Wish
from mountcalc.draw.base.adjuster import adjuster_line
from mountcalc.draw.base.section import base_section, one_face
from mountcalc.draw.base.way import side_of, way_of
from mountcalc.draw.boards.bolt_across import place_across
from mountcalc.draw.boards.plate_adjuster import Meeting
from mountcalc.draw.boards.sheet import FIRST, Board
from mountcalc.draw.boards.sizes import template_size
from mountcalc.draw.build import Build
from mountcalc.pages.bench_lengths import bench_length
from mountcalc.scenario.drawn_plate import BoardFrame
from mountcalc.scenario.model import Display, Vector

__all__ = ["Block", "block_beside", "block_drawn", "block_place", "block_wish", "block_words"]

_METAL = 2.0  # half a block over the metal around a bolt's tip (estimate)
_SAW = 0.004  # between strip and block where they come near [m]
_APART = 0.045  # between them where the block is not at its distance: room for dimensions [m]
_MET = {
    "hole": "A point of the bolt's axis",
    "pad": "The point under the bolt's tip at snug",
    "pin": "The link's pin",
}


@dataclass(frozen=True, slots=True)
class Block:
    """A block on the strip's sheet, at its distance from the strip; all [m].

    Attributes
    ----------
    left, bottom, right, top : float
        From the corner where the strip's datum edges meet.
    meets : Point
        Where the adjuster meets it on the sheet.
    meeting : Meeting
        The same along the sheet, from the strip's axis.
    from_axis : Vector
        The same in the drawing's plane, from the hinge's axis.
    in_place : bool
        Whether the sheet has it at its true distance from the strip.
    """

    left: float
    bottom: float
    right: float
    top: float
    meets: Point
    meeting: Meeting
    from_axis: Vector
    in_place: bool

    @property
    def corners(self) -> tuple[Point, ...]:
        """Its outline, counter-clockwise from the lower left."""
        left, bottom, right, top = self.left, self.bottom, self.right, self.top
        return (left, bottom), (right, bottom), (right, top), (left, top)

    def size(self, display: Display) -> str:
        """Width and height in words."""
        return (
            f"{bench_length(self.right - self.left, display)} x "
            f"{bench_length(self.top - self.bottom, display)}"
        )


def block_beside(
    build: Build, strip: Board, meeting: Meeting, from_axis: Vector, scale: float = 1.0
) -> Block:
    """The block around where the adjuster meets what is fixed, on the sheet of the strip."""
    section, edge = base_section(build), strip.hinges.edge
    in_place = one_face(section.frame, adjuster_line(build))
    half = _METAL * template_size(build.scenario, "pad").value
    if not in_place:
        away = strip.length + _APART * scale + half + edge - meeting.low
        low, at, high = (place + away for place in (meeting.low, meeting.at, meeting.high))
        meeting = replace(meeting, low=low, at=at, high=high)
    bottom = max(meeting.low - edge - half, strip.length + _SAW)
    # Else it stands at the datum edge, where it costs no further sheet.
    across = place_across(build, section.frame, strip.width)
    meets = across if in_place else half, meeting.at - edge
    top = meeting.high - edge + half
    return Block(meets[0] - half, bottom, meets[0] + half, top, meets, meeting, from_axis, in_place)


def block_drawn(block: Block, display: Display, scale: float = 1.0) -> list[Item]:
    """The block with its own dimensions."""
    first = FIRST * scale
    left, bottom, right, top = block.left, block.bottom, block.right, block.top
    across = Baseline(Run.ACROSS, (left, top), top + first, 1, scale, display)
    up = Baseline(Run.UP, (right, bottom), right + first, 1, scale, display)
    return [
        Path(block.corners, closed=True, layer=Layer.CUT),
        *baselines(across, [block.meets, (right, top)]),
        *baselines(up, [block.meets, (right, top)]),
    ]


def block_wish(block: Block, display: Display) -> Wish:
    """The name of the block."""
    where = "" if block.in_place else "; its place is in the notes"
    return block.corners, f"block, {block.size(display)}{where}"


def block_place(block: Block) -> tuple[str, Vector]:
    """A point of the block by which it is found."""
    return _MET[block.meeting.kind], block.from_axis


def block_words(build: Build, block: Block, line: BoardFrame) -> tuple[str, ...]:
    """How strip and block go together."""
    display, kind = build.display, block.meeting.kind
    if block.in_place:
        across, up = (bench_length(one, display) for one in block.meets)
        place = (
            "Strip and block are two pieces, drawn as far from each other as they stand: where the "
            f"adjuster meets the block is {up} above the strip's hinged edge and {across} from its "
            "upright datum edge."
        )
    else:
        place = (
            "Strip and block are two pieces; on this sheet the block is not at its distance from "
            f"the strip. {_MET[kind]} is {_place(build, block.from_axis)} from the hinge's axis"
            f"{_runs(build, kind, line)}."
        )
    return (
        place,
        f"The block's size, {block.size(display)}, is an estimate. Fix it to the frame from beside "
        "or above, so that nothing stands between it and the hinge where the motor swings.",
    )


def _place(build: Build, from_axis: Vector) -> str:
    """Distances level and plumb in words."""
    across, up = from_axis
    words = []
    if abs(up) > SAME:
        way = "up" if up > 0 else "down"
        words.append(f"{bench_length(abs(up), build.display)} {way}")
    if abs(across) > SAME:
        side = side_of(build, across)
        words.append(f"{bench_length(abs(across), build.display)} {side},")
    return " and ".join(words)


def _runs(build: Build, kind: str, line: BoardFrame) -> str:
    """The way of the bolt, or of the face under its tip."""
    adjuster = build.scenario.adjuster
    if kind == "hole" and adjuster.axis is not None:
        tip = math.cos(adjuster.axis), math.sin(adjuster.axis)
        return (
            f", and the bolt's tip comes out {way_of(build, tip)}: the block stands anywhere "
            "along the bolt where it is clear of the swing, the face with its hole running "
            f"{way_of(build, line.along)}"
        )
    return f"; the face there runs {way_of(build, line.along)}" if kind == "pad" else ""
