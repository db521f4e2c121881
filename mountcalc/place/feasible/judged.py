"""What the judge says of layouts: a reason for each, and the measures of those that will do."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, fields
from typing import TypeVar

import numpy as np
from numpy.typing import NDArray

from mountcalc.place.feasible.reasons import Reason, reason_name
from mountcalc.place.layouts.layouts import Layouts
from mountcalc.scenario.model import KeepOut

__all__ = ["Judged", "Measures"]

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Measures:
    """What is known of layouts that will do, one entry each.

    Plate angles [rad] at ``install``, ``snug``, ``zero`` (where turns are counted from; ``contact``
    where that is not snug), ``loose``, ``set`` and ``tight`` (a hand's error apart) and
    ``take_up``. ``set_turns`` [-]; ``of_weight`` where weight alone gives the wanted grip.
    Tensions [N] of one strand at rest, ``set_tension`` and ``tension_per_turn``, and
    ``tension_per_length`` [N/m] of bolt. ``grip_low`` [-] is the grip where it is loose;
    ``worst_share`` [-] of a bearing's limit at the set point, ``worst_share_tight`` over the
    hand's error; ``adjuster`` and ``hinge`` [N] at rest at the set point, compression positive;
    ``adjuster_most`` and ``hinge_most`` [N], sizes, over all cases and the hand's error.
    ``bolt_travel`` [m] between install and take-up; ``clearance`` [m], NaN where nothing was to
    be cleared.
    """

    install: Array
    snug: Array
    zero: Array
    loose: Array
    set: Array
    tight: Array
    take_up: Array
    contact: NDArray[np.bool_]
    of_weight: NDArray[np.bool_]
    set_turns: Array
    set_tension: Array
    tension_per_turn: Array
    tension_per_length: Array
    grip_low: Array
    worst_share: Array
    worst_share_tight: Array
    adjuster: Array
    adjuster_most: Array
    hinge: Array
    hinge_most: Array
    bolt_travel: Array
    clearance: Array

    def take(self, which: NDArray[np.intp] | NDArray[np.bool_]) -> Measures:
        """Those of some layouts."""
        return Measures(*(getattr(self, field.name)[which] for field in fields(self)))


@dataclass(frozen=True, slots=True)
class Judged:
    """Every layout's ``reason`` code, and of the feasible ones place, layout and measures.

    ``kept`` are the indices of the feasible ones among all, increasing.
    """

    reason: NDArray[np.uint8]
    kept: NDArray[np.intp]
    layouts: Layouts
    measures: Measures

    def why_not(self, keep_outs: Sequence[KeepOut] = ()) -> dict[str, int]:
        """How many layouts fail for each reason, those with none left out."""
        counts = np.bincount(self.reason)
        return {
            reason_name(code, keep_outs): int(count)
            for code, count in enumerate(counts)
            if count and code != Reason.FEASIBLE
        }

    @staticmethod
    def joined(parts: Sequence[Judged]) -> Judged:
        """The verdicts of parts that follow each other as one."""
        starts = np.cumsum([0, *(part.reason.size for part in parts[:-1])])
        return Judged(
            np.concatenate([part.reason for part in parts]),
            np.concatenate([part.kept + start for part, start in zip(parts, starts, strict=True)]),
            _joined([part.layouts for part in parts]),
            _joined([part.measures for part in parts]),
        )


_Columns = TypeVar("_Columns", Layouts, Measures)


def _joined(parts: Sequence[_Columns]) -> _Columns:
    """Columns of parts, end to end."""
    whole = (
        np.concatenate([getattr(part, field.name) for part in parts]) for field in fields(parts[0])
    )
    return type(parts[0])(*whole)
