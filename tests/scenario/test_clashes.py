"""Impossible mounts: what the reader says of points and sizes that cannot go together.

The mill of these tests has a plate of 16 in that stands upright, 1 1/2 in thick, its motor of
frame 56 on the right: shaft height 3 1/2 in, feet 4 7/8 in across and 3 in along, holes 11/32 in
(NEMA MG 1, part 4). So the feet reach (4.875 / 2 + 11/32) in = 2.78 in to each side of the shaft
and (3 / 2 + 11/32) in = 1.84 in along it. Plate and knuckle of 7/16 in end 16.2 in from the pin.
"""

import re
from dataclasses import replace

import pytest
from invented_scenarios import BASES, FULL, JACK_IN_BASE, LINK, changed
from messages import told

from mountcalc.scenario.clashes import cautions, clashes
from mountcalc.scenario.reader import doubts, parse_scenario
from mountcalc.scenario.text.threads import nearest_standard, read_thread

MILL = changed(FULL, ('packing = "1/4 in"\n', ""))
UP = ("layers = 2", 'layers = 2\ndirection = "up"')
TIP = 'tip = ["-23 1/2 in", "-1 in"]'
AXIS = 'axis = "left"'
IN_PLATE = ('kind = "jack-in-base"', 'kind = "jack-in-plate"')
UNDER = (
    "the bolt passes the motor's shaft at 1 in: under the motor, whose feet reach 2.78 in to each "
    "side"
)
GIVE_ACROSS = "; if it stands beside the motor along the shafts, give adjuster.across"


def tip(x, y):
    return TIP, f'tip = ["{x}", "{y}"]'


def across(length):
    return 'acts = "push"', f'acts = "push"\nacross = "{length}"'


def test_a_mount_that_fits_has_no_clash():
    assert clashes(parse_scenario(MILL)) == ()
    assert clashes(parse_scenario(changed(MILL, UP))) == ()
    assert [clashes(parse_scenario(text)) for text in BASES.values()] == [()] * len(BASES)


ERRORS = {
    "tip past the plate": (
        (tip("-23 1/2 in", "5 in"),),
        "adjuster.tip: the bolt's tip is 18 in from the hinge along the plate, which ends at "
        "16.2 in: move it, or give the plate's true length",
    ),
    "tip behind the hinge": (
        (tip("-23 1/2 in", "-20 in"), UP),
        "adjuster.tip: the bolt's tip is 7 in behind the hinge, seen along the plate, and the "
        "motor's shaft 9 in before it: no plate that begins at its hinge reaches both",
    ),
    "tip in the motor": (
        (tip("-21 in", "-4 in"),),
        "adjuster.tip: the bolt's tip is 1 in from the motor's shaft, inside the body of a motor "
        "of frame NEMA 56, which has a radius of at least 2.62 in (estimate)" + GIVE_ACROSS,
    ),
    "tip on the back, bolt in front": (
        (tip("-25 in", "-1 in"),),
        "adjuster.axis: the bolt's tip is drawn on the plate's back, and axis takes it away from "
        "the plate, 90 deg out of that face: turn axis round, or put tip on the other face, or "
        "give plate.direction",
    ),
    "axis the wrong way round": (
        ((AXIS, 'axis = "right"'),),
        "adjuster.axis: the bolt's tip is drawn on the face that the motor stands on, and axis "
        "takes it away from the plate, 90 deg out of that face: turn axis round, or put tip on "
        "the other face, or give plate.direction",
    ),
    "axis into the plate that the bolt is in": (
        (IN_PLATE, tip("-27 in", "-1 in"), (AXIS, 'axis = "right"')),
        "adjuster.axis: axis takes the bolt's tip out of the face that the motor stands on at 90 "
        "deg, but the tip is drawn 3.5 in behind that face: turn axis round, or move tip, or "
        "give plate.direction",
    ),
    "bolt through the base under the feet": (
        (tip("-23 1/2 in", "-5 in"), across("0 in")),
        f"adjuster.tip: {UNDER} and 1.84 in from the middle along the shaft, where the bolt "
        "stands at 0 in",
    ),
    "bolt through the plate under the feet": (
        (IN_PLATE, tip("-26 1/2 in", "-5 in"), across("-1 1/2 in")),
        f"adjuster.tip: {UNDER} and 1.84 in from the middle along the shaft, where the bolt "
        "stands at 1.5 in",
    ),
    "bolt beside the plate": (
        (across("4 1/4 in"),),
        "adjuster.across: the bolt is 4.25 in from the middle of the plate, which is 8 in wide: "
        "half of that at most",
    ),
    "shaft too near to the plate": (
        (UP, ('hinge = ["-23 1/2 in"', 'hinge = ["-21 1/2 in"')),
        "motor.shaft: the motor's shaft is drawn 1.5 in off the face that runs from the hinge "
        "along plate.direction, and frame NEMA 56 has it 3.5 in off: one of plate.direction and "
        "the two points is wrong (the hinge's pin is taken to lie in that face)",
    ),
    "shaft too far from the plate": (
        (UP, ('hinge = ["-23 1/2 in"', 'hinge = ["-27 in"'), tip("-27 in", "-1 in")),
        "motor.shaft: the motor's shaft is drawn 7 in off the face that runs from the hinge along "
        "plate.direction, and frame NEMA 56 has it 3.5 in off: one of motor.packing, "
        "plate.direction and the two points is wrong (the hinge's pin is taken to lie in that "
        "face)",
    ),
    "hinge under the motor": (
        (('hinge = ["-23 1/2 in", "-13 in"]', 'hinge = ["-21 1/2 in", "-5 in"]'),),
        "plate.hinge: the hinge is drawn 1.8 in from the motor's shaft, nearer than the 3.5 in at "
        "which frame NEMA 56 has it over the plate's face: the hinge would be under the motor, so "
        "move it, or give plate.direction",
    ),
    "x and y of the tip": (
        (tip("-1 in", "-23 1/2 in"),),
        "adjuster.tip: the bolt's tip is drawn 22.2 in off the plate's back; the plate runs from "
        "the hinge at 47.5 deg (by motor.frame) and is 1.5 in thick: a block carries it, or one "
        "of them is wrong; are x and y of adjuster.tip swapped? "
        'tip = ["-23 1/2 in", "-1 in"] would fit',
    ),
    "x and y of the hinge": (
        (('hinge = ["-23 1/2 in", "-13 in"]', 'hinge = ["-13 in", "-23 1/2 in"]'),),
        "adjuster.tip: the bolt's tip is 24.8 in from the hinge along the plate, which ends at "
        "16.2 in: move it, or give the plate's true length; are x and y of plate.hinge swapped? "
        'hinge = ["-23 1/2 in", "-13 in"] would fit',
    ),
}


@pytest.mark.parametrize("name", ERRORS)
def test_what_no_mount_can_be_is_an_error_with_both_dimensions(name):
    changes, message = ERRORS[name]
    assert told(changed(MILL, *changes))[0] == message


CAUTIONS = {
    "bolt under the feet, perhaps": (
        MILL, (tip("-23 1/2 in", "-5 in"),), UNDER + GIVE_ACROSS,
    ),
    "bolt through the plate under the feet, perhaps": (
        MILL, (IN_PLATE, tip("-26 1/2 in", "-5 in")), UNDER + GIVE_ACROSS,
    ),
    "bolt right through the middle of the shaft": (
        MILL, (IN_PLATE, tip("-26 1/2 in", "-4 in")),
        UNDER.replace("1 in", "0 in") + GIVE_ACROSS,
    ),
    "bolt that hardly crosses the plate": (
        MILL, (IN_PLATE, tip("-26 in", "1 in"), (AXIS, 'axis = "100 deg"')),
        "the bolt leaves the plate's face at 10 deg, and below 17 deg no bolt passes through a "
        "board: axis is the way the tip moves out of the plate",
    ),
    "frame that is a little too high": (
        MILL, (UP, ('frame = "56"', 'frame = "182T"')),
        "the motor's shaft is drawn 3.5 in off the face that runs from the hinge along "
        "plate.direction, and frame NEMA 182T has it 4.5 in off: one of plate.direction and the "
        "two points is wrong (the hinge's pin is taken to lie in that face)",
    ),
    "motor in the plate, of no frame": (
        JACK_IN_BASE, (('shaft = ["-20 in", "-4 in"]', 'shaft = ["-22 3/4 in", "-4 in"]'),),
        "the motor's shaft is drawn 0.75 in off the line from the hinge to the bolt's tip, and "
        "that of a motor of this weight is at least 2.17 in off (estimate)",
    ),
    "motor off the plate, of no frame": (
        JACK_IN_BASE, (('shaft = ["-20 in", "-4 in"]', 'shaft = ["-8 in", "-4 in"]'),),
        "the motor's shaft is drawn 15.5 in off the line from the hinge to the bolt's tip, and "
        "that of a motor of this weight is at most 14.6 in off (estimate)",
    ),
    "motor behind the hinge, of no frame": (
        JACK_IN_BASE, (tip("-23 1/2 in", "-25 in"),),
        "the motor's shaft is 9 in behind the hinge, seen along the plate, and the bolt's tip 12 "
        "in before it: no plate that begins at its hinge reaches both",
    ),
    "link's pin behind the hinge": (
        LINK, (('plate_pin = ["660 mm", "-50 mm"]', 'plate_pin = ["660 mm", "-450 mm"]'),),
        "the motor's shaft is 206 mm behind the hinge, seen along the plate, and the link's pin "
        "150 mm before it: no plate that begins at its hinge reaches both",
    ),
    "motor's centre of mass": (
        MILL,
        (('center_of_mass = ["-20 in", "-4 in"]', 'center_of_mass = ["-4 in", "-20 in"]'),),
        "the motor's centre of mass is drawn 22.6 in from its shaft, and its body is at least "
        "2.62 in in radius (estimate): one of the two points is wrong; are x and y of "
        'motor.center_of_mass swapped? center_of_mass = ["-20 in", "-4 in"] would fit',
    ),
    "plate's centre of mass": (
        JACK_IN_BASE,
        (('center_of_mass = ["-23 1/2 in", "-6 in"]', 'center_of_mass = ["-6 in", "-6 in"]'),),
        "the plate's centre of mass is drawn 17.5 in off the line from the hinge to the bolt's "
        "tip, and no plate is taken to be thicker than 2.95 in (estimate)",
    ),
    "thread of no series": (
        MILL, (('"3/8-16"', '"3/8-15"'),),
        "3/8-15 is no thread of the standard series (coarse, fine or extra fine): the nearest is "
        "3/8-16, 0.0625 in a turn; 3/8-15 is taken as typed, 0.0667 in a turn",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", CAUTIONS)
def test_what_is_unlikely_is_a_note_of_the_scenario(name):
    base, changes, sentence = CAUTIONS[name]
    scenario = parse_scenario(changed(base, *changes))
    assert clashes(scenario)[0].text == sentence
    assert f"{sentence[0].upper()}{sentence[1:]}." in scenario.notes


def test_a_bolt_that_is_said_to_stand_beside_the_motor_is_not_under_it():
    for kind in ((), (IN_PLATE,)):
        at = tip("-23 1/2 in" if not kind else "-26 1/2 in", "-5 in")
        assert clashes(parse_scenario(changed(MILL, *kind, at, across("2 in")))) == ()
        assert clashes(parse_scenario(changed(MILL, *kind, at, across("-2 in")))) == ()
    # Its tip may bear on the back, under the motor: nothing of it is in the motor's way.
    behind = tip("-25 in", "-5 in"), (AXIS, 'axis = "right"')
    assert clashes(parse_scenario(changed(MILL, *behind))) == ()


def test_a_bolt_that_pulls_may_reach_through_the_plate_it_draws():
    away = (AXIS, 'axis = "right"'), ('acts = "push"', 'acts = "pull"')
    assert clashes(parse_scenario(changed(MILL, *away))) == ()


def test_points_that_move_as_a_whole_clash_as_before():
    """Turned and moved in the plane, a mount is the same mount but for its weights."""
    spoilt = parse_scenario(changed(MILL, tip("-22 in", "-1 in"), UP))

    def moved(point):
        return None if point is None else (-point[1] + 0.3, point[0] - 0.2)

    plate = replace(
        spoilt.plate,
        hinge=moved(spoilt.plate.hinge),
        center_of_mass=moved(spoilt.plate.center_of_mass),
    )
    turned = replace(
        spoilt,
        motor=replace(
            spoilt.motor,
            shaft=moved(spoilt.motor.shaft),
            center_of_mass=moved(spoilt.motor.center_of_mass),
        ),
        plate=plate,
        adjuster=replace(
            spoilt.adjuster,
            tip=moved(spoilt.adjuster.tip),
            axis=spoilt.adjuster.axis + 1.5707963267948966,
        ),
        parts=replace(spoilt.parts, plate=replace(spoilt.parts.plate, direction=3.141592653589793)),
    )
    before, after = (
        [re.sub(r"[-0-9.]+ deg", "", one) for one in cautions(s)] for s in (spoilt, turned)
    )
    assert before == after != []


def test_a_mount_that_fails_says_what_may_be_the_cause():
    text = changed(JACK_IN_BASE, tip("-1 in", "-23 1/2 in"))
    first, second = doubts(text, "mill.toml")
    assert (first.key, first.line) == ("motor.shaft", 33)
    assert first.text.endswith(
        'are x and y of adjuster.tip swapped? tip = ["-23 1/2 in", "-1 in"] would fit'
    )
    assert (second.key, second.line) == ("plate.center_of_mass", 53)
    assert doubts("", "gone.toml") == []


@pytest.mark.parametrize(
    ("name", "nearest"),
    [
        ("3/8-15", "3/8-16"),
        ("3/8-15 LH", "3/8-16 LH"),
        ("M10x1.3", "M10x1.25"),
        ("#10-30", "#10-32"),
        ("3/8-16", None),
        ("M10", None),
        ("M10x1", None),
        ("3/8-15 ACME", None),
        ("3/8-20 BSF", None),
        ("Tr10x2", None),
        ("3/8-16 UNC", None),
        ("2-4 1/2", None),  # larger than the tables
    ],
)
def test_the_nearest_standard_thread(name, nearest):
    """ASME B1.1 and ISO 261, from memory: 3/8 has 16, 24 and 32 to the inch, M10 1.5 to 0.75."""
    found = nearest_standard(read_thread(name))
    assert (found and found.name) == nearest
