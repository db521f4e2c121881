"""One mount of our own invention as it is measured, both ways."""

from mountcalc.new.measurements import Measurements
from mountcalc.new.understanding import understood

# A mount of our own invention: the motor to the left of the machine on a plate that stands up.
HEIGHTS = {
    "driven_height": "36 in",
    "driven_wall": "40 in",
    "motor_height": "32 in",
    "motor_wall": "19 1/2 in",
    "hinge_height": "23 in",
    "hinge_wall": "16 in",
}
SPANS = {
    "driven_to_motor": "20 7/8 in",
    "hinge_to_driven": "27 5/16 in",
    "hinge_to_motor": "9 11/16 in",
}
LEVEL = {"driven_height": "36 in", "motor_height": "32 in"}
BOLT = {"bolt_height": "37 1/2 in", "bolt_wall": "16 in"}
PULLEYS = {"motor_pulley_across": "3 1/4 in", "driven_pulley_across": "9 1/4 in", "belt": "A60"}
MOUNT = HEIGHTS | BOLT | PULLEYS
# The same with the motor hung from a level plate right over the floor, the hinge to the left.
LOW = {
    "motor_height": "8 in",
    "motor_wall": "40 in",
    "hinge_height": "4 1/2 in",
    "hinge_wall": "30 in",
    "plate_lies": "below",
    "shaft_height": "3 1/2 in",
}
# The motor 2 in to the left, right below the machine; its distance from the wall is left out.
HANGING = {
    "driven_height": "36 in",
    "driven_wall": "40 in",
    "motor_height": "15 in",
    "hinge_height": "5 in",
    "hinge_wall": "40 in",
    "driven_to_motor": "21 1/8 in",
    "hinge_to_motor": "10 3/16 in",
    "hinge_to_bolt": "14 in",
}
SIDES = {"motor_lies": "left", "hinge_lies": "below"}


def of(said):
    return understood(Measurements.of(said))
