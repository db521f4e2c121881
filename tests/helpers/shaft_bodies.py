"""Motor and plate as bodies with places along the shafts of any kind, for tests."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from hypothesis import strategies as st

from mountcalc.loads.body import Body, Force
from mountcalc.scenario.model import AdjusterKind, Bolt, Scenario
from mountcalc.scenario.parts import AlongShafts, Hinges, Parts, PlateBoard
from mountcalc.structure.places import Places

__all__ = ["force_at", "mirrored", "plain_body", "with_places"]


@st.composite
def with_places(draw, scenario: Scenario) -> Scenario:
    """A mount whose hinges, bolts and motor stand anywhere along the shafts."""

    def number(low, high):
        return draw(st.floats(low, high, allow_subnormal=False))

    middles = [number(-0.2, -0.05), number(0.05, 0.2), number(-0.02, 0.02), number(-0.4, -0.3)]
    hinges = tuple(middles[: draw(st.integers(1, 4))])
    adjuster = scenario.adjuster
    if adjuster.kind is not AdjusterKind.NONE:
        adjuster = replace(adjuster, across=number(-0.2, 0.2))
        if draw(st.booleans()):
            bolts = Bolt(number(-0.2, -0.02)), Bolt(number(0.02, 0.2))
            adjuster = replace(adjuster, bolts=bolts)
    along = AlongShafts(motor_feet=number(-0.1, 0.1), motor_center=number(-0.1, 0.1))
    parts = Parts(
        plate=PlateBoard(width=number(0.1, 0.5), thickness=number(0.01, 0.05)),
        hinges=Hinges(across=hinges),
        along=along,
    )
    return replace(scenario, adjuster=adjuster, parts=parts)


def mirrored(body: Body) -> Body:
    """The same with everything on the other side along the shafts."""

    def over(force):
        return replace(force, at=force.at * [1.0, 1.0, -1.0])

    places, sides = body.places, {}
    for name in ("hinges", "bolts"):
        sides[name] = tuple(-one for one in getattr(places, name))
    for name in ("pulley", "motor", "plate", "feet_middle"):
        sides[name] = -getattr(places, name)
    return replace(
        body,
        places=replace(places, **sides),
        belts=over(body.belts),
        weight=over(body.weight),
        board=over(body.board),
    )


def force_at(along, out, shafts, force):
    """A force in the plane of the drawing, in a board's own axes."""
    return Force(np.array([along, out, shafts]), np.array([*force, 0.0]), np.zeros(3))


def plain_body(hinges=(-0.1, 0.1), bolts=(0.0,), pulley=0.18, pull=(-120.0, -300.0)) -> Body:
    """A plate to the right of its hinge, its bolt pushing it up at 0.4 m, the motor at 0.25 m."""
    belts = force_at(0.25, 0.11, pulley, pull)
    weight, board = force_at(0.25, 0.1, -0.02, (0.0, -130.0)), force_at(0.2, 0.0, 0.0, (0.0, -30.0))
    about = sum(one.about_hinge[2] for one in (belts, weight, board))
    bolt = -about / 0.4
    sums = belts.force + weight.force + board.force + [0.0, bolt, 0.0]
    return Body(
        case="rest",
        turns=1.5,
        plate_angle=0.0,
        direction=0.0,
        turned=1,
        places=Places(hinges, bolts, pulley, -0.02, 0.0, 0.01, (0.04, 0.06), {}),
        belts=belts,
        weight=weight,
        board=board,
        bolts=bolt,
        push=np.array([0.0, 1.0, 0.0]),
        meets=(0.4, 0.0),
        hinges=-sums,
        shaft=(0.25, 0.1),
    )
