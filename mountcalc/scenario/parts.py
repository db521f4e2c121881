"""The parts that are made or bought for the mount, as far as the scenario tells of them.

Nothing here bears on tension or loads: drawings are made from it, and strength is judged by it.
Lengths are in metres, and what the user does not say is None. Positions along the shafts count from
the same origin as those of the bearings.
"""

from typing import Annotated

from mountcalc.handbook.hardware import Face
from mountcalc.record import Record
from mountcalc.scenario import keys as k
from mountcalc.scenario.forms import PLACES, choice, part_length
from mountcalc.scenario.hardware import BoltMake, Feet, Grain, Joined, Surroundings
from mountcalc.scenario.keys import Key, Without, usual
from mountcalc.scenario.text.named import HingeScrew
from mountcalc.units import Metres

_TEMPLATES, _GUARDING, _FACE = usual("templates"), usual("guarding"), Without('"face"')
_ALONG = Without("told by what stands along the shafts")
_MIDDLE = Without("0")
_TOLD = Without("the view along the shafts says that it is missing")


class PlateBoard(Record):
    """The board of the hinged plate; `plate_line` has its ``direction`` always."""

    length: Annotated[
        k.BoardLength | None,
        "from the hinged edge to the far one, for drawings only",
        Without("1 1/2 in; 40 mm beyond the last hole"),
    ] = None
    width: Annotated[
        k.BoardLength | None,
        "along the hinge's line",
        Without("the feet and 2 in; 50 mm (10 in; 250 mm without a frame)"),
    ] = None
    thickness: Annotated[k.BoardThickness | None, "of all layers together", _TEMPLATES] = None
    layers: Annotated[k.Count | None, "how many boards it is made of", Without("1")] = None
    material: Annotated[k.Name | None, "what it is made of", Without("the plate is not judged")] = (
        None
    )
    direction: Annotated[
        k.Direction | None,
        "the way it runs from the hinge as drawn",
        Without("told by the frame's shaft height"),
    ] = None
    joined: Annotated[
        Joined | None, choice(Joined), "how its layers hold together", Without('"glued"')
    ] = None
    grain: Annotated[
        Grain | None, choice(Grain), "the way that of its face runs", Without('"from-hinge"')
    ] = None


class Hinges(Record):
    """The hinges, all ``number`` of them alike."""

    leaf_length: Annotated[k.BoardLength | None, "along the hinge's line", _TEMPLATES] = None
    leaf_width: Annotated[k.Gap | None, "of one leaf, from the pin's axis", _TEMPLATES] = None
    leaf_thickness: Annotated[
        Metres | None, part_length(0.03), "of the leaf's metal", _TEMPLATES
    ] = None
    knuckle_diameter: Annotated[Metres | None, part_length(0.1), "outside", _TEMPLATES] = None
    number: Annotated[k.Count | None, "of hinges, all alike", Without("2")] = None
    across: Annotated[
        tuple[Metres, ...] | None,
        PLACES,
        "middle of each, as adjuster.across",
        Without("spread over the width"),
    ] = None
    screw: Annotated[
        k.ScrewSize | None, "with its length", Without("no. 8; 4 mm, and not judged")
    ] = None
    base_screw: Annotated[
        k.ScrewSize | None, "into the base, where they are others there", Without("as screw")
    ] = None
    screws_per_leaf: Annotated[k.Count | None, "in one leaf", Without("3")] = None
    mortise_depth: Annotated[
        k.BoardThickness | None, "how deep a leaf is let in", Without("the leaf's thickness")
    ] = None
    pin_diameter: Annotated[
        Metres | None, part_length(0.05), "of the hinge's pin", Without("the pin is not judged")
    ] = None
    play: Annotated[
        Metres | None,
        part_length(0.01),
        "of the pin in its knuckles",
        Without("what a knock is worth is not told"),
    ] = None
    into_plate: Annotated[
        Face | None, choice(Face), "where its screws go into the plate", _FACE
    ] = None
    into_base: Annotated[Face | None, choice(Face), "where its screws go into the base", _FACE] = (
        None
    )

    def screw_into(self, board: str) -> HingeScrew | None:
        """The screws that go into "plate" or "base", as far as they are told."""
        return (self.base_screw or self.screw) if board == "base" else self.screw


class Guard(Record):
    """The guard's panel and the strip that is bent around it."""

    clearance: Annotated[
        k.Gap | None, "kept around belt and pulleys over the whole swing", _GUARDING
    ] = None
    slot_clearance: Annotated[k.Gap | None, "kept around the motor's shaft", _GUARDING] = None
    bearing_opening: Annotated[
        Metres | None,
        part_length(2.0),
        "diameter, for a bearing that the panel meets",
        Without("twice its journal, and the slot's clearance"),
    ] = None
    thickness: Annotated[Metres | None, part_length(0.1), "of panel and strip", _GUARDING] = None
    # A strip takes the more cuts, the narrower they are.
    kerf: Annotated[Metres | None, part_length(0.010, 0.0001), "width of a saw cut", _GUARDING] = (
        None
    )
    strip_width: Annotated[
        Metres | None, part_length(2.0), "from the panel to its far edge", _ALONG
    ] = None
    position: Annotated[k.Position | None, "of the panel's middle, along the shafts", _ALONG] = None


class Base(Record):
    """What carries the hinge."""

    floor: Annotated[
        k.Position | None, "y of the floor", Without("heights count from the hinge")
    ] = None
    direction: Annotated[
        k.Direction | None,
        "the way its face runs from the hinge",
        Without("one that clears plate and motor"),
    ] = None
    thickness: Annotated[k.BoardThickness | None, "behind that face", _TEMPLATES] = None
    material: Annotated[
        k.Name | None, "what it is made of", Without("its screws are not judged")
    ] = None


class AlongShafts(Record):
    """Where things are along the shafts; the driven pulley is at ``Driven.pulley_position``."""

    motor_pulley: Annotated[
        k.Position | None, Key("motor.pulley_position"), "along the shaft, as the bearings", _TOLD
    ] = None
    motor_pulley_width: Annotated[
        k.PulleyWidth | None, Key("motor.pulley_width"), "for drawings only", _TOLD
    ] = None
    motor_feet: Annotated[
        k.Position | None,
        Key("motor.across"),
        "middle of its feet, as adjuster.across",
        Without("0"),
    ] = None
    motor_center: Annotated[
        k.Position | None,
        Key("motor.center_across"),
        "of its centre of mass, as adjuster.across",
        Without("the middle of its body"),
    ] = None
    motor_face: Annotated[
        k.Position | None,
        Key("motor.face_position"),
        "the shoulder that the shaft sticks out from",
        _TOLD,
    ] = None
    driven_pulley_width: Annotated[
        k.PulleyWidth | None, Key("driven.pulley_width"), "for drawings only", _TOLD
    ] = None
    driven_shaft_end: Annotated[
        k.Position | None, Key("driven.shaft_end"), "on the pulley's side, for drawings only", _TOLD
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
        k.FrameName | None,
        Key("motor.frame"),
        "gives feet and shaft, for drawings only",
        Without("no slots for the feet"),
    ] = None
    packing: Annotated[k.BoardThickness, Key("motor.packing"), "between plate and feet"] = 0.0
