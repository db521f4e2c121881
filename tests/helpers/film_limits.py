"""Closed forms that the film of a bearing tends to: Petroff's and the short bearing's (Ocvirk's).

Petroff's holds for a journal that runs central, the short bearing's for L/D up to about 1/4 and
moderate eccentricity. SI units, as in ``mountcalc.formulas.film``.
"""

import numpy as np

from mountcalc.formulas.film import short_bearing_sommerfeld, sommerfeld_number


def petroff_friction(pressure, speed, viscosity, radius, clearance):
    """f = 2 pi^2 (mu N / P) (r / c) (Petroff's equation, Shigley, Machine Design, 12-3)."""
    number = sommerfeld_number(pressure, speed, viscosity, radius, clearance)
    return 2 * np.pi**2 * number * clearance / radius


def petroff_torque(speed, viscosity, radius, length, clearance):
    """T = 4 pi^2 mu N r^3 L / c [N m] (Petroff's equation, Shigley, Machine Design, 12-3)."""
    return viscosity * speed * radius / clearance * 2 * np.pi * radius * length * radius


def short_bearing_attitude(eccentricity):
    """tan(phi) = pi sqrt(1 - eps^2) / (4 eps).

    Friswell and others, Dynamics of Rotating Machines, 5.5; Stolarski, Tribology in Machine Design,
    5.
    """
    eps = np.asarray(eccentricity)
    return np.arctan2(np.pi * np.sqrt(1 - eps**2), 4 * eps)


def short_bearing_eccentricity(sommerfeld, ratio):
    """The inverse of a short bearing's Sommerfeld number, by halving; sources as above."""
    wanted = np.asarray(sommerfeld, dtype=float) * np.square(np.asarray(ratio, dtype=float))
    low, high = np.zeros_like(wanted), np.ones_like(wanted)
    for _ in range(60):
        middle = 0.5 * (low + high)
        lighter = short_bearing_sommerfeld(middle, 1.0) > wanted
        low, high = np.where(lighter, middle, low), np.where(lighter, high, middle)
    return 0.5 * (low + high)
