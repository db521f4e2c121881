"""Mounts of our own invention for the reference checks: every kind, held, riding and slipping."""

import json

from mountcalc import parse_scenario

DRIVE = """
[driven]
shaft = ["0 mm", "0 mm"]
pulley_diameter = "{driven}"
pulley_position = "-80 mm"
power = "{power}"
starting_factor = 1.8
traction = {driven_traction}
[[driven.bearing]]
position = "0 mm"
journal_diameter = "30 mm"
length = "70 mm"
limit = "0.2 MPa"
[[driven.bearing]]
position = "400 mm"
journal_diameter = "30 mm"
length = "70 mm"
limit = "0.2 MPa"
[motor]
shaft = {motor}
pulley_diameter = "80 mm"
power = "370 W"
speed = "1425 rpm"
rotation = "{rotation}"
weight = "12 kg"
center_of_mass = {mass}
[belt]
count = {count}
length = "{length}"
stiffness = "{stiffness}"
mass = "0.1 kg/m"
traction = {traction}
[plate]
hinge = {hinge}
travel = ["-14 deg", "14 deg"]
weight = "3 kg"
center_of_mass = {plate_mass}
[adjuster]
"""

ABOVE = {  # the plate stands on its hinge, the motor leans away from the driven shaft
    "driven": "220 mm",
    "length": "1420 mm",
    "motor": ["-450 mm", "-120 mm"],
    "mass": ["-460 mm", "-125 mm"],
    "hinge": ["-420 mm", "-350 mm"],
    "plate_mass": ["-440 mm", "-240 mm"],
}
BELOW = {  # the plate hangs from its hinge, the motor below the driven shaft
    "driven": "180 mm",
    "length": "1375 mm",
    "motor": ["-60 mm", "-480 mm"],
    "mass": ["-65 mm", "-500 mm"],
    "hinge": ["-330 mm", "-400 mm"],
    "plate_mass": ["-200 mm", "-430 mm"],
}
SELF_TIGHTENING = {  # the hinge lies between the strands: the load itself swings the plate open
    "driven": "80 mm",
    "length": "1151 mm",
    "motor": ["-450 mm", "0 mm"],
    "mass": ["-380 mm", "-10 mm"],
    "hinge": ["-400 mm", "20 mm"],
    "plate_mass": ["-400 mm", "-50 mm"],
}
ADJUSTERS = {
    "jack-in-base": """
kind = "jack-in-base"
thread = "M10"
tip = ["-420 mm", "-160 mm"]
axis = "170 deg"
face = "100 deg"
""",
    "jack-in-plate": """
kind = "jack-in-plate"
thread = "M8"
tip = ["-150 mm", "-390 mm"]
axis = "80 deg"
face = "-5 deg"
""",
    "link": """
kind = "link"
advance_per_turn = "3 mm"
base_pin = ["-650 mm", "-240 mm"]
plate_pin = ["-470 mm", "-170 mm"]
""",
    "none": """
kind = "none"
""",
}
SMALL_DRIVEN = ABOVE | {"driven": "60 mm", "length": "1158 mm"}
# Place, adjuster, turns, and what else differs from `mount_text`'s values.
MOUNTS = {
    "jack in the base": (ABOVE, "jack-in-base", (0.02, 0.1, 0.5, 1.5, 4.0), {"power": "600 W"}),
    "jack in the base, lightly loaded": (ABOVE, "jack-in-base", (0.02, 0.3), {"power": "40 W"}),
    "jack in the plate": (BELOW, "jack-in-plate", (0.05, 0.1, 0.5, 2.0), {"power": "150 W"}),
    "jack in the plate, overloaded": (BELOW, "jack-in-plate", (0.05, 0.4, 2.0), {"count": 2}),
    "link": (ABOVE, "link", (0.0, 0.02, 0.5, 3.0), {"power": "300 W", "count": 2}),
    "link that pulls": (ABOVE, "link", (0.03, 0.4, 2.0), {"power": "60 W", "acts": "pull"}),
    "link that pushes": (ABOVE, "link", (0.0, 0.01, 0.5), {"power": "20 W", "acts": "push"}),
    "turnbuckle below": (BELOW, "link", (0.02, 0.4, 2.0), {"power": "200 W", "acts": "push"}),
    "slippery driven pulley": (BELOW, "link", (0.02, 0.4), {"driven_traction": 0.2}),
    "smaller driven pulley": (SMALL_DRIVEN, "link", (0.02, 0.4), {"acts": "pull"}),
    "weight alone, above": (ABOVE, "none", (0.0,), {"power": "40 W"}),
    "weight alone, below": (BELOW, "none", (0.0,), {"power": "150 W"}),
    "weight alone, two belts": (BELOW, "none", (0.0,), {"count": 2}),
}


def mount_text(place, kind, rotation, *, acts=None, **values):
    """Text of a scenario file; ``values`` replace the drive's."""
    points = {
        key: value if isinstance(value, str) else json.dumps(value) for key, value in place.items()
    }
    drive = {"power": "600 W", "count": 1, "traction": 0.4, "stiffness": "50 kN"} | values
    drive.setdefault("driven_traction", drive["traction"])
    text = DRIVE.format(**points, **drive, rotation=rotation) + ADJUSTERS[kind]
    return text + (f'acts = "{acts}"\n' if acts else "")


def named_mount(name, rotation):
    """Scenario of one of `MOUNTS`, and the turns to look at."""
    place, kind, turns, values = MOUNTS[name]
    return parse_scenario(mount_text(place, kind, rotation, **values)), turns
