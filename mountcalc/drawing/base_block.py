"""The block that an adjuster meets where the base cannot be one board with it."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from mountcalc.drawing.baselines import Baseline, Run, baselines
from mountcalc.drawing.bench_lengths import bench_length
from mountcalc.drawing.board_sheet import FIRST
from mountcalc.drawing.callouts import callouts
from mountcalc.drawing.model import Ink, Item, Path, Point
from mountcalc.drawing.template_sizes import template_size
from mountcalc.scenario.model import Display, Scenario

__all__ = ["Block", "block_items", "block_note", "block_of"]

_METAL = 2.0  # half a block over the metal around a bolt's tip (estimate)
_SAW = 0.004  # between strip and block where they come near [m]


@dataclass(frozen=True, slots=True)
class Block:
    """A block on the strip's sheet, at its distance from the strip; all [m].

    Attributes
    ----------
    left, bottom, right, top : float
        From the corner where the strip's datum edges meet.
    meets : Point
        Where the adjuster meets it.
    """

    left: float
    bottom: float
    right: float
    top: float
    meets: Point

    def size(self, display: Display) -> str:
        """Width and height in words."""
        return (
            f"{bench_length(self.right - self.left, display)} x "
            f"{bench_length(self.top - self.bottom, display)}"
        )


def block_of(
    scenario: Scenario, meets: Point, reach: tuple[float, float], strip_top: float
) -> Block:
    """The block around where the adjuster meets the base.

    Parameters
    ----------
    scenario : Scenario
        The mount with its parts.
    meets : Point [m]
        Where they meet as the belt is snug.
    reach : tuple of float [m]
        Between which heights they meet from install to take-up.
    strip_top : float [m]
        The strip's far edge.

    Returns
    -------
    Block
    """
    half = _METAL * template_size(scenario, "pad").value
    bottom = max(reach[0] - half, strip_top + _SAW)
    return Block(meets[0] - half, bottom, meets[0] + half, reach[1] + half, meets)


def block_items(
    block: Block,
    parts: tuple[Item, ...],
    told: tuple[tuple[Point, ...], str],
    width: float,
    display: Display,
) -> Iterator[Item]:
    """The block with its own dimensions and names.

    Parameters
    ----------
    block : Block
        The block.
    parts : tuple of Item
        What is made in it.
    told : tuple of Point [m] and str
        Where the adjuster meets it, and what it does there.
    width : float [m]
        Of the strip: names stay within it, so that they cost no sheet.
    display : Display
        Units of the texts.

    Yields
    ------
    Item
        Its outline, and dimensions from its left and its lower edge.
    """
    left, bottom, right, top = block.left, block.bottom, block.right, block.top
    corners = ((left, bottom), (right, bottom), (right, top), (left, top))
    across = Baseline(Run.ACROSS, (left, top), top + FIRST, 1, 1.0, display)
    up = Baseline(Run.UP, (right, bottom), right + FIRST, 1, 1.0, display)
    drawn: list[Item] = [
        Path(corners, closed=True, ink=Ink.CUT),
        *baselines(across, [block.meets, (right, top)]),
        *baselines(up, [block.meets, (right, top)]),
    ]
    yield from drawn
    around = (0.0, bottom - FIRST, width, top + FIRST)
    words = [(corners, f"block, {block.size(display)}"), told]
    yield from callouts(words, (*parts, *drawn), 1.0, around)


def block_note(block: Block, display: Display) -> str:
    """How strip and block go together.

    Parameters
    ----------
    block : Block
        The block.
    display : Display
        Units of the bench.

    Returns
    -------
    str
        Sentences.
    """
    across, up = (bench_length(one, display) for one in block.meets)
    return (
        "Strip and block are two pieces, drawn as far from each other as they stand: where the "
        f"adjuster meets the block is {up} above the strip's hinged edge and {across} from its "
        f"upright datum edge. The block's size, {block.size(display)}, is an estimate. Fix it to "
        "the frame from beside or above, so that nothing stands between it and the hinge where "
        "the motor swings."
    )
