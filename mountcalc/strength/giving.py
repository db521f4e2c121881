"""How far plate, bolt and the wood under its tip give, seen from the bolt."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise
from typing import NamedTuple

from mountcalc.equilibrium.give import GivingPart, in_series, share_of_a_turn
from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.solve import SolvedMount
from mountcalc.judgement import Judgement, Measure, Topic, Verdict
from mountcalc.loads.board import Beam, beam_of
from mountcalc.loads.body import bodies
from mountcalc.loads.space import share_out
from mountcalc.pages.amounts import RATE, in_figures
from mountcalc.scenario.boards import board_sizes
from mountcalc.scenario.model import AdjusterKind
from mountcalc.strength.carried import Setup
from mountcalc.strength.made import Bolt, Plate, base_wood, bolt_of, stiffness_of

_STEP = 0.02  # turns between the two states of which the difference is taken
_STEEL = 205e9  # [Pa] Young's modulus of bolts, common practice
_ACROSS = 0.05  # of a modulus along the grain, across it: see data/woods.toml
_MUCH = 0.6  # a mount that gets less of a turn is told so (our own judgement)


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


def parts_that_give(setup: Setup, plate: Plate) -> tuple[GivingPart, ...]:
    """Plate, bolt and the wood that its tip presses, as far as they are known."""
    give, bolt = give_of_plate(setup, plate), bolt_of(setup.scenario)
    if give is None or give.per_newton <= 0:
        return ()
    found = [GivingPart("plate", 1.0 / give.per_newton)]
    if bolt is not None and bolt.stands_out:
        area = 0.25 * math.pi * bolt.core**2
        found.append(GivingPart("bolt", bolt.count * _STEEL * area / bolt.stands_out))
    if bolt is not None and setup.scenario.adjuster.kind is not AdjusterKind.LINK:
        found += _pressed(setup, plate, bolt)
    return tuple(found)


def _pressed(setup: Setup, plate: Plate, bolt: Bolt) -> Iterator[GivingPart]:
    """The wood under a stiff round pad: a half space gives F / (2 a E) (Johnson; from memory)."""
    in_base = setup.scenario.adjuster.kind is AdjusterKind.JACK_IN_BASE
    wood = plate.wood if in_base else base_wood(setup.scenario)
    if wood is not None:
        modulus = wood.modulus.value * (1.0 if wood.is_panel else _ACROSS)
        stiffness = bolt.count * (bolt.pad or bolt.diameter) * modulus
        yield GivingPart("wood under the tip", stiffness)


def give_judgements(setup: Setup, plate: Plate) -> Iterator[Judgement]:
    """What a turn does less of than tables of a rigid mount say; nothing where its give is said."""
    adjuster, display = setup.scenario.adjuster, setup.scenario.display
    parts, turns = parts_that_give(setup, plate), setup.turns
    stiffness = in_series(parts)
    if adjuster.spring is not None or stiffness is None or turns is None:
        return
    phi = setup.ways[0].at_rest([turns]).phi
    giving = replace(setup.scenario, adjuster=replace(adjuster, spring=stiffness))
    # Behind a coil spring a turn does less already.
    before = float(share_of_a_turn(setup.ways[0].mount, phi)[0])
    share = float(share_of_a_turn(Mount.of(giving), phi)[0]) / before
    unit = RATE.text(stiffness, display)
    sentence = (
        f"plate and bolt give: a turn adds {in_figures(share, 2)} of what tables say; "
        f'stiffness = "{unit}" in [adjuster] tells them so'
    )
    verdict = Verdict.NOTE if share >= _MUCH else Verdict.CAUTION
    topic = Topic("give", "statics", sure="estimate")
    yield topic.judge(Measure(RATE, stiffness, verdict=verdict), sentence)
