"""A placement as JSON and CSV: every key names its unit, points are [x, y]."""

from __future__ import annotations

import csv
import dataclasses
import io
import math

from mountcalc.pages.data import csv_cell, json_text
from mountcalc.place.results import PlacedLayout, Placement
from mountcalc.requirements.results import SpringBalance

__all__ = ["place_csv", "place_json"]

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
_BALANCE = (
    "spring_balance_spot",
    "spring_balance_radius_mm",
    "spring_balance_N",
    "spring_balance_new_N",
    "spring_balance_tightens",
)
_POINTS = ("hinge", "tip", "motor", "stop_at")


def place_json(placement: Placement) -> str:
    """A placement as one JSON object, ``null`` where there is nothing to say."""
    plain = {
        "title": placement.title,
        "prefer": placement.prefer.value,
        "samples": placement.samples,
        "seed": placement.seed,
        "evaluated": placement.evaluated,
        "refined": placement.refined,
        "feasible": placement.feasible,
        "why_not": {one.reason: one.count for one in placement.why_not},
        "why_not_sentences": {one.reason: one.sentence for one in placement.why_not},
        "layouts": [_layout(layout) for layout in placement.layouts],
        "notes": list(placement.notes),
    }
    return json_text(plain)


def place_csv(placement: Placement) -> str:
    """The layouts as CSV with one header line, one row each."""
    stream = io.StringIO(newline="")
    writer = csv.writer(stream)
    writer.writerow(_header())
    writer.writerows(map(csv_cell, _flat(_layout(layout)).values()) for layout in placement.layouts)
    return stream.getvalue()


def _layout(layout: PlacedLayout) -> dict[str, object]:
    """A layout with the keys and units of the outside, in the order of its fields."""
    plain: dict[str, object] = {}
    for field in dataclasses.fields(layout):
        value = getattr(layout, field.name)
        if field.name in _NUMBERS:
            key, unit = _NUMBERS[field.name]
            plain[key] = None if value is None else value / unit
        elif field.name == "spring_balance":
            plain |= _balance(value)
        elif field.name in _POINTS:
            plain[f"{field.name}_mm"] = value and [1e3 * value[0], 1e3 * value[1]]
        elif field.name == "plate_angles":
            plain["plate_angles_deg"] = {
                name: angle / _DEG for name, angle in dataclasses.asdict(value).items()
            }
        else:
            plain[field.name] = value
    return plain


def _balance(balance: SpringBalance | None) -> dict[str, object]:
    """Where to pull with a spring balance, and how much."""
    values: tuple[object, ...] = (None, None, None, None, None)
    if balance is not None:
        radius = balance.radius / 1e-3
        values = balance.spot, radius, balance.pull, balance.new_pull, balance.tightens
    return dict(zip(_BALANCE, values, strict=True))


def _flat(plain: dict[str, object]) -> dict[str, object]:
    """Points and plate angles as columns of their own."""
    flat: dict[str, object] = {}
    for key, value in plain.items():
        if key.removesuffix("_mm") in _POINTS:
            x, y = value if isinstance(value, list) else (None, None)
            name = key.removesuffix("_mm")
            flat |= {f"{name}_x_mm": x, f"{name}_y_mm": y}
        elif isinstance(value, tuple):
            flat[key] = "; ".join(value)
        elif isinstance(value, dict):
            flat |= {f"plate_angle_{name}_deg": angle for name, angle in value.items()}
        else:
            flat[key] = value
    return flat


def _header() -> list[str]:
    """Columns, which are there without a layout too."""
    columns: list[str] = []
    for field in dataclasses.fields(PlacedLayout):
        if field.name in _NUMBERS:
            columns.append(_NUMBERS[field.name][0])
        elif field.name == "spring_balance":
            columns += _BALANCE
        elif field.name in _POINTS:
            columns += [f"{field.name}_x_mm", f"{field.name}_y_mm"]
        elif field.name == "plate_angles":
            columns += [f"plate_angle_{name}_deg" for name in ("install", "snug", "set", "take_up")]
        else:
            columns.append(field.name)
    return columns
