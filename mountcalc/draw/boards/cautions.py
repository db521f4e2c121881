"""What does not fit on a board, or does not fit together with what else the scenario says."""

from __future__ import annotations

from collections.abc import Iterator

from mountcalc.draw.boards.foot_slots import FootSlot
from mountcalc.draw.boards.plate_adjuster import Meeting
from mountcalc.draw.boards.sheet import Board
from mountcalc.draw.boards.sizes import template_size
from mountcalc.draw.build import Build
from mountcalc.pages.bench_lengths import bench_length

__all__ = ["plate_cautions", "screw_cautions"]


def plate_cautions(
    build: Build, board: Board, slots: tuple[FootSlot, ...], meeting: Meeting | None
) -> tuple[str, ...]:
    """What does not fit on the plate."""
    return (
        *_misfits(build, board, slots, meeting),
        *screw_cautions(build, build.scenario.parts.plate.thickness, "plate"),
    )


def screw_cautions(build: Build, thickness: float | None, board: str) -> tuple[str, ...]:
    """Warn of hinge screws that come out of a board's other face."""
    screw = build.scenario.parts.hinges.screw
    taken = template_size(build.scenario, "thickness").value
    thick = taken if thickness is None else thickness
    if screw is None or screw.length is None or screw.length <= thick:
        return ()
    told = bench_length(thick, build.display)
    return (
        f"The hinge's screws, {screw.name}, are longer than the {board} is "
        f"{'taken ' if thickness is None else ''}thick, {told}: they come out of its other face.",
    )


def _misfits(
    build: Build, board: Board, slots: tuple[FootSlot, ...], meeting: Meeting | None
) -> Iterator[str]:
    display, edge = build.display, board.hinges.edge
    for slot in slots:
        x, y = slot.centre
        half = 0.5 * slot.length
        if not (half < x < board.width - half and 0 < y - 0.5 * slot.width < y < board.length):
            yield "The motor's feet do not stand on the plate as it is: change its size."
            break
    if slots and min(slot.centre[1] - slot.width for slot in slots) < board.leaves[0].depth:
        yield "The motor's feet come over the leaves of the hinges: sink their screws."
    if meeting is not None and not edge < meeting.low <= meeting.high < board.length + edge:
        places = " to ".join(
            dict.fromkeys(bench_length(one - edge, display) for one in (meeting.low, meeting.high))
        )
        yield f"The adjuster meets the plate {places} from the hinged edge: off the board as it is."
    if board.hinges.number * board.hinges.leaf_length > board.width:
        yield "The hinges do not fit side by side on the board: change their number or its width."
    thickness = build.scenario.parts.plate.thickness
    if thickness is not None and board.hinges.mortise >= thickness:
        yield "The leaves would be let in through the whole board."
