"""How far plate, bolt and hinges give at the line of the bolt, from what the scenario tells."""

from __future__ import annotations

import cmath
import math
from collections.abc import Iterator
from functools import lru_cache

from mountcalc.formulas.screw_threads import STEEL, core, tensile_stress_area
from mountcalc.formulas.section import (
    bending_stiffness,
    cantilever_compliance,
    stretch_compliance,
)
from mountcalc.formulas.wood import pad_compliance
from mountcalc.formulas.wood_screws import slip_modulus
from mountcalc.handbook.hardware import fact
from mountcalc.handbook.wood import Wood
from mountcalc.record import Record
from mountcalc.scenario.boards import board_sizes
from mountcalc.scenario.drawn_plate import plate_line
from mountcalc.scenario.model import AdjusterKind, Scenario
from mountcalc.scenario.text.writing import Vector
from mountcalc.structure.made import Bolt, Plate, base_wood, bolt_of, plate_of
from mountcalc.structure.places import places_of
from mountcalc.structure.yielding import Levers, Softness, Yield, give_at_bolts


class GivingPart(Record):
    """What one part gives, seen from the bolts: ``stiffness`` [N/m] is force over give there.

    ``share`` [-] is that of all that gives, ``sure`` how sure what it is made of is known.
    """

    name: str
    stiffness: float
    share: float
    source: str
    sure: str

    @property
    def own_keys(self) -> dict[str, str]:
        """Its keys in JSON that tell a unit."""
        return {"stiffness": "stiffness_N_m"}


class PartsGive(Record):
    """What all parts that are told give together at the line of the bolts, as drawn.

    ``stiffness`` [N/m] is the force of all bolts over it; ``left_out`` are the keys that would tell
    of the parts that are taken as rigid.
    """

    stiffness: float
    parts: tuple[GivingPart, ...]
    left_out: tuple[str, ...]

    @property
    def own_keys(self) -> dict[str, str]:
        """Its keys in JSON that tell a unit."""
        return {"stiffness": "stiffness_N_m"}


@lru_cache(maxsize=256)
def give_of_parts(scenario: Scenario, meets: Vector, push: Vector) -> PartsGive | None:
    """What the parts of a mount give; None where no board is told.

    Parameters
    ----------
    scenario : Scenario
        With an adjuster.
    meets : tuple of float [m]
        Where that bears on the plate as drawn.
    push : tuple of float [-]
        The force on the plate there, for a newton along the adjuster.
    """
    plate = plate_of(scenario)
    if plate is None:
        return None
    softness, line = softness_of(scenario, plate), plate_line(scenario)
    hinge, motor = complex(*line.hinge), complex(*scenario.motor.shaft)

    def own(vector: complex) -> Vector:
        there = vector * cmath.rect(1.0, -line.direction)
        return there.real, line.side * there.imag

    levers = Levers(
        shaft=own(motor - hinge),
        meets=own(complex(*meets) - hinge),
        push=own(complex(*push)),
        thickness=plate.thickness,
        places=places_of(scenario),
    )
    pull = own(complex(*scenario.driven.shaft) - motor)
    found = give_at_bolts(levers, softness, pull, levers.places.pulley)
    return _told(scenario, plate, found)


def _told(scenario: Scenario, plate: Plate, found: Yield) -> PartsGive:
    """Each part that gives with its source, the softest first; what is left out."""
    board, pressed = plate.wood, pressed_wood(scenario)
    slips = "EN 1995-1-1, Table 7.1, slip of screws"
    sources = {
        "bending": ("the plate, bent", board.modulus.source, board.modulus.sure),
        "twist": ("the plate, twisted", board.shear_modulus.source, board.shear_modulus.sure),
        "leaves": ("the hinges' leaves", "cantilevers of steel from screw to pin", "estimate"),
        "screws": ("the hinges' screws", slips, "from memory"),
        "bolt": ("the bolt", "rod of steel, thread's stress area", "common practice"),
        "tip": (
            "the wood under the tip",
            "rigid pad on a half-space" if pressed is None else pressed.through.source,
            "estimate",
        ),
    }
    if scenario.adjuster.kind is AdjusterKind.LINK:
        sources["tip"] = "the wood under the nut", *sources["tip"][1:]
    total = float(found.total)
    parts = [
        GivingPart(name, 1.0 / float(give), float(give) / total, source, sure)
        for give, (name, source, sure) in zip(found, sources.values(), strict=True)
        if give > 0
    ]
    parts.sort(key=lambda one: one.stiffness)
    return PartsGive(1.0 / total, tuple(parts), tuple(_left_out(scenario)))


def softness_of(scenario: Scenario, plate: Plate) -> Softness:
    """How the parts give, as far as the scenario tells of them."""
    bolt, line, parts = bolt_of(scenario), plate_line(scenario), scenario.parts
    sizes, hinges, pressed = board_sizes(scenario), parts.hinges, pressed_wood(scenario)
    axial, aside, tip, leaf = 0.0, 0.0, 0.0, 0.0
    length = _rod(scenario, bolt)
    if bolt is not None and length is not None:
        root = float(core(bolt.diameter, bolt.thread.pitch))
        area = tensile_stress_area(bolt.diameter, bolt.thread.pitch, is_inch=bolt.is_inch)
        axial = float(stretch_compliance(length, STEEL, area))
        aside = float(cantilever_compliance(length, STEEL * math.pi * root**4 / 64.0))
    if bolt is not None and pressed is not None:
        wide = bolt.pad or bolt.diameter
        if scenario.adjuster.kind is AdjusterKind.LINK:
            wide = bolt.pad or fact("bolt", "washer").value * bolt.diameter
        through = pressed.through.value * pressed.modulus.value
        tip = float(pad_compliance(through, wide))
    if hinges.leaf_thickness is not None:
        # From the pin to the nearer row of screws.
        reach = sizes.edge + (sizes.leaf_width - sizes.edge) / 3.0
        section = bending_stiffness(STEEL, sizes.leaf_length, hinges.leaf_thickness)
        leaf = float(cantilever_compliance(reach, section))
    slips = {
        name: 0.0
        if board is None or (screw := hinges.screw_into(name)) is None
        else 1.0 / (sizes.screws * float(slip_modulus(board.gravity.value, screw.diameter)))
        for name, board in (("plate", plate.wood), ("base", base_wood(scenario)))
    }
    # Where the base's face is not told it counts as the plate's.
    base = 0.0
    if parts.base.direction is not None:
        base = line.side * (parts.base.direction - line.direction)
    return Softness(
        bending=1.0 / plate.bending,
        twisting=1.0 / plate.twisting,
        leaves=leaf,
        screws=slips["plate"],
        base=base,
        base_leaf=leaf,
        base_screws=slips["base"],
        bolt=axial,
        aside=aside,
        tip=tip,
    )


def pressed_wood(scenario: Scenario) -> Wood | None:
    """The board that the adjuster's tip, or its nut, bears on; None where it is not known."""
    if scenario.adjuster.kind is AdjusterKind.JACK_IN_BASE:
        plate = plate_of(scenario)
        return None if plate is None else plate.wood
    return base_wood(scenario)


def _rod(scenario: Scenario, bolt: Bolt | None) -> float | None:
    """How much of a bolt is loaded along its length [m]: what stands out, or from pin to pin."""
    base, pin = scenario.adjuster.base_pin, scenario.adjuster.plate_pin
    if base is not None and pin is not None:
        return math.dist(base, pin)
    return None if bolt is None else bolt.stands_out


def _left_out(scenario: Scenario) -> Iterator[str]:
    """Keys of the parts that are taken as rigid because they are not told."""
    parts, bolt = scenario.parts, bolt_of(scenario)
    if bolt is None:
        yield "adjuster.thread"
    elif _rod(scenario, bolt) is None:
        yield "adjuster.stands_out"
    if pressed_wood(scenario) is None or base_wood(scenario) is None:
        yield "base.material"
    if parts.hinges.leaf_thickness is None:
        yield "hinge.leaf_thickness"
    if parts.hinges.screw is None:
        yield "hinge.screw"
