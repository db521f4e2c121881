"""Builds of one drawing: each with its own errors of building and of knowing, drawn by a seed."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import numpy as np
from numpy.typing import NDArray

from mountcalc.equilibrium.mount import Mount, Point
from mountcalc.record import Record
from mountcalc.scenario.model import AdjusterKind, Scenario
from mountcalc.tolerance.known import known

Array = NDArray[np.float64]

STANDARD_DEVIATIONS = 2.0
"""What is said of an error, "±", is so many standard deviations: 19 builds of 20 keep it."""
CUT_OFF = 3.0
"""Errors of more standard deviations are drawn again: nobody builds so."""

_AT_ONCE = 8192  # builds: numpy's calls cost little and arrays stay in the processor's cache

# Of each source so many independent numbers for a build; they never change their place, so that a
# seed draws the same errors, scaled, whatever is said of them.
_NUMBERS = {
    "hinge": 2,
    "bears_at": 2,
    "base_pin": 2,
    "motor_shaft": 2,
    "driven_shaft": 2,
    "belt_length": 1,
    "weights": 2,
    "stiffness": 1,
    "traction": 2,
    "turns": 2,
    "spring_rate": 1,
    "give": 1,
}


class Builds(Record):
    """Many builds of a drawing.

    ``mount`` is all of them, its numbers of shape (count,). ``beyond`` [m] is by how much an
    adjuster that is set as drawn stands further out than it would have to; ``hand`` [-], shape (2,
    count), by how many turns a hand misses zero, and then the turns.
    """

    scenario: Scenario
    mount: Mount
    beyond: Array
    hand: Array

    @property
    def count(self) -> int:
        """How many there are."""
        return self.beyond.size

    def take(self, rows: NDArray[np.intp] | slice) -> Builds:
        """Some of them."""
        mount = self.mount.entries(rows)
        return Builds(self.scenario, mount, self.beyond[rows], self.hand[:, rows])

    def blocks(self) -> Iterator[Builds]:
        """All of them, some at a time."""
        for start in range(0, self.count, _AT_ONCE):
            yield self.take(slice(start, start + _AT_ONCE))

    def alone(self, row: int) -> Scenario:
        """One of them as a scenario of its own."""
        scenario = self.scenario

        def at(name: str) -> Any:  # noqa: ANN401  # a number or a point
            value: Any = getattr(self.mount, name)
            if isinstance(value, tuple):
                return tuple(float(axis[row]) for axis in value)
            return float(value[row])

        adjuster, coil = scenario.adjuster, scenario.adjuster.coil
        if self.mount.spring is not None:  # what the parts give is as drawn, but for its error
            adjuster = replace(adjuster, spring=at("spring"))
        if coil is not None:
            adjuster = replace(adjuster, coil=replace(coil, rate=at("coil")[0]))
        if adjuster.kind is AdjusterKind.LINK:
            adjuster = replace(adjuster, plate_pin=at("bears_at"), base_pin=at("base_pin"))
        elif adjuster.kind is not AdjusterKind.NONE:
            adjuster = replace(adjuster, tip=at("bears_at"))
        return replace(
            scenario,
            driven=replace(
                scenario.driven, shaft=at("driven_shaft"), traction=at("driven_traction")
            ),
            motor=replace(
                scenario.motor,
                shaft=at("motor_shaft"),
                weight=at("motor_weight"),
                center_of_mass=at("motor_center"),
                traction=at("motor_traction"),
            ),
            belt=replace(scenario.belt, length=at("length"), stiffness=at("stiffness")),
            plate=replace(
                scenario.plate,
                hinge=at("hinge"),
                weight=at("plate_weight"),
                center_of_mass=at("plate_center"),
            ),
            adjuster=adjuster,
        )


def deviations(scenario: Scenario) -> dict[str, float]:
    """Standard deviations of errors before they are cut off, by the keys of ``[build]``.

    Lengths [m], shares and turns; those of factors are of natural logarithms.
    """
    said: dict[str, Any] = known(scenario).__dict__
    return {
        name: float(np.log(value) if name.endswith("_factor") else value) / STANDARD_DEVIATIONS
        for name, value in said.items()
    }


def builds_of(scenario: Scenario, count: int, seed: int) -> Builds:
    """Draw builds of a scenario's drawing, as well made and known as it says.

    A point's error is told for each coordinate. The hinge's pin is off its place in the base, and
    the plate hangs on it as drawn, with all that is fixed to it; the motor, with its centre of
    mass, and the adjuster besides are off their own places. A jack's tip that is off leaves the
    face that it bears on where it was. Axis and face keep their directions, and the plate its
    stops' angles. The weights of motor and plate are off by shares of their own. A coil spring has
    the travel that it has.
    """
    sd, mount, adjuster = deviations(scenario), Mount.of(scenario), scenario.adjuster
    drawn = {
        name: _standard(np.random.default_rng((seed, at)), (numbers, count))
        for at, (name, numbers) in enumerate(_NUMBERS.items())
    }

    def off(name: str, source: str) -> Array:
        return sd[source] * drawn[name]

    def moved(point: Point, *offs: Array) -> Point:
        x, y = np.add(np.array(point)[:, np.newaxis], sum(offs))
        return x, y

    hinge, motor = off("hinge", "hinge"), off("motor_shaft", "shaft")
    weights, traction = 1.0 + off("weights", "weights"), off("traction", "traction_factor")
    bears_at = base_pin = None
    beyond = np.zeros(count)
    if adjuster.kind is not AdjusterKind.NONE:
        assert mount.bears_at is not None
        on_plate = adjuster.kind is not AdjusterKind.JACK_IN_BASE
        bears_at = moved(mount.bears_at, off("bears_at", "bolt"), hinge * on_plate)
        if adjuster.kind is AdjusterKind.LINK:
            assert mount.base_pin is not None
            base_pin = moved(mount.base_pin, off("base_pin", "bolt"))
            beyond = _apart(bears_at, base_pin) - _apart(mount.bears_at, mount.base_pin)
        else:
            face = mount.bears_at if on_plate else moved(mount.bears_at, hinge)
            bears_at, beyond = _on_face(mount, bears_at, face)
    spring, coil = mount.spring, mount.coil
    if spring is not None:
        spring = spring * np.exp(off("give", "give_factor")[0])
    if coil is not None:
        rate = coil[0] * (1.0 + off("spring_rate", "spring_rate")[0])
        coil = rate, np.full(count, coil[1])
    built = replace(
        mount,
        spring=spring,
        coil=coil,
        stiffness=mount.stiffness * np.exp(off("stiffness", "stiffness_factor")[0]),
        length=mount.length + off("belt_length", "belt_length")[0],
        hinge=moved(mount.hinge, hinge),
        motor_shaft=moved(mount.motor_shaft, hinge, motor),
        driven_shaft=moved(mount.driven_shaft, off("driven_shaft", "shaft")),
        motor_center=moved(mount.motor_center, hinge, motor),
        plate_center=moved(mount.plate_center, hinge),
        motor_weight=mount.motor_weight * weights[0],
        plate_weight=mount.plate_weight * weights[1],
        motor_traction=mount.motor_traction * np.exp(traction[0]),
        driven_traction=mount.driven_traction * np.exp(traction[1]),
        bears_at=bears_at,
        base_pin=base_pin,
    )
    return Builds(scenario, built, beyond, off("turns", "turn_error"))


def _standard(random: np.random.Generator, shape: tuple[int, int]) -> Array:
    """Normal numbers, those beyond the cut-off drawn again."""
    drawn = random.standard_normal(shape)
    while np.any(wild := np.abs(drawn) > CUT_OFF):
        drawn[wild] = random.standard_normal(np.count_nonzero(wild))
    return drawn


def _apart(one: Any, other: Any) -> Any:  # noqa: ANN401  # points of numbers or arrays
    return np.hypot(one[0] - other[0], one[1] - other[1])


def _on_face(mount: Mount, tip: Point, face: Point) -> tuple[Point, Array]:
    """Where a jack whose tip is off its place meets its face, and how much further out [m].

    ``face`` is a point of it, the plate being as drawn.
    """
    assert mount.axis is not None
    assert mount.normal is not None
    (e_x, e_y), (n_x, n_y) = mount.axis, mount.normal
    to_face = (face[0] - tip[0]) * n_x + (face[1] - tip[1]) * n_y
    further = np.asarray(to_face / (e_x * n_x + e_y * n_y))
    return (tip[0] + further * e_x, tip[1] + further * e_y), further
