"""The parts that are made or bought for the mount, as far as the scenario tells of them.

Nothing here bears on tension or loads: drawings are made from it, and strength is judged by it.
Lengths are in metres, and what the user does not say is None. Positions along the shafts count from
the same origin as those of the bearings.
"""

from typing import Annotated

from mountcalc.handbook.hardware import Face
from mountcalc.record import Record
from mountcalc.scenario import keys as k
from mountcalc.scenario.hardware import BoltMake, Feet, Grain, Joined, Surroundings
from mountcalc.scenario.keys import Key, choice, part_length
from mountcalc.scenario.text.named import HingeScrew
from mountcalc.units import Metres


class PlateBoard(Record):
    """The board of the hinged plate; `plate_line` has its ``direction`` always."""

    length: Annotated[
        k.BoardLength | None, "from the hinged edge to the far one, for drawings only"
    ] = None
    width: Annotated[k.BoardLength | None, "along the hinge's line"] = None
    thickness: Annotated[k.BoardThickness | None, "of all layers together"] = None
    layers: k.Count | None = None
    material: k.Name | None = None
    direction: Annotated[k.Direction | None, "the way it runs from the hinge as drawn"] = None
    joined: Annotated[Joined | None, choice(Joined), "how its layers hold together"] = None
    grain: Annotated[Grain | None, choice(Grain), "the way that of its face runs"] = None


class Hinges(Record):
    """The hinges, all ``number`` of them alike."""

    leaf_length: Annotated[k.BoardLength | None, "along the hinge's line"] = None
    leaf_width: Annotated[k.Gap | None, "of one leaf, from the pin's axis"] = None
    leaf_thickness: Annotated[Metres | None, part_length(0.03)] = None
    knuckle_diameter: Annotated[Metres | None, part_length(0.1), "outside"] = None
    number: Annotated[k.Count | None, "of hinges, all alike"] = None
    across: Annotated[tuple[Metres, ...] | None, k.PLACES, "middle of each, as adjuster.across"] = (
        None
    )
    screw: k.ScrewSize | None = None
    base_screw: Annotated[k.ScrewSize | None, "into the base, where they are others there"] = None
    screws_per_leaf: k.Count | None = None
    mortise_depth: Annotated[k.BoardThickness | None, "how deep a leaf is let in"] = None
    pin_diameter: Annotated[Metres | None, part_length(0.05)] = None
    play: Annotated[Metres | None, part_length(0.01), "of the pin in its knuckles"] = None
    into_plate: Annotated[Face | None, choice(Face), "where its screws go into the plate"] = None
    into_base: Annotated[Face | None, choice(Face), "where its screws go into the base"] = None

    def screw_into(self, board: str) -> HingeScrew | None:
        """The screws that go into "plate" or "base", as far as they are told."""
        return (self.base_screw or self.screw) if board == "base" else self.screw


class Guard(Record):
    """The guard's panel and the strip that is bent around it."""

    clearance: Annotated[k.Gap | None, "kept around belt and pulleys over the whole swing"] = None
    slot_clearance: Annotated[k.Gap | None, "kept around the motor's shaft"] = None
    bearing_opening: Annotated[
        Metres | None, part_length(2.0), "diameter, for a bearing that the panel meets"
    ] = None
    thickness: Annotated[Metres | None, part_length(0.1), "of panel and strip"] = None
    # A strip takes the more cuts, the narrower they are.
    kerf: Annotated[Metres | None, part_length(0.010, 0.0001), "width of a saw cut"] = None
    strip_width: Annotated[Metres | None, part_length(2.0)] = None
    position: Annotated[k.Position | None, "of the panel's middle, along the shafts"] = None


class Base(Record):
    """What carries the hinge."""

    floor: Annotated[k.Position | None, "y of the floor"] = None
    direction: Annotated[k.Direction | None, "the way its face runs from the hinge"] = None
    thickness: Annotated[k.BoardThickness | None, "behind that face"] = None
    material: k.Name | None = None


class AlongShafts(Record):
    """Where things are along the shafts; the driven pulley is at ``Driven.pulley_position``."""

    motor_pulley: Annotated[
        k.Position | None, Key("motor.pulley_position"), "along the shaft, as the bearings"
    ] = None
    motor_pulley_width: Annotated[
        k.PulleyWidth | None, Key("motor.pulley_width"), "for drawings only"
    ] = None
    motor_feet: Annotated[
        k.Position | None, Key("motor.across"), "middle of its feet, as adjuster.across"
    ] = None
    motor_center: Annotated[
        k.Position | None, Key("motor.center_across"), "of its center of mass, as adjuster.across"
    ] = None
    motor_face: Annotated[
        k.Position | None, Key("motor.face_position"), "the shoulder that the shaft sticks out from"
    ] = None
    driven_pulley_width: Annotated[
        k.PulleyWidth | None, Key("driven.pulley_width"), "for drawings only"
    ] = None
    driven_shaft_end: Annotated[
        k.Position | None, Key("driven.shaft_end"), "on the pulley's side, for drawings only"
    ] = None


class Parts(Record):
    """All parts; a table that the scenario does not have is one in which nothing is said."""

    plate: PlateBoard = PlateBoard()
    hinges: Hinges = Hinges()
    guard: Guard = Guard()
    base: Base = Base()
    along: AlongShafts = AlongShafts()
    bolt: BoltMake = BoltMake()
    feet: Feet = Feet()
    wood: Surroundings = Surroundings()
    frame: Annotated[
        k.FrameName | None, Key("motor.frame"), "gives feet and shaft, for drawings only"
    ] = None
    packing: Annotated[k.BoardThickness, Key("motor.packing"), "between plate and feet"] = 0.0
