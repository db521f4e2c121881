"""How far the plate gives, seen from its bolts: what creep makes more of."""

from __future__ import annotations

from typing import NamedTuple

import numpy as np

from mountcalc.loads.body import bodies
from mountcalc.strength.carried import Setup
from mountcalc.structure.made import Plate
from mountcalc.structure.yielding import Softness, product, state


class Give(NamedTuple):
    """How far the plate gives at the line of its bolts [m/N].

    ``per_newton`` is for a newton more, ``under_load`` all that it gives, over the bolts' force:
    weights bend a plate, too, but they do not grow with the force.
    """

    per_newton: float
    under_load: float


def give_of_plate(setup: Setup, plate: Plate) -> Give | None:
    """What bending and twist of the plate give; None where no bolt holds it at rest."""
    bodies_there = [] if setup.turns is None else bodies(setup.ways[0], setup.turns)
    body = next((one for one in bodies_there if one.case == "rest" and one.bolts), None)
    if body is None or not body.belts.force.any():
        return None
    softness = Softness(bending=1.0 / plate.bending, twisting=1.0 / plate.twisting)
    levers, places = body.levers(plate.thickness), body.places
    board = (float(body.board.at[0]), float(body.board.at[1]))
    belts, weight, own = (
        (float(one.force[0]), float(one.force[1])) for one in (body.belts, body.weight, body.board)
    )
    hung = float(body.weight.at[0]), float(body.weight.at[1]), places.motor
    pulled = state(levers, softness, belts, (*levers.shaft, places.pulley), ((0.0, 0.0), board))
    loaded = pulled.plus(state(levers, softness, weight, hung, (own, board)), 1.0)
    force = float(np.sum(pulled.bolts))
    by_belts, by_all = (
        float(product(levers, softness, one, pulled).total) for one in (pulled, loaded)
    )
    return Give(by_belts / force**2, by_all / (force * body.bolts))
