"""The deflection test: the force that presses one belt in at mid-span.

Plain functions of SI numbers or arrays that broadcast. The deflection is given as the ratio q/t
of deflection to free span. Both shafts stay where they are; the belt is a string without bending
stiffness, which long spans are near and short stiff ones are not.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

__all__ = [
    "COARSEST_RATIO",
    "RATIOS",
    "coarsest_that_tells",
    "drowns",
    "mid_span_force",
    "stretch_over_string",
    "string_force",
]

Array = NDArray[np.float64]

# Deflections over span that are tried, coarsest first: the trade's own, then what a rule still
# reads on a span of a foot or more (estimate).
RATIOS = (1.0 / 64.0, 1.0 / 100.0, 1.0 / 128.0, 1.0 / 200.0, 1.0 / 256.0)
COARSEST_RATIO = RATIOS[0]

# A stretch part above this share of the string part drowns the tension (estimate).
_DROWNS = 1.0 / 3.0
# Shares are compared a rounding wide.
_ROUNDING = 1e-12


def string_force(tension: ArrayLike, ratio: ArrayLike) -> Array:
    """Force that deflects a string whose tension stays what it is: P = 4 T q/t.

    Parameters
    ----------
    tension : array_like [N]
        Rest tension T of one belt.
    ratio : array_like [-]
        Deflection over span, q/t, small against 1.

    Returns
    -------
    ndarray [N]
        T/16 at q/t = 1/64 (common practice): the force on a belt whose shafts give way, as
        those of a plate do that rides on the belt.
    """
    result: Array = 4.0 * np.asarray(ratio, dtype=float) * np.asarray(tension)
    return result


def stretch_over_string(
    tension: ArrayLike, stretch_stiffness: ArrayLike, span_over_length: ArrayLike, ratio: ArrayLike
) -> Array:
    """What the belt's stretch adds to the force over what its tension asks for.

    Parameters
    ----------
    tension : array_like [N]
        Rest tension T of one belt, above zero.
    stretch_stiffness : array_like [N]
        EA of one belt, force per unit strain.
    span_over_length : array_like [-]
        Free span over the length that the stretch is spread over: t/L0 where the belt creeps
        round the pulleys, 1 where it does not, 0 where the shafts give way.
    ratio : array_like [-]
        Deflection over span, q/t, small against 1.

    Returns
    -------
    ndarray [-]
        2 (EA/T) (q/t)^2 times the share, of :func:`mid_span_force` (common practice at 1/64).
    """
    strain = 2.0 * np.square(np.asarray(ratio, dtype=float)) * np.asarray(span_over_length)
    result: Array = np.asarray(stretch_stiffness) * strain / np.asarray(tension)
    return result


def mid_span_force(
    tension: ArrayLike, stretch_stiffness: ArrayLike, span_over_length: ArrayLike, ratio: ArrayLike
) -> Array:
    """Force at mid-span for any small deflection: P = 4 (q/t) (T + 2 EA (q/t)^2 (t/l)).

    Parameters
    ----------
    tension : array_like [N]
        Rest tension T of one belt.
    stretch_stiffness : array_like [N]
        EA of one belt, force per unit strain.
    span_over_length : array_like [-]
        t/l, with l the length that the stretch is spread over: t/L0 where the belt creeps round
        the pulleys, 1 where it does not, 0 where the shafts give way.
    ratio : array_like [-]
        Deflection over span, q/t, small against 1.

    Returns
    -------
    ndarray [N]
        Force on one belt; at q/t = 1/64 the P = (T + Y t/l)/16 of common practice, Y = EA/2048.

    Notes
    -----
    Pressed in by q, the span's two halves are sqrt((t/2)^2 + q^2) long: it is longer by
    sqrt(t^2 + 4 q^2) - t = 2 q^2/t, and its tension T' = T + EA (2 q^2/t)/l. Each half stands at
    an angle of sine q/sqrt((t/2)^2 + q^2) = 2 q/t, and two of them carry P = 2 T' (2 q/t). Left
    out are terms of the order of (q/t)^2: 0.05 % at 1/64.
    """
    strain = 2.0 * np.square(np.asarray(ratio, dtype=float)) * np.asarray(span_over_length)
    return string_force(np.asarray(tension) + np.asarray(stretch_stiffness) * strain, ratio)


def drowns(
    tension: ArrayLike, stretch_stiffness: ArrayLike, span_over_length: ArrayLike, ratio: ArrayLike
) -> NDArray[np.bool_]:
    """Whether the stretch part of a push is more than a third of the string part (estimate).

    Parameters
    ----------
    tension : array_like [N]
        Rest tension T of one belt, above zero.
    stretch_stiffness : array_like [N]
        As for :func:`stretch_over_string`.
    span_over_length, ratio : array_like [-]
        As for :func:`stretch_over_string`.

    Returns
    -------
    ndarray of bool [-]
        True where it is (the formula is common practice at 1/64).
    """
    share = stretch_over_string(tension, stretch_stiffness, span_over_length, ratio)
    result: NDArray[np.bool_] = share > _DROWNS * (1.0 + _ROUNDING)
    return result


def coarsest_that_tells(
    tension: float, stretch_stiffness: float, span_over_length: float
) -> tuple[float, bool]:
    """The largest of the usual deflections at which the stretch does not drown the tension.

    Parameters
    ----------
    tension : float [N]
        Rest tension T of one belt, above zero.
    stretch_stiffness : float [N]
        EA of one belt, as stiff as it may be.
    span_over_length : float [-]
        As for :func:`mid_span_force`; 1 is the worst.

    Returns
    -------
    tuple of float and bool [-]
        q/t, and whether the stretch part there is at most a third of the string part; the finest
        where it is at none (the formula is common practice at 1/64, the third an estimate).
    """
    for ratio in RATIOS:
        if not drowns(tension, stretch_stiffness, span_over_length, ratio):
            return ratio, True
    return RATIOS[-1], False
