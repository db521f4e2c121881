"""What stands one behind the other along the shafts, counted outward from the motor.

Outward is the way from the motor's face to its pulley. All positions here are counted that way, so
that "behind" is always the smaller number, whichever way the scenario counts.
"""

from __future__ import annotations

from mountcalc.draw.boards.side import board_sizes
from mountcalc.draw.build import Build, once
from mountcalc.record import Record
from mountcalc.scenario.model import Bearing


class Place(Record):
    """Something along the shafts [m]: from ``back`` to ``front``, counted outward."""

    name: str
    back: float
    front: float

    @property
    def middle(self) -> float:
        """Half way [m]."""
        return 0.5 * (self.back + self.front)


class AlongStack(Record):
    """Positions along the shafts [m], counted outward; None where the scenario leaves them open.

    ``outward`` is +1 where the scenario's positions grow outward, -1 where they fall; ``bearings``
    are the driven shaft's, the innermost first; the middles are those of the pulleys; the ``plate``
    has the motor's feet on the middle of its width.
    """

    outward: int
    bearings: tuple[Place, ...]
    motor_face: float | None
    motor_shaft_end: float | None
    motor_middle: float | None
    driven_middle: float
    motor_pulley: Place | None
    driven_pulley: Place | None
    driven_shaft_end: float | None
    plate: tuple[float, float] | None

    @property
    def pulleys(self) -> list[Place]:
        """Those whose place is known."""
        return [one for one in (self.motor_pulley, self.driven_pulley) if one is not None]

    @property
    def bearing_behind(self) -> Place | None:
        """The bearing next behind the driven pulley; None where there is none."""
        behind = [one for one in self.bearings if one.middle < self.driven_middle]
        return max(behind, key=lambda one: one.front, default=None)


@once
def along_stack(build: Build) -> AlongStack | None:
    """Positions along the shafts, counted outward; None where nothing tells which way that is."""
    along, driven = build.scenario.parts.along, build.scenario.driven
    places = [one.position for one in driven.bearings]
    reach = (along.motor_pulley or 0.0) - (along.motor_face or 0.0)
    if along.motor_face is not None and along.motor_pulley is not None and reach != 0:
        outward = 1 if reach > 0 else -1
    elif min(places) <= driven.pulley_position <= max(places):
        return None
    else:
        outward = 1 if driven.pulley_position > max(places) else -1

    def counted(position: float | None) -> float | None:
        return None if position is None else outward * position

    def pulley(name: str, middle: float | None, width: float | None) -> Place | None:
        if middle is None or width is None:
            return None
        return Place(name, middle - 0.5 * width, middle + 0.5 * width)

    face, motor = counted(along.motor_face), counted(along.motor_pulley)
    middle, frame = outward * driven.pulley_position, build.scenario.parts.frame
    bearings = (place_of(one, outward) for one in driven.bearings)
    plate = None
    if frame is not None and face is not None:
        # Half way between the motor's outermost pairs of foot holes.
        feet = face - frame.shoulder_to_foot - 0.5 * max(frame.feet_along)
        half = 0.5 * board_sizes(build).width
        plate = feet - half, feet + half
    return AlongStack(
        outward=outward,
        bearings=tuple(sorted(bearings, key=lambda one: one.middle)),
        motor_face=face,
        motor_shaft_end=None if face is None or frame is None else face + frame.shaft_length,
        motor_middle=motor,
        driven_middle=middle,
        motor_pulley=pulley("the motor's pulley", motor, along.motor_pulley_width),
        driven_pulley=pulley("the driven pulley", middle, along.driven_pulley_width),
        driven_shaft_end=counted(along.driven_shaft_end),
        plate=plate,
    )


def place_of(bearing: Bearing, outward: int) -> Place:
    """Where a bearing stands along the shafts."""
    middle, half = outward * bearing.position, 0.5 * bearing.length
    return Place(f"bearing {bearing.name!r}", middle - half, middle + half)
