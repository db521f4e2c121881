"""What stands one behind the other along the shafts, counted outward from the motor.

Outward is the way from the motor's face to its pulley. All positions here are counted that way, so
that "behind" is always the smaller number, whichever way the scenario counts.
"""

from __future__ import annotations

from mountcalc.draw.boards.side import board_sizes
from mountcalc.draw.build import Build, once
from mountcalc.record import Record
from mountcalc.scenario.driven import Bearing


class Place(Record):
    """Something along the shafts [m]: from ``back`` to ``front``, counted outward."""

    name: str
    back: float
    front: float
    bearing: Bearing | None = None

    @property
    def middle(self) -> float:
        """Half way [m]."""
        return 0.5 * (self.back + self.front)


class AlongStack(Record):
    """Positions along the shafts [m], counted outward; None where the scenario leaves them open.

    ``outward`` is +1 where the scenario's positions grow outward, -1 where they fall; ``bearings``
    are the driven shaft's, the innermost first, and those next to its pulley; the middles are those
    of the pulleys; the ``plate`` has the motor's feet where motor.across puts them.
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
    pulleys: tuple[Place, ...]
    bearing_behind: Place | None
    bearing_before: Place | None

    def bearing_at(self, back: float, front: float) -> Bearing | None:
        """A bearing that has something between two places [m]."""
        there = (one for one in self.bearings if one.back <= front and one.front >= back)
        return next((one.bearing for one in there), None)


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
    bearings = [
        Place(f"bearing {one.name!r}", at - 0.5 * one.length, at + 0.5 * one.length, one)
        for one, at in sorted(
            ((one, outward * one.position) for one in driven.bearings), key=lambda one: one[1]
        )
    ]
    behind = [one for one in bearings if one.middle < middle]
    before = [one for one in bearings if one.middle > middle]
    pulleys = (
        pulley("the motor's pulley", motor, along.motor_pulley_width),
        pulley("the driven pulley", middle, along.driven_pulley_width),
    )
    plate = None
    if frame is not None and face is not None:
        # Half way between the motor's outermost pairs of foot holes.
        feet = face - frame.shoulder_to_foot - 0.5 * max(frame.feet_along)
        middle, half = feet - (along.motor_feet or 0.0), 0.5 * board_sizes(build).width
        plate = middle - half, middle + half
    return AlongStack(
        outward=outward,
        bearings=tuple(bearings),
        motor_face=face,
        motor_shaft_end=None if face is None or frame is None else face + frame.shaft_length,
        motor_middle=motor,
        driven_middle=middle,
        motor_pulley=pulleys[0],
        driven_pulley=pulleys[1],
        driven_shaft_end=counted(along.driven_shaft_end),
        plate=plate,
        pulleys=tuple(one for one in pulleys if one is not None),
        bearing_behind=max(behind, key=lambda one: one.front, default=None),
        bearing_before=before[0] if before else None,
    )
