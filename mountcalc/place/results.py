"""Results of a search for layouts: how many will do, why the others will not, and the best.

Immutable, SI units, ``None`` where there is nothing to say and never NaN. In JSON and CSV
every key names its unit, and points are [x, y].
"""

from __future__ import annotations

import csv
import io
import math
from typing import Any

from mountcalc.console.choices import Prefer
from mountcalc.pages.as_json import Result, as_plain, csv_cell
from mountcalc.record import Record
from mountcalc.requirements.results import Method, SpringBalance

Vector = tuple[float, float]

_DEG = math.radians(1.0)
# Fields that are numbers [SI]: their key outside, and the SI value of one of its unit.
_NUMBERS = {
    "reach": ("reach_mm", 1e-3),
    "motor_foot": ("motor_foot_mm", 1e-3),
    "motor_height": ("motor_height_mm", 1e-3),
    "set_turns": ("set_turns", 1.0),
    "set_tension": ("set_tension_N", 1.0),
    "tension_per_turn": ("tension_per_turn_N", 1.0),
    "tension_per_mm": ("tension_per_mm_N", 1e3),
    "worst_share_of_limit": ("worst_share_of_limit", 1.0),
    "grip_low": ("grip_low", 1.0),
    "adjuster": ("adjuster_N", 1.0),
    "adjuster_most": ("adjuster_most_N", 1.0),
    "hinge_load": ("hinge_N", 1.0),
    "hinge_most": ("hinge_most_N", 1.0),
    "plate_length": ("plate_length_mm", 1e-3),
    "bolt_travel": ("bolt_travel_mm", 1e-3),
    "clearance": ("clearance_mm", 1e-3),
    "fall": ("fall_mm", 1e-3),
}
_BUILDS = ("kept", "open", "goes_on", "takes_up", "kept_wider")  # shares of builds
_BALANCE = (
    "spring_balance_spot",
    "spring_balance_radius_mm",
    "spring_balance_N",
    "spring_balance_new_N",
    "spring_balance_tightens",
)
_POINTS = ("hinge", "tip", "motor", "stop_at")


class PlateAngles(Record):
    """Plate angles [rad] from as drawn: a new belt goes on, snug, set, fully taken up."""

    install: float
    snug: float
    set: float
    take_up: float


class KeptBuilds(Record):
    """Shares of a layout's builds [-]: that keep all, and each for itself.

    Their range is ``open`` with its zero in the travel, a new belt ``goes_on``, and can be taken
    up when it has stretched. ``kept_wider`` keep all with each stop of the plate 3 deg further.
    """

    kept: float
    open: float
    goes_on: float
    takes_up: float
    kept_wider: float

    @property
    def percent(self) -> int:
        """How many in a hundred keep all, as it is told and ranked by."""
        return whole_percent(self.kept)


def whole_percent(share: float) -> int:
    """A share in whole per cents: none or all only where it is."""
    return round(100 * share) if share in {0.0, 1.0} else min(max(round(100 * share), 1), 99)


class PlacedLayout(Record):
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
    ``spring_balance`` are those of its setting, as are its ``methods``, the one to go by first,
    which JSON and CSV leave to the command setting. ``scenario_file`` is None unless it was
    written, ``builds`` unless they were asked for.
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
    methods: tuple[Method, ...] = ()
    span: float | None = None  # of a strand at rest, set
    builds: KeptBuilds | None = None


class WhyNot(Record):
    """How many layouts failed first for a reason, and what would let more of them through.

    ``lift`` [-] is how many times as many will do with what the sentence says at last, infinite
    where none do without, 0 where nothing is told.
    """

    reason: str
    count: int
    sentence: str
    lift: float = 0.0


class Advance(Record):
    """How far a search has come: its share [-] of the time, layouts tried, how many will do."""

    share: float
    tried: int
    feasible: int


class Placement(Result, Record):
    """What a search found: ``evaluated`` layouts tried, ``feasible`` of them will do.

    ``layouts`` are the best by ``prefer``, the best first, and what else is on the Pareto front
    over sensitivity, worst share of a bearing's limit, adjuster force and plate length. ``refined``
    layouts were tried besides, near the best ones. Where it is asked for, ``builds`` of each were
    drawn, and those layouts lead of which most keep all that is promised.
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
    builds: int | None = None

    def _plain(self) -> dict[str, object]:
        return {
            "title": self.title,
            "prefer": self.prefer.value,
            "samples": self.samples,
            "seed": self.seed,
            "evaluated": self.evaluated,
            "refined": self.refined,
            "feasible": self.feasible,
            "builds": self.builds,
            "why_not": {one.reason: one.count for one in self.why_not},
            "why_not_sentences": {one.reason: one.sentence for one in self.why_not},
            "layouts": [_plain(layout) for layout in self.layouts],
            "notes": list(self.notes),
        }


def place_csv(placement: Placement) -> str:
    """The layouts as CSV with one header line, which is there without a layout too."""
    stream = io.StringIO(newline="")
    writer = csv.writer(stream)
    nothing: Any = dict.fromkeys(PlacedLayout.__match_args__)
    nothing["plate_angles"] = PlateAngles(0.0, 0.0, 0.0, 0.0)
    writer.writerow(_flat(PlacedLayout(**nothing)))
    writer.writerows(map(csv_cell, _flat(layout).values()) for layout in placement.layouts)
    return stream.getvalue()


def _plain(layout: PlacedLayout) -> dict[str, object]:
    """A layout with the keys and units of the outside, in the order of its fields."""
    plain: dict[str, object] = {}
    for name in layout.__match_args__:
        value = getattr(layout, name)
        if name in _NUMBERS:
            key, unit = _NUMBERS[name]
            plain[key] = None if value is None else value / unit
        elif name == "spring_balance":
            found = value and (
                value.spot, value.radius / 1e-3, value.pull, value.new_pull, value.tightens
            )  # fmt: skip
            plain |= zip(_BALANCE, found or [None] * len(_BALANCE), strict=True)
        elif name in _POINTS:
            plain[f"{name}_mm"] = value and [1e3 * value[0], 1e3 * value[1]]
        elif name == "plate_angles":
            angles = ((one, getattr(value, one) / _DEG) for one in value.__match_args__)
            plain["plate_angles_deg"] = dict(angles)
        elif name == "builds":
            plain |= {f"builds_{one}": value and getattr(value, one) for one in _BUILDS}
        elif name not in {"methods", "span"}:
            plain[name] = as_plain(value)
    return plain


def _flat(layout: PlacedLayout) -> dict[str, object]:
    """The same with points and plate angles as columns of their own."""
    flat: dict[str, object] = {}
    for key, value in _plain(layout).items():
        name = key.removesuffix("_mm")
        if name in _POINTS:
            x, y = value if isinstance(value, list) else (None, None)
            flat |= {f"{name}_x_mm": x, f"{name}_y_mm": y}
        elif isinstance(value, list):
            flat[key] = "; ".join(value)
        elif isinstance(value, dict):
            flat |= {f"plate_angle_{name}_deg": angle for name, angle in value.items()}
        else:
            flat[key] = value
    return flat
