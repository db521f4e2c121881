"""Closed forms that the oil film of a bearing tends to: Petroff's and the short bearing's.

They are checks of the finite-length solution, not substitutes for it: Petroff's holds for a
journal that runs central, the short bearing's (Ocvirk's) for L/D up to about 1/4 and
moderate eccentricity. At L/D = 1 and eps = 0.8 the latter wants a third of the true S.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import ArrayLike, NDArray

__all__ = [
    "friction_number",
    "petroff_friction",
    "petroff_torque",
    "short_bearing_attitude",
    "short_bearing_eccentricity",
    "short_bearing_sommerfeld",
    "sommerfeld_number",
]

Array = NDArray[np.float64]

_HALVINGS = 60


def sommerfeld_number(
    pressure: ArrayLike,
    speed: ArrayLike,
    viscosity: ArrayLike,
    radius: ArrayLike,
    clearance: ArrayLike,
) -> Array:
    """Sommerfeld number of a journal bearing: S = (r/c)^2 mu N / P.

    Parameters
    ----------
    pressure : array_like [Pa]
        Projected pressure P, above zero.
    speed : array_like [rad/s]
        Angular speed omega = 2 pi N.
    viscosity : array_like [Pa s]
        Dynamic viscosity mu.
    radius : array_like [m]
        Journal radius r.
    clearance : array_like [m]
        Radial clearance c.

    Returns
    -------
    ndarray [-]
        S, with N in revolutions per second (Shigley, Machine Design, 12-3).
    """
    turns = np.asarray(speed, dtype=float) / (2.0 * np.pi)
    shape = np.square(np.asarray(radius, dtype=float) / np.asarray(clearance))
    result: Array = shape * np.asarray(viscosity) * turns / np.asarray(pressure)
    return result


def friction_number(sommerfeld: ArrayLike, eccentricity: ArrayLike, attitude: ArrayLike) -> Array:
    """Friction at the journal: (r/c) f = 2 pi^2 S / sqrt(1 - eps^2) + eps sin(phi) / 2.

    Parameters
    ----------
    sommerfeld : array_like [-]
        Sommerfeld number S.
    eccentricity : array_like [-]
        Eccentricity ratio eps.
    attitude : array_like [rad]
        Attitude angle phi.

    Returns
    -------
    ndarray [-]
        (r/c) f: the shear of a film all round, torn or not, and the couple of load and
        eccentricity. The integral of the shear stress over the journal; it gives the friction
        column of the table of Raimondi and Boyd (Shigley, Machine Design, 12-8).
    """
    eps = np.asarray(eccentricity, dtype=float)
    shear = 2.0 * np.pi**2 * np.asarray(sommerfeld) / np.sqrt(1.0 - eps**2)
    result: Array = shear + 0.5 * eps * np.sin(attitude)
    return result


def petroff_friction(
    pressure: ArrayLike,
    speed: ArrayLike,
    viscosity: ArrayLike,
    radius: ArrayLike,
    clearance: ArrayLike,
) -> Array:
    """Friction of a journal that runs central: f = 2 pi^2 (mu N / P) (r / c).

    Parameters
    ----------
    pressure : array_like [Pa]
        Projected pressure P, above zero.
    speed : array_like [rad/s]
        Angular speed omega = 2 pi N.
    viscosity : array_like [Pa s]
        Dynamic viscosity mu.
    radius : array_like [m]
        Journal radius r.
    clearance : array_like [m]
        Radial clearance c.

    Returns
    -------
    ndarray [-]
        Coefficient of friction (Petroff's equation, Shigley, Machine Design, 12-3).
    """
    number = sommerfeld_number(pressure, speed, viscosity, radius, clearance)
    result: Array = 2.0 * np.pi**2 * number * np.asarray(clearance) / np.asarray(radius)
    return result


def petroff_torque(
    speed: ArrayLike,
    viscosity: ArrayLike,
    radius: ArrayLike,
    length: ArrayLike,
    clearance: ArrayLike,
) -> Array:
    """Torque of a journal that runs central: T = 4 pi^2 mu N r^3 L / c.

    Parameters
    ----------
    speed : array_like [rad/s]
        Angular speed omega = 2 pi N.
    viscosity : array_like [Pa s]
        Dynamic viscosity mu.
    radius : array_like [m]
        Journal radius r.
    length : array_like [m]
        Bearing length L.
    clearance : array_like [m]
        Radial clearance c.

    Returns
    -------
    ndarray [N m]
        Friction torque (Petroff's equation, Shigley, Machine Design, 12-3).
    """
    stress = np.asarray(viscosity, dtype=float) * np.asarray(speed) * np.asarray(radius)
    area = 2.0 * np.pi * np.asarray(radius) * np.asarray(length)
    result: Array = stress / np.asarray(clearance) * area * np.asarray(radius)
    return result


def short_bearing_sommerfeld(eccentricity: ArrayLike, ratio: ArrayLike) -> Array:
    """Sommerfeld number of a short bearing with half a film.

    Parameters
    ----------
    eccentricity : array_like [-]
        Eccentricity ratio eps, above 0 and below 1.
    ratio : array_like [-]
        Length over diameter L/D.

    Returns
    -------
    ndarray [-]
        S = (D/L)^2 (1 - eps^2)^2 / (pi eps sqrt(16 eps^2 + pi^2 (1 - eps^2))), which is
        W = mu omega r L^3 eps sqrt(16 eps^2 + pi^2 (1 - eps^2)) / (4 c^2 (1 - eps^2)^2) of
        Ocvirk (Friswell and others, Dynamics of Rotating Machines, 5.5; Stolarski, Tribology in
        Machine Design, 5).
    """
    eps = np.asarray(eccentricity, dtype=float)
    thin = 1.0 - eps**2
    load = np.pi * eps * np.sqrt(16.0 * eps**2 + np.pi**2 * thin)
    result: Array = thin**2 / load / np.square(np.asarray(ratio, dtype=float))
    return result


def short_bearing_attitude(eccentricity: ArrayLike) -> Array:
    """Attitude angle of a short bearing: tan(phi) = pi sqrt(1 - eps^2) / (4 eps).

    Parameters
    ----------
    eccentricity : array_like [-]
        Eccentricity ratio eps.

    Returns
    -------
    ndarray [rad]
        Angle from the load to the thinnest film (Friswell and others, Dynamics of Rotating
        Machines, 5.5; Stolarski, Tribology in Machine Design, 5).
    """
    eps = np.asarray(eccentricity, dtype=float)
    result: Array = np.arctan2(np.pi * np.sqrt(1.0 - eps**2), 4.0 * eps)
    return result


def short_bearing_eccentricity(sommerfeld: ArrayLike, ratio: ArrayLike) -> Array:
    """Eccentricity of a short bearing under a load, the inverse of its Sommerfeld number.

    Parameters
    ----------
    sommerfeld : array_like [-]
        Sommerfeld number S, above zero.
    ratio : array_like [-]
        Length over diameter L/D.

    Returns
    -------
    ndarray [-]
        Eccentricity ratio eps by halving, S falling all the way from eps = 0 to 1 (Friswell and
        others, Dynamics of Rotating Machines, 5.5; Stolarski, Tribology in Machine Design, 5).
    """
    wanted = np.asarray(sommerfeld, dtype=float) * np.square(np.asarray(ratio, dtype=float))
    low, high = np.zeros_like(wanted), np.ones_like(wanted)
    for _ in range(_HALVINGS):
        middle = 0.5 * (low + high)
        lighter = short_bearing_sommerfeld(middle, 1.0) > wanted
        low, high = np.where(lighter, middle, low), np.where(lighter, high, middle)
    result: Array = 0.5 * (low + high)
    return result
