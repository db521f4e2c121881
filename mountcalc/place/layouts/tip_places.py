"""Where on its plate a jack bears: on the face that it faces, or out of the plate that it is in."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from mountcalc.place.layouts.board import surface
from mountcalc.place.layouts.layouts import Layouts
from mountcalc.place.search.choices import KINDS
from mountcalc.place.search.marks import STEPS
from mountcalc.scenario.model import AdjusterKind, Scenario
from mountcalc.scenario.search import SearchSpace

__all__ = ["LEAST_STAND_OUT", "bears_on_its_side", "with_tips_out"]

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]

# By how much the fixed face under a screw through the plate stays clear of the plate's face where
# nothing is said [m] (estimate: about 1/4 in, for a tip that can be seen and a plate that flexes).
LEAST_STAND_OUT = 0.006
_ROUNDING = 1e-9  # [m]

_IN_PLATE = KINDS.index(AdjusterKind.JACK_IN_PLATE)
_LINK = KINDS.index(AdjusterKind.LINK)


def with_tips_out(layouts: Layouts, ends: Array, space: SearchSpace, scenario: Scenario) -> Layouts:
    """Layouts whose screws through the plate stand out of it as drawn so far that it clears.

    The stand-out is rounded up to what can be marked out.
    """
    if space.face_offset is not None:
        return layouts
    # As drawn the tip stands out, too, so that what is marked out can be built.
    needed = np.maximum(_leaves_at(layouts, space), _leaves_beyond(layouts, ends, space))
    step = STEPS[scenario.display]
    out = step * np.ceil((needed + LEAST_STAND_OUT - _ROUNDING) / step)
    offset = np.where(layouts.kind == _IN_PLATE, out * _ahead(layouts), layouts.offset)
    moved = offset - layouts.offset
    return replace(
        layouts,
        tip_x=layouts.tip_x + moved * layouts.normal_x,
        tip_y=layouts.tip_y + moved * layouts.normal_y,
    )


def bears_on_its_side(layouts: Layouts, ends: Array, space: SearchSpace) -> Bools:
    """Whether each jack bears on its own side of the plate all the way; a link always does."""
    ahead = _ahead(layouts)
    before = ahead * (surface(-ahead, space) - layouts.offset) >= -_ROUNDING
    clears = ahead * layouts.offset > _leaves_beyond(layouts, ends, space)
    good = np.where(layouts.kind == _IN_PLATE, clears, before)
    result: Bools = good | (layouts.kind == _LINK)
    return result


def _ahead(layouts: Layouts) -> Array:
    """+1 where a jack gets longer to the motor's side, -1 where away from it."""
    result: Array = np.sign(layouts.axis_x * layouts.normal_x + layouts.axis_y * layouts.normal_y)
    return result


def _leaves_at(layouts: Layouts, space: SearchSpace) -> Array:
    """How far before the plate's line, the way a screw gets longer, it leaves the plate [m]."""
    ahead = _ahead(layouts)
    result: Array = ahead * surface(ahead, space)
    return result


def _leaves_beyond(layouts: Layouts, ends: Array, space: SearchSpace) -> Array:
    """How far before the plate's line as drawn the screw leaves the plate, at most [m].

    With the plate's line as drawn for u and its normal, turned to the tip's side, for v, a screw
    that leaves the plate at (a, b) as drawn does so at v = a sin(phi) + b cos(phi), phi counted
    from u to v.
    """
    turn = np.sign(layouts.along_x * layouts.axis_y - layouts.along_y * layouts.axis_x)
    leaves = layouts.reach * turn * np.sin(ends) + _leaves_at(layouts, space) * np.cos(ends)
    result: Array = np.max(leaves, axis=0)
    return result
