"""Where a mount becomes snug with a belt of a length, and the room to fit it and to take it up."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from mountcalc.belts.results import LengthEnd, Room
from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.roots import bracketed_roots
from mountcalc.equilibrium.travel import End, Travel, belt_key, usable_travel
from mountcalc.errors import MountError
from mountcalc.formulas.belt import wraps
from mountcalc.handbook.belts.designation import Designation
from mountcalc.handbook.belts.lengths import (
    install_allowance,
    length_tolerance,
    named_length,
    percentage_allowances,
    take_up_allowance,
)
from mountcalc.handbook.belts.sections import Joint
from mountcalc.handbook.belts.sections import section as v_section
from mountcalc.handbook.rows import Datum
from mountcalc.scenario.model import Belt, Scenario

__all__ = ["Fit", "belt_name", "fit", "paths_in_travel", "room_wanted", "travel_notes"]

# Room that is short by less than this share of what is needed is rounding.
_ROUNDING = 1e-9


@dataclass(frozen=True, slots=True)
class Fit:
    """A mount with a belt of a length: lengths [m], angles [rad].

    ``wrap_motor`` and ``wrap_driven`` are those at snug; ``shortest`` and ``longest`` are None
    where no tolerance is published.
    """

    snug_plate_angle: float
    center_distance: float
    wrap_motor: float
    wrap_driven: float
    install: Room
    take_up: Room
    shortest: LengthEnd | None
    longest: LengthEnd | None


def fit(scenario: Scenario, pitch_length: float, bought: Designation | None) -> Fit | None:
    """Put a belt of a length into a mount."""
    found = _travel(scenario, pitch_length)
    if found is None:
        return None
    mount, travel = found
    install, take_up = room_wanted(scenario.belt.joint, pitch_length, bought)
    center = _center(mount, travel.snug)
    on_motor, on_driven = wraps(mount.strands(travel.snug).beta)
    ends = _tolerance_ends(scenario, bought, (install.value, take_up.value))
    return Fit(
        snug_plate_angle=travel.snug,
        center_distance=center,
        wrap_motor=float(on_motor),
        wrap_driven=float(on_driven),
        install=_room(mount, travel, install, closing=True),
        take_up=_room(mount, travel, take_up, closing=False),
        shortest=ends[0],
        longest=ends[1],
    )


def room_wanted(
    joint: Joint, pitch_length: float, bought: Designation | None
) -> tuple[Datum, Datum]:
    """Look up by how much the centre distance must close for a new belt, and open to take it up."""
    if bought is None:
        install, take_up = percentage_allowances(pitch_length)
    else:
        install, take_up = install_allowance(bought), take_up_allowance(bought)
    if joint is not Joint.ENDLESS:
        closed = f"a {joint} belt is closed round the pulleys where it lies"
        shortened = f"a {joint} belt is shortened when it has stretched"
        install = Datum(0.0, closed, "common practice")
        take_up = Datum(0.0, shortened, "common practice")
    return install, take_up


def belt_name(belt: Belt) -> Designation | None:
    """The name by which a scenario's belt is bought."""
    if belt.joint is not Joint.ENDLESS:
        return None
    if belt.designation is not None:
        return belt.designation
    is_v = v_section(belt.section or "") is not None
    return named_length(belt.section or "", belt.length) if is_v else None


def travel_notes(scenario: Scenario) -> tuple[str, ...]:
    """Say where the travel cannot be used, with the scenario's own belt."""
    found = _travel(scenario, scenario.belt.length)
    return () if found is None else found[1].notes


def paths_in_travel(scenario: Scenario) -> tuple[float, float]:
    """Shortest and longest path of the belt over the travel as the scenario gives it."""
    mount = Mount.of(scenario)
    path = mount.path(np.linspace(*scenario.plate.travel, 1025))
    radii = scenario.motor.pulley_radius + scenario.driven.pulley_radius
    lengths = path.length[path.center_distance > radii]
    if lengths.size == 0:
        raise MountError(
            scenario.source,
            "plate.travel",
            "nowhere in the travel are the pulleys clear of each other",
        )
    return float(lengths.min()), float(lengths.max())


def _travel(scenario: Scenario, pitch_length: float) -> tuple[Mount, Travel] | None:
    mount = Mount.of(replace(scenario, belt=replace(scenario.belt, length=pitch_length)))
    try:
        return mount, usable_travel(mount)
    except MountError as error:
        if error.key != belt_key(mount):
            raise
        return None


def _center(mount: Mount, phi: float) -> float:
    return float(mount.path(phi).center_distance)


def _room(mount: Mount, travel: Travel, needed: Datum, *, closing: bool) -> Room:
    """Room on the centre distance from snug to one end of the usable travel."""
    end = (_slack_end(travel) if closing else travel.tight_end).angle
    snug, there = _center(mount, travel.snug), _to_end(mount, travel, closing=closing)
    is_enough = there >= needed.value * (1 - _ROUNDING)
    angle = None
    if is_enough:
        wanted = snug - needed.value if closing else snug + needed.value
        angle = _angle_at(mount, wanted, travel.snug, end)
    sure = "" if needed.sure in needed.source else f", {needed.sure}"
    return Room(needed.value, there, angle, is_enough, f"{needed.source}{sure}", needed.sure)


def _angle_at(mount: Mount, center: float, snug: float, end: float) -> float:
    """Plate angle [rad] between snug and an end at which the shafts are so far apart."""
    at_end = _center(mount, end) - center
    at_snug = _center(mount, snug) - center
    if at_end * at_snug >= 0:
        return end
    root = bracketed_roots(
        lambda phi: mount.path(phi).center_distance - center, np.array([snug]), np.array([end])
    )
    return float(root[0])


def _tolerance_ends(
    scenario: Scenario, bought: Designation | None, needed: tuple[float, float]
) -> tuple[LengthEnd | None, LengthEnd | None]:
    """The belt as short and as long as its tolerance allows; ``needed`` to fit, to take up [m]."""
    tolerance = None if bought is None else length_tolerance(bought)
    if bought is None or tolerance is None:
        return None, None
    length = bought.pitch_length
    return (
        _end(scenario, length - tolerance.short, needed[0], closing=True),
        _end(scenario, length + tolerance.long, needed[1], closing=False),
    )


def _end(scenario: Scenario, length: float, needed: float, *, closing: bool) -> LengthEnd:
    found = _travel(scenario, length)
    if found is None:
        return LengthEnd(length, None, None, None, ok=False)
    mount, travel = found
    snug, there = _center(mount, travel.snug), _to_end(mount, travel, closing=closing)
    return LengthEnd(length, travel.snug, snug, there, there >= needed * (1 - _ROUNDING))


def _slack_end(travel: Travel) -> End:
    return travel.low if travel.tight_end is travel.high else travel.high


def _to_end(mount: Mount, travel: Travel, *, closing: bool) -> float:
    """Change of the centre distance [m] from snug to one end of the usable travel."""
    end = _slack_end(travel) if closing else travel.tight_end
    return abs(_center(mount, end.angle) - _center(mount, travel.snug))
