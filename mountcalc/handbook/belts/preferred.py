"""Pulley diameters to choose from, and the pairs of them nearest to a wanted ratio of speeds."""

from __future__ import annotations

import math
from functools import lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from mountcalc.errors import InputError
from mountcalc.handbook.rows import INCH, load

__all__ = ["Pair", "preferred_diameters", "preferred_source", "pulleys_for"]

_MILLIMETRE = 0.001
# Errors of the ratio that differ by less are equal; the smaller pulleys then come first.
_SAME = 12


class Pair(NamedTuple):
    """Two pulleys by their named diameters [m], and how far their ratio is off [-].

    ``error`` is the ratio that they give over the wanted one, less one.
    """

    driving: float
    driven: float
    error: float


@lru_cache(maxsize=2)
def preferred_diameters(*, metric: bool) -> tuple[float, ...]:
    """Diameters that pulleys are made in, ascending.

    Parameters
    ----------
    metric : bool
        Datum diameters in the steps of preferred numbers; else outside diameters of inch pulleys.

    Returns
    -------
    tuple of float [m]
    """
    table = load("preferred_diameters")
    if metric:
        return tuple(number * _MILLIMETRE for number in table["metric"]["diameter_mm"])
    inch = table["inch"]
    starts, steps, last = inch["start_in"], inch["step_in"], inch["end_in"]
    rising = [
        start + index * step
        for start, step, end in zip(starts, steps, [*starts[1:], last], strict=True)
        for index in range(round((end - start) / step))
    ]
    return tuple(number * INCH for number in [*rising, last])


def preferred_source(*, metric: bool) -> str:
    """Where the diameters are from, and how sure that is.

    Parameters
    ----------
    metric : bool
        As for `preferred_diameters`.

    Returns
    -------
    str
    """
    row = load("preferred_diameters")["metric" if metric else "inch"]
    return f"{row['source']} ({row['sure']})"


def pulleys_for(
    ratio: float,
    metric: bool,  # noqa: FBT001  # which list, as for `preferred_diameters`
    least_small: float,
    largest: float,
    count: int,
    named_less_pitch: tuple[float, float] = (0.0, 0.0),
) -> tuple[Pair, ...]:
    """Pairs of preferred diameters nearest to a wanted ratio.

    Parameters
    ----------
    ratio : float [-]
        Pitch diameter of the driven pulley over that of the driving one; below one where the
        driven shaft is to turn faster.
    metric : bool
        As for `preferred_diameters`.
    least_small, largest : float [m]
        Least and greatest pitch diameter of either pulley.
    count : int
        Most pairs wanted.
    named_less_pitch : tuple of float [m]
        Named diameter less the pitch diameter, of the driving and of the driven pulley: above
        zero for grooves that are named by their outside, below for flat rims.

    Returns
    -------
    tuple of Pair
        The nearest first, the smaller first of equally near ones; empty where none is that size.

    Raises
    ------
    InputError
        A ratio or a count that is not above zero.
    """
    if not 0.0 < ratio < math.inf or count < 1:
        raise InputError("pulleys are chosen for a ratio and a number of pairs above zero")
    driving_less_pitch, driven_less_pitch = named_less_pitch
    driving = _sizes(least_small, largest, driving_less_pitch, metric=metric)
    driven = _sizes(least_small, largest, driven_less_pitch, metric=metric)
    pitches = driven - driven_less_pitch, driving - driving_less_pitch
    error = (pitches[0][np.newaxis, :] / pitches[1][:, np.newaxis] / ratio - 1.0).ravel()
    together = np.add.outer(driving, driven).ravel()
    order = np.lexsort((together, np.round(np.abs(error), _SAME)))[:count]
    first, second = np.divmod(order, max(1, driven.size))
    return tuple(
        Pair(float(driving[one]), float(driven[other]), float(error[at]))
        for one, other, at in zip(first, second, order, strict=True)
    )


def _sizes(
    least: float, largest: float, named_less_pitch: float, *, metric: bool
) -> NDArray[np.float64]:
    """Preferred diameters whose pitch diameters are within a range, a rounding wide."""
    sizes = np.array(preferred_diameters(metric=metric))
    pitch, slack = sizes - named_less_pitch, 1e-9 * sizes
    inside = (pitch >= least - slack) & (pitch <= largest + slack)
    kept: NDArray[np.float64] = sizes[inside & (pitch > 0)]
    return kept
