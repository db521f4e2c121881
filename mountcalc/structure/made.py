"""What a mount is made of, with what is taken where the scenario says nothing.

A board of which the material is not given, or not known, is None: nothing of it is judged.
"""

from __future__ import annotations

import math
from functools import cached_property

from mountcalc.formulas.screw_threads import core, pitch_diameter
from mountcalc.formulas.section import torsion_constant
from mountcalc.formulas.wood import second_moment, section_modulus
from mountcalc.handbook.hardware import BoltStrength, Face, bolt_strength, fact, unmarked_bolt
from mountcalc.handbook.rows import datum, load
from mountcalc.handbook.wood import Wood, creep_factor, duration_factor, wood
from mountcalc.record import Record
from mountcalc.scenario.boards import board_sizes
from mountcalc.scenario.hardware import Grain, Holder, Joined, Room
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.text.named import HingeScrew
from mountcalc.scenario.text.threads import Thread, bolt_diameter

_SERVICE_CLASS = {Room.HEATED: 1, Room.UNHEATED: 2}


class Plate(Record):
    """The hinged plate as a beam from hinge to bolt: lengths [m], ``layers`` that are not one."""

    wood: Wood
    width: float
    thickness: float
    layers: int
    is_across: bool
    service_class: int

    @property
    def section(self) -> float:
        """Section modulus [m^3]."""
        return float(section_modulus(self.width, self.thickness, self.layers))

    @property
    def share(self) -> float:
        """What the way the grain runs leaves of strength and modulus [-]."""
        return self.wood.across.value if self.is_across else 1.0

    @property
    def bending(self) -> float:
        """Stiffness EI [N m^2]."""
        modulus = self.wood.modulus.value * self.share
        return modulus * float(second_moment(self.width, self.thickness, self.layers))

    @property
    def twisting(self) -> float:
        """Stiffness GJ [N m^2]: layers that slide twist each by itself."""
        one = float(torsion_constant(self.width, self.thickness / self.layers))
        return self.wood.shear_modulus.value * self.wood.modulus.value * self.layers * one

    @property
    def creep(self) -> float:
        """What its first deflection grows by in the end, in units of itself [-]."""
        return creep_factor(self.wood.kind, self.service_class).value

    @property
    def kept(self) -> float | None:
        """Share of its strength under a load that stays [-]; None where none is published."""
        found = duration_factor(self.wood.kind, "permanent", self.service_class)
        return None if found is None else found.value

    def named(self) -> str:
        """It, in words."""
        loose = f" in {self.layers} layers only screwed" if self.layers > 1 else ""
        return f"the plate of {self.wood.name}{loose}"


class Screws(Record):
    """The screws of the hinges in one board: lengths [m], ``thread`` and ``depth`` in the wood."""

    wood: Wood
    face: Face
    screw: HingeScrew
    thread: float
    depth: float


class Bolt(Record):
    """One of the adjuster's bolts: lengths [m]; what is not said and cannot be taken is None."""

    thread: Thread
    diameter: float
    count: int
    is_inch: bool
    strength: BoltStrength
    holder: Holder
    engagement: float | None
    stands_out: float | None
    pad: float | None
    friction: float
    wrench: float

    @cached_property
    def core(self) -> float:
        """Diameter at the thread's root [m]."""
        return float(core(self.diameter, self.thread.pitch))

    @cached_property
    def mean(self) -> float:
        """Pitch diameter [m]."""
        return float(pitch_diameter(self.diameter, self.thread.pitch))


def plate_of(scenario: Scenario) -> Plate | None:
    """The plate of a mount, if it is known what it is made of and how thick it is."""
    board, sizes = scenario.parts.plate, board_sizes(scenario)
    if board.material is None or board.thickness is None:
        return None
    layers = board.layers or 1
    found = wood(board.material, board.thickness / layers)
    if found is None:
        return None
    return Plate(
        wood=found,
        width=sizes.width,
        thickness=board.thickness,
        layers=layers if board.joined is Joined.SCREWED else 1,
        is_across=board.grain is Grain.ALONG_HINGE,
        service_class=_SERVICE_CLASS[scenario.parts.wood.room],
    )


def base_wood(scenario: Scenario) -> Wood | None:
    """What the base is made of, if that is known."""
    base = scenario.parts.base
    return None if base.material is None else wood(base.material, base.thickness)


def screws_of(scenario: Scenario) -> dict[str, Screws]:
    """The hinges' screws in "plate" and "base", where board and length of screw are known."""
    parts, sizes = scenario.parts, board_sizes(scenario)
    hinges, plate, found = parts.hinges, plate_of(scenario), dict[str, Screws]()
    boards = {
        "plate": (None if plate is None else plate.wood, hinges.into_plate, parts.plate.thickness),
        "base": (base_wood(scenario), hinges.into_base, parts.base.thickness),
    }
    for name, (board, into, thickness) in boards.items():
        screw = hinges.screw_into(name)
        if board is None or screw is None or screw.length is None:
            continue
        face = into or Face.FACE
        deep = screw.length - sizes.leaf_thickness
        if face is Face.THROUGH:
            deep = thickness or 0.0
        elif face is Face.FACE:
            # A leaf that is let in takes its mortise off what is under it.
            room = math.inf if thickness is None else thickness - sizes.mortise
            deep = min(deep, room)
        deep = max(deep, 0.0)
        thread = min(screw.length * fact("thread", "share").value, deep)
        found[name] = Screws(board, face, screw, thread, deep)
    return found


def bolt_of(scenario: Scenario) -> Bolt | None:
    """The adjuster's bolt, if it has one of a known size."""
    adjuster, said = scenario.adjuster, scenario.parts.bolt
    thread = adjuster.thread
    diameter = None if thread is None else bolt_diameter(thread)
    if thread is None or diameter is None:
        return None
    is_inch = not thread.name.upper().startswith(("M", "TR"))
    strength = bolt_strength(said.strength or unmarked_bolt(is_inch=is_inch), diameter)
    if strength is None:
        return None
    holder, engagement = said.holder or Holder.NUT, said.engagement
    if engagement is None and holder in {Holder.NUT, Holder.T_NUT}:
        engagement = fact("bolt", "nut_height").value * diameter
    heads = load("bolt_heads")
    reach = datum("bolt_heads", heads["wrench"]["length"]).value
    flats = datum("bolt_heads", heads["other"]["across_flats"]).value
    return Bolt(
        thread=thread,
        diameter=diameter,
        count=max(len(adjuster.places), 1),
        is_inch=is_inch,
        strength=strength,
        holder=holder,
        engagement=engagement,
        stands_out=said.stands_out,
        pad=said.pad,
        friction=said.friction or fact("friction", "oiled").value,
        wrench=said.wrench or reach * flats * diameter,
    )
