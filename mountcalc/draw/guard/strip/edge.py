"""The strip that is bent round a panel's edge: how long it is, and its relief cuts.

Saw cuts square to the strip, on its inside, leave a skin that bends. A cut turns the strip by the
angle at which its walls meet; the strip keeps its length in the middle of the skin. All of it is
plane geometry; that strips are so bent is common practice.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from mountcalc.draw.guard.disc_hull import Outline

__all__ = ["Bend", "Cuts", "bend", "strip_length"]

_ROUNDING = 1e-9


@dataclass(frozen=True, slots=True)
class Cuts:
    """Relief cuts: width of the saw's ``kerf``, ``thickness`` of the strip, ``skin`` left [m]."""

    kerf: float
    thickness: float
    skin: float

    @property
    def neutral(self) -> float:
        """From the inside to the middle of the skin [m], t - s/2, which keeps its length."""
        return self.thickness - 0.5 * self.skin

    @property
    def closing_angle(self) -> float:
        """Turn of the strip [rad] at one cut when its walls meet: theta = k / (t - s/2).

        The skin over the cut bends to an arc whose middle keeps its length k, on a radius
        k / theta; the walls stand along radii and meet where that is t - s/2.
        """
        return self.kerf / self.neutral

    def closing_spacing(self, radius: float) -> float:
        """Spacing at which cuts close just as the strip lies on a round edge."""
        return self.kerf + 2.0 * radius * math.tan(0.5 * self.closing_angle)

    def mouth(self, turn: float) -> float:
        """What is left open of a cut at the strip's inside."""
        return self.kerf - turn * self.neutral


@dataclass(frozen=True, slots=True)
class Bend:
    """Relief cuts for one arc of a panel's edge.

    Attributes
    ----------
    radius : float [m]
        Of the panel's edge, on which the strip lies.
    turn : float [rad]
        By which the strip is bent.
    fewest : int
        Cuts that just close, or nearly.
    cuts : int
        How many to make: more than the fewest where the strip would stand off the edge.
    spacing : float [m]
        From the middle of one to that of the next, on the strip while it is straight.
    length : float [m]
        Of strip that goes round, in the middle of its skin.
    """

    radius: float
    turn: float
    fewest: int
    cuts: int
    spacing: float
    length: float


def bend(radius: float, turn: float, cuts: Cuts, facet: float) -> Bend:
    """Relief cuts that take a strip round one arc."""
    # Facets of a polygon round the edge stand off at its corners by R / cos(theta/2) - R.
    flat = 2.0 * math.acos(radius / (radius + facet))
    fewest = _count(turn, cuts.closing_angle)
    number = max(fewest, _count(turn, flat))
    length = (radius + cuts.neutral) * turn
    return Bend(radius, turn, fewest, number, length / number, length)


def _count(turn: float, each: float) -> int:
    return max(1, math.ceil(turn / each - _ROUNDING))


def strip_length(edge: Outline, neutral: float) -> float:
    """Length of a strip round a convex edge: P + 2 pi d."""
    return edge.perimeter + math.tau * neutral
