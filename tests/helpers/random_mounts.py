"""Random mounts of every kind, for hypothesis and from plain seeds.

A mount is laid out with the hinge at the origin and the motor's arm along +x, then turned
and moved as a whole: gravity may come from anywhere. What a mount is like is said once, in
:func:`lay_out`, in terms of a `Chooser`; hypothesis and a seeded generator are two of those.
"""

from __future__ import annotations

import cmath
import math
import random
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from typing import Any, Protocol, TypeVar

from hypothesis import strategies as st

from mountcalc.scenario.driven import Bearing, Driven, ShaftLoad, When
from mountcalc.scenario.model import (
    Acts,
    Adjuster,
    AdjusterKind,
    Belt,
    Motor,
    Plate,
    Rotation,
    Scenario,
)
from mountcalc.scenario.text.threads import Thread
from mountcalc.scenario.text.writing import Display

__all__ = ["ADJUSTED", "TURNS", "Chooser", "lay_out", "mounts", "seeded_mount"]

T = TypeVar("T")

TURNS = (-1.0, 0.0, 0.25, 1.0, 2.5, 5.0, 9.0)
ADJUSTED = (AdjusterKind.JACK_IN_BASE, AdjusterKind.JACK_IN_PLATE, AdjusterKind.LINK)

_NEITHER = 0.01


class Chooser(Protocol):
    """Where the random choices come from."""

    def number(self, low: float, high: float) -> float: ...
    def pick(self, options: Sequence[T]) -> T: ...


class _Seeded:
    def __init__(self, seed: int) -> None:
        self._random = random.Random(seed)  # noqa: S311 (tests want repeatable numbers)

    def number(self, low: float, high: float) -> float:
        return self._random.uniform(low, high)

    def pick(self, options: Sequence[T]) -> T:
        return self._random.choice(options)


class _Drawn:
    def __init__(self, draw: Callable[[st.SearchStrategy[Any]], Any]) -> None:
        self._draw = draw

    def number(self, low: float, high: float) -> float:
        return self._draw(st.floats(low, high, allow_subnormal=False))

    def pick(self, options: Sequence[T]) -> T:
        return self._draw(st.sampled_from(options))


def seeded_mount(seed: int, kinds: Sequence[AdjusterKind] = tuple(AdjusterKind)) -> Scenario:
    """The mount of one seed, the same on every machine."""
    return lay_out(_Seeded(seed), kinds)


@st.composite
def mounts(draw, kinds: Sequence[AdjusterKind] = tuple(AdjusterKind)) -> Scenario:
    """Strategy for mounts; a few of them have no zero, which is for the test to judge."""
    return lay_out(_Drawn(draw), kinds)


@dataclass(frozen=True)
class _Frame:
    """The layout before it is turned: complex numbers are points, the hinge is at 0."""

    motor: complex
    driven: complex
    motor_mass: complex
    plate_mass: complex
    motor_radius: float
    driven_radius: float
    travel: tuple[float, float]

    @property
    def tightens(self) -> int:
        """Sign of the plate angle that moves the motor away from the driven shaft."""
        return 1 if (self.motor.conjugate() * (self.driven - self.motor)).imag < 0 else -1

    def center_distance(self, angle: float) -> float:
        return abs(self.driven - self.motor * cmath.rect(1.0, angle))

    def path(self, angle: float) -> float:
        """Belt path; good enough to choose a belt by, the tests do not rest on it."""
        beta = math.asin((self.driven_radius - self.motor_radius) / self.center_distance(angle))
        span = self.center_distance(angle) * math.cos(beta)
        wraps = self.motor_radius * (math.pi - 2 * beta) + self.driven_radius * (math.pi + 2 * beta)
        return 2 * span + wraps


def lay_out(choose: Chooser, kinds: Sequence[AdjusterKind]) -> Scenario:
    """Any mount that a person might build, and some that only a random generator would."""
    kind = choose.pick(kinds)
    holds_back = kind is not AdjusterKind.NONE and choose.pick((False, False, True))
    needs_weight = holds_back or kind is AdjusterKind.NONE
    frame = _frame(choose)
    motor_weight = choose.pick(
        (choose.number(20.0, 400.0), 1500.0, 0.0 if not needs_weight else 9.0)
    )
    plate_weight = choose.pick((0.0, choose.number(5.0, 150.0)))
    # +1: the weights tighten all they can; -1: they loosen. One in eight is hopeless.
    lowest_aid = 0.1 if needs_weight and choose.pick((True,) * 7 + (False,)) else -1.0
    aid = choose.number(lowest_aid, 1.0)
    if abs(aid) < _NEITHER:  # rounding would decide which way weights right over the hinge fall
        aid = _NEITHER
    total = motor_weight * frame.motor_mass + plate_weight * frame.plate_mass
    side = choose.pick((-1, 1))
    turn = side * math.acos(-frame.tightens * aid) - cmath.phase(total or 1.0)
    place = _Placing(cmath.rect(1.0, turn), complex(choose.number(-1, 1), choose.number(-1, 1)))
    return Scenario(
        title="random",
        display=choose.pick(tuple(Display)),
        driven=_driven(choose, place(frame.driven), frame.driven_radius),
        motor=Motor(
            shaft=place(frame.motor),
            pulley_radius=frame.motor_radius,
            power=5000.0,
            speed=choose.pick((150.0, choose.number(60.0, 380.0))),
            rotation=choose.pick(tuple(Rotation)),
            weight=motor_weight,
            center_of_mass=place(frame.motor_mass),
            traction=choose.number(0.15, 0.9),
        ),
        belt=_belt(choose, frame),
        plate=Plate(place(0j), frame.travel, plate_weight, place(frame.plate_mass)),
        adjuster=_adjuster(choose, kind, place, frame.tightens, holds_back=holds_back),
    )


@dataclass(frozen=True)
class _Placing:
    turn: complex
    move: complex

    def __call__(self, point: complex) -> tuple[float, float]:
        placed = point * self.turn + self.move
        return placed.real, placed.imag

    def direction(self, angle: float) -> float:
        return angle + cmath.phase(self.turn)


def _frame(choose: Chooser) -> _Frame:
    motor_radius, driven_radius = choose.number(0.03, 0.12), choose.number(0.03, 0.25)
    distance = (motor_radius + driven_radius) * choose.number(1.15, 4.0)
    motor = complex(choose.number(0.1, 0.6))
    lead = math.radians(choose.number(25.0, 155.0)) * choose.pick((-1, 1))
    widest = choose.pick((25.0, 25.0, 25.0, 170.0))
    return _Frame(
        motor=motor,
        driven=motor + cmath.rect(distance, lead),
        motor_mass=motor
        + choose.pick((0j, complex(choose.number(-0.1, 0.1), choose.number(-0.1, 0.1)))),
        plate_mass=motor * choose.number(-0.3, 1.2) + 1j * choose.number(-0.1, 0.1),
        motor_radius=motor_radius,
        driven_radius=driven_radius,
        travel=(
            -math.radians(choose.number(2.0, widest)),
            math.radians(choose.number(2.0, widest)),
        ),
    )


def _belt(choose: Chooser, frame: _Frame) -> Belt:
    tight_end = frame.travel[1] if frame.tightens > 0 else frame.travel[0]
    snug = tight_end * choose.number(-0.3, 0.8)
    touching = frame.motor_radius + frame.driven_radius
    if frame.center_distance(snug) < 1.02 * touching:
        snug = 0.0
    return Belt(
        section=None,
        count=choose.pick((1, 1, 2, 3)),
        length=frame.path(snug),
        stiffness=10 ** choose.number(3.5, 5.5),
        stiffness_factor=choose.pick((2.0, 1.3)),
        mass=choose.pick((0.1, 0.0, choose.number(0.02, 0.5))),
    )


def _driven(choose: Chooser, shaft: tuple[float, float], radius: float) -> Driven:
    span = choose.number(0.1, 0.8) * choose.pick((-1, 1))
    loads = [
        ShaftLoad(
            name=f"load {index}",
            position=choose.number(-0.2, 0.6),
            force=choose.number(0.0, 500.0),
            direction=_unit(choose.number(-math.pi, math.pi)),
            when=choose.pick(tuple(When)),
        )
        for index in range(choose.pick((0, 1, 2)))
    ]
    return Driven(
        shaft=shaft,
        pulley_radius=radius,
        pulley_position=choose.number(-0.2, 0.5),
        power=choose.pick((0.0, 10 ** choose.number(0.5, 3.7), 10 ** choose.number(2.0, 3.7))),
        starting_factor=choose.pick((1.0, 1.5, 2.0, choose.number(1.0, 4.0))),
        max_speed=None,
        traction=choose.number(0.15, 0.9),
        bearings=(_bearing(choose, "one", 0.0), _bearing(choose, "two", span)),
        loads=tuple(loads),
    )


def _unit(angle: float) -> tuple[float, float]:
    return math.cos(angle), math.sin(angle)


def _bearing(choose: Chooser, name: str, position: float) -> Bearing:
    limit = choose.number(100.0, 3000.0)
    diameter, length = choose.number(0.015, 0.06), choose.number(0.02, 0.1)
    return Bearing(
        name, position, diameter, length, limit, limit * 2.0, limit_given_as_pressure=False
    )


def _adjuster(
    choose: Chooser, kind: AdjusterKind, place: _Placing, tightens: int, *, holds_back: bool
) -> Adjuster:
    if kind is AdjusterKind.NONE:
        return Adjuster(kind)
    acts = choose.pick(tuple(Acts))
    extend_tightens = (
        choose.pick((True, False)) if acts is Acts.BOTH else ((acts is Acts.PUSH) != holds_back)
    )
    # The side on which extending turns the plate counter-clockwise; the other kinds mirror it.
    side = tightens * (1 if extend_tightens else -1)
    if kind is not AdjusterKind.JACK_IN_BASE:
        side = -side
    at = choose.number(-math.pi, math.pi)
    point = cmath.rect(choose.number(0.1, 0.6), at)
    axis = at + side * math.pi / 2 + math.radians(choose.number(-30.0, 30.0))
    pitch = choose.pick((1.5e-3, choose.number(0.5e-3, 3e-3)))
    thread = Thread("M10x1.5", 1.5e-3, right_handed=True)
    if kind is AdjusterKind.LINK:
        base = point + cmath.rect(choose.number(0.05, 0.5), axis)
        return Adjuster(kind, acts, thread, 2 * pitch, base_pin=place(base), plate_pin=place(point))
    face = axis + math.pi / 2 * choose.pick((-1, 1)) + math.radians(choose.number(-30.0, 30.0))
    return Adjuster(
        kind,
        acts,
        thread,
        pitch,
        tip=place(point),
        axis=place.direction(axis),
        face=place.direction(face),
    )
