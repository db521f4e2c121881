"""The linkage in symbols: the only place where its geometry is written down.

The plate turns by the angle ``phi`` (as drawn: 0) about the hinge H. Every point fixed to
it turns with it. From this module the numpy kernels are generated
(:mod:`mountcalc.linkage.generate`) and formulas are printed; nothing downstream derives
anything by hand. Importing it loads sympy, so the command line does not.

Symbols (lengths in m, angles in rad)
    phi      plate angle, counter-clockwise positive
    H, M, D  hinge, motor shaft and driven shaft, as drawn
    r, R     pitch radii of the motor and driven pulleys
    C        centre distance, a function of phi
    P, e, n  tip of a jack as drawn, unit axis (the way the tip moves as the screw
             extends) and unit normal of the face that it bears on
    Q, B     pins of a link on the plate (as drawn) and on the base
"""

from __future__ import annotations

from dataclasses import dataclass

import sympy as sp

phi = sp.Symbol("phi", real=True)
r, R, C = sp.symbols("r R C", positive=True)


def point(name: str) -> sp.Matrix:
    """A point or a vector of the drawing."""
    return sp.Matrix(sp.symbols(f"{name}_x {name}_y", real=True))


H, M, D, P, e, n, Q, B = (point(name) for name in "HMDPenQB")


@dataclass(frozen=True)
class Kernel:
    """One compiled function: its name, what it is, its parameters and named outputs.

    Kernels that follow each other may have ``shared`` a class of result and what that is.
    """

    name: str
    summary: str
    parameters: tuple[sp.Symbol, ...]
    outputs: dict[str, tuple[sp.Expr, str]]
    shared: tuple[str, str] | None = None

    @property
    def result(self) -> tuple[str, str]:
        """Class of the result, and what that is."""
        return self.shared or ("".join(map(str.title, self.name.split("_"))), self.summary)


def turned(vector: sp.Matrix) -> sp.Matrix:
    """A vector fixed to the plate, at plate angle phi."""
    return sp.Matrix([[sp.cos(phi), -sp.sin(phi)], [sp.sin(phi), sp.cos(phi)]]) * vector


def on_plate(point: sp.Matrix) -> sp.Matrix:
    """A point fixed to the plate, at plate angle phi."""
    return H + turned(point - H)


def norm(vector: sp.Matrix) -> sp.Expr:
    """Length of a vector."""
    return sp.sqrt(vector.dot(vector))


def _moment(point: sp.Matrix, force: sp.Matrix) -> sp.Expr:
    """Moment of a force at a point about the hinge, counter-clockwise positive."""
    arm = point - H
    return arm[0] * force[1] - arm[1] * force[0]


def belt_length() -> sp.Expr:
    """Path of an open belt over C, exact (Shigley, Machine Design, Eq. 17-2)."""
    return 2 * sp.sqrt(C**2 - (R - r) ** 2) + sp.pi * (R + r) + 2 * (R - r) * sp.asin((R - r) / C)


def _belt_path() -> Kernel:
    gap = D - on_plate(M)
    center_distance = norm(gap)
    length = belt_length()
    # Chain rule through C: sympy leaves a derivative taken in one go with nested roots.
    length_slope = sp.simplify(sp.diff(length, C)).subs(C, center_distance) * sp.diff(
        center_distance, phi
    )
    return Kernel(
        "belt_path",
        "Path of the belt around both pulleys.",
        (phi, *H, *M, *D, r, R),
        {
            "center_distance": (center_distance, "C, motor shaft to driven shaft [m]"),
            "span_squared": (
                gap.dot(gap) - (R - r) ** 2,
                "square of the free span [m^2]; what the root and the arcsine need positive",
            ),
            "length": (length.subs(C, center_distance), "L, the belt's path [m]"),
            "length_slope": (length_slope, "dL/dphi [m/rad]"),
        },
    )


def _open_belt() -> Kernel:
    # Factored, and by atan2: sound too where unlike pulleys nearly touch and asin grows steep.
    span = sp.sqrt((C - (R - r)) * (C + (R - r)))
    beta = sp.atan2(R - r, span)
    return Kernel(
        "open_belt",
        "An open belt over shafts that are C apart.",
        (C, r, R),
        {
            "length": (2 * span + sp.pi * (R + r) + 2 * (R - r) * beta, "L, the belt's path [m]"),
            "length_slope": (2 * span / C, "dL/dC, 2 cos(beta)"),
            "span": (span, "t, the free span; C not below |R - r| has one [m]"),
            "beta": (beta, "angle of each strand to the line of centres [rad]"),
        },
    )


def _swing_to() -> Kernel:
    to_motor, to_driven = M - H, D - H
    near = norm(to_motor) - norm(to_driven)
    far = norm(to_motor) + norm(to_driven)
    past_nearest, within_farthest = (C - near) * (C + near), (far - C) * (far + C)
    # The angle between H-M and H-D at the distance C, with its sine and cosine both taken
    # 2 |HM| |HD| times: products of sides, so sound where the three points are nearly in line.
    sine = sp.sqrt(past_nearest) * sp.sqrt(within_farthest)
    cosine = (within_farthest - past_nearest) / 2
    dot, cross = to_motor.dot(to_driven), to_motor[0] * to_driven[1] - to_motor[1] * to_driven[0]
    return Kernel(
        "swing_to",
        "The two plate angles at which the shafts are C apart, each in one turn about as drawn.",
        (C, *H, *M, *D),
        {
            "counter_clockwise": (
                sp.atan2(cross * cosine + dot * sine, dot * cosine - cross * sine),
                "the one counter-clockwise of where M points from H at D [rad]",
            ),
            "clockwise": (
                sp.atan2(cross * cosine - dot * sine, dot * cosine + cross * sine),
                "the one clockwise of it [rad]",
            ),
            "past_nearest": (
                past_nearest,
                "C^2 less the square of the least distance; the root needs it positive [m^2]",
            ),
            "within_farthest": (
                within_farthest,
                "square of the greatest distance less C^2; as positive [m^2]",
            ),
        },
    )


def _strands() -> Kernel:
    motor = on_plate(M)
    gap = D - motor
    center_distance = norm(gap)
    c = gap / center_distance
    w = sp.Matrix([-c[1], c[0]])
    sine = (R - r) / center_distance
    cosine = sp.sqrt(1 - sine**2)
    outputs: dict[str, tuple[sp.Expr, str]] = {
        "beta": (sp.asin(sine), "angle of each strand to the line of centres [rad]")
    }
    for name, sign in (("plus", 1), ("minus", -1)):
        normal = -sine * c + sign * cosine * w
        along = cosine * c + sign * sine * w
        arm = -_moment(motor + r * normal, along)
        outputs |= {
            f"arm_{name}": (arm, f"a, moment arm of strand {name}'s pull, clockwise positive [m]"),
            f"along_{name}_x": (along[0], f"unit vector along strand {name}, motor to driven"),
            f"along_{name}_y": (along[1], ""),
            f"normal_{name}_x": (normal[0], f"unit normal from the pulley to strand {name}"),
            f"normal_{name}_y": (normal[1], ""),
        }
    return Kernel(
        "strands",
        "The two free strands; plus is the one on the left of the line from motor to driven shaft.",
        (phi, *H, *M, *D, r, R),
        outputs,
    )


def _plate_point() -> Kernel:
    point = on_plate(P)
    return Kernel(
        "plate_point",
        "A point fixed to the plate; the slope of its height is a weight's moment per newton.",
        (phi, *H, *P),
        {
            "x": (point[0], "x [m]"),
            "y": (point[1], "y, the height [m]"),
            "y_slope": (sp.diff(point[1], phi), "dy/dphi [m/rad]"),
        },
    )


def _adjuster(
    name: str,
    summary: str,
    parameters: tuple[sp.Symbol, ...],
    extension: sp.Expr,
    bite: sp.Expr,
    force: sp.Matrix,
    at: sp.Matrix,
) -> Kernel:
    """Outputs that every kind of adjuster has, whatever its geometry."""
    return Kernel(
        name,
        summary,
        parameters,
        {
            "extension": (extension, "s, zero as drawn, positive when longer [m]"),
            "extension_slope": (sp.diff(extension, phi), "ds/dphi [m/rad]"),
            "bite": (bite, "what the division needs away from 0 (e.n, or the link's length)"),
            "force_x": (force[0], "force on the plate for a unit of axial compression"),
            "force_y": (force[1], ""),
            "at_x": (at[0], "where that force acts [m]"),
            "at_y": (at[1], ""),
        },
        ("AdjusterState", "What every kind of adjuster has."),
    )


def _jack_in_base() -> Kernel:
    face = turned(n)
    bite = e.dot(face)
    # (P(phi) - P).face, with P(phi).face about the hinge being P.n whatever the angle
    extension = ((P - H).dot(n) - (P - H).dot(face)) / bite
    return _adjuster(
        "jack_in_base",
        "Screw through the fixed base; its tip bears on the plate, whose face turns with it.",
        (phi, *H, *P, *e, *n),
        extension,
        bite,
        face / bite,
        P + extension * e,
    )


def _jack_in_plate() -> Kernel:
    axis = turned(e)
    bite = axis.dot(n)
    extension = (P - on_plate(P)).dot(n) / bite
    return _adjuster(
        "jack_in_plate",
        "Screw through the plate, turning with it; its tip bears on a fixed face.",
        (phi, *H, *P, *e, *n),
        extension,
        bite,
        -n / bite,
        on_plate(P) + extension * axis,
    )


def _link() -> Kernel:
    pin = on_plate(Q)
    length = norm(pin - B)
    return _adjuster(
        "link",
        "Eye-bolt or turnbuckle, pinned to the base and to the plate.",
        (phi, *H, *Q, *B),
        length - norm(Q - B),
        length,
        (pin - B) / length,
        pin,
    )


KERNELS: tuple[Kernel, ...] = (
    _belt_path(),
    _open_belt(),
    _swing_to(),
    _strands(),
    _plate_point(),
    _jack_in_base(),
    _jack_in_plate(),
    _link(),
)
