"""Where everything is along the shafts: across, from the middle of the plate's width.

Positive is towards the motor's pulley, which is where the drawing is seen from. What the scenario
leaves open is estimated, and named in ``taken``.
"""

from __future__ import annotations

from functools import lru_cache

from mountcalc.handbook.rows import Datum
from mountcalc.record import Record
from mountcalc.scenario.boards import board_sizes, template_size
from mountcalc.scenario.drawn_plate import DrawnPlate
from mountcalc.scenario.model import Scenario


class Places(Record):
    """Places across [m]: middles of the hinges and bolts, of the pulley, centres of mass, feet.

    ``feet`` are half the distances of the foot holes, along the shafts and along the plate.
    ``taken`` are estimates by the keys that would say it better.
    """

    hinges: tuple[float, ...]
    bolts: tuple[float, ...]
    pulley: float
    motor: float
    plate: float
    feet_middle: float
    feet: tuple[float, float]
    taken: dict[str, Datum]


@lru_cache(maxsize=64)
def places_of(scenario: Scenario) -> Places:
    """Where the parts of a mount are along the shafts."""
    parts, sizes, taken = scenario.parts, board_sizes(scenario), dict[str, Datum]()
    along, frame, feet = parts.along, parts.frame, parts.along.motor_feet or 0.0
    beyond = template_size(scenario.display, "pulley_beyond")
    if frame is None:
        # The motor's body stands for its feet, which are no nearer than its pulley is large.
        half = max(DrawnPlate(scenario).half_feet, scenario.motor.pulley_radius)
        spread, motor, pulley = (half, half), feet, 0.5 * sizes.width + beyond.value
        taken["motor.frame"] = Datum(half, "as far out as the motor's body", "estimate")
        taken["motor.face_position"] = beyond
    else:
        spread = 0.5 * max(frame.feet_along), 0.5 * frame.feet_across
        shoulder = feet + spread[0] + frame.shoulder_to_foot
        motor, reach = shoulder - 0.5 * frame.body_length, 0.5 * frame.shaft_length
        if along.motor_face is None or along.motor_pulley is None:
            source = "the middle of the motor's shaft"
            taken["motor.pulley_position"] = Datum(reach, source, "estimate")
        else:
            reach = abs(along.motor_pulley - along.motor_face)
        pulley = shoulder + reach
    if along.motor_center is None:
        taken["motor.center_across"] = Datum(motor, "the middle of the motor's body", "estimate")
    else:
        motor = along.motor_center
    return Places(sizes.hinges, scenario.adjuster.places, pulley, motor, 0.0, feet, spread, taken)
