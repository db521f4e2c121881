"""Results of a search for layouts: how many will do, why the others will not, and the best.

Immutable, SI units, ``None`` where there is nothing to say and never NaN. The keys and units
of every field in JSON and CSV stand in :mod:`mountcalc.place.data`.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from mountcalc.requirements.results import SpringBalance

__all__ = ["Advance", "PlacedLayout", "Placement", "PlateAngles", "Prefer", "WhyNot"]

Vector = tuple[float, float]


class Prefer(StrEnum):
    """By what layouts are ranked."""

    FINE = "fine"
    COMPACT = "compact"
    LIGHT_BOLT = "light-bolt"


@dataclass(frozen=True, slots=True)
class PlateAngles:
    """Plate angles [rad] from as drawn: a new belt goes on, snug, set, fully taken up."""

    install: float
    snug: float
    set: float
    take_up: float


@dataclass(frozen=True, slots=True)
class PlacedLayout:
    """A layout that will do, its dimensions rounded to what can be marked out, then solved.

    Points [m] are in the frame of the scenario. ``reach`` [m] is from the hinge to where the
    adjuster bears, along the plate, ``motor_foot`` [m] to below the motor's shaft, and
    ``motor_height`` [m] from the plate's face up to that shaft. ``tension_per_mm`` [N/m] of bolt
    and ``tension_per_turn`` [N] say how fine it is; ``worst_share_of_limit`` is a bearing's over
    the hand's error, ``grip_low`` the grip where the hand has missed on the loose side.
    ``adjuster`` (compression positive) and ``hinge`` [N] are at rest at the set point,
    ``adjuster_most`` and ``hinge_most`` [N] sizes over all cases. ``clearance`` [m] is to the
    nearest keep-out, None without one; ``fall`` [m] is how far the motor's shaft drops when the
    belt breaks, ``falls_onto`` what stops it, ``stop_at`` [m] where a stop must be. ``of_weight``
    says that weight alone gives the tension. ``turns_can_be_trusted``, ``turns_why_not`` and
    ``spring_balance`` are those of its setting. ``scenario_file`` is None unless it was written.
    """

    rank: int
    hinge: Vector
    tip: Vector
    motor: Vector
    reach: float
    motor_foot: float
    motor_height: float
    kind: str
    acts: str
    thread: str
    belt: str
    motor_side: str
    plate_angles: PlateAngles
    set_turns: float
    set_tension: float
    tension_per_turn: float
    tension_per_mm: float
    worst_share_of_limit: float
    grip_low: float | None
    adjuster: float
    adjuster_most: float
    hinge_load: float
    hinge_most: float
    plate_length: float
    bolt_travel: float
    clearance: float | None
    nearest: str | None
    fall: float
    falls_onto: str
    stop_at: Vector | None
    of_weight: bool
    turns_can_be_trusted: bool
    turns_why_not: tuple[str, ...]
    spring_balance: SpringBalance | None
    pareto: bool
    scenario_file: str | None = None


@dataclass(frozen=True, slots=True)
class WhyNot:
    """How many layouts failed first for a reason, and what would let more of them through.

    ``lift`` [-] is how many times as many will do with what the sentence says at last, infinite
    where none do without, 0 where nothing is told.
    """

    reason: str
    count: int
    sentence: str
    lift: float = 0.0


@dataclass(frozen=True, slots=True)
class Advance:
    """How far a search has come: its share [-] of the time, layouts tried, how many will do."""

    share: float
    tried: int
    feasible: int


@dataclass(frozen=True, slots=True)
class Placement:
    """What a search found: ``evaluated`` layouts tried, ``feasible`` of them will do.

    ``layouts`` are the best by ``prefer``, the best first, and what else is on the Pareto front
    over fineness, worst share of a bearing's limit, adjuster force and plate length. ``refined``
    layouts were tried besides, near the best ones.
    """

    title: str
    prefer: Prefer
    samples: int
    seed: int
    evaluated: int
    refined: int
    feasible: int
    why_not: tuple[WhyNot, ...]
    layouts: tuple[PlacedLayout, ...]
    notes: tuple[str, ...]
