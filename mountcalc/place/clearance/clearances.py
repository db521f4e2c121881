"""Whether many layouts clear the keep-outs through their whole travel: a cheap sure test.

Between two plate angles no point of a part moves more than its lever times the angle, so that
what was measured at both bounds the distance in between from below. Layouts that this bound does
not decide are measured at more angles; those that it never decides count as not clear, which
wrongs only those that are clear by less than `slack_of`. The final word on a few layouts is
:mod:`mountcalc.place.clearance.shapes`.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from mountcalc.place.clearance.parts import Part, Sizes, parts_of
from mountcalc.place.clearance.polygon_distance import distances
from mountcalc.place.clearance.stops import written_stops
from mountcalc.place.layouts.layouts import Layouts
from mountcalc.scenario.model import BarredPart, KeepOut, Scenario
from mountcalc.scenario.search import SearchSpace

__all__ = ["Clear", "bars", "clear", "clearing", "slack_of"]

Array = NDArray[np.float64]
Ints = NDArray[np.intp]

# Plate angles at which a part is measured; more where fewer do not decide.
_ANGLES = (5, 33, 257)
# Layouts whose parts are laid out at once, and numbers of one array while they are measured: they
# should stay in the processor's cache.
_BLOCK = 4096
_NUMBERS = 2**15
_ROUNDING = 1e-9  # [m], of a gap that is as wide as is wanted
_FAR = 1e4  # [m], as far as a scenario reaches: the clearance where nothing is to be cleared


class Clear(NamedTuple):
    """What the test says of N layouts.

    ``ok`` tells which are clear; ``first`` is the index of the first keep-out, in their order,
    that is not cleared, -1 where all are; ``least`` [m] is a lower bound of the distance of plate,
    motor, bolt and belt from all keep-outs up to that one.
    """

    ok: NDArray[np.bool_]
    first: Ints
    least: Array


def bars(keep_out: KeepOut, part: str) -> bool:
    """Whether a keep-out bars a part, by its name; room for the wrench goes with the bolt."""
    return BarredPart("bolt" if part == "wrench" else part) in keep_out.parts


def slack_of(lever: Array, swing: Array) -> Array:
    """By how much the sure test may underrate the clearance of a part."""
    result: Array = lever * np.abs(swing) / (_ANGLES[-1] - 1) / 2
    return result


def clear(
    layouts: Layouts,
    ends: tuple[Array, Array],
    keep_outs: Sequence[KeepOut],
    sizes: Sizes,
    clearance: float,
) -> Clear:
    """Test which layouts clear all keep-outs between two plate angles."""
    ok = np.ones(len(layouts), dtype=bool)
    first = np.full(len(layouts), -1, dtype=np.intp)
    least = np.full(len(layouts), _FAR)
    if not keep_outs:
        return Clear(ok, first, least)
    for start in range(0, len(layouts), _BLOCK):
        block = slice(start, start + _BLOCK)
        travel = np.stack([ends[0][block], ends[1][block]], axis=1)
        parts = parts_of(layouts.take(block), travel, sizes)
        _test_block(parts, travel, keep_outs, clearance, (ok[block], first[block], least[block]))
    return Clear(ok, first, least)


def clearing(scenario: Scenario, space: SearchSpace) -> Callable[[Layouts, Array, Array], Clear]:
    """Bind the test to what a search must clear, from stop to stop as they are written."""
    sizes = Sizes.of(scenario, space)

    def test(layouts: Layouts, install: Array, take_up: Array) -> Clear:
        ends = written_stops(install, take_up)
        return clear(layouts, ends, space.keep_outs, sizes, space.clearance)

    return test


def _test_block(
    parts: Sequence[Part],
    travel: Array,
    keep_outs: Sequence[KeepOut],
    clearance: float,
    verdicts: tuple[NDArray[np.bool_], Ints, Array],
) -> None:
    """Write the verdicts of some layouts."""
    ok, first, least = verdicts
    discs = [_bounding(part, travel) for part in parts]
    for number, keep_out in enumerate(keep_outs):
        polygon = np.asarray(keep_out.corners)
        for part, disc in zip(parts, discs, strict=True):
            if not bars(keep_out, part.name):
                continue
            needed = 0.0 if part.name == "wrench" else clearance
            chosen = np.flatnonzero(ok & part.there)
            bound = _from_box(disc, polygon, chosen)
            near = ~_enough(bound, needed)
            bound[near] = _bound(part, travel, polygon, chosen[near], needed)
            if part.name != "wrench":
                least[chosen] = np.minimum(least[chosen], np.maximum(bound, 0.0))
            failed = chosen[~_enough(bound, needed)]
            ok[failed], first[failed] = False, number


def _enough(distance: Array, needed: float) -> NDArray[np.bool_]:
    """Whether a distance will do; to touch is never enough."""
    result: NDArray[np.bool_] = (distance >= needed - _ROUNDING) & (distance > 0)
    return result


def _bounding(part: Part, travel: Array) -> tuple[Array, Array]:
    """Centres and radii of discs that hold a part through its whole travel."""
    every = np.arange(len(travel))
    corners = [piece.at(every, travel.mean(axis=1)[:, None])[:, 0] for piece in part.pieces]
    center = np.concatenate(corners, axis=1).mean(axis=1)
    reach = [
        np.hypot(*np.moveaxis(at - center[:, None], -1, 0)).max(axis=1) + piece.radius
        for at, piece in zip(corners, part.pieces, strict=True)
    ]
    return center, np.max(reach, axis=0) + part.lever * np.abs(np.diff(travel)[:, 0]) / 2


def _from_box(disc: tuple[Array, Array], polygon: Array, chosen: Ints) -> Array:
    """Distance of discs from the box about a polygon, negative where they reach into it."""
    center, radius = disc[0][chosen], disc[1][chosen]
    outside = np.maximum(np.maximum(polygon.min(axis=0) - center, center - polygon.max(axis=0)), 0)
    result: Array = np.hypot(outside[:, 0], outside[:, 1]) - radius
    return result


def _bound(part: Part, travel: Array, polygon: Array, chosen: Ints, needed: float) -> Array:
    """Lower bounds of the distance of chosen layouts' part from a polygon over their travel."""
    bound = np.zeros(len(chosen))
    undecided = np.arange(len(chosen))
    for count in _ANGLES:
        lowest = np.zeros(len(undecided))
        step = max(1, _NUMBERS // (count * len(polygon)))
        for start in range(0, len(undecided), step):
            some = slice(start, start + step)
            layouts = chosen[undecided[some]]
            apart = _measured(part, travel, polygon, layouts, count)
            measured = apart.min(axis=0)
            step_of = np.abs(np.diff(travel[layouts])[:, 0]) / (count - 1)
            moved = part.lever[layouts] * step_of
            between = (measured[:, 1:] + measured[:, :-1] - moved[:, None]) / 2
            if len(part.pieces) > 1:
                each = _between_pieces(part, layouts, _spread(travel[layouts], count), apart)
                between = np.maximum(between, each)
            lowest[some] = measured.min(axis=1)
            bound[undecided[some]] = np.minimum(between.min(axis=1), lowest[some])
        # What is too near at an angle that was measured is too near for good.
        undecided = undecided[~_enough(bound[undecided], needed) & _enough(lowest, needed)]
        if not len(undecided):
            break
    return bound


def _measured(part: Part, travel: Array, polygon: Array, layouts: Ints, count: int) -> Array:
    """Distance of a part's pieces from a polygon at so many angles, shape (pieces, n, count)."""
    angles = _spread(travel[layouts], count)
    return np.stack(
        [distances(piece.at(layouts, angles), polygon) - piece.radius for piece in part.pieces]
    )


def _spread(travel: Array, count: int) -> Array:
    result: Array = travel[:, :1] + (travel[:, 1:] - travel[:, :1]) * np.linspace(0.0, 1.0, count)
    return result


def _between_pieces(part: Part, layouts: Ints, angles: Array, apart: Array) -> Array:
    """Lower bounds between neighbouring angles, piece by piece: what stays where it is, stays."""
    step = np.abs(angles[:, 1] - angles[:, 0])
    moved = [piece.speed(layouts, angles) * step for piece in part.pieces]
    result: Array = (apart[..., 1:] + apart[..., :-1] - np.stack(moved)[..., None]).min(axis=0) / 2
    return result
