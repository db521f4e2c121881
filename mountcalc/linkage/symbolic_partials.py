"""By how much the linkage's lengths change as points of its drawing move, in symbols.

Derivatives of :mod:`mountcalc.linkage.symbolic` by the positions as drawn, at a plate angle that
stays what it is. What moves with the plate is where it is said to be when the plate is as drawn;
where the hinge moves, all else is where it was. Kernels for numpy are generated from these as from
the linkage itself.
"""

from __future__ import annotations

from dataclasses import replace

import sympy as sp

from mountcalc.linkage.symbolic import (
    B,
    C,
    D,
    H,
    Kernel,
    M,
    P,
    Q,
    R,
    belt_length,
    e,
    n,
    norm,
    on_plate,
    phi,
    point,
    r,
    turned,
)

T = point("T")
"""Tip of a jack that is screwed out as far as drawn, where that is not P on the face."""

_JACK = (
    "JackPartials",
    "By how much a jack's extension and its slope change as hinge and tip as drawn move.",
)


def _partials(blank: Kernel, value: str, expression: sp.Expr, points: str) -> Kernel:
    """By how much a value and its slope over phi change as points move, told by their letters."""
    outputs: dict[str, tuple[sp.Expr, str]] = {}
    as_drawn = dict(zip(T, P, strict=True))
    for order, name in enumerate((value, f"{value}_slope")):
        for letter, axis in ((letter, axis) for letter in points for axis in "xy"):
            by = sp.Symbol(f"{letter}_{axis}", real=True)
            told = f"d2{value}/dphi d{by}" if order else f"d{value}/d{by}"
            outputs[f"{name}_{by}"] = expression.diff(phi, order).diff(by).subs(as_drawn), told
    bent = expression.diff(phi, 2).subs(as_drawn)
    return replace(blank, outputs={**outputs, f"{value}_curvature": (bent, f"d2{value}/dphi2")})


def _path_partials() -> Kernel:
    gap = D - on_plate(M)
    # By hand through C, as in the path itself: with u = dL/dC, L_p = u C_p and
    # L_phi,p = u' C_p C_phi + u C_phi,p.
    per_distance = sp.simplify(sp.diff(belt_length(), C))
    bend = sp.simplify(sp.diff(per_distance, C))
    center_distance = norm(gap)
    per_distance, bend = (one.subs(C, center_distance) for one in (per_distance, bend))
    by_phi = sp.diff(center_distance, phi)
    firsts: dict[str, tuple[sp.Expr, str]] = {}
    seconds: dict[str, tuple[sp.Expr, str]] = {}
    for by in (*H, *M, *D):
        moved = sp.diff(center_distance, by)
        second = bend * moved * by_phi + per_distance * sp.diff(by_phi, by)
        firsts[f"length_{by}"] = per_distance * moved, f"dL/d{by}"
        seconds[f"length_slope_{by}"] = second, f"d2L/dphi d{by}"
    bent = bend * by_phi**2 + per_distance * sp.diff(by_phi, phi)
    return Kernel(
        "belt_path_partials",
        "By how much the belt's path and its slope change as hinge and shafts as drawn move.",
        (phi, *H, *M, *D, r, R),
        {**firsts, **seconds, "length_curvature": (bent, "d2L/dphi2")},
    )


def _plate_point_partials() -> Kernel:
    summary = "By how much a height and its slope change as hinge and point as drawn move."
    blank = Kernel("plate_point_partials", summary, (phi, *H, *P), {})
    return _partials(blank, "y", on_plate(P)[1], "HP")


def _jack_in_base_partials() -> Kernel:
    # The face stays where it is: from the tip to it along the axis.
    face = turned(n)
    extension = (on_plate(P) - T).dot(face) / e.dot(face)
    blank = Kernel("jack_in_base_partials", _JACK[1], (phi, *H, *P, *e, *n), {}, _JACK)
    return _partials(blank, "extension", extension, "HT")


def _jack_in_plate_partials() -> Kernel:
    extension = (P - on_plate(T)).dot(n) / turned(e).dot(n)
    blank = Kernel("jack_in_plate_partials", _JACK[1], (phi, *H, *P, *e, *n), {}, _JACK)
    return _partials(blank, "extension", extension, "HT")


def _link_partials() -> Kernel:
    summary = "By how much a link's length and its slope change as hinge and pins as drawn move."
    blank = Kernel("link_partials", summary, (phi, *H, *Q, *B), {})
    return _partials(blank, "extension", norm(on_plate(Q) - B), "HQB")


PARTIALS: tuple[Kernel, ...] = (
    _path_partials(),
    _plate_point_partials(),
    _jack_in_base_partials(),
    _jack_in_plate_partials(),
    _link_partials(),
)
