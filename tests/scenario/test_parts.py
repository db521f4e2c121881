"""The parts that drawings are made from: values, what is told of mistakes, what is noted."""

import math
from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st
from invented_scenarios import BASES, FULL, JACK_IN_BASE, LINK, WEIGHT_ALONE, changed
from messages import told, told_with_lines
from scipy.constants import inch, milli

from mountcalc.scenario.drawn_plate import LineFrom, plate_line
from mountcalc.scenario.parts import Hinges, Parts, PlateBoard
from mountcalc.scenario.reader import parse_scenario
from mountcalc.scenario.text.named import WANTED_SCREW, HingeScrew, read_screw
from mountcalc.scenario.text.quantities import ValueTextError

LENGTH_WANTED = 'length wanted (such as "14 1/2 in" or "370 mm")'


def notes_of(text, *changes):
    """What is noted beyond what the same mount notes without parts."""
    scenario = parse_scenario(changed(text, *changes))
    return [note for note in scenario.notes if note not in parse_scenario(JACK_IN_BASE).notes]


def test_every_part():
    parts = parse_scenario(FULL).parts
    assert parts.plate == PlateBoard(
        pytest.approx(16 * inch),
        pytest.approx(8 * inch),
        pytest.approx(1.5 * inch),
        2,
        "birch plywood",
    )
    assert parts.hinges == Hinges(
        leaf_length=pytest.approx(3 * inch),
        leaf_width=pytest.approx(1.5 * inch),
        leaf_thickness=pytest.approx(3 / 32 * inch),
        knuckle_diameter=pytest.approx(7 / 16 * inch),
        number=2,
        screw=HingeScrew("#9 x 1 in", pytest.approx(0.177 * inch), pytest.approx(inch)),
        screws_per_leaf=3,
        mortise_depth=pytest.approx(2 * milli),
    )
    guard = parts.guard
    assert (guard.clearance, guard.slot_clearance) == pytest.approx((20 * milli, 0.5 * inch))
    assert guard.bearing_opening == pytest.approx(90 * milli)
    assert (guard.thickness, guard.kerf) == pytest.approx((6 * milli, 2.5 * milli))
    assert (guard.strip_width, guard.position) == pytest.approx((70 * milli, -45 * milli))
    assert parts.base.floor == pytest.approx(-30 * inch)
    assert parts.base.direction == pytest.approx(math.pi)
    assert parts.base.thickness == pytest.approx(1.75 * inch)
    along = parts.along
    assert along.motor_pulley == pytest.approx(-3 * inch)
    assert along.motor_pulley_width == pytest.approx(0.75 * inch)
    assert along.motor_face == pytest.approx(-1.5 * inch)
    assert along.driven_pulley_width == pytest.approx(2 * inch)
    assert along.driven_shaft_end == pytest.approx(-4.5 * inch)
    assert parts.frame.name == "NEMA 56"
    assert parts.packing == pytest.approx(0.25 * inch)


@pytest.mark.parametrize("text", BASES.values(), ids=BASES)
def test_what_is_not_said_is_left_open_and_changes_nothing(text):
    scenario = parse_scenario(text)
    assert scenario.parts == Parts()
    empty = parse_scenario(text + "\n[hinge]\n[guard]\n[base]\n")
    assert empty.parts == Parts()
    assert empty.notes == scenario.notes


def test_parts_do_not_change_the_mount():
    plain, full = parse_scenario(JACK_IN_BASE), parse_scenario(FULL)
    for name in ("driven", "motor", "belt", "plate", "adjuster", "limits"):
        assert getattr(plain, name) == getattr(full, name)


@pytest.mark.parametrize(
    ("change", "message"),
    [
        (('frame = "56"', "frame = 56"),
         'motor.frame: frame of a motor wanted, between quotes (such as "56", "143T" or "IEC 80"), '
         "got 56"),
        (('frame = "56"', 'frame = "145"'),
         'motor.frame: nothing is known of motor frame "145" (known: NEMA: 42, 48, 56, 56H, 143T, '
         "145T, 182, 184, 182T, 184T, 203, 204, 213, 215, 213T, 215T, 224, 225; IEC: 56, 63, 71, "
         '80, 90S, 90L, 100L, 112M); did you mean "NEMA 145T"?'),
        (('frame = "56"\n', ""),
         'motor.packing: goes with frame only: give the frame of the motor (such as "56", "143T" '
         'or "IEC 80")'),
        (('frame = "56"', 'fram = "56"'),
         "motor.fram: unknown key 'fram'; did you mean 'frame'?"),
        (('packing = "1/4 in"', 'packing = "0 in"'),
         'motor.packing: length above zero wanted, got "0 in"'),
        (('face_position = "-1 1/2 in"', 'face_position = "-3 in"'),
         "motor.face_position: the motor's face is at the middle of its pulley: which way the "
         "shaft sticks out cannot be told"),
        (('pulley_width = "3/4 in"', "pulley_width = 0.75"),
         f"motor.pulley_width: number without a unit: 0.75; {LENGTH_WANTED}"),
        (('shaft_end = "-4 1/2 in"', 'shaft_end = "4 in"'),
         "driven.shaft_end: a shaft's end beyond the bearings wanted, got one between"),
        (('shaft_end = "-4 1/2 in"', 'shaft_end = "16 in"'),
         "driven.shaft_end: the end on the pulley's side wanted, got one beyond the other side"),
        (('thickness = "1 1/2 in"', 'thickness = "-1 in"'),
         'plate.thickness: length above zero wanted, got "-1 in"'),
        (("layers = 2", "layers = 0"), "plate.layers: whole number from 1 to 20 wanted, got 0"),
        (("layers = 2", "layers = 1.5"), "plate.layers: whole number from 1 to 20 wanted, got 1.5"),
        (('material = "birch plywood"', "material = 1"),
         "plate.material: text wanted, between quotes, got 1"),
        (('material = "birch plywood"', 'direction = "upp"'),
         'plate.direction: a direction is "right", "up", "left", "down" or an angle: angle wanted '
         '(such as "-15 deg" or "0.2 rad"), got "upp"; did you mean "up"?'),
        (('width = "8 in"', 'width = "5 in"'),
         "plate.width: 2 hinges of 3 in (76.2 mm) along the hinge's line do not fit on a plate of "
         "5 in (127 mm); its width is along that line"),
        (('mortise_depth = "2 mm"', 'mortise_depth = "1 1/2 in"'),
         "hinge.mortise_depth: less than the plate's thickness of 1.5 in (38.1 mm) wanted, got "
         "1.5 in (38.1 mm)"),
        (('knuckle_diameter = "7/16 in"', 'knuckle_diameter = "3/16 in"'),
         "hinge.knuckle_diameter: more than twice the leaf's thickness wanted, since the leaf is "
         "rolled around the pin, got 0.1875 in (4.762 mm) for a leaf of 0.09375 in (2.381 mm)"),
        (('screw = "#9 x 1 in"', 'screw = "9"'), f'hinge.screw: {WANTED_SCREW}, got "9"'),
        (('screw = "#9 x 1 in"', 'screw = "nine"'), f'hinge.screw: {WANTED_SCREW}, got "nine"'),
        (("screws_per_leaf = 3", "screws_per_leaf = 21"),
         "hinge.screws_per_leaf: whole number from 1 to 20 wanted, got 21"),
        (('leaf_width = "1 1/2 in"', 'leave_width = "1 1/2 in"'),
         "hinge.leave_width: unknown key 'leave_width'; did you mean 'leaf_width'?"),
        (("[guard]", "[gaurd]"), "gaurd: unknown key 'gaurd'; did you mean 'guard'?"),
        (('kerf = "2.5 mm"', 'kerf = "2.5 kg"'),
         f'guard.kerf: {LENGTH_WANTED}, got a mass: "2.5 kg"'),
        (('floor = "-30 in"', 'floor = "-13 in"'),
         "base.floor: the hinge is not above it: its y is -13 in (-330.2 mm)"),
        (('direction = "left"', 'direction = "lef"'),
         'base.direction: a direction is "right", "up", "left", "down" or an angle: angle wanted '
         '(such as "-15 deg" or "0.2 rad"), got "lef"; did you mean "left"?'),
        (('direction = "left"', "direction = 90"),
         'base.direction: a direction is "right", "up", "left", "down" or an angle: number without '
         'a unit: 90; angle wanted (such as "-15 deg" or "0.2 rad")'),
        (('thickness = "1 3/4 in"', 'thickness = "0 in"'),
         'base.thickness: length above zero wanted, got "0 in"'),
        (('thickness = "1 3/4 in"', 'thickness = "1 3/4"'),
         f'base.thickness: number without a unit: "1 3/4"; {LENGTH_WANTED}'),
        (('thickness = "1 3/4 in"', 'thickness = "2 mm"'),
         "hinge.mortise_depth: less than the base's thickness of 0.07874 in (2 mm) wanted, got "
         "0.07874 in (2 mm)"),
        (('direction = "left"', 'dirction = "left"'),
         "base.dirction: unknown key 'dirction'; did you mean 'direction'?"),
        (("[base]", "[[base]]"), "base: table [base] wanted, got a list of 1"),
        (('length = "16 in"', 'length = "100000 in"'),
         'plate.length: length of at most 3000 mm (118 in) wanted, got "100000 in"'),
        (('width = "8 in"', 'width = "3001 mm"'),
         'plate.width: length of at most 3000 mm (118 in) wanted, got "3001 mm"'),
        (('thickness = "1 1/2 in"', 'thickness = "1 1/2 ft"'),
         'plate.thickness: length of at most 300 mm (11.8 in) wanted, got "1 1/2 ft"'),
        (('clearance = "20 mm"', 'clearance = "200 in"'),
         'guard.clearance: length of at most 500 mm (19.7 in) wanted, got "200 in"'),
        (('kerf = "2.5 mm"', 'kerf = "2.5 in"'),
         'guard.kerf: length of at most 10 mm (0.394 in) wanted, got "2.5 in"'),
        (('kerf = "2.5 mm"', 'kerf = "0.01 mm"'),
         'guard.kerf: length of at least 0.1 mm (0.00394 in) wanted, got "0.01 mm"'),
        (('packing = "1/4 in"', 'packing = "1 m"'),
         'motor.packing: length of at most 300 mm (11.8 in) wanted, got "1 m"'),
        (('leaf_width = "1 1/2 in"', 'leaf_width = "1 1/2 m"'),
         'hinge.leaf_width: length of at most 500 mm (19.7 in) wanted, got "1 1/2 m"'),
    ],
)  # fmt: skip
def test_one_mistake_is_one_line(change, message):
    assert told(changed(FULL, change)) == [message]


def test_mistakes_of_many_parts_are_told_at_once_each_with_its_line():
    text = changed(
        FULL,
        ('frame = "56"', 'frame = "57"'),
        ('leaf_length = "3 in"', 'leaf_length = "9 in"'),
        ('floor = "-30 in"', 'floor = "0 in"'),
        ('kerf = "2.5 mm"', 'kerf = ""'),
    )
    keys = [line.split(": ")[1] for line in told_with_lines(text)]
    assert keys == ["motor.frame", "plate.width", "guard.kerf", "base.floor"]
    numbers = [int(line.split(":")[1]) for line in told_with_lines(text)]
    rows = text.splitlines()
    starts = ["frame", "width", "kerf", "floor"]
    assert [rows[number - 1].split(" =")[0] for number in numbers] == starts


def test_a_pulley_between_the_bearings_has_shaft_ends_on_both_sides():
    between = ('pulley_position = "-3 in"\npower', 'pulley_position = "7 in"\npower')
    for end in ("-4 1/2 in", "16 in"):
        text = changed(FULL, between, ('shaft_end = "-4 1/2 in"', f'shaft_end = "{end}"'))
        assert parse_scenario(text).parts.along.driven_shaft_end is not None


@pytest.mark.parametrize(
    "change",
    [
        ('length = "16 in"', 'length = "3 m"'),
        ('width = "8 in"', 'width = "3000 mm"'),
        ('thickness = "1 1/2 in"', 'thickness = "30 cm"'),
        ('packing = "1/4 in"', 'packing = "0.3 m"'),
        ('kerf = "2.5 mm"', 'kerf = "1 cm"'),
        ('kerf = "2.5 mm"', 'kerf = "100 um"'),
        ('clearance = "20 mm"', 'clearance = "50 cm"'),
    ],
)
def test_the_largest_and_the_smallest_part_are_allowed_in_any_unit(change):
    assert parse_scenario(changed(FULL, change)).parts != parse_scenario(FULL).parts


def test_the_limits_of_the_rules_are_allowed():
    text = changed(
        FULL,
        ('width = "8 in"', 'width = "6 in"'),
        ('knuckle_diameter = "7/16 in"', 'knuckle_diameter = "0.188 in"'),
        ('mortise_depth = "2 mm"', 'mortise_depth = "1.49 in"'),
        ('floor = "-30 in"', 'floor = "-13.01 in"'),
    )
    assert parse_scenario(text).parts.plate.width == pytest.approx(6 * inch)


# --- screws


@pytest.mark.parametrize(
    ("text", "diameter", "length"),
    [
        # numbers 8 and 10 are 0.164 and 0.190 in (common practice for hinges)
        ("#8 x 3/4 in", 0.164 * inch, 0.75 * inch),
        ("#10 x 1 1/4 in", 0.190 * inch, 1.25 * inch),
        ("No. 8 x ¾", 0.164 * inch, 0.75 * inch),
        ('#12-24 x 1/2"', 0.216 * inch, 0.5 * inch),
        ("#6x16 mm", 0.138 * inch, 16 * milli),
        ("#10", 0.190 * inch, None),
        ("4x20", 4 * milli, 20 * milli),
        ("4.5 × 20 mm", 4.5 * milli, 20 * milli),
        ("M5 x 16", 5 * milli, 16 * milli),
        ("3.5 mm", 3.5 * milli, None),
    ],
)
def test_sizes_of_screws(text, diameter, length):
    screw = read_screw(text)
    assert screw.diameter == pytest.approx(diameter)
    assert screw.length == (None if length is None else pytest.approx(length))
    assert screw.name == text


@pytest.mark.parametrize(
    "text",
    ["", "screw", "#", "#25 x 1 in", "8 x 3/4 in", "4x20 in", "x20", "#8 x 1/0 in", "#8 x  in",
     "4x20x30", "#8 x 1 1 in", "4x20 kg", "4" * 100],
)  # fmt: skip
def test_what_is_no_screw(text):
    with pytest.raises(ValueTextError) as caught:
        read_screw(text)
    assert str(caught.value).startswith(f'{WANTED_SCREW}, got "')


@pytest.mark.parametrize("text", ["0.5x20", "13x40", "4x3", "#8 x 20 in", "#8 x 0 in", "4x4"])
def test_screws_that_no_hinge_has(text):
    with pytest.raises(ValueTextError) as caught:
        read_screw(text)
    assert "1 to 12 mm thick, longer than thick and at most 300 mm long" in str(caught.value)


@given(st.text(max_size=15) | st.from_regex(r"(#|M)?[0-9. /]{1,5} ?[x-] ?[0-9./]{1,5}"))
def test_any_text_is_a_screw_or_told(text):
    try:
        screw = read_screw(text)
    except ValueTextError as error:
        assert str(error).startswith(WANTED_SCREW)
    else:
        assert 0.001 <= screw.diameter <= 0.012
        assert screw.length is None or screw.diameter < screw.length <= 0.3


# --- the line of the plate


def test_the_plate_is_tangent_to_the_circle_of_the_shaft_height():
    """Straight up from the hinge at -23.5 in it passes the shaft at -20 in by frame 56's 3.5."""
    line = plate_line(parse_scenario(changed(JACK_IN_BASE, ("[motor]", '[motor]\nframe = "56"'))))
    assert line.direction == pytest.approx(math.pi / 2)
    assert line.shaft_height == pytest.approx(3.5 * inch)
    assert line.side == -1
    assert line.normal == pytest.approx((1, 0))
    assert line.taken_from is LineFrom.FRAME


def test_packing_adds_to_the_shaft_height():
    line = plate_line(parse_scenario(FULL))
    assert line.shaft_height == pytest.approx(3.75 * inch)
    # The tangents to a circle are its polar's touching points: the foot of the shaft on the line.
    foot = (-20 - 3.75 * line.normal[0], -4 - 3.75 * line.normal[1])
    assert math.hypot(foot[0] + 23.5, foot[1] + 13) == pytest.approx(
        math.sqrt(3.5**2 + 9**2 - 3.75**2)
    )


def test_of_two_tangents_the_one_nearer_to_the_adjuster_is_taken():
    frame = ("[motor]", '[motor]\nframe = "56"')
    tip = ('tip = ["-23 1/2 in", "-1 in"]', 'tip = ["-12 in", "-6 in"]')
    mirrored = plate_line(parse_scenario(changed(JACK_IN_BASE, frame, tip)))
    assert mirrored.side == 1
    assert mirrored.shaft_height == pytest.approx(3.5 * inch)
    # The two tangents lie evenly on both sides of the way to the shaft.
    assert mirrored.direction + math.pi / 2 == pytest.approx(2 * math.atan2(9, 3.5))


def test_a_given_direction_rules():
    text = changed(JACK_IN_BASE, ("[plate]", '[plate]\ndirection = "60 deg"'))
    line = plate_line(parse_scenario(text))
    assert line.direction == pytest.approx(math.radians(60))
    assert line.taken_from is LineFrom.GIVEN
    wanted = 3.5 * math.sin(math.radians(60)) - 9 * math.cos(math.radians(60))
    assert line.side * line.shaft_height == pytest.approx(-wanted * inch)


@pytest.mark.parametrize(
    ("text", "point", "taken_from"),
    [
        (JACK_IN_BASE, (-23.5 * inch, -1 * inch), LineFrom.GUIDE),  # the tip
        (LINK, (0.66, -0.05), LineFrom.GUIDE),  # the plate's pin
        (WEIGHT_ALONE, None, LineFrom.SHAFT),
    ],
)
def test_without_a_frame_the_way_to_the_adjuster_is_taken(text, point, taken_from):
    scenario = parse_scenario(text)
    if point is None:  # no adjuster, and the plate weighs nothing: the motor is all there is
        scenario = replace(
            scenario, plate=replace(scenario.plate, center_of_mass=scenario.plate.hinge)
        )
        point = scenario.motor.shaft
    line = plate_line(scenario)
    hinge = scenario.plate.hinge
    way = math.atan2(point[1] - hinge[1], point[0] - hinge[0])
    assert line.direction == pytest.approx(way)
    assert line.taken_from is taken_from


@given(
    hinge=st.tuples(st.floats(-2, 2), st.floats(-2, 2)),
    angle=st.floats(-3.1, 3.1),
    distance=st.floats(0.02, 1),
)
def test_the_line_keeps_the_shaft_height_wherever_the_hinge_is(hinge, angle, distance):
    shaft = (hinge[0] + distance * math.cos(angle), hinge[1] + distance * math.sin(angle))
    scenario = parse_scenario(changed(WEIGHT_ALONE, ("[motor]", '[motor]\nframe = "IEC 71"')))
    moved = replace(
        scenario,
        plate=replace(scenario.plate, hinge=hinge),
        motor=replace(scenario.motor, shaft=shaft),
    )
    line = plate_line(moved)
    x, y = line.normal
    height = (shaft[0] - hinge[0]) * x + (shaft[1] - hinge[1]) * y
    assert height == pytest.approx(line.shaft_height, abs=1e-12)
    assert math.hypot(*line.along) == pytest.approx(1)
    assert line.along[0] * x + line.along[1] * y == pytest.approx(0, abs=1e-15)
    if distance > 0.071:
        assert line.shaft_height == pytest.approx(0.071)
    elif distance < 0.0709:
        assert line.taken_from is not LineFrom.FRAME


# --- notes


def test_nothing_is_noted_of_parts_that_fit():
    fits = changed(FULL, ('packing = "1/4 in"\n', ""))
    assert notes_of(fits) == []
    assert notes_of(fits, ("layers = 2", 'layers = 2\ndirection = "up"')) == []


def test_a_shaft_height_that_the_drawing_does_not_have_is_noted():
    up = ("layers = 2", 'layers = 2\ndirection = "up"')
    assert notes_of(FULL, up) == [
        "The motor's shaft is drawn 3.5 in off the face that runs from the hinge along "
        "plate.direction, and frame NEMA 56 on 0.25 in of packing has it 3.75 in off: one of "
        "plate.direction and the two points is wrong (the hinge's pin is taken to lie in that "
        "face)."
    ]
    within = ('packing = "1/4 in"', 'packing = "1.9 mm"')
    assert notes_of(FULL, up, within) == []
    beyond = ('packing = "1/4 in"', 'packing = "2.1 mm"')
    assert len(notes_of(FULL, up, beyond)) == 1


def test_a_hinge_under_the_motor_is_noted():
    (note,) = notes_of(FULL, ('packing = "1/4 in"', 'packing = "8 in"'))
    assert note.startswith(
        "The hinge is drawn 9.66 in from the motor's shaft, nearer than the 11.5 in at which frame "
        "NEMA 56 on 8 in of packing has it over the plate's face: "
    )


def test_a_tip_that_bears_on_neither_face_is_noted():
    fits = changed(FULL, ('packing = "1/4 in"\n', ""))
    tip = 'tip = ["-23 1/2 in", "-1 in"]'
    (note,) = notes_of(fits, (tip, 'tip = ["-24 in", "-1 in"]'))
    assert note == (
        "The bolt's tip is drawn 0.5 in inside the face that the motor stands on; the plate runs "
        "from the hinge at 90.0 deg (by motor.frame) and is 1.5 in thick: a block carries it, or "
        "one of them is wrong."
    )
    other_face = (tip, 'tip = ["-25 in", "-1 in"]'), ('axis = "left"', 'axis = "right"')
    assert notes_of(fits, *other_face) == []
    away = (tip, 'tip = ["-24 in", "-1 in"]')
    assert notes_of(fits, away, ('thickness = "1 1/2 in"\n', "")) == []


def test_screws_that_come_through_are_noted():
    fits = changed(FULL, ('packing = "1/4 in"\n', ""))
    assert notes_of(fits, ("#9 x 1 in", "#9 x 1 3/4 in")) == [
        "The hinge's screws, #9 x 1 3/4 in, are longer than the plate is thick (1.5 in)."
    ]


def test_a_shaft_too_thick_for_the_pulley_is_noted():
    fits = changed(FULL, ('packing = "1/4 in"\n', ""))
    notes = notes_of(fits, ('pulley_diameter = "3 in"', 'pulley_diameter = "1/2 in"'))
    assert notes == [
        "The shaft of frame NEMA 56, 0.625 in thick, does not go into a motor pulley of 0.5 in "
        "pitch diameter."
    ]
