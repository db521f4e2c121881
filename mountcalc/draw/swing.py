"""Where the plate stands as a belt is put on, when it is snug, and when it is taken up."""

from __future__ import annotations

import math
from dataclasses import dataclass

from mountcalc.belts import Room, fit
from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.travel import Travel, belt_key, usable_travel
from mountcalc.errors import MountError
from mountcalc.handbook.belts.designation import Designation
from mountcalc.handbook.belts.lengths import named_length
from mountcalc.handbook.belts.sections import section
from mountcalc.pages.bench_lengths import bench_length
from mountcalc.scenario.model import Display, Scenario, Vector

__all__ = ["Swing", "swing_of", "turned"]

_AT_ONE = 1e-9  # [rad]


@dataclass(frozen=True, slots=True)
class Swing:
    """The swing for which parts are made.

    Attributes
    ----------
    install, snug, take_up : float [rad]
        Plate angles, counter-clockwise from as drawn.
    notes : tuple of str
        What the travel does not reach.
    """

    install: float
    snug: float
    take_up: float
    notes: tuple[str, ...] = ()

    @property
    def low(self) -> float:
        """The end that is furthest clockwise [rad]."""
        return min(self.install, self.snug, self.take_up)

    @property
    def high(self) -> float:
        """The end that is furthest counter-clockwise [rad]."""
        return max(self.install, self.snug, self.take_up)

    def where(self, plate_angle: float) -> str:
        """Where in the swing a plate angle [rad] is, in words."""
        turn = 1.0 if self.take_up >= self.install else -1.0
        past_install, past_snug, past_take_up = (
            turn * (plate_angle - angle) for angle in (self.install, self.snug, self.take_up)
        )
        if past_install < -_AT_ONE:
            return "at the stop beyond install"
        if past_take_up > _AT_ONE:
            return "at the stop beyond take-up"
        return "between install and snug" if past_snug < 0 else "between snug and take-up"


def swing_of(scenario: Scenario) -> Swing:
    """The plate angles between which a belt is fitted and taken up."""
    mount = Mount.of(scenario)
    travel = usable_travel(mount)
    found = fit(scenario, scenario.belt.length, _bought(scenario))
    if found is None:  # pragma: no cover (usable_travel has refused it already)
        raise MountError(scenario.source, belt_key(mount), "the belt never becomes snug")
    slack_end, tight_end = _ends(travel)
    install, short_of_install = _reached(found.install, slack_end, scenario.display, "to fit")
    take_up, short_of_take_up = _reached(found.take_up, tight_end, scenario.display, "to take up")
    notes = (*short_of_install, *short_of_take_up)
    return Swing(install, found.snug_plate_angle, take_up, notes)


def turned(point: Vector, hinge: Vector, plate_angle: float) -> Vector:
    """Where a point of the plate lies at a plate angle."""
    across, up = point[0] - hinge[0], point[1] - hinge[1]
    cosine, sine = math.cos(plate_angle), math.sin(plate_angle)
    return hinge[0] + across * cosine - up * sine, hinge[1] + across * sine + up * cosine


def _bought(scenario: Scenario) -> Designation | None:
    belt = scenario.belt
    if belt.designation is not None:
        return belt.designation
    if belt.section is None or section(belt.section) is None:
        return None
    return named_length(belt.section, belt.length)


def _ends(travel: Travel) -> tuple[float, float]:
    """The slack end and the tight end of the usable travel [rad]."""
    tight = travel.tight_end
    slack = travel.low if tight is travel.high else travel.high
    return slack.angle, tight.angle


def _reached(room: Room, end: float, display: Display, why: str) -> tuple[float, tuple[str, ...]]:
    """The plate angle [rad] at which an allowance is used up, or the travel; what to know."""
    if room.plate_angle is not None:
        return room.plate_angle, ()
    there, needed = (bench_length(length, display) for length in (room.there, room.needed))
    note = (
        f"The travel gives {there} on the centre distance {why} the belt, of {needed} wanted; "
        "drawn to the end of the travel."
    )
    return end, (note,)
