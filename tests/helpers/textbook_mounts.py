"""What the published examples share: a belt laid over two pulleys, and a mount to put a drive in.

Textbook examples give a drive, seldom a mount. To send one through the scenario reader and the
solver it is put into a mount of our own invention:

- the hinge lies one centre distance below the motor shaft, and a link from the motor shaft to the
  driven shaft sets the plate. The link carries push and pull, so the plate is held in every load
  case and the belt is at fixed centres, as in the examples;
- weights, bearings and the driven pulley's place along its shaft do not act on a held belt;
- the belt is so stiff (1 GN) that tensioning it does not move the plate in any digit that is
  compared. The examples take belts as inextensible.
"""

import json
import math
from typing import NamedTuple

from scipy.optimize import brentq

from mountcalc import parse_scenario
from mountcalc.formulas.belt import wraps
from mountcalc.linkage import kernels
from mountcalc.table import tension_table

STIFF = "1e6 kN"

_BEARING = {"journal_diameter": "1 in", "length": "2 in", "limit": "100 psi"}

_MOUNT = {
    "driven": {
        "shaft": ["0 m", "0 m"],
        "pulley_position": "0 m",
        "starting_factor": 1.0,
    },
    "bearings": (
        {"name": "A", "position": "0.1 m"} | _BEARING,
        {"name": "B", "position": "0.4 m"} | _BEARING,
    ),
    "loads": (),
    "motor": {"power": "1000 kW", "rotation": "ccw", "weight": "1 N"},
    "belt": {"stiffness": STIFF, "mass": "0 kg/m"},
    "plate": {"travel": ["-10 deg", "10 deg"]},
    "adjuster": {},
}


def _lines(values):
    return [f"{key} = {json.dumps(value)}" for key, value in values.items()]


def mount_file(**tables):
    """Text of a scenario file: the tables given, over those that every example shares."""
    whole = {name: tables.pop(name, values) for name, values in _MOUNT.items()}
    assert not tables
    text = ['title = "Published example in a mount of our own invention"']
    for name in ("driven", "motor", "belt", "plate", "adjuster"):
        text += ["", f"[{name}]", *_lines(_MOUNT[name] | whole[name])]
    for name, key in (("bearing", "bearings"), ("load", "loads")):
        for values in whole[key]:
            text += ["", f"[[driven.{name}]]", *_lines(values)]
    return "\n".join(text) + "\n"


def drive_file(center, *, driven, motor, belt, **tables):
    """Text of a scenario file that holds a drive at a centre distance (text, such as "42.4 in").

    It is drawn with the shafts 1 % nearer, the belt hanging loose, so that the solver has to find
    the centre distance from the belt's length.
    """
    number, unit = center.split()
    motor_shaft = [f"{-0.99 * float(number)!r} {unit}", "0 m"]
    return mount_file(
        driven=driven,
        motor={"shaft": motor_shaft} | motor,
        belt=belt,
        plate={"hinge": [f"-{center}", f"-{center}"]},
        adjuster={
            "kind": "link",
            "thread": "M10x1.5",
            "plate_pin": motor_shaft,
            "base_pin": ["0 m", "0 m"],
        },
        **tables,
    )


def set_until(text, read, wanted):
    """The row of a scenario's table at the turns where what is read from it is as wanted."""
    scenario = parse_scenario(text)

    def row(turns):
        return tension_table(scenario, [turns]).rows[0]

    enough = 4 * wanted / row(0.0).tension_per_turn
    turns = brentq(lambda turns: read(row(turns)) - wanted, 0.0, enough, xtol=1e-15, rtol=1e-9)
    return row(turns)


class OpenBelt(NamedTuple):
    """Path [m] of an open belt, and the wraps [rad] on the smaller and the larger pulley."""

    length: float
    small_wrap: float
    large_wrap: float


def open_belt(small, large, center):
    """An open belt over pulleys of given diameters at a centre distance, all in one unit.

    The smaller is the motor's, up to the left of the driven one. Where the hinge is does not
    matter as drawn.
    """
    hinge, motor_shaft = (-center, -5 * center), (-0.8 * center, 0.6 * center)
    drive = (0.0, *hinge, *motor_shaft, 0.0, 0.0, small / 2, large / 2)
    on_motor, on_driven = wraps(kernels.strands(*drive).beta)
    return OpenBelt(float(kernels.belt_path(*drive).length), float(on_motor), float(on_driven))


def driven_for_wrap(small, wrap, center):
    """Diameter of a driven pulley that leaves a wrap [rad] on the motor's, all in one unit."""
    return small + 2 * center * math.cos(wrap / 2)
