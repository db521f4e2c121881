"""Valid scenario texts of every kind of adjuster; all of them invented for the tests."""

from __future__ import annotations


def changed(base: str, *changes: tuple[str, str], add: str = "") -> str:
    """The text with the first of each old words replaced, and more at its end."""
    for old, new in changes:
        assert old in base, old
        base = base.replace(old, new, 1)
    return base + add


_DRIVE = """\
title = "Invented mill"
display = "inch"

[driven]
shaft = ["0 in", "0 in"]
pulley_diameter = "9 in"
pulley_position = "-3 in"
power = "0.4 hp"
starting_factor = 1.5
max_speed = "600 rpm"
traction = 0.3
[[driven.bearing]]
name = "pulley end"
position = "0 in"
journal_diameter = "1 1/4 in"
length = "3 in"
limit = "25 psi"
starting_limit = "50 psi"
[[driven.bearing]]
name = "far end"
position = "14 in"
journal_diameter = "1 1/4 in"
length = "3 in"
limit = "90 lbf"
[[driven.load]]
name = "cutter head"
position = "7 in"
force = "30 lbf"
direction = "down"
when = "always"

[motor]
shaft = ["-20 in", "-4 in"]
pulley_diameter = "3 in"
power = "1/2 hp"
speed = "1725 rpm"
rotation = "ccw"
weight = "28 lb"
center_of_mass = ["-20 in", "-4 in"]

[belt]
section = "A"
count = 1
length = "60.3 in"
stiffness = "12000 lbf"
mass = "0.1 kg/m"
traction = 0.51

[plate]
hinge = ["-23 1/2 in", "-13 in"]
travel = ["-12 deg", "12 deg"]
weight = "6 lb"
center_of_mass = ["-23 1/2 in", "-6 in"]
"""

JACK_IN_BASE = (
    _DRIVE
    + """
[adjuster]
kind = "jack-in-base"
thread = "3/8-16"
tip = ["-23 1/2 in", "-1 in"]
axis = "left"
face = "up"
acts = "push"
"""
)

JACK_IN_PLATE = (
    _DRIVE
    + """
[adjuster]
kind = "jack-in-plate"
thread = "#10-24"
tip = ["-23 1/2 in", "-1 in"]
axis = "-10 deg"
face = "90 deg"
"""
)

LINK = """\
display = "metric"  # invented; everything that has a default is left out

[driven]
shaft = ["0 mm", "0 mm"]
pulley_diameter = "250 mm"
pulley_position = "-60 mm"
[[driven.bearing]]
position = "0 mm"
journal_diameter = "30 mm"
length = "60 mm"
limit = "200 kPa"
[[driven.bearing]]
position = "0.4 m"
journal_diameter = "30 mm"
length = "60 mm"
limit = "200 kPa"

[motor]
shaft = ["550 mm", "-100 mm"]
pulley_diameter = "80 mm"
power = "0.37 kW"
speed = "1420 rpm"
rotation = "cw"
weight = "11 kg"

[belt]
section = "SPZ"
length = "1650 mm"

[plate]
hinge = ["650 mm", "-300 mm"]
travel = ["-10 deg", "10 deg"]

[adjuster]
kind = "link"
thread = "M10x1.5"
base_pin = ["900 mm", "-200 mm"]
plate_pin = ["660 mm", "-50 mm"]
"""

LIMITS = """
[limits]
grip = 1.4
starting_grip = 1.1
bedding = 1.25
turn_error = 0.25
balance_error = "1 lbf"
push_error = 0.05
hum_error = 0.02
adjuster = "200 lbf"
hinge = "100 kg"

[may_change]
rotation = true
loads = true
"""

BUILD = """
[build]
hinge = "1/32 in"
bolt = "2 mm"
shaft = "1/8 in"
belt_length = "0.7 in"
weights = 0.05
stiffness_factor = 1.5
traction_factor = 1.2
turn_error = 0.0625
spring_rate = 0.05
give_factor = 1.3
"""

REVERSING = changed(
    JACK_IN_BASE,
    (
        'limit = "25 psi"',
        'limit = "25 psi"\nclearance = "0.003 in"\ncap_direction = "up"\ncap_dowelled = true\n'
        'groove_direction = "135 deg"\nservice = "light-line-shaft"',
    ),
    (
        "traction = 0.3",
        'traction = 0.3\nshaft_diameter = "1 3/16 in"\noil = "ISO VG 68 at 50 degC"',
    ),
    ('rotation = "ccw"', 'rotation = "both"'),
    add=LIMITS,
)

WEIGHT_ALONE = LINK[: LINK.index("[adjuster]")] + '[adjuster]\nkind = "none"\n'

BASES = {
    "jack-in-base": JACK_IN_BASE,
    "jack-in-plate": JACK_IN_PLATE,
    "link": LINK,
    "reversing": REVERSING,
    "none": WEIGHT_ALONE,
}

# The jack in the base with every part that a drawing asks for.
HINGE = """
[hinge]
leaf_length = "3 in"
leaf_width = "1 1/2 in"
leaf_thickness = "3/32 in"
knuckle_diameter = "7/16 in"
number = 2
screw = "#9 x 1 in"
screws_per_leaf = 3
mortise_depth = "2 mm"
"""
GUARD = """
[guard]
clearance = "20 mm"
slot_clearance = "1/2 in"
bearing_opening = "90 mm"
thickness = "6 mm"
kerf = "2.5 mm"
strip_width = "70 mm"
position = "-45 mm"
"""
TWO_BOLTS = '[[adjuster.bolt]]\nacross = "-3 in"\n[[adjuster.bolt]]\nacross = "70 mm"\n'
BASE = '[base]\nfloor = "-30 in"\ndirection = "left"\nthickness = "1 3/4 in"\n'
BOARD = """\
[plate]
length = "16 in"
width = "8 in"
thickness = "1 1/2 in"
layers = 2
material = "birch plywood"
"""
MOTOR = """\
[motor]
frame = "56"
packing = "1/4 in"
pulley_position = "-3 in"
pulley_width = "3/4 in"
face_position = "-1 1/2 in"
"""
DRIVEN = '[driven]\npulley_width = "2 in"\nshaft_end = "-4 1/2 in"\n'
MADE_OF = """
[feet]
bolt = "5/16-18"
strength = "grade 5"
washer = "3/4 in"
[wood]
room = "unheated"
moisture_from = 8
moisture_to = 14.5
[[wood.piece]]
name = "base board"
part = "base"
length = "12 in"
direction = "up"
material = "red oak"
cut = "quarter-sawn"
[[wood.piece]]
part = "plate"
length = "40 mm"
direction = "-15 deg"
material = "beech"
"""
MADE = (
    ("[hinge]\n", '[hinge]\npin_diameter = "1/4 in"\nplay = "0.2 mm"\ninto_base = "end"\n'
     'into_plate = "edge"\n'),
    ("[base]\n", '[base]\nmaterial = "Douglas fir"\n'),
    ("layers = 2\n", 'layers = 2\njoined = "screwed"\ngrain = "along-hinge"\n'),
    ('acts = "push"\n', 'acts = "push"\nstrength = "Grade 5"\nholder = "insert"\n'
     'engagement = "3/4 in"\nstands_out = "1 1/2 in"\npad = "1 in"\nfriction = 0.12\n'
     'wrench = "8 in"\n'),
)  # fmt: skip
FULL = changed(
    JACK_IN_BASE,
    ("[plate]\n", BOARD),
    ("[motor]\n", MOTOR),
    ("[driven]\n", DRIVEN),
    add=HINGE + GUARD + BASE,
)
WELL_MADE = changed(FULL, *MADE, add=MADE_OF)
