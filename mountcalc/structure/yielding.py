"""How far a hinged plate and what holds it give under forces on its motor, by energy.

Axes are the board's own: along it from the hinge's axis, out of the face that the motor stands on,
and along the shafts. The plate is a bar along its length that bends and twists, the motor's base is
rigid on four feet, hinges and bolts hold it as in `mountcalc.loads`; two bolts share by what gives,
both of them holding. Every force is in proportion to the load, so that states add up.

Symbols
-------
levers : where forces act; its numbers may be arrays (m,), one for each of many plates
softness : of the parts
force : on the motor, along the plate and out of its face, each of shape (m,) or a number [N]
at : where it acts: along, out and along the shafts [m]
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from mountcalc.formulas.board import Ends, piece_moments, product_of_lines
from mountcalc.record import Record
from mountcalc.structure.places import Places

Array = NDArray[np.float64]
Numbers = float | Array
Plane = tuple[Numbers, Numbers]

_PAIR = 2


class Levers(Record):
    """Where forces act on a plate, along it and out of its face [m], and how thick it is [m].

    ``shaft`` is the motor's; the bolts ``meet`` it and ``push`` it for each newton of their axial
    force [-]. What is along the shafts is in ``places``.
    """

    shaft: Plane
    meets: Plane
    push: Plane
    thickness: float
    places: Places

    @property
    def leverage(self) -> Numbers:
        """Moment about the hinge of a newton of the bolts [m]."""
        return self.meets[0] * self.push[1] - self.meets[1] * self.push[0]


class Softness(Record):
    """How parts give; zero where they are rigid.

    ``bending`` 1/EI and ``twisting`` 1/GJ [1/(N m^2)] of the plate. Of each hinge and each bolt
    [m/N]: ``leaves`` out of the face of plate and base together, ``screws`` along these faces,
    ``bolt`` along and ``aside`` across its axis, ``tip`` of what it presses. ``base`` [rad] is how
    far the base's face is turned from the plate's, shape (m,) or a number, and ``base_leaf`` and
    ``base_screws`` are as ``leaves`` and ``screws``, on that.
    """

    bending: float = 0.0
    twisting: float = 0.0
    leaves: float = 0.0
    screws: float = 0.0
    base: Numbers = 0.0
    base_leaf: float = 0.0
    base_screws: float = 0.0
    bolt: float = 0.0
    aside: float = 0.0
    tip: float = 0.0


class Yield(NamedTuple):
    """A part's share of a product of two states [J]: what it gives in one times its load in one."""

    bending: Array
    twist: Array
    leaves: Array
    screws: Array
    bolt: Array
    tip: Array

    @property
    def total(self) -> Array:
        """All parts."""
        return np.asarray(sum(self))


class State(NamedTuple):
    """What a plate and its holders carry: the plate by pieces of some lengths, along it.

    ``moments`` and ``twists`` (..., k), hinges (..., h, 2) [N], along the plate and out of its
    face, and bolts (..., b) [N].
    """

    lengths: Array
    moments: Ends
    twists: Array
    hinges: Array
    bolts: Array

    def plus(self, other: State, times: Numbers) -> State:
        """Return the state with so many times another added."""
        one = np.asarray(times)[..., np.newaxis]
        start, end = (
            mine + one * theirs for mine, theirs in zip(self.moments, other.moments, strict=True)
        )
        return State(
            self.lengths,
            (start, end),
            self.twists + one * other.twists,
            self.hinges + one[..., np.newaxis] * other.hinges,
            self.bolts + one * other.bolts,
        )


def state(
    levers: Levers,
    softness: Softness,
    force: Plane,
    at: tuple[Numbers, Numbers, Numbers],
    board: tuple[Plane, Plane] = ((0.0, 0.0), (0.0, 0.0)),
) -> State:
    """What a force on the motor brings; ``board`` is one on the plate itself, and its place.

    States that are added or multiplied have that place in common.
    """
    count = len(levers.places.bolts)
    found = _carried(levers, force, at, board, [1.0 / count] * count)
    if count != _PAIR:
        return found
    # What one bolt takes over from the other goes where the energy is least.
    none = (0.0, 0.0)
    other = _carried(levers, none, at, (none, board[1]), [1.0, -1.0], alone=True)
    against, own = (product(levers, softness, other, one).total for one in (found, other))
    shifted = -against / np.where(own > 0, own, np.inf)
    return found.plus(other, shifted)


def _carried(
    levers: Levers,
    force: Plane,
    at: tuple[Numbers, Numbers, Numbers],
    board: tuple[Plane, Plane],
    shares: Sequence[float],
    *,
    alone: bool = False,
) -> State:
    """By statics, the bolts carrying shares of what they carry together; ``alone``: of a newton."""
    places, (fx, fy), (x, y, z) = levers.places, force, at
    (bx, by), (board_x, board_y) = board
    px, py = levers.push
    moment = x * fy - y * fx
    carried = -(moment + board_x * by - board_y * bx) / levers.leverage
    bolts = [share * (1.0 if alone else carried) for share in shares]
    together = sum(bolts)
    hinges = -(fx + bx + together * px), -(fy + by + together * py)
    # The hinges' forces times their places along the shafts balance those of all others.
    across = sum(bolt * one for bolt, one in zip(bolts, places.bolts, strict=True))
    wanted = -(z * fx + across * px), -(z * fy + across * py)
    middle = float(np.mean(places.hinges))
    off = np.array(places.hinges) - middle
    spread = float(np.sum(off**2))
    pins = [
        _last(whole / off.size) + (_last((want - middle * whole) / spread) * off if spread else 0.0)
        for whole, want in zip(hinges, wanted, strict=True)
    ]
    # The feet: rows nearer to the hinge and further, each as a force and two couples.
    half_shafts, half = places.feet
    aside = z - places.feet_middle
    tilting, turning = moment - levers.shaft[0] * fy, aside * fx / (half**2 + half_shafts**2)
    rows = [
        (
            levers.shaft[0] + side * half,
            0.5 * fy + side * tilting / (2.0 * half),
            0.5 * fx * 0.5 * levers.thickness,
            -0.5 * aside * fy
            - places.feet_middle * (0.5 * fy + side * tilting / (2.0 * half))
            - 0.25 * levers.thickness * side * half * turning,
        )
        for side in (-1.0, 1.0)
    ]
    deep = 0.5 * levers.thickness
    stations = [
        (0.0, hinges[1], deep * hinges[0], -wanted[1]),
        *rows,
        (levers.meets[0], together * py, (levers.meets[1] + deep) * together * px, -across * py),
        (board_x, by, (board_y + deep) * bx, 0.0),
    ]
    along, out, couples, torques = (
        np.stack(np.broadcast_arrays(*column), axis=-1).astype(float)
        for column in zip(*stations, strict=True)
    )
    along, out, couples, torques = np.broadcast_arrays(along, out, couples, torques)
    order = np.argsort(along, axis=-1, kind="stable")
    along, out, couples, torques = (
        np.take_along_axis(one, order, axis=-1) for one in (along, out, couples, torques)
    )
    return State(
        np.diff(along, axis=-1),
        piece_moments(along, out, couples),
        np.cumsum(torques, axis=-1)[..., :-1],
        np.stack(np.broadcast_arrays(*pins), axis=-1),
        np.stack(np.broadcast_arrays(*bolts), axis=-1).astype(float),
    )


def product(levers: Levers, softness: Softness, one: State, other: State) -> Yield:
    """What the parts give in one state times what they carry in the other [J], shape (...).

    Of a state with itself it is twice the energy; over its load it is the deflection there
    (Castigliano's theorem).
    """
    pins = np.stack([one.hinges, other.hinges])
    screws, leaves = np.moveaxis(np.prod(pins, axis=0), -1, 0)
    turned = pins @ [1.0, 1.0j] * np.exp(-1j * _last(softness.base))
    leaves = softness.leaves * leaves + softness.base_leaf * np.prod(turned.imag, axis=0)
    screws = softness.screws * screws + softness.base_screws * np.prod(turned.real, axis=0)
    pushed = np.asarray(levers.push[0]) ** 2 + np.asarray(levers.push[1]) ** 2
    bolts = np.sum(one.bolts * other.bolts, axis=-1)
    # Across its axis a bolt is pushed by the lean of the face that it bears on.
    lean = np.maximum(pushed - 1.0, 0.0)
    return Yield(
        softness.bending * product_of_lines(one.moments, other.moments, one.lengths),
        softness.twisting * np.sum(one.lengths * one.twists * other.twists, axis=-1),
        np.sum(leaves, axis=-1),
        np.sum(screws, axis=-1),
        (softness.bolt + softness.aside * lean) * bolts,
        softness.tip * pushed * bolts,
    )


def give_at_bolts(levers: Levers, softness: Softness, pull: Plane, across: float) -> Yield:
    """What the parts give at the line of the bolts, over their force [m/N].

    Under the belts' ``pull`` on the motor's shaft at rest, any size, so far along the shafts [m].
    The motor's turn about the hinge by what gives is that of so much movement of the bolts.
    """
    loaded = state(levers, softness, pull, (*levers.shaft, across))
    force = np.sum(loaded.bolts, axis=-1)
    return Yield(*(one / force**2 for one in product(levers, softness, loaded, loaded)))


def _last(value: Numbers) -> Array:
    return np.asarray(value)[..., np.newaxis]
