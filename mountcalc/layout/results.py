"""A mount's layout as it is drawn: points and names, nothing left to derive."""

from __future__ import annotations

from dataclasses import dataclass

from mountcalc.equilibrium.states import State
from mountcalc.scenario.model import AdjusterKind, Display, Rotation, Vector

__all__ = ["Belt", "Layout", "Link", "Pose", "Screw", "Segment", "Strand"]

Segment = tuple[Vector, Vector]


@dataclass(frozen=True, slots=True)
class Strand:
    """A free strand: where it leaves the motor pulley and where it meets the driven one [m]."""

    motor_end: Vector
    driven_end: Vector


@dataclass(frozen=True, slots=True)
class Belt:
    """The belt's path: its strands by load, and the arcs that it wraps.

    ``motor_arc`` and ``driven_arc`` are (start, end) [rad], counter-clockwise from start to end.
    """

    tight: Strand
    slack: Strand
    motor_arc: tuple[float, float]
    driven_arc: tuple[float, float]


@dataclass(frozen=True, slots=True)
class Screw:
    """A jack: ``head``, ``nut`` (where it passes through base or plate) and ``tip`` [m].

    ``face`` is a piece of the face that the tip bears on; ``touches`` is False where the plate
    rides clear of it. The screw's length is nominal.
    """

    head: Vector
    nut: Vector
    tip: Vector
    face: Segment
    touches: bool


@dataclass(frozen=True, slots=True)
class Link:
    """An eye-bolt or turnbuckle between its pins [m]."""

    base_pin: Vector
    plate_pin: Vector


@dataclass(frozen=True, slots=True)
class Pose:
    """All that moves with the plate, at one setting at rest (points [m]).

    ``turns`` is None without an adjuster. ``plate`` runs through the hinge as a straight line;
    ``arms`` are the stand-offs from it to the motor shaft and to where the adjuster acts.
    """

    name: str
    turns: float | None
    state: State
    plate_angle: float
    motor_shaft: Vector
    motor_mass: Vector
    plate_mass: Vector | None
    belt: Belt
    plate: Segment
    arms: tuple[Segment, ...]
    adjuster: Screw | Link | None


@dataclass(frozen=True, slots=True)
class Layout:
    """A mount ready to be drawn: what is fixed, and the plate at zero and elsewhere.

    Lengths [m]. ``body_radius`` is a nominal motor; ``shaft_load`` [N] is the belts' pull on the
    driven shaft when running, at the other setting if there is one; None where it has none.
    ``remarks`` say what could not be drawn, and why.
    """

    title: str
    display: Display
    kind: AdjusterKind
    rotation: Rotation
    hinge: Vector
    driven_shaft: Vector
    driven_radius: float
    motor_radius: float
    body_radius: float
    zero: Pose
    other: Pose | None
    shaft_load: Vector | None
    remarks: tuple[str, ...]
