"""Heights as they are drawn where stretches between the parts are left out, or drawn longer."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

__all__ = ["Break", "HeightScale", "empty_stretches"]


@dataclass(frozen=True, slots=True)
class Break:
    """A stretch that is not drawn to scale.

    Attributes
    ----------
    low, high : float [m]
        Its true ends.
    shown : float [m]
        How long it is drawn, above zero.
    """

    low: float
    high: float
    shown: float

    @property
    def left_out(self) -> float:
        """How much shorter it is drawn [m]; below zero where longer."""
        return self.high - self.low - self.shown


@dataclass(frozen=True, slots=True)
class HeightScale:
    """True heights to drawn ones and back; what stands above all breaks is drawn where it is.

    Attributes
    ----------
    breaks : tuple of Break
        From the top down; none overlaps another.
    """

    breaks: tuple[Break, ...] = ()

    def drawn(self, height: float) -> float:
        """Where a true height [m] is drawn [m]."""
        at = height
        for one in self.breaks:
            share = (one.high - height) / (one.high - one.low)
            at += min(1.0, max(0.0, share)) * one.left_out
        return at

    def actual(self, drawn: float) -> float:
        """Which true height [m] is drawn at a height [m]."""
        moved = 0.0
        for one in self.breaks:
            below_top = one.high + moved - drawn
            if below_top <= 0:
                break
            if below_top < one.shown:
                return one.high - (one.high - one.low) * below_top / one.shown
            moved += one.left_out
        return drawn - moved

    def below(self, one: Break) -> HeightScale:
        """The same with one break more, below all others."""
        return HeightScale((*self.breaks, one))


def empty_stretches(
    taken: Iterable[tuple[float, float]], shown: float, air: float
) -> tuple[Break, ...]:
    """The stretches between what stands at some heights that are worth leaving out."""
    found, top = [], None
    for low, high in sorted(taken, key=lambda ends: -max(ends)):
        if top is not None and top - high > 2 * (air + shown):
            found.append(Break(high + air, top - air, shown))
        top = low if top is None else min(top, low)
    return tuple(found)
