"""What is said of a bolt's hole in a board: how it leans, and what the bolt turns in."""

from __future__ import annotations

from mountcalc.draw.boards.bolt_hole import BLOCK_DEPTH, drawn_diameter
from mountcalc.draw.boards.sizes import template_size
from mountcalc.draw.build import Build
from mountcalc.pages.bench_lengths import bench_length
from mountcalc.scenario.model import Acts, AdjusterKind

__all__ = ["bolt_words"]

_AS_GOOD_AS_SQUARE = 0.4e-3  # [m] from face to face: half of what a rule shows
# Pushing, the tip drives the nut back along the bolt; pulling is the other way round.
_BEARS = {
    Acts.PUSH: "on the side that the bolt's tip comes out of, so that the thrust presses it on",
    Acts.PULL: "on the side of the bolt's head, so that the pull presses it on",
    Acts.BOTH: "on both sides, since the bolt pushes and pulls",
}


def bolt_words(build: Build, tangent: float, board: str) -> tuple[str, ...]:
    """Say how a bolt's hole stands in a board, and where its thread is."""
    acts = build.scenario.adjuster.acts or Acts.PUSH
    words = [
        _lean(build, tangent, board),
        "The hole is for the bolt to pass and holds no thread: the bolt turns in a nut, a threaded "
        f"insert or a tapped metal plate, fixed to the {board} so that it cannot turn, "
        f"{_BEARS[acts]} (common practice).",
    ]
    if build.scenario.adjuster.kind is AdjusterKind.JACK_IN_BASE:
        depth = bench_length(_depth(build), build.display)
        words.append(f"Along the bolt, what carries it is taken {depth} thick (estimate).")
    return tuple(words)


def _lean(build: Build, tangent: float, board: str) -> str:
    """Rise over run through the board, as it is laid out on both faces."""
    depth = _depth(build)
    off = abs(tangent) * depth
    if off < _AS_GOOD_AS_SQUARE:
        return f"The bolt's hole is square to the {board}."
    # The viewer looks onto the face: deeper in, the axis has gone the other way.
    way = "nearer the hinge" if tangent > 0 else "further from the hinge"
    display = build.display
    return (
        f"The bolt's hole is not square: through {bench_length(depth, display)} of the {board} it "
        f"comes out {bench_length(off, display)} {way} than it goes in here; bore from this face "
        "with a guide."
    )


def _depth(build: Build) -> float:
    """How long the hole is: through the plate, or through what carries the bolt [m]."""
    if build.scenario.adjuster.kind is AdjusterKind.JACK_IN_BASE:
        return BLOCK_DEPTH * drawn_diameter(build.scenario.adjuster)
    thickness = build.scenario.parts.plate.thickness
    return template_size(build.scenario, "thickness").value if thickness is None else thickness
