"""How far the plate gives, seen from its bolts: what creep makes more of."""

from __future__ import annotations

from itertools import pairwise
from typing import NamedTuple

from mountcalc.equilibrium.solve import SolvedMount
from mountcalc.loads.board import Beam, beam_of
from mountcalc.loads.body import bodies
from mountcalc.loads.space import share_out
from mountcalc.scenario.boards import board_sizes
from mountcalc.strength.carried import Setup
from mountcalc.strength.made import Plate, stiffness_of

_STEP = 0.02  # turns between the two states of which the difference is taken


class Give(NamedTuple):
    """How far the plate gives at the line of its bolts [m/N].

    ``per_newton`` is for a newton more, ``under_load`` all that it gives, over the bolts' force:
    weights bend a plate, too, but they do not grow with the force.
    """

    per_newton: float
    under_load: float


def give_of_plate(setup: Setup, plate: Plate) -> Give | None:
    """What bending and twist of the plate give; None where no bolt holds it at rest.

    By virtual work: moments at rest times those that a newton more at the bolts brings.
    """
    turns, solved = setup.turns, setup.ways[0]
    if turns is None or not solved.mount.has_adjuster:
        return None
    states = [_at_rest(solved, at) for at in (turns, turns - _STEP)]
    (force, beam), (less, other) = states
    if not beam or not other or not force or force == less:
        return None
    grown = loaded = 0.0
    # Each by its own stations: the bolt wanders along the plate as it turns.
    pieces = zip(*(pairwise(sorted(one.stations.values())) for one in (beam, other)), strict=True)
    for piece, before in pieces:
        now = [beam.cut(at, beyond=not n) for n, at in enumerate(piece)]
        then = [other.cut(at, beyond=not n) for n, at in enumerate(before)]
        length = piece[1] - piece[0]
        for name, resists in (("moment", plate.bending), ("twist", plate.twisting)):
            full = [getattr(one, name) for one in now]
            more = [
                (at - getattr(one, name)) / (force - less)
                for at, one in zip(full, then, strict=True)
            ]
            grown += _product(more, more) * length / resists
            loaded += _product(full, more) * length / resists
    return Give(grown, loaded / force)


def _at_rest(solved: SolvedMount, turns: float) -> tuple[float, Beam | None]:
    """Force of all bolts at rest, and the plate as a beam."""
    scenario = solved.mount.scenario
    sizes = board_sizes(scenario)
    for body in bodies(solved, turns):
        if body.case == "rest" and body.bolts:
            shares = share_out(
                body, stiffness_of(scenario), sizes.leaf_length, scenario.adjuster.acts
            )
            return body.bolts, beam_of(body, shares, sizes.thickness)
    return 0.0, None


def _product(one: list[float], other: list[float]) -> float:
    """Mean of the product of two straight lines, by their ends."""
    crossed = one[0] * other[1] + one[1] * other[0]
    return (2.0 * one[0] * other[0] + crossed + 2.0 * one[1] * other[1]) / 6.0
