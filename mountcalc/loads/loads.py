"""What each part of a mount carries at some turns, at rest, running and starting."""

from __future__ import annotations

import cmath
import math
from collections.abc import Collection, Iterator

import numpy as np

from mountcalc.equilibrium.solve import SolvedMount
from mountcalc.loads.board import beam_of, sections
from mountcalc.loads.body import Array, Body, bodies
from mountcalc.loads.feet import feet_forces
from mountcalc.loads.leaf import screw_loads
from mountcalc.loads.results import RIGID, Part, PartLoad, SpaceLoads, Stiffness, Wood
from mountcalc.loads.space import share_out
from mountcalc.scenario.boards import BoardSizes, board_sizes
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.text.writing import Vector
from mountcalc.thresholds import ROUNDING


def space_loads(
    solved: SolvedMount, turns: float | None, stiffness: Stiffness = RIGID, ahead: float = 0.0
) -> tuple[SpaceLoads, ...]:
    """Each hinge and each bolt in the load cases that have a balance.

    Parameters
    ----------
    solved : SolvedMount
    turns : float or None [-]
        From zero; without an adjuster it counts for nothing.
    stiffness : Stiffness
        What gives way; all is rigid where it is not said.
    ahead : float [m]
        How much further the first of two bolts is out than the other.
    """
    scenario = solved.mount.scenario
    leaf, acts = board_sizes(scenario).leaf_length, scenario.adjuster.acts
    return tuple(share_out(body, stiffness, leaf, acts, ahead) for body in bodies(solved, turns))


def part_loads(
    solved: SolvedMount,
    turns: float | None,
    stiffness: Stiffness = RIGID,
    stands_out: float = 0.0,
    edges: Collection[Wood] = (),
) -> tuple[PartLoad, ...]:
    """What every part brings into the wood, in the load cases that have a balance.

    Parameters
    ----------
    solved : SolvedMount
    turns : float or None [-]
        From zero; without an adjuster it counts for nothing.
    stiffness : Stiffness
        What gives way; all is rigid where it is not said.
    stands_out : float [m]
        How far a bolt stands out of what carries it, to its tip: its side load bends it there.
    edges : collection of Wood
        Boards whose leaves lie on the edge at the pin instead of the face: ``out`` is then out of
        that edge, ``along_plate`` from the face through the thickness.
    """
    scenario = solved.mount.scenario
    sizes, found = board_sizes(scenario), list[PartLoad]()
    for body in bodies(solved, turns):
        loads = share_out(body, stiffness, sizes.leaf_length, scenario.adjuster.acts)
        found += _hinges(scenario, sizes, body, loads, edges)
        found += _bolts(body, loads, stands_out)
        found += _feet(body)
        found += _plate(body, loads, sizes.thickness)
    return tuple(found)


def _hinges(
    scenario: Scenario,
    sizes: BoardSizes,
    body: Body,
    loads: SpaceLoads,
    edges: Collection[Wood],
) -> Iterator[PartLoad]:
    """The leaves on plate and base, and each of their screws."""
    base = scenario.parts.base.direction
    for number, hinge in enumerate(loads.hinges, 1):
        on_plate = body.own(hinge.force), body.own(hinge.couple)
        leaves = [(Wood.PLATE, body.turned, *on_plate)]
        if base is None:
            # Which way it stands is not known: all of the force counts as pull and as side load.
            size = math.hypot(*hinge.force)
            leaves.append((Wood.BASE, -body.turned, np.array([size, size, 0.0]), -on_plate[1]))
        else:
            pin, couple = (_on_base(base, body.turned, one) for one in (hinge.force, hinge.couple))
            leaves.append((Wood.BASE, -body.turned, pin, couple))
        for on, side, on_face, held in leaves:
            way, pin, couple = side, on_face, held
            if on in edges:
                # Over the edge away from the pin is into the thickness, out of it is off the board.
                way, pin, couple = -side, -on_face[[1, 0, 2]], -held[[1, 0, 2]]
            name, (along, out, _) = f"hinge {number}", pin.tolist()
            yield PartLoad(
                Part.HINGE,
                name,
                body.case,
                out,
                along,
                on=on,
                across=hinge.across,
                turns=body.turns,
            )
            screws = screw_loads(sizes, pin, couple)
            for index, (at, place, drawn, (away, shafts)) in enumerate(
                zip(*(one.tolist() for one in screws), strict=True), 1
            ):
                yield PartLoad(
                    Part.SCREW,
                    f"{name} screw {index}",
                    body.case,
                    drawn,
                    away,
                    way * shafts + 0.0,
                    on=on,
                    at=at,
                    across=hinge.across + way * place,
                    turns=body.turns,
                )


def _on_base(direction: float, turned: int, vector: Vector) -> Array:
    """The pin's force on the base's leaf, or its couple, in the axes of the base."""
    there = -complex(*vector) * cmath.rect(1.0, -direction)
    return np.array([there.real, -turned * there.imag, 0.0])


def _bolts(body: Body, loads: SpaceLoads, stands_out: float) -> Iterator[PartLoad]:
    """Each bolt: its axis is where it pushes, but for the lean of the face that it bears on."""
    squared = float(np.sum(body.push**2)) - 1.0
    lean = math.sqrt(squared) if squared > ROUNDING else 0.0
    for number, bolt in enumerate(loads.bolts, 1):
        side = bolt.force * lean
        yield PartLoad(
            Part.BOLT,
            f"bolt {number}",
            body.case,
            bolt.force,
            side,
            moment=side * stands_out,
            at=body.meets[0],
            across=bolt.across,
            turns=body.turns,
        )


def _feet(body: Body) -> Iterator[PartLoad]:
    places, forces = feet_forces(body)
    for number, (at, force) in enumerate(zip(places.tolist(), forces.tolist(), strict=True), 1):
        yield PartLoad(
            Part.FOOT,
            f"foot {number}",
            body.case,
            force[1],
            force[0],
            body.turned * force[2],
            at=at[0],
            across=body.turned * at[2],
            turns=body.turns,
        )


def _plate(body: Body, loads: SpaceLoads, thickness: float) -> Iterator[PartLoad]:
    for name, (at, cut) in sections(beam_of(body, loads, thickness)).items():
        yield PartLoad(
            Part.PLATE,
            name,
            body.case,
            cut.shear,
            cut.thrust,
            moment=cut.moment,
            twist=cut.twist,
            at=at,
            turns=body.turns,
        )
