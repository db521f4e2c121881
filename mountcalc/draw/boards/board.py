"""What both boards' templates share: outline, datum edges, grain, hinges, dimensions, names."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from functools import partial

from mountcalc.drafting.dimensions import Baseline, Run, baselines, beside
from mountcalc.drafting.items import (
    Arc,
    Bounds,
    Circle,
    Item,
    Label,
    Layer,
    Line,
    Path,
    Point,
    along,
)
from mountcalc.drafting.names.callouts import callouts
from mountcalc.draw.boards.side import Meeting, template_size
from mountcalc.draw.build import Build
from mountcalc.draw.remarks import LEFT, UNITS, Remarks, bare
from mountcalc.draw.views import Wish, cross
from mountcalc.handbook.machine import MotorFrame
from mountcalc.pages.amounts import bench_length, bench_size
from mountcalc.record import Record
from mountcalc.scenario.boards import BoardSizes, Leaf, hinge_leaves
from mountcalc.scenario.hardware import Grain
from mountcalc.scenario.text.writing import Display

FIRST = 0.014  # from a piece to the first dimension line on each side [m]
_BELOW = 0.005  # further below, where the line of the hinge is [m]
_PAST = 0.006  # centre lines past an edge [m]
_GRAIN = 0.030  # half the grain's arrow [m]
_ROOM = 0.024  # that the arrow with its name wants across [m]
_CLEAR = 0.015  # of the middle of a slot or hole [m]
_BARB, _SPREAD = 0.004, math.radians(20.0)  # of the arrow
_SHARES = (0.3, 0.4, 0.5, 0.6, 0.7, 0.8)  # of an edge, where it is pointed at
_CROSS = 0.005  # half a centre cross [m]


class FootSlot(Record):
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
        return tuple((x + a * self.extra, y + b * radius) for a in (-1, 1) for b in (-1, 1))

    @property
    def items(self) -> tuple[Item, ...]:
        """As it is drawn, with its centre lines."""
        (x, y), (low_left, high_left, low_right, high_right) = self.centre, self.corners
        radius, reach, quarter = 0.5 * self.width, self.extra + 0.8 * self.width, 0.5 * math.pi
        return (
            Line(low_left, low_right, Layer.CUT),
            Arc((x + self.extra, y), radius, -quarter, quarter, Layer.CUT),
            Line(high_right, high_left, Layer.CUT),
            Arc((x - self.extra, y), radius, quarter, 3.0 * quarter, Layer.CUT),
            Line((x - reach, y), (x + reach, y), Layer.CENTRE),
            Line((x, y - 1.6 * radius), (x, y + 1.6 * radius), Layer.CENTRE),
        )


def foot_slots(
    frame: MotorFrame, middle: Point, towards_end: int, extra: float
) -> tuple[FootSlot, ...]:
    """The slots for a frame's feet."""
    nearest, across = 0.5 * max(frame.feet_along), 0.5 * frame.feet_across
    places = [nearest, *(nearest - distance for distance in sorted(frame.feet_along))]
    return tuple(
        FootSlot((middle[0] + towards_end * place, middle[1] + side * across), frame.hole, extra)
        for place in places
        for side in (-1, 1)
    )


def box(left: float, bottom: float, right: float, top: float, layer: Layer) -> Path:
    """An upright rectangle."""
    corners = ((left, bottom), (right, bottom), (right, top), (left, top))
    return Path(corners, closed=True, layer=layer)


class Board(Record):
    """A board from its lower left corner: along the hinge's line, and away from it [m].

    The adjuster, or each of two bolts, meets it so far ``across``, with a ``hole`` on a layer; or
    it meets a ``block`` beside it, ``in_place`` where that is drawn as far from the board as it
    stands. Leaves that are bolted ``through`` it have holes of that diameter [m], not pilot holes.
    Leaves on its hinged edge have screws that go so far ``into_edge`` [m], None on a face.
    The ``grain`` runs along the long side where nobody says.
    """

    sizes: BoardSizes
    length: float
    meeting: Meeting | None = None
    across: tuple[float, ...] = ()
    slots: tuple[FootSlot, ...] = ()
    hole: Layer = Layer.DRILL
    block: Bounds | None = None
    in_place: bool = True
    through: float | None = None
    into_edge: float | None = None
    pulley_side: int = 1
    grain: Grain | None = None

    @property
    def leaves(self) -> tuple[Leaf, ...]:
        """Those of the hinges on it; on its edge one is seen as deep as it is let in."""
        found = hinge_leaves(self.sizes, self.pulley_side)
        if self.into_edge is None:
            return found
        return tuple(
            replace(one, depth=self.sizes.mortise, screws=tuple((x, 0.0) for x, _ in one.screws))
            for one in found
        )

    @property
    def met_at(self) -> tuple[Point, ...]:
        """Where each bolt, or the link, meets board or block as the belt is snug [m]."""
        if self.meeting is None:
            return ()
        return tuple((across, self.meeting.at - self.sizes.edge) for across in self.across)

    @property
    def measured(self) -> list[Point]:
        """What is dimensioned from the board's datum edges."""
        found = [slot.centre for slot in self.slots]
        return [*found, *(self.met_at if self.in_place else ())]

    @property
    def facts(self) -> dict[str, float]:
        """The numbers that its template states."""
        found = {
            "width": self.sizes.width,
            "length": self.length,
            "axis_below_edge": self.sizes.edge,
        }
        for number, (x, y) in enumerate(self.met_at, 1):
            name = "bolt" if number == 1 else f"bolt_{number}"
            found |= {f"{name}_x": x, f"{name}_y": y}
        if self.meeting is not None and self.meeting.diameter is not None:
            found["bolt_hole"] = self.meeting.diameter
        return found

    def drawn(self, display: Display, scale: float) -> list[Item]:
        """All of it but names."""
        sizes, width, length = self.sizes, self.sizes.width, self.length
        layer = Layer.POCKET if sizes.mortise > 0 else Layer.MARK  # let in, or on the board
        items: list[Item] = [
            box(0.0, 0.0, width, length, Layer.CUT),
            Line((-_PAST, -sizes.edge), (width + _PAST, -sizes.edge), Layer.CENTRE),
            *(item for slot in self.slots for item in slot.items),
            *self.met(),
        ]
        for leaf in self.leaves:
            if self.into_edge is not None:
                items += self._on_edge(leaf)
                continue
            items.append(box(leaf.left, 0.0, leaf.right, leaf.depth, layer))
            hole = 0.5 * (self.through or sizes.pilot)
            items += (Circle(screw, hole, Layer.DRILL) for screw in leaf.screws)
        items += self._dimensions(display, scale)
        if scale == 1:  # else there may be no room for its arrow, and the notes tell it
            items += self._grain()
        return items

    def _on_edge(self, leaf: Leaf) -> Iterator[Item]:
        """A leaf in or on the edge, and where its screws go in behind this face: scribed."""
        thick = self.sizes.leaf_thickness
        yield box(leaf.left, leaf.depth - thick, leaf.right, leaf.depth, Layer.MARK)
        for x, _ in leaf.screws:
            yield Line((x, leaf.depth), (x, self.into_edge or 0.0), Layer.CENTRE)

    def met(self) -> Iterator[Item]:
        """Where the adjuster meets it, as it is made."""
        meeting, edge, pad = self.meeting, self.sizes.edge, self.sizes.pad
        if meeting is None:
            return
        low, high = (place - edge for place in (meeting.low, meeting.high))
        for x, at in self.met_at:
            if meeting.diameter is not None:
                yield Circle((x, at), 0.5 * meeting.diameter, self.hole)
            if meeting.kind == "pad":
                yield box(x - pad, low - pad, x + pad, high + pad, Layer.MARK)
                yield Line((x, low), (x, high), Layer.MARK)
                for end in (low, high):
                    yield Line((x - _CROSS / 2, end), (x + _CROSS / 2, end), Layer.MARK)
            yield from cross((x, at), _CROSS)

    def meeting_wish(self, text: str = "") -> list[Wish]:
        """The points at which a leader shows where the adjuster meets it."""
        if self.meeting is None:
            return []
        side = 0.5 * (self.meeting.diameter or 0.0) * math.sqrt(0.5)
        ways = (-1, 1) if side else (1,)
        points = tuple(
            (x + a * side, y + b * side) for x, y in self.met_at for a in ways for b in ways
        )
        return [(points, text or self.meeting.text)]

    def wishes(self, display: Display) -> list[Wish]:
        """What is named on every board: leaves and screws, datum edges, the hinge's axis."""
        sizes, depth, width = self.sizes, self.leaves[0].depth, self.sizes.width
        deep, place = (depth, "") if self.into_edge is None else (sizes.leaf_width, " on the edge")
        size = bench_size(sizes.leaf_length, deep, display)
        ends = [x for leaf in self.leaves for x in (leaf.left, leaf.right)]
        sides = [0.0, *ends, width]
        gaps = list(zip(sides[::2], sides[1::2], strict=True))
        level = (start + share * (end - start) for share in _SHARES for start, end in gaps)
        past = (width + 0.5 * _PAST, -0.5 * _PAST)
        let_in = f"leaf {size}{place}, let in {bench_length(sizes.mortise, display)}"
        screws = tuple(
            (x, y + 0.5 * (self.into_edge or 0.0)) for leaf in self.leaves for x, y in leaf.screws
        )
        kind = "through" if self.through else "pilot" if self.into_edge is None else "edge, pilot"
        return [
            (tuple((x, depth) for x in ends), let_in),
            (screws, f"{kind} {bench_length(self.through or sizes.pilot, display)}"),
            (tuple((x, 0.0) for x in level), "datum edge"),
            (tuple((0.0, share * self.length) for share in _SHARES), "datum edge"),
            (tuple((x, -sizes.edge) for x in past), "hinge's axis"),
        ]

    def with_names(self, wishes: Sequence[Wish], drawn: Sequence[Item]) -> tuple[Item, ...]:
        """At true scale with names on it, where nothing else is."""
        return (*drawn, *callouts(wishes, drawn, 1.0, (0.0, 0.0, self.sizes.width, self.length)))

    def _dimensions(self, display: Display, scale: float) -> list[Item]:
        """From the two datum edges: hinges below, all else above and to the left.

        What is measured beyond the board stands above the board's own width, which it would cross.
        """
        corner, first, length = (0.0, 0.0), FIRST * scale, self.length
        make = partial(Baseline, scale=scale, display=display)
        below = make(Run.ACROSS, corner, -self.sizes.edge - _BELOW * scale - first, -1)
        ends = [(x, 0.0) for leaf in self.leaves for x in (leaf.left, leaf.right)]
        above = make(Run.ACROSS, (0.0, length), length + first, 1)
        on_board = [point for point in self.measured if point[1] <= length]
        own = baselines(above, [*on_board, (self.sizes.width, length)])
        beyond = [point for point in self.measured if point[1] > length]
        further = baselines(replace(above, first=above.line(len(own))), beyond)
        across = [*baselines(below, ends), *own, *further]
        left = make(Run.UP, corner, beside(across, 0.0, scale) - first, -1)
        depth = [] if self.into_edge else [(self.leaves[0].left, self.leaves[0].depth)]
        return [*across, *baselines(left, [*depth, *self.measured, (0.0, length)])]

    def _grain(self) -> Iterator[Item]:
        """An arrow along the board's grain, on it where what is measured leaves room."""
        width, length = self.sizes.width, self.length
        is_upright = length >= width if self.grain is None else self.grain is Grain.FROM_HINGE
        axis, across = (0, width) if is_upright else (1, length)
        taken = [0.5 * across, *([] if is_upright else [leaf.depth for leaf in self.leaves])]
        taken += [point[axis] + _CLEAR for point in self.measured if point[axis] < across]
        place = across + (-0.5 if across - max(taken) >= _ROOM else 0.5) * _ROOM
        start, angle = width - 3.0 * _GRAIN, 0.0
        ends = (start, place), (start + 2.0 * _GRAIN, place)
        text_at = start + _GRAIN, place + 0.003
        if is_upright:
            start, angle = 0.5 * length, 0.5 * math.pi
            ends = (place, start - _GRAIN), (place, start + _GRAIN)
            text_at = place - 0.003, start
        yield Line(*ends, Layer.NOTE)
        for tip, tail in (ends, ends[::-1]):
            way = math.atan2(tail[1] - tip[1], tail[0] - tip[0])
            one, other = (along(tip, way + turn, _BARB) for turn in (_SPREAD, -_SPREAD))
            yield Path((one, tip, other), closed=False, layer=Layer.NOTE)
        yield Label(text_at, "grain", align="centre", angle=angle)


def say_board(remarks: Remarks, build: Build, board: Board, given: float | None, name: str) -> None:
    """Grain, datum edges, how the hinges sit; screws that come out of a board ``given`` thick."""
    hinges = build.scenario.parts.hinges
    grain = build.grain_words if name == "plate" else "along the long side"
    remarks.say("boards.grain", grain=grain)
    remarks.say("boards.datum_edges", side=LEFT)
    remarks.say("boards.hinge_axis", edge=board.sizes.edge)
    leaves, start = hinge_leaves(board.sizes, board.pulley_side), 0.0
    of, places_of = "the hinged edge", "boards.screw_rows"
    if board.into_edge is not None:  # the pin is in this face, and the leaf goes down from it
        start, of, places_of = board.sizes.edge, "this face", "boards.edge_rows"
    remarks.say(places_of, row=start + min(y for _, y in leaves[0].screws))
    rows: dict[str, list[float]] = {}
    for across, up in (screw for leaf in leaves for screw in leaf.screws):
        rows.setdefault(build.bench(start + up), []).append(across)
    listed = sorted(rows, key=lambda row: len(rows[row]), reverse=True)
    places = (f"{bare(rows[row], build.display)} ({row} from {of})" for row in listed)
    unit = UNITS[build.display]
    remarks.say("boards.screw_centres", unit=unit, side=LEFT, places="; ".join(places))
    key = "boards.pilot_holes_placed" if hinges.across else "boards.pilot_holes"
    if board.through:
        remarks.say("boards.through_holes", hole=board.through)
        return
    remarks.say(key, pilot=board.sizes.pilot)
    screw, taken = hinges.screw_into(name), "taken " if given is None else ""
    thick = template_size(build, "thickness").value if given is None else given
    if board.into_edge is not None:
        if board.sizes.leaf_width > thick:
            numbers = {"wide": board.sizes.leaf_width, "board": name, "thick": thick}
            remarks.say("boards.leaves_past_edge", taken=taken, **numbers)
    elif screw is not None and screw.length is not None and screw.length > thick:
        numbers = {"screw": screw.name, "board": name, "taken": taken, "thick": thick}
        remarks.say("boards.hinge_screws", **numbers)
