"""The ways to set a tension by: what each reads, and which tells most surely that all is kept.

A reading leaves the tension open: a push's by the belt's stiffness and how far it creeps, turns'
by stiffness and weights, and each by the error of the hand. A balance, read before and after the
belt takes hold, depends on them only by how far round the motor goes, a plucked strand not.

From the tension with which the mount grips to the one at its first limit, each method has a range
of readings that keep both whatever the belt is, within its uncertainty, and whatever the reading's
error. Its aim is one more error above the least of them, or in the middle where that is nearer: as
gentle as the error allows. The method whose least sure reading leaves the belt least tension too
much leads; turns do so, too, where they ask for little more, since they need no tool.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from dataclasses import replace
from functools import partial
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from mountcalc.equilibrium.roots import bracketed_roots
from mountcalc.equilibrium.solve import SolvedMount
from mountcalc.equilibrium.states import ZeroKind
from mountcalc.errors import MountError
from mountcalc.formulas.belt import coarsest_that_tells, span_frequency, string_force
from mountcalc.pages.amounts import force_text
from mountcalc.record import Record
from mountcalc.requirements.requirements import Requirements
from mountcalc.requirements.results import Method, MethodName, ReadingUnit, SpringBalance
from mountcalc.scenario.model import Acts, AdjusterKind, Coil

Array = NDArray[np.float64]
Curve = Callable[[Array], Array]

TURNS_MAY_ASK = 1.25
"""How many times the tension of the surest method turns may ask for and still lead."""

# Errors between least and greatest reading of a push or of swings: no hand tells closer ones apart.
_ROOM = 0.25
# Grip and limits at the same tension differ so little between belts of other stiffness.
_SAME = 1e-3
_BOTH = 2
_MM = 1e3


class Scale(NamedTuple):
    """What a method reads at rest tensions [N] of one strand of one belt, and the way back.

    A reading below that at zero has the tension at zero, one past the end of the travel inf.
    """

    reads: Curve
    tension: Curve


class Gauge(Record):
    """One method on one mount, with the belt reckoned with and those that read ``most`` and least.

    Readings grow with the tension. ``error`` is that of one reading, in its unit or, where it
    ``is_share``, of the reading; ``ratio`` [-] the depth of a press over the span.
    """

    name: MethodName
    unit: ReadingUnit
    error: float
    shown: Scale
    most: Scale
    least: Scale
    ratio: float | None = None

    @property
    def is_share(self) -> bool:
        """Whether an error grows with what is read."""
        return self.name in {MethodName.PRESS, MethodName.HUM}

    def missed(self, reading: float, errors: float) -> float:
        """A reading so many errors higher."""
        if self.is_share:
            return reading * math.pow(1.0 + self.error, errors)
        return reading + errors * self.error

    def tensions(self, reading: float) -> tuple[float, float]:
        """Lowest and highest tension of a belt read so, the reading an error off [N]."""
        low, high = self.missed(reading, -1), self.missed(reading, 1)
        return _at(self.most.tension, low), _at(self.least.tension, high)


def _at(curve: Curve, value: float) -> float:
    return float(curve(np.array([value]))[0])


def push_stretch(
    stiffness: Array | float, factor: Array | float, creeping: Array | float, ratio: Array | float
) -> tuple[Array | float, Array | float, Array | float]:
    """Tension [N] that a push reads too much as the belt stretches: at most, as reckoned, at least.

    ``factor`` [-] is how many times as stiff or as soft it may be, ``creeping`` [-] the span over
    the length where it creeps round the pulleys; it is reckoned with in the middle of what it does.
    """
    stretch = 2.0 * np.square(ratio) * stiffness
    return stretch * factor, 0.5 * stretch * (1.0 + creeping), stretch * creeping / factor


def _scale(low: Array, high: Array, reads: Curve, tension: Curve | None = None) -> Scale:
    """A scale between tensions; the way back by roots where it has no closed form."""
    first, last = reads(low), reads(high)

    def back(reading: Array) -> Array:
        wanted = np.clip(reading, first, last)
        if tension is not None:
            found = tension(wanted)
        else:
            one, other = (np.broadcast_to(end, wanted.shape) for end in (low, high))
            found = bracketed_roots(lambda at: reads(at) - wanted, one, other)
        found = np.where(reading >= last, np.inf, found)
        return np.where(reading <= first, low, found)

    return Scale(lambda at: reads(np.clip(at, low, high)), back)


def _counted(low: Array, high: Array, one: Requirements) -> Scale:
    """Turns from zero, which a hand finds on the belt and the weights that there are."""

    def back(turns: Array) -> Array:
        tension = one.tension(np.clip(turns, 0.0, one.last_turn))
        return np.where(turns > one.last_turn, np.inf, np.nan_to_num(tension, nan=0.0))

    return Scale(lambda tension: one.turns_for(np.clip(tension, low, high)), back)


def _gauges(
    requirements: Requirements, others: Sequence[Requirements], least: float
) -> Iterator[Gauge]:
    """The methods that a mount can be set by; ``least`` [N] is the tension that just grips."""
    scenario, solved = requirements.scenario, requirements.solved
    limits, belt, mount = scenario.limits, scenario.belt, solved.mount
    ends = np.array([solved.zero.plate_angle, solved.travel.tight_end.angle])
    low, high = (np.array([end]) for end in mount.tension(mount.path(ends).length))
    span = math.sqrt(mount.path(solved.travel.snug).span_squared)

    scale = partial(_scale, low, high)
    lever = math.hypot(*_arm(solved))
    if lever > 0:
        slack = mount.weight_moment(solved.travel.snug)

        def gained(tension: Array, times: float | Array, side: int) -> Array:
            """What it shows more than with the slack belt, of belts so many times as stiff [N].

            A soft belt has the tension further round, where the weights have another lever.
            """
            place = solved.angle_for(tension / times)
            by_weights = mount.weight_moment(place) - slack
            by_belt = mount.count * tension * mount.path(place).length_slope
            gain = solved.travel.tightens * (by_belt + by_weights)
            less_sure = side * np.abs(scenario.motor.weight_error * by_weights)
            return np.asarray((gain + less_sure) / lever)

        times = np.array([[1.0 / belt.stiffness_factor], [belt.stiffness_factor]])
        yield Gauge(
            MethodName.BALANCE,
            ReadingUnit.FORCE,
            2.0 * limits.balance_error,  # two readings, each with its error
            scale(lambda tension: gained(tension, 1.0, 0)),
            scale(lambda tension: np.max(gained(tension, times, 1), axis=0)),
            scale(lambda tension: np.min(gained(tension, times, -1), axis=0)),
        )
    if scenario.adjuster.coil is not None:
        yield from _spring_gauge(requirements, scenario.adjuster.coil, scale)
    if least > 0:
        factor = belt.stiffness_factor
        ratio, _ = coarsest_that_tells(least, belt.stiffness * factor, 1.0)
        creeping = 0.0 if scenario.adjuster.gives else span / belt.length

        def pushed(more: Array | float) -> Scale:
            return scale(
                lambda tension: string_force(tension + more, ratio),
                lambda force: force / (4.0 * ratio) - more,
            )

        most, shown, fewest = push_stretch(belt.stiffness, factor, creeping, ratio)
        scales = pushed(shown), pushed(most), pushed(fewest)
        yield Gauge(MethodName.PRESS, ReadingUnit.FORCE, limits.push_error, *scales, ratio)
        if belt.mass > 0:
            hum = scale(
                lambda tension: span_frequency(tension, belt.mass, span),
                lambda swings: 4.0 * belt.mass * np.square(span * swings),
            )
            yield Gauge(MethodName.HUM, ReadingUnit.SWINGS, limits.hum_error, hum, hum, hum)
    if len(others) == _BOTH:
        turns = [_counted(low, high, one) for one in (requirements, *others)]
        by_hand = MethodName.TURNS, ReadingUnit.TURNS, limits.turn_error
        yield Gauge(*by_hand, turns[0], turns[1], turns[2])


def _spring_gauge(
    requirements: Requirements, coil: Coil, scale: Callable[..., Scale]
) -> Iterator[Gauge]:
    """How far a coil spring is pressed in [mm], where that grows with the tension.

    It tells the adjuster's force, whatever the belt; the weights' share and its rate may be off.
    """
    scenario, solved = requirements.scenario, requirements.solved
    mount, factor = solved.mount, scenario.belt.stiffness_factor

    def pressed(tension: Array, times: float | Array, side: int) -> Array:
        """Its travel with belts so many times as stiff, less and less sure to a side."""
        place = solved.angle_for(tension / times)
        slope = mount.adjuster(place).extension_slope
        by_weights = mount.weight_moment(place) / slope
        force = mount.count * tension * mount.path(place).length_slope / slope + by_weights
        size = np.abs(solved.balance.borne(force))
        size = size + side * scenario.motor.weight_error * np.abs(by_weights)
        rate = coil.rate * (1.0 - side * coil.rate_error)
        return np.asarray(_MM * np.clip(size / rate, 0.0, coil.stop))

    way = solved.travel.turn_sign
    if way != (1 if scenario.adjuster.acts is Acts.PUSH else -1):
        return  # it holds the plate back, and is pressed less as the belt takes over
    times = np.array([[1.0 / factor], [factor]])
    yield Gauge(
        MethodName.SPRING,
        ReadingUnit.TRAVEL,
        2.0 * coil.length_error * _MM,  # under no load, and pressed
        scale(lambda tension: pressed(tension, 1.0, 0)),
        scale(lambda tension: np.max(pressed(tension, times, 1), axis=0)),
        scale(lambda tension: np.min(pressed(tension, times, -1), axis=0)),
    )


class Range(Record):
    """One method between two tensions [N]: ``least`` that grips, ``most`` within limits.

    ``most`` is None where no limit is reached. ``not_below``, ``never_above`` and ``aim`` are its
    readings, the first two crossed where nothing is certain. ``top`` [N] is the highest tension
    that a belt read ``not_below`` may have. ``kept`` says that softest and stiffest belt keep the
    requirements an error of the reading off the aim.
    """

    gauge: Gauge
    least: float
    most: float | None
    not_below: float
    never_above: float
    aim: float
    top: float
    kept: bool = False

    @classmethod
    def of(cls, gauge: Gauge, least: float, most: float | None) -> Range:
        """The range, softest and stiffest belt not yet tried there."""
        floor = _at(gauge.most.reads, least)
        ceiling = math.inf if most is None else _at(gauge.least.reads, most)
        not_below, never_above = gauge.missed(floor, 1), gauge.missed(ceiling, -1)
        aim = gauge.missed(floor, 2)
        if math.isfinite(never_above):
            aim = min(aim, 0.5 * (not_below + never_above))
        return cls(gauge, least, most, not_below, never_above, aim, gauge.tensions(not_below)[1])

    def tension(self, reading: float) -> float:
        """Tension of the belt reckoned with at a reading [N]."""
        return _at(self.gauge.shown.tension, reading)

    @property
    def trustworthy(self) -> bool:
        """Whether readings that a hand can tell apart are certain to keep grip and limits."""
        room = _ROOM if self.gauge.is_share else 0.0
        is_certain = self.kept and self.gauge.missed(self.not_below, room) <= self.never_above
        return bool(is_certain and math.isfinite(self.top))


def ranked_ranges(requirements: Requirements, least: float, most: float | None) -> list[Range]:
    """The ranges of all methods, the one to go by first, those that are trustworthy before others.

    ``least`` [N] is the tension with which the mount just grips, ``most`` that at its first limit.
    """
    others = []  # softest belt and lightest weights, then stiffest and heaviest
    for side in (-1, 1):
        with suppress(MountError):
            others.append(requirements.at_corner(side, side))
    found = [Range.of(gauge, least, most) for gauge in _gauges(requirements, others, least)]
    tensions = np.array([one.gauge.tensions(one.aim) for one in found]).T
    kept = np.ones(len(found), dtype=bool)
    for belt in others:
        loose, tight = (np.minimum(belt.turns_for(one), belt.last_turn) for one in tensions)
        kept &= (belt.grip(loose) >= 1.0 - _SAME) & (belt.worst(tight) <= 1.0 + _SAME)
    found = [replace(one, kept=bool(keeps)) for one, keeps in zip(found, kept, strict=True)]
    found.sort(key=lambda one: (not one.trustworthy, one.top))
    turns = next((one for one in found if one.gauge.name is MethodName.TURNS), None)
    if turns is None or not turns.trustworthy or requirements.solved.zero.kind is ZeroKind.CONTACT:
        return found
    # Whatever leads, hand and lock nut miss the turns by so much.
    error = requirements.scenario.limits.turn_error
    by_hand = requirements.tension(requirements.turns_for(found[0].least) + 2 * error)
    if turns.top > TURNS_MAY_ASK * max(found[0].top, float(by_hand[0])):
        return found
    return [turns, *(one for one in found if one is not turns)]


def readings_at(
    requirements: Requirements, method: Method, least: float, tensions: Sequence[float]
) -> list[float]:
    """What a method but turns reads at rest tensions [N], in its unit, on the belt reckoned with.

    ``least`` [N] is the tension that just grips, as where the method was found.
    """
    gauge = next(one for one in _gauges(requirements, (), least) if one.name is method.name)
    found: list[float] = gauge.shown.reads(np.asarray(tensions, dtype=float)).tolist()
    return found


def told_of(requirements: Requirements, one: Range, set_to: Sequence[float], lead: Range) -> Method:
    """What is told of a method: its own aim where it is trustworthy and does not lead.

    Else what the set point reads, whose tensions [N] are given of a bedded and a new belt.
    """
    gauge, limits = one.gauge, requirements.scenario.limits
    aim, new_aim = gauge.shown.reads(np.array(set_to)).tolist()
    if one.trustworthy and one is not lead:
        aim = one.aim
        new_aim = _at(gauge.shown.reads, limits.bedding * one.tension(aim))
    if one.trustworthy:
        aim = min(max(aim, one.not_below), one.never_above)
        new_aim = min(max(new_aim, aim), one.never_above)
    low, high = gauge.tensions(aim)
    display = requirements.scenario.display

    def text_of(force: float) -> str:
        return force_text(force, display) if math.isfinite(force) else "more than the travel gives"

    # How closely a reading tells the tension, and what that is held against.
    means = f"{text_of(low)} to {text_of(high)} on each strand"
    why = f"at the aim there are {means}"
    if not one.trustworthy:
        most = "" if one.most is None else f", at most {text_of(one.most)} allowed"
        why = f"one reading may mean {means}, where at least {text_of(one.least)} are needed{most}"
    has_ceiling = one.trustworthy and math.isfinite(one.never_above)
    return Method(
        name=gauge.name,
        unit=gauge.unit,
        aim=aim,
        new_aim=new_aim,
        not_below=one.not_below if one.trustworthy else None,
        never_above=one.never_above if has_ceiling else None,
        tension_low=low,
        tension_high=high if math.isfinite(high) else None,
        trustworthy=one.trustworthy,
        why=why,
        span_over_deflection=None if gauge.ratio is None else round(1 / gauge.ratio),
    )


def spring_balance(
    solved: SolvedMount, tension: float | None, new_tension: float | None
) -> SpringBalance | None:
    """The pull on the plate that puts wanted tensions into the belt with the adjuster clear.

    Moments about the hinge: P a = n T L' + sum W y', a being the distance from the hinge to the
    spot where the adjuster bears, and P square to that line. L' is taken at the plate angle of
    that tension; a belt of another stiffness is a fraction of a degree from it. With the belt slack
    the weights alone are left, and the difference of the two readings is the belt's.
    """
    x, y = _arm(solved)
    lever = math.hypot(x, y)
    if tension is None or new_tension is None or lever == 0:
        return None
    mount, wanted = solved.mount, np.array([tension, new_tension, 0.0])
    phi = solved.angle_for(wanted)
    moment = mount.count * wanted * mount.path(phi).length_slope + mount.weight_moment(phi)
    is_link = mount.scenario.adjuster.kind is AdjusterKind.LINK
    # The way the spot moves as the plate tightens the belt, where that is snug.
    way = math.atan2(y, x) + 0.5 * math.pi * solved.travel.tightens
    pull, new_pull, slack = (float(one) for one in solved.travel.tightens * moment / lever)
    return SpringBalance(
        spot="the plate pin" if is_link else "where the bolt bears",
        radius=lever,
        pull=abs(pull),
        new_pull=abs(new_pull),
        tightens=pull > 0,
        slack_pull=abs(slack),
        slack_tightens=slack > 0,
        direction=(way + solved.travel.snug) % math.tau,
    )


def _arm(solved: SolvedMount) -> tuple[float, float]:
    """From the hinge to where the adjuster bears on the plate as drawn [m]."""
    mount = solved.mount
    assert mount.bears_at is not None
    (x, y), (hinge_x, hinge_y) = mount.bears_at, mount.hinge
    return float(x - hinge_x), float(y - hinge_y)
