"""What boards and hardware are made of: what is read, taken and refused."""

import math
from pathlib import Path

import pytest
from invented_scenarios import BASES, FULL, MADE, MADE_OF, WEIGHT_ALONE, WELL_MADE, changed
from messages import told
from scipy.constants import inch

from mountcalc import parse_scenario
from mountcalc.handbook.hardware import Face
from mountcalc.scenario.hardware import (
    BoltMake,
    Cut,
    Feet,
    Grain,
    Holder,
    Joined,
    Member,
    Room,
    Surroundings,
)


def test_every_key():
    parts = parse_scenario(WELL_MADE).parts
    assert (parts.plate.joined, parts.plate.grain) == (Joined.SCREWED, Grain.ALONG_HINGE)
    hinges = parts.hinges
    assert (hinges.pin_diameter, hinges.play) == pytest.approx((inch / 4, 2e-4))
    assert (hinges.into_plate, hinges.into_base) == (Face.EDGE, Face.END)
    assert parts.base.material == "Douglas fir"
    bolt = parts.bolt
    assert (bolt.strength, bolt.holder, bolt.friction) == ("grade 5", Holder.INSERT, 0.12)
    lengths = bolt.engagement, bolt.stands_out, bolt.pad, bolt.wrench
    assert lengths == pytest.approx((0.75 * inch, 1.5 * inch, inch, 8 * inch))
    assert (parts.feet.bolt.name, parts.feet.strength) == ("5/16-18", "grade 5")
    assert parts.feet.washer == pytest.approx(0.75 * inch)
    wood = parts.wood
    assert (wood.room, wood.moisture_from, wood.moisture_to) == (Room.UNHEATED, 8, 14.5)
    base, plate = wood.pieces
    assert (base.name, base.part, base.cut) == ("base board", Member.BASE, Cut.QUARTER)
    assert (base.length, base.direction) == pytest.approx((12 * inch, math.pi / 2))
    assert (plate.name, plate.part, plate.cut) == ("piece 2", Member.PLATE, Cut.FLAT)


@pytest.mark.parametrize("text", BASES.values(), ids=BASES)
def test_what_is_not_said_is_left_open(text):
    parts = parse_scenario(text).parts
    assert (parts.bolt, parts.feet, parts.wood) == (BoltMake(), Feet(), Surroundings())


def test_nothing_of_it_changes_the_mount():
    plain, made = parse_scenario(FULL), parse_scenario(WELL_MADE)
    for name in ("driven", "motor", "belt", "plate", "adjuster", "limits"):
        assert getattr(plain, name) == getattr(made, name)
    assert plain.notes == made.notes


@pytest.mark.parametrize(
    ("change", "message"),
    [
        (('strength = "Grade 5"', 'strength = "grade 4"'),
         'adjuster.strength: "grade 1", "grade 2", "grade 5", "grade 8", "4.6", "4.8", "5.8", '
         '"8.8", "9.8", "10.9" or "12.9" wanted, as its head is marked, got "grade 4"'),
        (('strength = "Grade 5"', "strength = 8.8"),
         'adjuster.strength: "grade 1", "grade 2", "grade 5", "grade 8", "4.6", "4.8", "5.8", '
         '"8.8", "9.8", "10.9" or "12.9" wanted, as its head is marked, got 8.8'),
        (('holder = "insert"', 'holder = "tee-nut"'),
         'adjuster.holder: "nut", "insert", "t-nut" or "tapped-wood" wanted, got "tee-nut"; did '
         'you mean "t-nut"?'),
        (('into_plate = "edge"', 'into_plate = "side"'),
         'hinge.into_plate: "face", "edge", "end" or "through" wanted, got "side"'),
        (('joined = "screwed"', 'joined = "nailed"'),
         'plate.joined: "glued" or "screwed" wanted, got "nailed"'),
        (("moisture_to = 14.5", 'moisture_to = "14 %"'),
         "wood.moisture_to: plain number wanted (from 2 to 30), without quotes or unit, got "
         '"14 %"'),
        (("moisture_to = 14.5", "moisture_to = 7"),
         "wood.moisture_to: more than wood.moisture_from wanted, 8, got 7"),
        (("moisture_to = 14.5\n", ""),
         "wood.moisture_to: missing: the other end of the wood's moisture, in percent"),
        (("friction = 0.12", "friction = 0"),
         "adjuster.friction: number above 0 to 1 wanted, got 0"),
        (('part = "base"\n', ""),
         'wood.piece[1].part: missing: "plate" or "base" wanted, which side of the hinge it is on'),
        (('pin_diameter = "1/4 in"', 'pin_diameter = "3 in"'),
         'hinge.pin_diameter: length of at most 50 mm (1.97 in) wanted, got "3 in"'),
        (('pin_diameter = "1/4 in"', 'pin_diameter = "1/2 in"'),
         "hinge.pin_diameter: less than hinge.knuckle_diameter of 0.4375 in (11.11 mm) wanted, got "
         "0.5 in (12.7 mm)"),
        (('washer = "3/4 in"', 'washer = "5/16 in"'),
         "feet.washer: more than the bolt's 0.3125 in (7.938 mm) wanted, got 0.3125 in (7.938 mm)"),
        (('pin_diameter = "1/4 in"', 'pin_diameter = "3/8 in"'),
         "hinge.pin_diameter: less than hinge.knuckle_diameter less hinge.leaf_thickness, 0.3438 "
         "in (8.731 mm), wanted, got 0.375 in (9.525 mm)"),
        (('play = "0.2 mm"', 'play = "8 mm"'),
         "hinge.play: less than hinge.pin_diameter, 0.25 in (6.35 mm), wanted, got 0.315 in (8 "
         "mm)"),
        (('pad = "1 in"', 'pad = "5 mm"'),
         "adjuster.pad: no less than the bolt's 0.375 in (9.525 mm) wanted, got 0.1969 in (5 mm); "
         "leave it out where the bare tip bears"),
        (('pad = "1 in"', 'pad = "250 mm"'),
         "adjuster.pad: less than plate.width, 8 in (203.2 mm), wanted, got 9.843 in (250 mm)"),
        (('frame = "56"', 'frame = "56"\nacross = "5 in"'),
         "motor.across: less than half of plate.width, 4 in (101.6 mm), wanted, got 5 in (127 mm)"),
        (('frame = "56"', 'frame = "56"\ncenter_across = "-5 m"'),
         "motor.center_across: less than plate.width, 8 in (203.2 mm), wanted, got -196.9 in "
         "(-5000 mm)"),
        (('bolt = "5/16-18"', 'bolt = "1/2-13"'),
         "feet.bolt: a bolt that passes the feet's holes of 0.3438 in (8.731 mm) wanted (frame "
         "NEMA 56), got 0.5 in (12.7 mm)"),
        (('pad = "1 in"', 'pads = "1 in"'),
         "adjuster.pads: unknown key 'pads'; did you mean 'pad'?"),
    ],
)  # fmt: skip
def test_what_is_wrong_is_told(change, message):
    assert told(changed(WELL_MADE, change)) == [message]


def test_a_washer_under_an_eye_bolts_nut_is_wider_than_the_bolt():
    lathe = Path("scenarios/wood-lathe.toml").read_text()
    assert told(changed(lathe, ('acts = "both"', 'acts = "both"\npad = "9 mm"'))) == [
        "adjuster.pad: more than the bolt's 0.3937 in (10 mm) wanted, got 0.3543 in (9 mm)"
    ]


def test_weight_alone_has_no_bolt_to_speak_of():
    assert told(WEIGHT_ALONE + 'wrench = "8 in"\n') == [
        "adjuster.wrench: an adjuster of kind \"none\" has no 'wrench'"
    ]


def test_hardware_is_kept_when_a_mount_is_changed():
    made = parse_scenario(changed(FULL, *MADE, add=MADE_OF))
    other = made.with_(plate={"joined": "glued"}, adjuster={"pad": 0.03}, wood={"room": "heated"})
    assert other.parts.plate.joined is Joined.GLUED
    assert (other.parts.bolt.pad, other.parts.bolt.holder) == (0.03, Holder.INSERT)
    assert other.parts.wood.pieces == made.parts.wood.pieces
    assert other.parts.wood.room is Room.HEATED
