"""Logs of readings at random mounts, read as the model has it with errors of the stated size."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace

import numpy as np
from random_mounts import ADJUSTED, seeded_mount

from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.solve import SolvedMount, solve_mount
from mountcalc.errors import MountError
from mountcalc.fit.least_squares.model import level_of
from mountcalc.fit.least_squares.sessions import model_of
from mountcalc.fit.readings import Reading, ReadingMethod
from mountcalc.scenario.model import Scenario

__all__ = ["InventedLog", "invented_log", "read_at"]


@dataclass(frozen=True)
class InventedLog:
    """A log, and what the belt and the build really are."""

    scenario: Scenario
    readings: tuple[Reading, ...]
    stiffness: float
    zero: float
    parameters: np.ndarray
    spoilt: int | None


def read_at(scenario, readings, *, times, zero, rng=None, traction=1.0):
    """The readings' values with a belt so many times as stiff and zero(s) in the person's turns.

    Pulleys have times the traction. With a generator, weights, creep, turns and readings are off as
    much as stated.
    """
    spring, coil = Mount.of(scenario).spring, scenario.adjuster.coil
    rigid = replace(scenario, adjuster=replace(scenario.adjuster, spring=None, coil=None))
    solved = solve_mount(Mount.of(rigid))
    model = model_of(solved, readings, 0.0 if spring is None else 1.0 / spring, coil)
    truth = np.zeros(model.size)
    truth[0], truth[model.zeros] = math.log(times), zero
    noise = np.zeros(len(readings))
    if rng is not None:
        truth[model.weights :] = rng.standard_normal(model.size - model.weights)
        truth[model.weights + 1] = math.sqrt(3.0) * rng.uniform(-1, 1)
        exact = model.unscaled(model.predicted(truth)[0])
        there = [replace(one, value=float(v)) for one, v in zip(readings, exact, strict=True)]
        errors = replace(model, readings=tuple(there)).errors  # some hang on what is read
        noise = errors * rng.standard_normal(len(readings))
    if model.reads_slip:
        truth[model.traction] = math.log(traction)
    values = model.unscaled(model.predicted(truth)[0] + noise)
    read = [replace(one, value=float(v)) for one, v in zip(readings, values, strict=True)]
    return tuple(read), truth


def invented_log(seed: int, *, spoilt: bool = False) -> InventedLog | None:
    """The log of one seed; None where its mount cannot be set by an adjuster within a turn.

    A person reads three to five settings, by one method everywhere and here and there by another;
    the bolt carries the plate there and the belt is taut. One reading of a spoilt log is 2.5 times
    what it should be, or 0.3 times.
    """
    rng = np.random.default_rng(seed)
    scenario = seeded_mount(seed, ADJUSTED)
    try:
        solved = solve_mount(Mount.of(scenario))
    except MountError:
        return None
    reach = min(_held_up_to(solved), rng.uniform(2, 8))
    if reach < 1.0:
        return None
    times = scenario.belt.stiffness_factor ** rng.uniform(-1, 1)
    zero = rng.uniform(-2, 2)
    made = np.append(np.sort(rng.uniform(0.15, 1, rng.integers(3, 6)))[:-1], 1.0) * reach
    span = math.sqrt(float(solved.mount.path(solved.travel.snug).span_squared))
    tension = float(solved.at_rest([0.5 * reach]).tension[0])
    at = {ReadingMethod.PUSH: span / 64, ReadingMethod.HUNG: tension / 8 / level_of(solved)}
    main = [ReadingMethod.BALANCE, ReadingMethod.PUSH]
    main += [ReadingMethod.SWINGS] if scenario.belt.mass > 0 else []
    beside = [*main, ReadingMethod.CENTRES, ReadingMethod.TIP]
    beside += [ReadingMethod.HUNG] if level_of(solved) > 0.6 and span > 0.4 else []
    method = main[rng.integers(len(main))]
    rows = []
    for turns in np.round((made + zero) * 8) / 8:
        rows.append((float(turns), method))
        if rng.random() < 0.5:
            rows.append((float(turns), beside[rng.integers(len(beside))]))
    if rng.random() < 0.5:
        rows.append((None, ReadingMethod.BALANCE))
    blank = [Reading(row + 2, turns, by, 1.0, at.get(by)) for row, (turns, by) in enumerate(rows)]
    readings, truth = read_at(scenario, blank, times=times, zero=zero, rng=rng)
    row = None
    if spoilt:
        row = int(rng.integers(len(readings)))
        off = readings[row].value * float(rng.choice([0.3, 2.5]))
        readings = (*readings[:row], replace(readings[row], value=off), *readings[row + 1 :])
    return InventedLog(scenario, readings, times * scenario.belt.stiffness, zero, truth, row)


def _held_up_to(solved: SolvedMount) -> float:
    """Turns up to which the adjuster carries the plate and the belt is taut, from zero on."""
    turns = np.linspace(0.0, 0.95 * solved.turns_at(solved.travel.tight_end), 200)[1:]
    rest = solved.at_rest(turns)
    good = (rest.state == "held") & (rest.tension > 0)
    return float(np.max(turns[np.logical_and.accumulate(good)], initial=0.0))
