"""The swing that parts are made for: where a belt is fitted, where it is snug and taken up."""

from __future__ import annotations

import numpy as np

from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.roots import bracketed_roots
from mountcalc.equilibrium.travel import Travel
from mountcalc.handbook.belts.designation import Designation
from mountcalc.handbook.belts.lengths import allowances, named_length, percentage_allowances
from mountcalc.handbook.belts.sections import Joint
from mountcalc.handbook.belts.sections import section as v_section
from mountcalc.handbook.rows import Datum
from mountcalc.pages.amounts import bench_length
from mountcalc.record import Record
from mountcalc.scenario.model import Belt
from mountcalc.thresholds import ROUNDING


class Room(Record):
    """Room on the centre distance for fitting or taking up a belt.

    ``plate_angle`` [rad] is where the plate stands when what is needed is used.
    """

    needed: float
    there: float
    plate_angle: float | None
    ok: bool
    source: str
    sure: str


class Swing(Record):
    """The swing for which parts are made: plate angles [rad], counter-clockwise from as drawn.

    ``notes`` tell what the travel does not reach.
    """

    install: float
    snug: float
    take_up: float
    notes: tuple[str, ...] = ()

    @property
    def three(self) -> tuple[float, float, float]:
        """All three, as the belt tightens [rad]."""
        return self.install, self.snug, self.take_up

    @property
    def low(self) -> float:
        """The end that is furthest clockwise [rad]."""
        return min(self.three)

    @property
    def high(self) -> float:
        """The end that is furthest counter-clockwise [rad]."""
        return max(self.three)

    def where(self, plate_angle: float) -> str:
        """Where in the swing a plate angle [rad] is, in words."""
        turn = 1.0 if self.take_up >= self.install else -1.0
        past_install, past_snug, past_take_up = (turn * (plate_angle - one) for one in self.three)
        if past_install < -ROUNDING:
            return "at the stop beyond install"
        if past_take_up > ROUNDING:
            return "at the stop beyond take-up"
        return "between install and snug" if past_snug < 0 else "between snug and take-up"


def swing_of(mount: Mount, travel: Travel) -> Swing:
    """The plate angles between which a mount's own belt is fitted and taken up."""
    belt, display, notes = mount.scenario.belt, mount.scenario.display, list[str]()
    install, take_up = room_wanted(belt.joint, belt.length, belt_name(belt))

    def reached(wanted: Datum, end: float, why: str, *, closing: bool) -> float:
        room = room_on_centers(mount, travel, wanted, closing=closing)
        if room.plate_angle is not None:
            return room.plate_angle
        there, needed = (bench_length(one, display) for one in (room.there, room.needed))
        notes.append(
            f"The travel gives {there} on the centre distance {why} the belt, of {needed} "
            "wanted; drawn to the end of the travel."
        )
        return end

    low = reached(install, travel.slack_end.angle, "to fit", closing=True)
    high = reached(take_up, travel.tight_end.angle, "to take up", closing=False)
    return Swing(low, travel.snug, high, tuple(notes))


def room_on_centers(mount: Mount, travel: Travel, wanted: Datum, *, closing: bool) -> Room:
    """Room on the centre distance from snug to the slack or the tight end of the travel."""

    def center(phi: float) -> float:
        return float(mount.path(phi).center_distance)

    snug, end, angle = travel.snug, (travel.slack_end if closing else travel.tight_end).angle, None
    there = abs(center(end) - center(snug))
    is_enough = there >= wanted.value * (1 - ROUNDING)
    if is_enough:
        used, angle = center(snug) + (-wanted.value if closing else wanted.value), end
        if (center(end) - used) * (center(snug) - used) < 0:
            ends = np.array([snug]), np.array([end])
            angle = float(
                bracketed_roots(lambda phi: mount.path(phi).center_distance - used, *ends)[0]
            )
    sure = "" if wanted.sure in wanted.source else f", {wanted.sure}"
    return Room(wanted.value, there, angle, is_enough, f"{wanted.source}{sure}", wanted.sure)


def room_wanted(
    joint: Joint, pitch_length: float, bought: Designation | None
) -> tuple[Datum, Datum]:
    """Look up by how much the centre distance must close for a new belt, and open to take it up."""
    if joint is not Joint.ENDLESS:
        closed = f"a {joint} belt is closed round the pulleys where it lies"
        shortened = f"a {joint} belt is shortened when it has stretched"
        return Datum(0.0, closed, "common practice"), Datum(0.0, shortened, "common practice")
    if bought is None:
        return percentage_allowances(pitch_length)
    return allowances(bought)


def belt_name(belt: Belt) -> Designation | None:
    """The name by which a scenario's belt is bought."""
    if belt.joint is not Joint.ENDLESS:
        return None
    if belt.designation is not None:
        return belt.designation
    is_v = v_section(belt.section or "") is not None
    return named_length(belt.section or "", belt.length) if is_v else None
