"""Trumpler's criteria for a plain bearing that is to run on a full film."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

__all__ = [
    "DESIGN_FACTOR",
    "START_UP_PRESSURE",
    "Criterion",
    "least_film",
    "minimum_film_criterion",
    "start_up_criterion",
]

Array = NDArray[np.float64]

_INCH = 0.0254
_PSI = 4.4482216152605 / _INCH**2

# 0.00020 in + 0.00004 d (from memory). The slope is one length over another, so it has no unit
# to convert; a translated edition that gives it as 1.016 mm/mm is in error.
_FILM_FLOOR = 0.00020 * _INCH
_FILM_SLOPE = 0.00004

# A load that stands on the journal before it turns (read in print).
START_UP_PRESSURE = 300.0 * _PSI

# The film criterion is to hold at this many times the running load (from memory).
DESIGN_FACTOR = 2.0


@dataclass(frozen=True, slots=True)
class Criterion:
    """A value beside its limit, both in one unit; ``share`` above 1 does not meet it.

    Attributes
    ----------
    value : float [m or Pa]
        What is.
    limit : float [m or Pa]
        What is wanted at least or at most.
    share : float [-]
        Value over limit where the limit is a greatest, limit over value where it is a least.
    source : str
        Where the limit is from.
    """

    value: float
    limit: float
    share: float
    source: str

    @property
    def met(self) -> bool:
        """Whether the value keeps within its limit."""
        return self.share <= 1.0


def least_film(diameter: ArrayLike) -> Array:
    """Least film that lets the debris of running-in pass: h0 = 0.00020 in + 0.00004 d.

    Parameters
    ----------
    diameter : array_like [m]
        Journal diameter d.

    Returns
    -------
    ndarray [m]
        h0, 0.00508 mm + 0.00004 d (Trumpler, in Shigley, Machine Design, ch. 12; from memory).
    """
    result: Array = _FILM_FLOOR + _FILM_SLOPE * np.asarray(diameter, dtype=float)
    return result


def minimum_film_criterion(film: float, diameter: float) -> Criterion:
    """Judge the thinnest film against Trumpler's least.

    Parameters
    ----------
    film : float [m]
        Thinnest film h0, above zero, at the running load; by Trumpler's design factor also at
        twice that.
    diameter : float [m]
        Journal diameter d.

    Returns
    -------
    Criterion [m]
        Film, least film, least film over film (Trumpler, in Shigley, Machine Design, ch. 12; from
        memory).
    """
    limit = float(least_film(diameter))
    return Criterion(film, limit, limit / film, "Trumpler's criteria, Shigley ch. 12 (from memory)")


def start_up_criterion(pressure: float) -> Criterion:
    """Judge the load that stands on the journal as it starts to turn.

    Parameters
    ----------
    pressure : float [Pa]
        Projected pressure at rest.

    Returns
    -------
    Criterion [Pa]
        Pressure, 300 psi (2068 kPa), share (Trumpler, in Shigley, Machine Design, ch. 12).
    """
    return Criterion(
        pressure,
        START_UP_PRESSURE,
        pressure / START_UP_PRESSURE,
        "Trumpler's criteria, Shigley ch. 12",
    )
