"""What is sawn for a mount, as its drawings have it: boards, guard, stops, metal under the tip."""

from __future__ import annotations

from collections.abc import Iterator

from mountcalc.draw.boards.section import adjuster_line, base_section
from mountcalc.draw.boards.side import meeting_on, meeting_on_plate, template_size
from mountcalc.draw.boards.templates import base_board, plate_board
from mountcalc.draw.build import Build, once
from mountcalc.draw.guard.shape import guard_shape
from mountcalc.draw.guard.sizes import guard_sizes, panel_of
from mountcalc.draw.guard.strip import strip_of
from mountcalc.draw.screws import drawn_diameter
from mountcalc.draw.stop import STOP_ACROSS, STOP_DEPTH, STOP_GAP, STOP_HALF, Beside, catches
from mountcalc.record import Record
from mountcalc.strength.bolt_length import BLOCK_DEPTH


class Cut(Record):
    """A piece or ``count`` alike: the rectangle [m] it is cut from, and its drawing.

    ``taken`` has the keys that would have told a size which is taken; a size is None where nobody
    knows it. Of a strap the ``length`` is how far beyond it comes taut.
    """

    name: str
    count: int
    length: float
    width: float | None
    thickness: float | None
    drawing: str
    taken: tuple[str, ...] = ()


@once
def pieces(build: Build) -> tuple[Cut, ...]:
    """All pieces, the boards first."""
    return (*_boards(build), *_pads(build), *_guard(build), *_stops(build))


def guard_holes(build: Build) -> tuple[int, float]:
    """How many holes the guard's panel is fixed by, and their diameter [m]."""
    holes = guard_shape(build).holes
    return len(holes), 2.0 * holes[0].radius


def _boards(build: Build) -> Iterator[Cut]:
    parts, board = build.scenario.parts, plate_board(build)
    said = parts.plate
    taken = _missing("plate", length=said.length, width=said.width, thickness=said.thickness)
    width, thick = board.sizes.width, board.sizes.thickness
    yield Cut("plate", 1, board.length, width, thick, "plate", taken)
    base, under = base_board(build, 1.0), parts.base.thickness
    taken = _missing("base", thickness=under)
    thick = template_size(build, "thickness").value if under is None else under
    name = "base" if base.block is None else "strip for the hinges"
    long, wide = max(base.length, width), min(base.length, width)
    yield Cut(name, 1, long, wide, thick, "base", taken)
    if base.block is not None and base.meeting is not None:
        left, bottom, right, top = base.block
        is_hole, across = base.meeting.kind == "hole", drawn_diameter(build.scenario.adjuster)
        thick_block = BLOCK_DEPTH * across if is_hole else None
        wide, long = sorted((right - left, top - bottom))
        yield Cut("block for the adjuster", 1, long, wide, thick_block, "base")


def _missing(table: str, **sizes: float | None) -> tuple[str, ...]:
    """Keys of a table that are not given."""
    return tuple(f"{table}.{key}" for key, value in sizes.items() if value is None)


def _pads(build: Build) -> Iterator[Cut]:
    """Hard metal under all of the tip's way."""
    of = "base" if base_section(build).with_adjuster else "block"
    met = {
        "plate": meeting_on_plate(build),
        "base": meeting_on(build, adjuster_line(build), of),
    }
    for board, meeting in met.items():
        if meeting is not None and meeting.kind == "pad":
            width = 2.0 * plate_board(build).sizes.pad
            count, length = len(build.scenario.adjuster.places), meeting.high - meeting.low + width
            yield Cut("metal under the tip", count, length, width, None, board)


def _guard(build: Build) -> Iterator[Cut]:
    left, bottom, right, top = guard_shape(build).outline.bounds
    width, height, sizes, place = right - left, top - bottom, guard_sizes(build), panel_of(build)[1]
    taken = tuple(sizes.taken)
    long, wide = max(width, height), min(width, height)
    yield Cut("guard panel and front", 2, long, wide, sizes.thickness, "guard", taken)
    given = build.scenario.parts.guard.strip_width
    least = None if place is None else place.least_strip
    taken = _missing("guard", strip_width=given)
    deep = given if given is not None else least
    yield Cut("guard strip", 1, strip_of(build).length, deep, sizes.thickness, "guard", taken)


def _stops(build: Build) -> Iterator[Cut]:
    for stop in catches(build):
        if stop.place.beside is Beside.NO_ROOM:
            yield Cut(f"strap beyond {stop.beyond}", 1, STOP_GAP, None, None, "assembly")
            continue
        name, sizes = f"stop beyond {stop.beyond}", (STOP_ACROSS, STOP_DEPTH, 2.0 * STOP_HALF)
        yield Cut(name, 1, *sizes, "assembly")
