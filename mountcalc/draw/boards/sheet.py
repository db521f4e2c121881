"""What the templates of both boards share: outline, datum edges, grain, hinges, dimensions."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import partial

from mountcalc.drafting.dimensions import Baseline, Run, baselines, beside
from mountcalc.drafting.items import Arc, Circle, Item, Label, Layer, Line, Path, Point, along
from mountcalc.drafting.names.callouts import callouts
from mountcalc.draw.along.stack import along_stack
from mountcalc.draw.boards.side import (
    BoardSizes,
    HingeSizes,
    Leaf,
    Meeting,
    across_remark,
    board_sizes,
    hinge_leaves,
    meeting_on_plate,
    template_size,
)
from mountcalc.draw.build import Build
from mountcalc.draw.remarks import LEFT, UNITS, Remarks, bare
from mountcalc.draw.views import Wish, cross
from mountcalc.handbook.frames import MotorFrame
from mountcalc.pages.amounts import bench_length, bench_size
from mountcalc.scenario.drawn_plate import plate_line
from mountcalc.scenario.model import AdjusterKind, Display

FIRST = 0.014  # from a piece to the first dimension line on each side [m]
_BELOW = 0.005  # further below, where the line of the hinge is [m]
_PAST = 0.006  # centre lines past an edge [m]
_GRAIN = 0.030  # half the grain's arrow [m]
_ROOM = 0.024  # that the arrow with its name wants across [m]
_CLEAR = 0.015  # of the middle of a slot or hole [m]
_BARB, _SPREAD = 0.004, math.radians(20.0)  # of the arrow
_SHARES = (0.3, 0.4, 0.5, 0.6, 0.7, 0.8)  # of an edge, where it is pointed at
_CROSS = 0.005  # half a centre cross [m]


@dataclass(frozen=True, slots=True)
class Board:
    """A board from its lower left corner: along the hinge's line, and away from it [m]."""

    width: float
    length: float
    hinges: HingeSizes
    leaves: tuple[Leaf, ...]

    @classmethod
    def of(cls, sizes: BoardSizes, length: float) -> Board:
        """A board of the pair, so long."""
        return cls(sizes.width, length, sizes.hinges, hinge_leaves(sizes.hinges, sizes.width))


@dataclass(frozen=True, slots=True)
class FootSlot:
    """A slot along the motor's shaft; all [m]: its middle, its width, how far it is lengthened."""

    centre: Point
    width: float
    extra: float

    @property
    def length(self) -> float:
        """Over its round ends [m]."""
        return self.width + 2.0 * self.extra

    @property
    def corners(self) -> tuple[Point, ...]:
        """Where its straight sides end [m]."""
        (x, y), radius = self.centre, 0.5 * self.width
        ways = (-1, 1)
        return tuple((x + a * self.extra, y + b * radius) for a in ways for b in ways)


def foot_slots(
    frame: MotorFrame, middle: Point, towards_end: int, extra: float
) -> tuple[FootSlot, ...]:
    """The slots for a frame's feet."""
    nearest = 0.5 * max(frame.feet_along)
    across = 0.5 * frame.feet_across
    places = [nearest, *(nearest - distance for distance in sorted(frame.feet_along))]
    return tuple(
        FootSlot((middle[0] + towards_end * place, middle[1] + side * across), frame.hole, extra)
        for place in places
        for side in (-1, 1)
    )


def slot_items(slot: FootSlot) -> tuple[Item, ...]:
    """A slot as it is drawn, with its centre lines."""
    x, y = slot.centre
    radius, extra = 0.5 * slot.width, slot.extra
    past, quarter = 1.6 * radius, 0.5 * math.pi
    return (
        Line((x - extra, y - radius), (x + extra, y - radius), Layer.CUT),
        Arc((x + extra, y), radius, -quarter, quarter, Layer.CUT),
        Line((x + extra, y + radius), (x - extra, y + radius), Layer.CUT),
        Arc((x - extra, y), radius, quarter, 3.0 * quarter, Layer.CUT),
        Line((x - extra - past, y), (x + extra + past, y), Layer.CENTRE),
        Line((x, y - past), (x, y + past), Layer.CENTRE),
    )


def _leaf_items(leaf: Leaf, sizes: HingeSizes) -> Iterator[Item]:
    """A pocket where a leaf is let in, a mark where it lies on the board."""
    left, right, depth = leaf.left, leaf.right, leaf.depth
    corners = ((left, 0.0), (right, 0.0), (right, depth), (left, depth))
    yield Path(corners, closed=True, layer=Layer.POCKET if sizes.mortise > 0 else Layer.MARK)
    for screw in leaf.screws:
        yield Circle(screw, 0.5 * sizes.pilot, Layer.DRILL)


def board_drawn(
    board: Board,
    parts: Iterable[Item],
    measured: Iterable[Point],
    display: Display,
    scale: float = 1.0,
) -> list[Item]:
    """A board with all that is on it but names."""
    drawn, points = [*_outline(board), *parts], list(measured)
    for leaf in board.leaves:
        drawn += _leaf_items(leaf, board.hinges)
    drawn += _dimensions(board, points, display, scale)
    if scale == 1:  # else there may be no room for its arrow, and the notes tell it
        drawn += _grain(board, points)
    return drawn


def board_wishes(board: Board, display: Display) -> list[Wish]:
    """What is named on every board: leaves and screws, datum edges, the hinge's axis."""
    sizes, depth = board.hinges, board.leaves[0].depth
    size = bench_size(sizes.leaf_length, depth, display)
    ends = [x for leaf in board.leaves for x in (leaf.left, leaf.right)]
    sides = [0.0, *ends, board.width]
    gaps = list(zip(sides[::2], sides[1::2], strict=True))
    level = (start + share * (end - start) for share in _SHARES for start, end in gaps)
    past = (board.width + 0.5 * _PAST, -0.5 * _PAST)
    let_in = f"leaf {size}, let in {bench_length(sizes.mortise, display)}"
    screws = tuple(screw for leaf in board.leaves for screw in leaf.screws)
    return [
        (tuple((x, depth) for x in ends), let_in),
        (screws, f"pilot {bench_length(sizes.pilot, display)}"),
        (tuple((x, 0.0) for x in level), "datum edge"),
        (tuple((0.0, share * board.length) for share in _SHARES), "datum edge"),
        (tuple((x, -sizes.edge) for x in past), "hinge's axis"),
    ]


def on_board(board: Board, wishes: Sequence[Wish], drawn: Sequence[Item]) -> tuple[Item, ...]:
    """A board at true scale with names on it, where nothing else is."""
    return (*drawn, *callouts(wishes, drawn, 1.0, (0.0, 0.0, board.width, board.length)))


def meeting_items(
    meeting: Meeting, x: float, edge: float, pad: float, hole: Layer = Layer.DRILL
) -> Iterator[Item]:
    """Where the adjuster meets the board."""
    low, at, high = (place - edge for place in (meeting.low, meeting.at, meeting.high))
    if meeting.diameter is not None:
        yield Circle((x, at), 0.5 * meeting.diameter, hole)
    if meeting.kind == "pad":
        corners = ((x - pad, low - pad), (x + pad, low - pad), (x + pad, high + pad))
        yield Path((*corners, (x - pad, high + pad)), closed=True, layer=Layer.MARK)
        yield Line((x, low), (x, high), Layer.MARK)
        for end in (low, high):
            yield Line((x - _CROSS / 2, end), (x + _CROSS / 2, end), Layer.MARK)
    yield from cross((x, at), _CROSS)


def board_facts(board: Board, meeting: Meeting | None, at: Point | None) -> dict[str, float]:
    """The numbers that a board's template states."""
    facts = {"width": board.width, "length": board.length, "axis_below_edge": board.hinges.edge}
    if at is not None:
        facts |= {"bolt_x": at[0], "bolt_y": at[1]}
    if meeting is not None and meeting.diameter is not None:
        facts["bolt_hole"] = meeting.diameter
    return facts


def pointed_at(meeting: Meeting, at: Point) -> tuple[Point, ...]:
    """Points at which a leader shows where the adjuster meets a board."""
    if meeting.diameter is None:
        return (at,)
    side = 0.5 * meeting.diameter * math.sqrt(0.5)
    return tuple((at[0] + a * side, at[1] + b * side) for a in (-1, 1) for b in (-1, 1))


def _outline(board: Board) -> Iterator[Item]:
    width, length, edge = board.width, board.length, board.hinges.edge
    corners = ((0.0, 0.0), (width, 0.0), (width, length), (0.0, length))
    yield Path(corners, closed=True, layer=Layer.CUT)
    yield Line((-_PAST, -edge), (width + _PAST, -edge), Layer.CENTRE)


def _dimensions(board: Board, measured: list[Point], display: Display, scale: float) -> list[Item]:
    """From the two datum edges: hinges below, all else above and to the left.

    What is measured beyond the board stands above the board's own width, which it would cross.
    """
    corner, first = (0.0, 0.0), FIRST * scale
    make = partial(Baseline, scale=scale, display=display)
    below = make(Run.ACROSS, corner, -board.hinges.edge - _BELOW * scale - first, -1)
    ends = [(x, 0.0) for leaf in board.leaves for x in (leaf.left, leaf.right)]
    above = make(Run.ACROSS, (0.0, board.length), board.length + first, 1)
    on_board = [point for point in measured if point[1] <= board.length]
    own = baselines(above, [*on_board, (board.width, board.length)])
    beyond = [point for point in measured if point[1] > board.length]
    further = baselines(replace(above, first=above.line(len(own))), beyond)
    across = [*baselines(below, ends), *own, *further]
    left = make(Run.UP, corner, beside(across, 0.0, scale) - first, -1)
    depth = (board.leaves[0].left, board.leaves[0].depth)
    return [*across, *baselines(left, [depth, *measured, (0.0, board.length)])]


def _grain(board: Board, measured: list[Point]) -> Iterator[Item]:
    """An arrow along the board's long side, on it where what is measured leaves room."""
    is_upright = board.length >= board.width
    axis, across = (0, board.width) if is_upright else (1, board.length)
    taken = [0.5 * across, *([] if is_upright else [leaf.depth for leaf in board.leaves])]
    taken += [point[axis] + _CLEAR for point in measured if point[axis] < across]
    side = -0.5 if across - max(taken) >= _ROOM else 0.5
    place = across + side * _ROOM
    if is_upright:
        y = 0.5 * board.length
        ends = ((place, y - _GRAIN), (place, y + _GRAIN))
        label = Label((place - 0.003, y), "grain", align="centre", angle=0.5 * math.pi)
    else:
        x = board.width - 3.0 * _GRAIN
        ends = ((x, place), (x + 2.0 * _GRAIN, place))
        label = Label((x + _GRAIN, place + 0.003), "grain", align="centre")
    yield Line(*ends, Layer.NOTE)
    for tip, tail in (ends, ends[::-1]):
        way = math.atan2(tail[1] - tip[1], tail[0] - tip[0])
        one, other = (along(tip, way + turn, _BARB) for turn in (_SPREAD, -_SPREAD))
        yield Path((one, tip, other), closed=False, layer=Layer.NOTE)
    yield label


def say_board(remarks: Remarks, build: Build, board: Board) -> None:
    """Grain, datum edges, and how the hinges sit on a board."""
    remarks.note("boards.datum_edges", side=LEFT)
    remarks.note("boards.hinge_axis", edge=board.hinges.edge)
    remarks.note("boards.screw_rows", row=min(y for _, y in board.leaves[0].screws))
    rows: dict[str, list[float]] = {}
    for leaf in board.leaves:
        for across, up in leaf.screws:
            rows.setdefault(build.bench(up), []).append(across)
    listed = sorted(rows, key=lambda row: len(rows[row]), reverse=True)
    places = (f"{bare(rows[row], build.display)} ({row} from the hinged edge)" for row in listed)
    remarks.note(
        "boards.screw_centres", unit=UNITS[build.display], side=LEFT, places="; ".join(places)
    )
    remarks.note("boards.pilot_holes", pilot=board.hinges.pilot)


def say_screws(remarks: Remarks, build: Build, given: float | None, board: str) -> None:
    """Warn of hinge screws that come out of the other face of a board so thick [m]."""
    screw = build.scenario.parts.hinges.screw
    thick = template_size(build, "thickness").value if given is None else given
    if screw is not None and screw.length is not None and screw.length > thick:
        remarks.caution(
            "boards.hinge_screws",
            screw=screw.name,
            board=board,
            taken="taken " if given is None else "",
            thick=thick,
        )


def say_plate(remarks: Remarks, build: Build, board: Board, slots: tuple[FootSlot, ...]) -> None:
    """How the plate is made."""
    plate, meeting = build.scenario.parts.plate, meeting_on_plate(build)
    layers = plate.layers or 1
    remarks.note(
        "boards.material",
        material=plate.material or "wood (plate.material is not given)",
        thick=board_sizes(build).thickness,
        sure="" if plate.thickness is not None else f"({template_size(build, 'thickness').sure}) ",
        made="in one layer" if layers == 1 else f"in {layers} layers glued together",
    )
    say_board(remarks, build, board)
    line = plate_line(build.scenario)
    remarks.note("boards.motor_face", taken_from=line.taken_from.value, height=line.shaft_height)
    _say_feet(remarks, build, slots)
    if meeting is not None:
        remarks.add([across_remark(build)])
        remarks.add(meeting.remarks)
        if meeting.kind == "hole" and meeting.diameter is None:
            remarks.note("boards.hole_unknown")
    elif build.scenario.adjuster.kind is not AdjusterKind.NONE:
        remarks.note("boards.bolt_along_the_plate")


def _say_feet(remarks: Remarks, build: Build, slots: tuple[FootSlot, ...]) -> None:
    frame, stack = build.scenario.parts.frame, along_stack(build)
    if frame is None or not slots:
        remarks.note("boards.no_frame")
        return
    along = " and ".join(map(build.bench, frame.feet_along))
    remarks.note("boards.feet", frame=frame, along=along, extra=slots[0].extra)
    if stack is None or stack.motor_face is None or stack.motor_middle is None:
        return
    feet = stack.motor_face - frame.shoulder_to_foot - 0.5 * max(frame.feet_along)
    remarks.note("boards.pulley_over_the_feet", off=stack.motor_middle - feet)


def say_plate_cautions(
    remarks: Remarks, build: Build, board: Board, slots: tuple[FootSlot, ...]
) -> None:
    """What does not fit on the plate, or together with what else the scenario says."""
    edge, meeting, plate = board.hinges.edge, meeting_on_plate(build), build.scenario.parts.plate
    if any(not _stands_on(board, slot) for slot in slots):
        remarks.caution("boards.feet_off_the_plate")
    if slots and min(slot.centre[1] - slot.width for slot in slots) < board.leaves[0].depth:
        remarks.caution("boards.feet_over_leaves")
    if meeting is not None and not edge < meeting.low <= meeting.high < board.length + edge:
        ends = dict.fromkeys(build.bench(one - edge) for one in (meeting.low, meeting.high))
        remarks.caution("boards.adjuster_off_the_plate", places=" to ".join(ends))
    if board.hinges.number * board.hinges.leaf_length > board.width:
        remarks.caution("boards.hinges_too_wide")
    if plate.thickness is not None and board.hinges.mortise >= plate.thickness:
        remarks.caution("boards.leaves_through")
    say_screws(remarks, build, plate.thickness, "plate")


def _stands_on(board: Board, slot: FootSlot) -> bool:
    (x, y), half = slot.centre, 0.5 * slot.length
    on_width = half < x < board.width - half
    return on_width and 0 < y - 0.5 * slot.width < y < board.length
