"""The first turn at which something is reached."""

from __future__ import annotations

from collections.abc import Callable

import numpy as np
from numpy.typing import NDArray

from mountcalc.equilibrium.roots import bracketed_roots
from mountcalc.equilibrium.states import State
from mountcalc.requirements.promises import Promises

__all__ = ["first_reach", "free_turns"]

Array = NDArray[np.float64]

_SAMPLES = 257
_LEVELS = 2
_FEW = 17
# Past this many times what is wanted, how much more makes no difference to a crossing.
_FAR = 10.0


def first_reach(
    function: Callable[[Array], Array], last: float, first: float = 0.0
) -> float | None:
    """Fewest turns from ``first`` to ``last`` at which a function reaches 1, or None."""
    low, high = first, last
    for _ in range(_LEVELS):
        turns = np.linspace(low, high, _SAMPLES)
        reached = np.flatnonzero(function(turns) >= 1.0)
        if reached.size == 0:
            return None
        index = int(reached[0])
        if index == 0:
            return float(turns[0])
        low, high = float(turns[index - 1]), float(turns[index])
    root = bracketed_roots(
        lambda turns: np.minimum(function(turns), _FAR) - 1.0, np.array([low]), np.array([high])
    )
    return float(root[0])


def free_turns(promises: Promises) -> float | None:
    """Turns at which an adjuster that holds the plate back comes free, or None."""
    way = promises.solved

    def rides(turns: Array) -> Array:
        rest = way.case(way.place(turns), way.demands["rest"], with_grip=False)
        return np.where((rest.state == State.RIDING) & (turns > 0), np.inf, 0.0)

    last = promises.last_turn
    return first_reach(rides, last) if rides(np.linspace(0.0, last, _FEW)).any() else None
