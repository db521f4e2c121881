"""Bolts and their threads: areas, stress, torque to turn them, engagement, buckling.

Numbers behind "Shigley" are sections, equations and tables of Shigley, Machine Design.

Symbols
-------
diameter : nominal, d [m]
pitch : p [m]
is_inch : whether the thread is a unified one; a metric one else [-]
lead : what one turn moves, l [m]
mean_diameter : of the thread, d_m [m]
friction : of the thread, f [-]
half_angle : between thread flank and a square one: 30 deg of common threads, 0 of square ones [rad]
force : along the bolt, F [N]
collar_friction : of what turns under the load, a tip or a head, f_c [-]
collar_diameter : on which it rubs, mean, d_c [m]
torque : that turns it, T [N m]
factor : nut factor K [-]
side : force square to the bolt at its tip [N]
stands_out : how far the tip stands out from what holds the bolt [m]
core_diameter : at the thread's root, d_r [m]
length : of thread in engagement, or of a column that is pinned at both ends [m]
yielding : yield strength S_y [Pa]
modulus : Young's modulus E [Pa]
ends : constant C of a column's ends; 1 pinned at both, 1/4 fixed at one and free at the other [-]
arm : length of a wrench [m]
share : of the load that the first thread has [-]
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import ArrayLike, NDArray

Array = NDArray[np.float64]

COMMON_HALF_ANGLE = math.radians(30.0)
"""Of unified and metric threads, 60 deg from flank to flank."""
FIRST_THREAD = 0.38
"""Share of the load that the first thread in engagement has (Shigley 8-2)."""
STEEL = 207e9
"""Young's modulus [Pa]: 30 Mpsi, as Shigley takes for steel."""


def pitch_diameter(diameter: ArrayLike, pitch: ArrayLike) -> Array:
    """Pitch diameter d2 = d - 0.649519 p [m] (Shigley Table 8-2)."""
    result: Array = np.asarray(diameter, dtype=float) - 0.649519 * np.asarray(pitch)
    return result


def nut_diameter(diameter: ArrayLike, pitch: ArrayLike) -> Array:
    """Minor diameter of the nut D1 = d - 1.082532 p [m] (Shigley Table 8-2)."""
    result: Array = np.asarray(diameter, dtype=float) - 1.082532 * np.asarray(pitch)
    return result


def core(diameter: ArrayLike, pitch: ArrayLike) -> Array:
    """Minor diameter of the bolt d3 = d - 1.226869 p [m] (Shigley Table 8-2)."""
    result: Array = np.asarray(diameter, dtype=float) - 1.226869 * np.asarray(pitch)
    return result


def root_area(diameter: ArrayLike, pitch: ArrayLike) -> Array:
    """Area at the root of a thread with flat roots: pi/4 (d - 1.299038 p)^2 [m^2].

    Shigley Table 8-2.
    """
    root = np.asarray(diameter, dtype=float) - 1.299038 * np.asarray(pitch)
    result: Array = 0.25 * math.pi * root**2
    return result


def tensile_stress_area(diameter: ArrayLike, pitch: ArrayLike, *, is_inch: bool = False) -> Array:
    """Tensile stress area [m^2]: pi/4 (d - 0.9743 p)^2 of inch threads, 0.9382 for metric ones.

    Shigley Table 8-2; ISO 898-1.
    """
    less = 0.9743 if is_inch else 0.938194
    mean = np.asarray(diameter, dtype=float) - less * np.asarray(pitch)
    result: Array = 0.25 * math.pi * mean**2
    return result


def raising_torque(
    force: ArrayLike,
    mean_diameter: ArrayLike,
    lead: ArrayLike,
    friction: ArrayLike,
    half_angle: ArrayLike = COMMON_HALF_ANGLE,
) -> Array:
    """Torque that turns a screw against its load, without a collar [N m].

    F d_m/2 (l + pi f d_m sec a)/(pi d_m - f l sec a) (Shigley 8-5).
    """
    across, rub = np.asarray(mean_diameter, dtype=float), friction / np.cos(half_angle)
    turned = (lead + np.pi * rub * across) / (np.pi * across - rub * np.asarray(lead))
    result: Array = 0.5 * np.asarray(force, dtype=float) * across * turned
    return result


def lowering_torque(
    force: ArrayLike,
    mean_diameter: ArrayLike,
    lead: ArrayLike,
    friction: ArrayLike,
    half_angle: ArrayLike = COMMON_HALF_ANGLE,
) -> Array:
    """Torque that backs a screw off under its load, without a collar [N m].

    F d_m/2 (pi f d_m sec a - l)/(pi d_m + f l sec a); below zero the load turns the screw by itself
    (Shigley 8-2).
    """
    return -raising_torque(force, mean_diameter, lead, -np.asarray(friction), half_angle)


def collar_torque(
    force: ArrayLike, collar_friction: ArrayLike, collar_diameter: ArrayLike
) -> Array:
    """Torque to turn what rubs under the load: F f_c d_c / 2 [N m] (Shigley 8-6)."""
    rubs = np.asarray(collar_friction, dtype=float) * np.asarray(collar_diameter)
    result: Array = 0.5 * np.asarray(force, dtype=float) * rubs
    return result


def tip_diameter(diameter: ArrayLike) -> Array:
    """Mean diameter on which a flat round tip rubs: two thirds of it [m] (any statics text)."""
    result: Array = np.asarray(diameter, dtype=float) * (2.0 / 3.0)
    return result


def efficiency(force: ArrayLike, lead: ArrayLike, torque: ArrayLike) -> Array:
    """Work done over work put in for a turn: F l / (2 pi T) [-] (Shigley 8-4)."""
    work = np.asarray(force, dtype=float) * np.asarray(lead)
    result: Array = work / (math.tau * np.asarray(torque))
    return result


def holding(
    mean_diameter: ArrayLike,
    lead: ArrayLike,
    friction: ArrayLike,
    half_angle: ArrayLike = COMMON_HALF_ANGLE,
) -> Array:
    """Ratio pi f d_m sec a / l: above 1 a screw holds its load by itself [-] (Shigley 8-3)."""
    rub = np.asarray(friction, dtype=float) / np.cos(half_angle)
    result: Array = math.pi * rub * np.asarray(mean_diameter) / np.asarray(lead)
    return result


def hand_force(torque: ArrayLike, arm: ArrayLike) -> Array:
    """Force of a hand on the end of a wrench: T / a [N] (any statics text)."""
    result: Array = np.asarray(torque, dtype=float) / np.asarray(arm)
    return result


def clamp_torque(factor: ArrayLike, force: ArrayLike, diameter: ArrayLike) -> Array:
    """Torque on a nut for a clamping force: K F d [N m] (Shigley 8-27)."""
    result: Array = np.asarray(factor, dtype=float) * np.asarray(force) * np.asarray(diameter)
    return result


def axial_stress(force: ArrayLike, core_diameter: ArrayLike) -> Array:
    """Stress along a bolt at its thread's root: 4 F / (pi d_r^2) [Pa] (Shigley 8-8)."""
    result: Array = 4.0 * np.asarray(force, dtype=float) / (np.pi * np.asarray(core_diameter) ** 2)
    return result


def torsion_shear(torque: ArrayLike, core_diameter: ArrayLike) -> Array:
    """Shear stress of a bolt that is turned: 16 T / (pi d_r^3) [Pa] (Shigley 8-7)."""
    cube = np.pi * np.asarray(core_diameter, dtype=float) ** 3
    result: Array = 16.0 * np.asarray(torque, dtype=float) / cube
    return result


def first_thread_stresses(
    force: ArrayLike,
    mean_diameter: ArrayLike,
    core_diameter: ArrayLike,
    pitch: ArrayLike,
    share: ArrayLike = FIRST_THREAD,
) -> tuple[Array, Array]:
    """Pressure on the first thread's flank, and bending stress at its root [Pa].

    2 F / (pi d_m p) and 6 F / (pi d_r p) with that thread's share (Shigley 8-10, 8-11).
    """
    load = np.asarray(share, dtype=float) * np.asarray(force) / (np.pi * np.asarray(pitch))
    pressed: Array = 2.0 * load / np.asarray(mean_diameter)
    bent: Array = 6.0 * load / np.asarray(core_diameter)
    return pressed, bent


def bolt_stress(
    force: ArrayLike, side: ArrayLike, stands_out: ArrayLike, core_diameter: ArrayLike
) -> Array:
    """Greatest stress of a bolt that is pressed and pushed aside at its tip [Pa].

    4 F/(pi d_r^2) + 32 S a/(pi d_r^3): a cantilever from what holds it (any statics text).
    """
    bent = 32.0 * np.abs(np.asarray(side, dtype=float)) * np.asarray(stands_out)
    cube = np.pi * np.asarray(core_diameter, dtype=float) ** 3
    result: Array = np.abs(axial_stress(force, core_diameter)) + bent / cube
    return result


def bolt_thread_area(diameter: ArrayLike, pitch: ArrayLike, length: ArrayLike) -> Array:
    """Area that shears as a bolt's own thread strips: 3/4 pi D1 L [m^2].

    The thread's thickness at the nut's minor diameter is 3/4 of the pitch (FED-STD-H28/2B with
    basic sizes, from memory; Shigley 8-5 on engagement).
    """
    result: Array = 0.75 * math.pi * nut_diameter(diameter, pitch) * np.asarray(length)
    return result


def nut_thread_area(diameter: ArrayLike, length: ArrayLike) -> Array:
    """Area that shears as the thread of what holds a bolt strips: 7/8 pi d L [m^2].

    That thread is 7/8 of the pitch thick at the bolt's outside (FED-STD-H28/2B with basic sizes,
    from memory; Shigley 8-5 on engagement).
    """
    result: Array = 0.875 * math.pi * np.asarray(diameter, dtype=float) * np.asarray(length)
    return result


def buckling_force(
    core_diameter: ArrayLike,
    length: ArrayLike,
    yielding: ArrayLike,
    modulus: ArrayLike = STEEL,
    ends: ArrayLike = 1.0,
) -> Array:
    """Force at which a round column gives way, Johnson's up to Euler's slenderness [N].

    Johnson: A (S_y - (S_y l/(2 pi k))^2/(C E)), Euler: A C pi^2 E/(l/k)^2, k = d/4 (Shigley
    4-12 and 4-13).
    """
    across = np.asarray(core_diameter, dtype=float)
    area, slender = 0.25 * np.pi * across**2, 4.0 * np.asarray(length) / across
    stiff = np.asarray(ends) * np.asarray(modulus)
    limit = np.sqrt(2.0 * np.pi**2 * stiff / np.asarray(yielding))
    johnson = np.asarray(yielding) * (
        1.0 - np.asarray(yielding) * slender**2 / (4.0 * np.pi**2 * stiff)
    )
    euler = np.pi**2 * stiff / np.maximum(slender, limit) ** 2
    result: Array = area * np.where(slender <= limit, johnson, euler)
    return result
