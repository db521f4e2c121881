"""What the layout's parts are called, and where each name points."""

from __future__ import annotations

import math

import numpy as np

from mountcalc.drafting.names.figure import Label
from mountcalc.layout.parts import Pen
from mountcalc.layout.results import Layout, Link, Pose, Screw
from mountcalc.pages.display import DisplayUnits
from mountcalc.pages.plot_style import BELT, LIMIT, turns_words
from mountcalc.scenario.model import AdjusterKind, Vector

__all__ = ["angle_text", "layout_labels", "pose_name"]


def pose_name(pose: Pose) -> str:
    """What a pose is called in the picture."""
    if not pose.turns:
        return pose.name
    return turns_words(pose.turns)


def angle_text(pose: Pose) -> str:
    """Its plate angle in degrees."""
    degrees = round(math.degrees(pose.plate_angle), 2) + 0.0  # no minus before a zero
    return f"{degrees:.2f}°".replace("-", "−")


def _pixels(pen: Pen, at: Vector) -> tuple[float, float]:
    x, y = pen.axes.transData.transform(pen.at(at))
    return float(x), float(y)


def layout_labels(
    pen: Pen, layout: Layout, units: DisplayUnits, load_tip: Vector | None
) -> list[Label]:
    """All labels of the layout's parts, at their places in the figure [pixels]."""
    labels = [*_strand_labels(pen, layout), *_plate_labels(pen, layout)]
    labels += _pulley_labels(pen, layout, units)
    if load_tip is not None and layout.shaft_load is not None:
        force = units.strength(math.hypot(*layout.shaft_load))
        pose = layout.other or layout.zero
        at = "running" if pose.turns is None else f"running, {pose_name(pose)}"
        text = f"belt pull on the shaft:\n{force} {units.force} ({at})"
        labels.append(Label(text, _pixels(pen, load_tip), colour=LIMIT))
    labels += _adjuster_labels(pen, layout)
    labels += _mass_labels(pen, layout)
    return labels


def _strand_labels(pen: Pen, layout: Layout) -> list[Label]:
    belt = layout.zero.belt
    labels = []
    for strand, other, name in (
        (belt.tight, belt.slack, "tight"),
        (belt.slack, belt.tight, "slack"),
    ):
        middle = _middle(strand.motor_end, strand.driven_end)
        inner = _middle(other.motor_end, other.driven_end)
        way = math.atan2(middle[1] - inner[1], middle[0] - inner[0])
        labels.append(Label(name, _pixels(pen, middle), way, BELT, leader_from=14.0))
    return labels


def _middle(first: Vector, second: Vector) -> Vector:
    return 0.5 * (first[0] + second[0]), 0.5 * (first[1] + second[1])


def _plate_labels(pen: Pen, layout: Layout) -> list[Label]:
    hinge = layout.hinge
    tip = max(layout.zero.plate, key=lambda point: math.dist(point, hinge))
    back = math.atan2(hinge[1] - tip[1], hinge[0] - tip[0])
    labels = [Label("hinge", _pixels(pen, hinge), back)]
    side = 0.0
    if layout.other is not None:
        moved = max(layout.other.plate, key=lambda point: math.dist(point, hinge))
        side = 0.9 * float(np.sign(layout.other.plate_angle - layout.zero.plate_angle))
        text = f"plate,\n{pose_name(layout.other)}: {angle_text(layout.other)}"
        labels.append(Label(text, _pixels(pen, moved), back + math.pi + side))
    text = f"plate,\n{pose_name(layout.zero)}: {angle_text(layout.zero)}"
    labels.append(Label(text, _pixels(pen, tip), back + math.pi - side))
    return labels


def _pulley_labels(pen: Pen, layout: Layout, units: DisplayUnits) -> list[Label]:
    shaft, belt = layout.zero.motor_shaft, layout.zero.belt
    labels = []
    for name, center, radius, arc in (
        ("driven", layout.driven_shaft, layout.driven_radius, belt.driven_arc),
        ("motor", shaft, layout.motor_radius, belt.motor_arc),
    ):
        way = 0.5 * (arc[0] + arc[1])
        rim = (center[0] + radius * math.cos(way), center[1] + radius * math.sin(way))
        text = f"{name} pulley\npitch dia. {units.long(2 * radius)} {units.length}"
        labels.append(Label(text, _pixels(pen, rim), way))
    labels.append(Label("driven shaft", _pixels(pen, layout.driven_shaft)))
    way = math.atan2(shaft[1] - layout.hinge[1], shaft[0] - layout.hinge[0])
    edge = (
        shaft[0] + layout.body_radius * math.cos(way),
        shaft[1] + layout.body_radius * math.sin(way),
    )
    labels.append(Label("motor (not to size)", _pixels(pen, edge), way))
    return labels


def _adjuster_labels(pen: Pen, layout: Layout) -> list[Label]:
    adjuster = layout.zero.adjuster
    if isinstance(adjuster, Link):
        at = _middle(adjuster.base_pin, adjuster.plate_pin)
        return [
            Label("link", _pixels(pen, at)),
            Label("base pin", _pixels(pen, adjuster.base_pin)),
            Label("plate pin", _pixels(pen, adjuster.plate_pin)),
        ]
    if not isinstance(adjuster, Screw):
        return []
    away = math.atan2(adjuster.head[1] - adjuster.tip[1], adjuster.head[0] - adjuster.tip[0])
    through = "plate" if layout.kind is AdjusterKind.JACK_IN_PLATE else "base"
    text = f"screw through the {through}\n(length not to size)"
    labels = [Label(text, _pixels(pen, adjuster.head), away)]
    other = layout.other.adjuster if layout.other is not None else None
    if isinstance(other, Screw) and not other.touches:
        labels.append(Label("tip clear of its face", _pixels(pen, other.tip)))
    return labels


def _mass_labels(pen: Pen, layout: Layout) -> list[Label]:
    pose = layout.zero
    on_shaft = math.dist(pose.motor_mass, pose.motor_shaft) < 3 * pen.point * pen.unit
    if on_shaft:
        labels = [Label("motor shaft and\ncentre of mass", _pixels(pen, pose.motor_shaft))]
    else:
        labels = [
            Label("motor shaft", _pixels(pen, pose.motor_shaft)),
            Label("centre of mass,\nmotor", _pixels(pen, pose.motor_mass)),
        ]
    if pose.plate_mass is not None:
        labels.append(Label("centre of mass,\nplate", _pixels(pen, pose.plate_mass)))
    return labels
