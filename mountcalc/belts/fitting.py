"""Where a mount becomes snug with a belt of a length; room to fit and to take it up, judged."""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from mountcalc.belts.results import LengthEnd, Room
from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.roots import bracketed_roots
from mountcalc.equilibrium.travel import Travel, belt_key, usable_travel
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
from mountcalc.judgement import LENGTH, Judgement, Measure, Topic, Verdict
from mountcalc.pages.amounts import need_text, room_text
from mountcalc.scenario.model import Belt, Display, Scenario

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


@dataclass(frozen=True, slots=True)
class _Fitted:
    """A mount with a belt that becomes snug in its usable travel."""

    mount: Mount
    travel: Travel

    @staticmethod
    def of(scenario: Scenario, pitch_length: float) -> _Fitted | None:
        """None where the belt never becomes snug."""
        mount = Mount.of(replace(scenario, belt=replace(scenario.belt, length=pitch_length)))
        try:
            return _Fitted(mount, usable_travel(mount))
        except MountError as error:
            if error.key != belt_key(mount):
                raise
            return None

    def center(self, phi: float) -> float:
        """Centre distance at a plate angle [m]."""
        return float(self.mount.path(phi).center_distance)

    def end(self, *, closing: bool) -> float:
        """Plate angle at the slack or the tight end of the travel [rad]."""
        low, high, tight = self.travel.low, self.travel.high, self.travel.tight_end
        return (tight if not closing else low if tight is high else high).angle

    def there(self, *, closing: bool) -> float:
        """Change of the centre distance from snug to that end [m]."""
        return abs(self.center(self.end(closing=closing)) - self.center(self.travel.snug))

    def room(self, wanted: Datum, *, closing: bool) -> Room:
        """Room on the centre distance from snug to that end."""
        there, angle = self.there(closing=closing), None
        is_enough = there >= wanted.value * (1 - _ROUNDING)
        if is_enough:
            moved = -wanted.value if closing else wanted.value
            at = self.center(self.travel.snug) + moved
            angle = self._angle_at(at, self.end(closing=closing))
        sure = "" if wanted.sure in wanted.source else f", {wanted.sure}"
        return Room(wanted.value, there, angle, is_enough, f"{wanted.source}{sure}", wanted.sure)

    def _angle_at(self, center: float, end: float) -> float:
        """Plate angle [rad] between snug and an end at which the shafts are so far apart [m]."""
        snug = self.travel.snug
        if (self.center(end) - center) * (self.center(snug) - center) >= 0:
            return end
        root = bracketed_roots(
            lambda phi: self.mount.path(phi).center_distance - center,
            np.array([snug]),
            np.array([end]),
        )
        return float(root[0])


def fit(scenario: Scenario, pitch_length: float, bought: Designation | None) -> Fit | None:
    """Put a belt of a length into a mount."""
    fitted = _Fitted.of(scenario, pitch_length)
    if fitted is None:
        return None
    install, take_up = room_wanted(scenario.belt.joint, pitch_length, bought)
    snug = fitted.travel.snug
    on_motor, on_driven = wraps(fitted.mount.strands(snug).beta)
    tolerance = None if bought is None else length_tolerance(bought)
    shortest = longest = None
    if bought is not None and tolerance is not None:
        length = bought.pitch_length
        shortest = _tolerance_end(scenario, length - tolerance.short, install.value, closing=True)
        longest = _tolerance_end(scenario, length + tolerance.long, take_up.value, closing=False)
    return Fit(
        snug_plate_angle=snug,
        center_distance=fitted.center(snug),
        wrap_motor=float(on_motor),
        wrap_driven=float(on_driven),
        install=fitted.room(install, closing=True),
        take_up=fitted.room(take_up, closing=False),
        shortest=shortest,
        longest=longest,
    )


def _tolerance_end(scenario: Scenario, length: float, needed: float, *, closing: bool) -> LengthEnd:
    """The belt as short or as long as its tolerance allows; ``needed`` [m] to fit or take up."""
    fitted = _Fitted.of(scenario, length)
    if fitted is None:
        return LengthEnd(length, None, None, None, ok=False)
    snug, there = fitted.travel.snug, fitted.there(closing=closing)
    is_enough = there >= needed * (1 - _ROUNDING)
    return LengthEnd(length, snug, fitted.center(snug), there, is_enough)


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
    return install_allowance(bought), take_up_allowance(bought)


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
    fitted = _Fitted.of(scenario, scenario.belt.length)
    return () if fitted is None else fitted.travel.notes


def paths_in_travel(scenario: Scenario) -> tuple[float, float]:
    """Shortest and longest path of the belt over the travel as the scenario gives it."""
    path = Mount.of(scenario).path(np.linspace(*scenario.plate.travel, 1025))
    radii = scenario.motor.pulley_radius + scenario.driven.pulley_radius
    lengths = path.length[path.center_distance > radii]
    if lengths.size == 0:
        raise MountError(
            scenario.source,
            "plate.travel",
            "nowhere in the travel are the pulleys clear of each other",
        )
    return float(lengths.min()), float(lengths.max())


def room_judgements(display: Display, found: Fit) -> tuple[Judgement, ...]:
    """Judge whether a belt can be slipped on and taken up."""
    return (
        _room_judgement("belt-install", found.install, "close", "to slip a new belt on", display),
        _room_judgement(
            "belt-take-up", found.take_up, "open", "to take it up as it stretches", display
        ),
    )


def _room_judgement(name: str, room: Room, verb: str, purpose: str, display: Display) -> Judgement:
    topic = Topic(name, room.source, sure=room.sure)
    if room.needed == 0:
        measure = Measure(LENGTH, room.there, verdict=Verdict.PASS)
        return topic.judge(measure, f"the centres need not {verb}: {room.source}")
    measure = Measure.at_least(LENGTH, room.there, room.needed)
    verdict = Verdict.PASS if room.ok else Verdict.FAIL
    return topic.judge(
        replace(measure, verdict=verdict),
        f"the plate {verb}s the centres by {'' if room.ok else 'only '}"
        f"{room_text(room.there, display)} from snug, {need_text(room.needed, display)} wanted "
        f"{purpose}",
    )


def tolerance_cautions(display: Display, found: Fit) -> tuple[Judgement, ...]:
    """Say where only a belt as short or as long as its tolerance allows wants room."""
    cautions = []
    for end, room, word, does in (
        (found.shortest, found.install, "short", "closes"),
        (found.longest, found.take_up, "long", "opens"),
    ):
        if end is None or end.ok or not room.ok:
            continue
        what = "it never becomes snug in the travel"
        if end.room is not None:
            what = f"the plate {does} the centres by only {room_text(end.room, display)}"
        topic = Topic("belt-tolerance", "tolerance of the belt's length", word, sure="estimate")
        measure = Measure(LENGTH, end.room, room.needed, verdict=Verdict.FAIL)
        cautions.append(topic.judge(measure, f"as {word} as its tolerance allows {what}"))
    return tuple(cautions)
