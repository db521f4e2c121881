"""The main job: tension, loads and forces against turns of the adjuster."""

from __future__ import annotations

import math
import reprlib
from collections.abc import Iterable, Mapping
from dataclasses import fields
from fractions import Fraction
from typing import Any, TypeVar

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mountcalc.equilibrium.bearings import CASES, solve_bearings
from mountcalc.equilibrium.give import kept_of_growth, tension_over_extension
from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.solve import (
    AdjusterPosition,
    Cases,
    CaseSolution,
    SolvedMount,
    solve_mount,
)
from mountcalc.equilibrium.states import State
from mountcalc.errors import InputError, MountError
from mountcalc.formulas.belt import DEFLECTION_RATIO, mid_span_force, span_frequency
from mountcalc.pages.amounts import MOST_ROWS
from mountcalc.requirements.notes import margins, note, notes
from mountcalc.requirements.requirements import Requirements, requirements_of, worst_share_of
from mountcalc.requirements.setting import gentlest_setting
from mountcalc.requirements.window import first_reach, free_turns
from mountcalc.scenario.model import Scenario
from mountcalc.strength.bolt_length import bolt_length
from mountcalc.table.results import BearingLoad, Case, Row, Snug, TensionTable, TightenBy, Zero
from mountcalc.table.words import NO_LOADS, case_words
from mountcalc.thresholds import ROUNDING

Array = NDArray[np.float64]
Kind = TypeVar("Kind", Row, Case, BearingLoad)


def tension_table(scenario: Scenario, turns: ArrayLike | None = None) -> TensionTable:
    """Tension, shaft load, bearing loads and adjuster force for turns of the adjuster [-].

    Positive tightens; without turns a range that is useful at the bench. A mount without an
    adjuster has one row, whatever the turns.
    """
    solved = solve_mount(Mount.of(scenario))
    placed = solved.place(useful_turns(scenario) if turns is None else checked_turns(turns))
    rows = _rows(solved, placed, solved.cases(placed))
    mount, travel, zero = solved.mount, solved.travel, solved.zero
    has_adjuster, snug = mount.has_adjuster, np.asarray(travel.snug)
    counted_from = Zero(zero.kind, None, None, None, None)
    if zero.state in (State.HELD, State.RIDING):
        path = mount.path(zero.plate_angle)
        counted_from = Zero(
            zero.kind,
            zero.plate_angle,
            float(path.center_distance),
            solved.zero_extension if has_adjuster else None,
            float(mount.tension(path.length)),
        )
    tightens = TightenBy.EXTEND if travel.turn_sign > 0 else TightenBy.RETRACT
    bolt = bolt_length(scenario)
    loose = [
        case_words(name)
        for name in CASES
        if any(row.cases[name].state is State.AT_STOP for row in rows)
    ]
    return TensionTable(
        title=scenario.title,
        driven=mount.driven_speed,
        belt_speed=mount.belt_speed,
        snug=Snug(
            float(snug),
            float(mount.path(snug).center_distance),
            float(mount.adjuster(snug).extension) if has_adjuster else None,
        ),
        zero=counted_from,
        tighten_by=tightens if has_adjuster else None,
        advance_per_turn=scenario.adjuster.advance_per_turn,
        adjuster_travel=None if bolt is None else bolt.travel,
        bolt_length=None if bolt is None else bolt.length,
        adjuster_stiffness=None if mount.spring is None else float(mount.spring),
        parts_give=mount.parts_give,
        notes=(
            *([note("pulls-itself-tight", cases=" and ".join(loose))] if loose else ()),
            *notes(solved),
        ),
        margins=margins(solved),
        rows=rows,
    )


def checked_turns(turns: ArrayLike) -> Array:
    """Turns that can be used."""
    got = " ".join(reprlib.repr(turns).split())
    error = InputError(f"turns: a list of numbers is wanted, got {got}")
    try:
        given = np.atleast_1d(np.asarray(turns))
        array = given.astype(float)
    except (TypeError, ValueError) as cause:
        raise error from cause
    if given.dtype.kind in "bSU":  # numpy makes numbers of these
        raise error
    if array.ndim != 1 or not np.all(np.isfinite(array)) or not 0 < array.size <= MOST_ROWS:
        raise InputError(f"turns: 1 to {MOST_ROWS} finite numbers are wanted")
    return array


def columns_of(solved: SolvedMount, placed: AdjusterPosition, cases: Cases) -> dict[str, Any]:
    """What rows tell without other belts, by their fields' names: arrays over the turns.

    Of many mounts at once they have a row for each.
    """
    rest, by_case = cases.rest, {}
    for name, case in zip(CASES, cases, strict=True):
        # A grip without end, and one past the travel, are none; at rest nothing is pulled.
        known = np.isfinite(case.grip.value) & (case.state != State.BEYOND_TRAVEL)
        by_case[name] = {
            "state": case.state,
            "plate_angle": case.phi,
            "grip": np.where(known & (name != "rest"), case.grip.value, np.nan),
            "slips": case.slips,
            "pull": case.pull,
            "tight": case.tight,
            "slack": case.slack,
            "shaft_load": np.hypot(case.shaft_force[..., 0], case.shaft_force[..., 1]),
            "adjuster": case.adjuster,
            "hinge": np.hypot(case.hinge[..., 0], case.hinge[..., 1]),
            "bearings": [
                {
                    "load": one.load,
                    "direction": one.direction,
                    "pressure": one.pressure,
                    "share_of_limit": one.share,
                }
                for one in solve_bearings(solved.mount.scenario, case, name)
            ],
        }
    return {
        "extension": np.where(placed.inside, placed.extension, np.nan),
        "plate_angle": rest.phi,
        "center_distance": solved.mount.path(rest.phi).center_distance,
        "state": rest.state,
        "tension": rest.tension,
        "tension_per_turn": _tension_per_turn(solved, rest),
        "tension_per_turn_rigid": _tension_per_turn(solved, rest, rigid=True),
        "spring_length": _spring_length(solved.mount, rest),
        "grip": by_case["running"]["grip"],
        **by_case,
    }


def _spring_length(mount: Mount, rest: CaseSolution) -> Array:
    """Length of a coil spring between bolt and plate, NaN where there is none."""
    coil = mount.scenario.adjuster.coil
    if coil is None:
        return np.full(rest.adjuster.shape, np.nan)
    return coil.free_length - np.minimum(np.abs(rest.adjuster) / coil.rate, coil.stop)


def _tension_per_turn(solved: SolvedMount, rest: CaseSolution, *, rigid: bool = False) -> Array:
    """dT/dturn: of a held, taut belt; 0 where the belt is slack or the plate rides."""
    mount = solved.mount
    held = rest.state == State.HELD
    if not np.any(held):
        return np.where(np.isfinite(rest.tension), 0.0, np.nan)
    phi = np.where(held, rest.phi, solved.travel.snug)
    path = mount.path(phi)
    slope = tension_over_extension(mount, phi, rigid=rigid)
    # At snug itself the next turn counts, so rounding must not make the belt slack there.
    taut = path.length >= mount.scenario.belt.length * (1 - 1e-12)
    value = np.where(held & taut, slope * solved.advance, 0.0)
    return np.where(np.isfinite(rest.tension), value, np.nan)


def _rows(solved: SolvedMount, placed: AdjusterPosition, cases: Cases) -> tuple[Row, ...]:
    mount, scenario, rest = solved.mount, solved.mount.scenario, cases.rest
    belt, count = scenario.belt, rest.phi.size
    found = columns_of(solved, placed, cases)
    for name, case in zip(CASES, cases, strict=True):
        own = found[name]
        states = [State(str(state)) for state in case.state]
        reasons = [NO_LOADS.get(state, case.grip.reason) for state in states]
        if name == "rest":
            reasons = ["nothing is pulled at rest"] * count
        loaded = np.isin(case.state, (State.HELD, State.RIDING))
        bearings = [
            _records(BearingLoad, {"name": [bearing.name] * count, **numbers})
            for bearing, numbers in zip(scenario.driven.bearings, own["bearings"], strict=True)
        ]
        own |= {
            "state": states,
            "grip_reason": _where(~np.isfinite(own["grip"]), reasons),
            "slips": _where(loaded, case.slips.tolist()),
            "bearings": zip(*bearings, strict=True),
        }
        for part, limit in (
            ("adjuster", scenario.limits.adjuster),
            ("hinge", scenario.limits.hinge),
        ):
            share = [None] * count if limit is None else np.abs(own[part]) / limit
            own[f"{part}_share_of_limit"] = share
        found[name] = _records(Case, own)
    span = np.sqrt(mount.path(rest.phi).span_squared)
    held = rest.state == State.HELD
    stretch = np.where(held, mount.stiffness, 0.0)
    kept = kept_of_growth(mount, np.where(held, rest.phi, solved.travel.snug))
    known = np.isfinite(rest.tension)
    hum = np.full(count, np.nan)
    if belt.mass > 0:
        hum = span_frequency(rest.tension, belt.mass, span)
    found |= {
        "turns": placed.turns,
        "state": [one.state for one in found["rest"]],
        "span": span,
        "span_frequency": hum,
        "deflection": np.where(known, span * DEFLECTION_RATIO, np.nan),
        "deflection_force": mid_span_force(
            rest.tension, stretch, span / belt.length * kept, DEFLECTION_RATIO
        ),
        **_stiffness_band(solved, placed, rest.tension),
    }
    return tuple(_records(Row, found))


def _records(kind: type[Kind], columns: Mapping[str, Iterable[Any]]) -> list[Kind]:
    """One of a kind for each entry of its fields' columns, with None for what is not finite."""
    plain = (
        [
            (value + 0.0 if math.isfinite(value) else None) if isinstance(value, float) else value
            for value in (column.tolist() if isinstance(column, np.ndarray) else column)
        ]
        for column in (columns[field.name] for field in fields(kind))
    )
    return [kind(*values) for values in zip(*plain, strict=True)]


def _where(there: NDArray[np.bool_], values: Iterable[Any]) -> list[Any]:
    return [value if is_there else None for is_there, value in zip(there, values, strict=True)]


def _stiffness_band(
    solved: SolvedMount, placed: AdjusterPosition, tension: Array
) -> dict[str, Iterable[Any]]:
    """What the same turns give with the belt as soft and as stiff as it may be."""
    mount, factor = solved.mount, solved.mount.scenario.belt.stiffness_factor
    known = np.isfinite(tension)
    tensions = [tension]
    slips, over = np.zeros(tension.shape, bool), np.zeros(tension.shape, bool)
    for stiffness in (mount.stiffness / factor, mount.stiffness * factor):
        try:
            other = solved.with_stiffness(stiffness)
            cases = other.cases(other.place(placed.turns), with_grip=False)
        except MountError:
            continue
        tensions.append(cases.rest.tension)
        if stiffness < mount.stiffness:
            slips = cases.running.slips
        else:
            over = worst_share_of(mount.scenario, cases) >= 1.0
    stack = np.where(known, np.stack(tensions), 0.0)
    return {
        "tension_low": np.where(known, np.nanmin(stack, axis=0), np.nan),
        "tension_high": np.where(known, np.nanmax(stack, axis=0), np.nan),
        "slips_if_soft": _where(known, slips.tolist()),
        "over_limit_if_stiff": _where(known, over.tolist()),
    }


# Rows that a person reads, and steps that a hand can set: sixteenths to whole turns, then tens.
_ROWS, _FEWEST = 12, 8
_STEPS = (
    *(Fraction(1, parts) for parts in (16, 8, 4, 2)),
    *(Fraction(whole) for whole in (1, 2, 5, 10, 20, 50, 100, 200, 500)),
)
_PAST = 1.15  # shown past the last turns of interest, so that they are seen to be passed


def useful_turns(scenario: Scenario) -> Array:
    """From zero to past every setting and the first limit that are reached, some 8 to 14 rows."""
    requirements = requirements_of(scenario)
    if not requirements.solved.mount.has_adjuster:
        return np.zeros(1)
    end = requirements.last_turn
    near, far = (min(_PAST * turns, end) for turns in _of_interest(requirements))
    turns = _steps(0.0, far, _ROWS, _FEWEST)
    if near < turns[1]:
        turns = _steps(0.0, near, _ROWS // 2)
        rest = _steps(float(turns[-1]), far, _ROWS // 2, _FEWEST + 1 - turns.size)
        turns = np.append(turns, rest[1:])
    inside: Array = turns[turns < end]
    return np.append(inside, end) if inside.size < turns.size else inside


def _steps(first: float, last: float, rows: int, fewest: int = 2) -> Array:
    """From a first turn by whole steps to the last or just past it, in about so many rows."""
    step = next(
        (step for step in _STEPS if (last - first) / step <= rows - 1),
        Fraction(math.ceil((last - first) / rows)),
    )
    start = math.floor(first / step) * step if first else Fraction(0)
    count = max(math.ceil((last - float(start)) / step - ROUNDING), fewest - 1)
    turns = np.array([float(start + index * step) for index in range(count + 1)])
    later: Array = np.append(first, turns[turns > first])
    return later


def _of_interest(requirements: Requirements) -> tuple[float, float]:
    """The first and the last turns [-] that a table must show; the same where there is one."""
    most = first_reach(requirements.worst, requirements.last_turn)
    found, grips = [free_turns(requirements), most], np.zeros(0)
    if most:  # about the fewest with the wanted grip: every setting lies between these
        turns = np.linspace(0.0, most, 33)
        grips = turns[requirements.grip(turns) >= 1.0]
    if grips.size:
        found.append(float(grips[0]))
    else:
        setting = gentlest_setting(requirements.scenario)
        found += [setting.turns_min, setting.turns_max, setting.set_turns, setting.new_turns]
    shown = [turn for turn in found if turn] or [12.0]  # else enough to see the tension grow
    return min(shown), max(shown)
