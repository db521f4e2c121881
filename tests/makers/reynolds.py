"""The oil film of a full round journal bearing of finite length, from Reynolds' equation.

Dimensionless: film h = 1 + eps cos(theta) in units of the radial clearance c, theta from the
thickest film in the sense of rotation; z along the bearing in units of the radius r; pressure
in units of mu omega (r/c)^2. Then

    d/dtheta(h^3 dp/dtheta) + h^3 d2p/dz2 = 6 dh/dtheta,    p >= 0,

with p = 0 at both ends and along theta = 0, where the oil comes in, and with the film ending
where p and its gradient vanish together (Swift and Stieber).

The mesh is even in Sommerfeld's angle gamma, dtheta = h/sqrt(1 - eps^2) dgamma, which puts the
points where the film is thin. Each mesh line across the bearing is one block of a block
tridiagonal system; the set of points with pressure is found by the primal-dual active set
method, which for such a matrix ends after finitely many steps at the solution of the
complementarity problem.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mountcalc.formulas.film import friction_number

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

# Mesh of the table: halving its steps moves no number by more than the tests allow for it.
AROUND, HALF_LENGTH = 240, 12

# By this share the last step along the bearing is less than an even one: there pressure falls.
_CROWDING = 0.8
_MOST_STEPS = 200


@dataclass(frozen=True)
class FilmNumbers:
    """Dimensionless numbers of the film, each of the shape of the eccentricity ratios.

    Attributes
    ----------
    eccentricity : ndarray [-]
        eps, distance of the journal from the bearing's centre in radial clearances c.
    sommerfeld : ndarray [-]
        S = (r/c)^2 mu N/P with N in revolutions per second, P the projected pressure.
    attitude : ndarray [rad]
        Angle from the load to the thinnest film, in the sense of rotation.
    friction : ndarray [-]
        (r/c) f, f the coefficient of friction at the journal.
    flow : ndarray [-]
        Q/(r c N L), Q the flow drawn in at the thickest film.
    side_share : ndarray [-]
        Qs/Q, the share of it that leaves at the ends.
    pressure_ratio : ndarray [-]
        P/p_max, projected over greatest pressure.
    """

    eccentricity: Array
    sommerfeld: Array
    attitude: Array
    friction: Array
    flow: Array
    side_share: Array
    pressure_ratio: Array

    @property
    def least_film(self) -> Array:
        """h0/c = 1 - eps [-]."""
        return 1.0 - self.eccentricity


@dataclass(frozen=True)
class _Mesh:
    """Coefficients of the discrete equation; e eccentricities, i around, j along half the length.

    ``theta`` and ``film`` (e, i) at the inner lines, ``between`` (e, i + 1) the film midway,
    ``stretch`` (e, i) dtheta of a line, ``around`` (e, i + 1) and ``along`` (e, i) conductances,
    ``width`` (j) of the cells along the bearing, ``last`` its last step, ``stiffness`` (j, j),
    ``weights`` (j) of an integral over half the length by Simpson's rule.
    """

    theta: Array
    film: Array
    between: Array
    stretch: Array
    around: Array
    along: Array
    width: Array
    last: float
    stiffness: Array
    weights: Array


def solve_reynolds(
    ratio: float, eccentricity: ArrayLike, around: int = AROUND, half_length: int = HALF_LENGTH
) -> FilmNumbers:
    """Solve Reynolds' equation for a full round bearing at several eccentricities.

    Parameters
    ----------
    ratio : float [-]
        Length over diameter L/D, above zero.
    eccentricity : array_like [-]
        Eccentricity ratios eps, shape (e,), each between 0 and 1.
    around : int [-]
        Mesh steps around the bearing.
    half_length : int [-]
        Mesh steps from the middle of the bearing to its end, even.

    Returns
    -------
    FilmNumbers [-]
        The numbers of the film, shape (e,) each (definitions as in Shigley, Machine Design,
        12-8, after Raimondi and Boyd, Trans. ASLE 1, 1958; Reynolds' equation in Stolarski,
        Tribology in Machine Design, 5).

    Raises
    ------
    ArithmeticError
        The active set did not settle, which no case in the range of the table does.
    """
    eps = np.atleast_1d(np.asarray(eccentricity, dtype=float))
    mesh = _mesh(ratio, eps, around, half_length)
    return _numbers(ratio, eps, mesh, _pressures(mesh))


def _mesh(ratio: float, eps: Array, around: int, half_length: int) -> _Mesh:
    step = 2.0 * np.pi / around
    root = np.sqrt(1.0 - eps**2)[:, np.newaxis]
    gamma = np.linspace(step, 2.0 * np.pi - step, around - 1)
    midway = np.linspace(0.5 * step, 2.0 * np.pi - 0.5 * step, around)
    film = _sommerfeld_film(eps, gamma)
    between = _sommerfeld_film(eps, midway)
    # cos(theta) from the film would lose digits at small eps.
    cosine, sine = np.cos(gamma), np.sin(gamma)
    theta = np.arctan2(root * sine, cosine - eps[:, np.newaxis]) % (2.0 * np.pi)
    share = np.linspace(0.0, 1.0, half_length + 1)
    places = ratio * (share + 0.5 * _CROWDING * (share - share**3))
    ends = np.diff(places)
    return _Mesh(
        theta=theta,
        film=film,
        between=between,
        stretch=film / root * step,
        around=root * between**2 / step,
        along=film**4 / root * step,
        width=np.concatenate([ends[:1] / 2.0, (ends[1:] + ends[:-1]) / 2.0]),
        last=float(ends[-1]),
        stiffness=_stiffness(ends),
        weights=_simpson(half_length) * ratio * (1.0 + _CROWDING * (0.5 - 1.5 * share[:-1] ** 2)),
    )


def _sommerfeld_film(eps: Array, gamma: Array) -> Array:
    column = eps[:, np.newaxis]
    result: Array = (1.0 - column**2) / (1.0 - column * np.cos(gamma))
    return result


def _stiffness(ends: Array) -> Array:
    """Conductances along the bearing: even about its middle, no pressure at its end."""
    inverse = 1.0 / ends
    diagonal = inverse + np.concatenate([[0.0], inverse[:-1]])
    return np.diag(diagonal) - np.diag(inverse[:-1], 1) - np.diag(inverse[:-1], -1)


def _simpson(count: int) -> Array:
    """Weights of Simpson's rule from 0 to 1, the last left out, where the pressure is zero."""
    weights = np.where(np.arange(count) % 2, 4.0, 2.0)
    weights[0] = 1.0
    result: Array = weights / (3.0 * count)
    return result


def _pressures(mesh: _Mesh) -> Array:
    """Pressures p >= 0, (e, i, j), by the primal-dual active set method."""
    source = -6.0 * np.diff(mesh.between, axis=1)[:, :, np.newaxis] * mesh.width
    active: Mask = source > 0.0
    for _ in range(_MOST_STEPS):
        pressure = _solve_where(mesh, source, active)
        surplus = _flow_out(mesh, pressure) - source
        settled: Mask = np.where(active, pressure > 0.0, surplus < 0.0)
        if np.array_equal(settled, active):
            return pressure
        active = settled
    raise ArithmeticError("the edge of the oil film did not settle")


def _flow_out(mesh: _Mesh, pressure: Array) -> Array:
    """Net flow out of each cell that the pressures drive: the discrete operator."""
    edge = np.zeros_like(pressure[:, :1])
    steps = np.diff(np.concatenate([edge, pressure, edge], axis=1), axis=1)
    around = -np.diff(mesh.around[:, :, np.newaxis] * steps, axis=1) * mesh.width
    result: Array = around + mesh.along[:, :, np.newaxis] * (pressure @ mesh.stiffness)
    return result


def _solve_where(mesh: _Mesh, source: Array, active: Mask) -> Array:
    """Solve the equations of the active points with no pressure elsewhere (block elimination)."""
    count, lines, along = source.shape
    identity = np.eye(along)
    pull = active * mesh.width
    right = np.where(active, source, 0.0)[..., np.newaxis]
    upper = np.zeros((lines, count, along, along))
    value = np.zeros((lines + 1, count, along, 1))
    for i in range(lines):
        before = (pull[:, i] * mesh.around[:, i, np.newaxis])[..., np.newaxis]
        after = (pull[:, i] * mesh.around[:, i + 1, np.newaxis])[..., np.newaxis]
        block = np.where(
            active[:, i, :, np.newaxis],
            mesh.along[:, i, np.newaxis, np.newaxis] * mesh.stiffness + (before + after) * identity,
            identity,
        )
        inverse = np.linalg.inv(block - before * upper[i - 1] if i else block)
        upper[i] = inverse * after.swapaxes(-1, -2)
        value[i] = inverse @ (right[:, i] + before * value[i - 1])
    for i in range(lines - 1, -1, -1):
        value[i] += upper[i] @ value[i + 1]
    return np.moveaxis(value[:-1, ..., 0], 0, 1)


def _numbers(ratio: float, eps: Array, mesh: _Mesh, pressure: Array) -> FilmNumbers:
    line = pressure @ mesh.weights * mesh.stretch  # force per mesh line and radian
    along_centres = -np.sum(line * np.cos(mesh.theta), axis=1)
    across = np.sum(line * np.sin(mesh.theta), axis=1)
    projected = np.hypot(along_centres, across) / (2.0 * ratio)
    attitude = np.arctan2(across, along_centres)
    sommerfeld = 1.0 / (2.0 * np.pi * projected)
    drawn = mesh.between[:, 0] - mesh.around[:, 0] * (pressure[:, 0] @ mesh.weights) / (6.0 * ratio)
    return FilmNumbers(
        eccentricity=eps,
        sommerfeld=sommerfeld,
        attitude=attitude,
        friction=friction_number(sommerfeld, eps, attitude),
        flow=np.pi * drawn,
        side_share=_side_flow(mesh, pressure) / (ratio * drawn),
        pressure_ratio=projected / _peak(pressure[:, :, 0]),
    )


def _side_flow(mesh: _Mesh, pressure: Array) -> Array:
    """Flow past the end of half the bearing: that of the last full step and of the cell beyond."""
    last = pressure[:, :, -1]
    through = mesh.along * last / mesh.last
    sheared = -6.0 * np.diff(mesh.between, axis=1) * mesh.last / 2.0
    result: Array = np.sum(np.where(last > 0.0, through + sheared, 0.0), axis=1) / 6.0
    return result


def _peak(middle: Array) -> Array:
    """Greatest pressure at mid-length: the top of the parabola through the highest points."""
    rows = np.arange(len(middle))
    top = np.argmax(middle, axis=1)
    low, high, next_ = (middle[rows, top + shift] for shift in (-1, 0, 1))
    result: Array = high + (next_ - low) ** 2 / (8.0 * (2.0 * high - low - next_))
    return result
