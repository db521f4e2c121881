"""The main job: tension, loads and forces against turns of the adjuster."""

from __future__ import annotations

import math
import reprlib
from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mountcalc.equilibrium.bearings import CASES, BearingSolution, solve_bearings
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
from mountcalc.formulas import belt as belt_formulas
from mountcalc.pages.amounts import MOST_ROWS
from mountcalc.pages.page import Note
from mountcalc.requirements.notes import margins, note, notes
from mountcalc.requirements.requirements import worst_share_of
from mountcalc.scenario.model import Scenario
from mountcalc.table.results import BearingLoad, Case, Row, Snug, TensionTable, TightenBy, Zero
from mountcalc.table.turns import useful_turns

__all__ = ["checked_turns", "tension_per_turn", "tension_table"]

Array = NDArray[np.float64]
Bools = NDArray[np.bool_]

NOTHING_AT_REST = "nothing is pulled at rest"
NO_LOADS = {
    State.NO_BALANCE: "no plate angle in the travel balances the plate with a taut belt",
    State.AT_STOP: "the mount tightens itself to the end of the travel",
    State.BEYOND_TRAVEL: "past the travel",
}
_CASE_WORDS = {"rest": "at rest", "running": "running", "starting": "starting"}


def tension_table(scenario: Scenario, turns: ArrayLike | None = None) -> TensionTable:
    """Tension, shaft load, bearing loads and adjuster force for turns of the adjuster.

    Parameters
    ----------
    scenario : Scenario
        The mount.
    turns : array_like [-], optional
        Turns from zero, positive tightens; without it a range that is useful at the bench.
        A mount without an adjuster has one row, whatever the turns.

    Returns
    -------
    TensionTable
        One row a turn.

    Raises
    ------
    MountError
        Where the mount cannot be solved, or a dead centre lies before one of the turns.
    InputError
        Where ``turns`` is not a finite list of numbers.
    """
    solved = solve_mount(Mount.of(scenario))
    placement = solved.place(useful_turns(scenario) if turns is None else checked_turns(turns))
    cases = solved.cases(placement)
    rows = _rows(solved, placement, cases)
    return TensionTable(
        title=scenario.title,
        driven=solved.mount.driven_speed,
        belt_speed=solved.mount.belt_speed,
        snug=_snug(solved),
        zero=_zero(solved),
        tighten_by=_tighten_by(solved),
        advance_per_turn=scenario.adjuster.advance_per_turn,
        notes=(*_self_tightening(rows), *notes(solved)),
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


def _number(value: float | np.floating) -> float | None:
    """A plain float; None for what is not finite."""
    return float(value) + 0.0 if math.isfinite(value) else None


def _snug(solved: SolvedMount) -> Snug:
    angle = np.asarray(solved.travel.snug)
    extension = float(solved.mount.adjuster(angle).extension) if solved.mount.has_adjuster else None
    return Snug(float(angle), float(solved.mount.path(angle).center_distance), extension)


def _zero(solved: SolvedMount) -> Zero:
    zero = solved.zero
    if zero.state not in (State.HELD, State.RIDING):
        return Zero(zero.kind, None, None, None, None)
    path = solved.mount.path(zero.plate_angle)
    return Zero(
        zero.kind,
        zero.plate_angle,
        float(path.center_distance),
        solved.zero_extension if solved.mount.has_adjuster else None,
        float(solved.mount.tension(path.length)),
    )


def _tighten_by(solved: SolvedMount) -> TightenBy | None:
    if not solved.mount.has_adjuster:
        return None
    return TightenBy.EXTEND if solved.travel.turn_sign > 0 else TightenBy.RETRACT


def _rows(solved: SolvedMount, placement: AdjusterPosition, cases: Cases) -> tuple[Row, ...]:
    at_rest = _AtRest(solved, placement, cases.rest)
    by_case = [
        _case_rows(solved.mount.scenario, case, name)
        for name, case in zip(CASES, cases, strict=True)
    ]
    return tuple(
        at_rest.row(index, rest, running, starting)
        for index, (rest, running, starting) in enumerate(zip(*by_case, strict=True))
    )


class _AtRest:
    """What a row says of the position at rest, computed for all rows at once."""

    def __init__(
        self, solved: SolvedMount, placement: AdjusterPosition, rest: CaseSolution
    ) -> None:
        mount, belt = solved.mount, solved.mount.scenario.belt
        path = mount.path(rest.phi)
        held = rest.state == State.HELD
        self.placement = placement
        self.extension = np.where(placement.inside, placement.extension, np.nan)
        self.rest = rest
        self.center_distance = path.center_distance
        self.tension = rest.tension
        self.band = _stiffness_band(solved, placement, rest.tension)
        self.per_turn = tension_per_turn(solved, rest)
        loaded = np.where(np.isfinite(rest.tension), 1.0, np.nan)
        self.span = np.sqrt(path.span_squared)
        self.deflection = self.span * belt_formulas.DEFLECTION_RATIO * loaded
        stretch = np.where(held, mount.stiffness, 0.0)
        over = self.span / belt.length
        self.force = belt_formulas.mid_span_force(
            rest.tension, stretch, over, belt_formulas.DEFLECTION_RATIO
        )
        self.frequency = (
            belt_formulas.span_frequency(rest.tension, belt.mass, self.span)
            if belt.mass > 0
            else np.full_like(self.span, np.nan)
        )

    def row(self, index: int, rest: Case, running: Case, starting: Case) -> Row:
        """The row of one setting."""
        known = math.isfinite(self.tension[index])
        return Row(
            turns=_number(self.placement.turns[index]),
            extension=_number(self.extension[index]),
            plate_angle=rest.plate_angle,
            center_distance=_number(self.center_distance[index]),
            state=rest.state,
            tension=_number(self.tension[index]),
            tension_low=_number(self.band.low[index]),
            tension_high=_number(self.band.high[index]),
            tension_per_turn=_number(self.per_turn[index]),
            grip=running.grip,
            slips_if_soft=bool(self.band.soft_slips[index]) if known else None,
            over_limit_if_stiff=bool(self.band.stiff_over_limit[index]) if known else None,
            span=_number(self.span[index]),
            span_frequency=_number(self.frequency[index]),
            deflection=_number(self.deflection[index]),
            deflection_force=_number(self.force[index]),
            rest=rest,
            running=running,
            starting=starting,
        )


def tension_per_turn(solved: SolvedMount, rest: CaseSolution) -> Array:
    """dT/dturn: of a held, taut belt; 0 where the belt is slack or the plate rides."""
    mount = solved.mount
    held = rest.state == State.HELD
    if not np.any(held):
        return np.where(np.isfinite(rest.tension), 0.0, np.nan)
    phi = np.where(held, rest.phi, solved.travel.snug)
    path = mount.path(phi)
    slope = mount.tension_slope(path.length_slope) / mount.adjuster(phi).extension_slope
    # At snug itself the next turn counts, so rounding must not make the belt slack there.
    taut = path.length >= mount.scenario.belt.length * (1 - 1e-12)
    value = np.where(held & taut, slope * solved.advance, 0.0)
    return np.where(np.isfinite(rest.tension), value, np.nan)


def _case_rows(scenario: Scenario, case: CaseSolution, name: str) -> list[Case]:
    bearings = solve_bearings(scenario, case, name)
    shaft_load = np.hypot(case.shaft_force[..., 0], case.shaft_force[..., 1])
    hinge = np.hypot(case.hinge[..., 0], case.hinge[..., 1])
    rows = []
    for index in range(case.phi.size):
        state = State(str(case.state[index]))
        grip, reason = _grip(case, index, state, name)
        loaded = state in (State.HELD, State.RIDING)
        rows.append(
            Case(
                state=state,
                plate_angle=_number(case.phi[index]),
                grip=grip,
                grip_reason=reason,
                slips=bool(case.slips[index]) if loaded else None,
                pull=_number(case.pull[index]),
                tight=_number(case.tight[index]),
                slack=_number(case.slack[index]),
                shaft_load=_number(shaft_load[index]),
                adjuster=_number(case.adjuster[index]),
                hinge=_number(hinge[index]),
                adjuster_share_of_limit=_share(case.adjuster[index], scenario.limits.adjuster),
                hinge_share_of_limit=_share(hinge[index], scenario.limits.hinge),
                bearings=_bearing_rows(scenario, bearings, index),
            )
        )
    return rows


def _share(load: float, limit: float | None) -> float | None:
    return None if limit is None else _number(abs(load) / limit)


def _grip(
    case: CaseSolution, index: int, state: State, name: str
) -> tuple[float | None, str | None]:
    if name == "rest":
        return None, NOTHING_AT_REST
    if state is State.BEYOND_TRAVEL:
        return None, NO_LOADS[state]
    value = float(case.grip.value[index])
    if math.isfinite(value):
        return value, None
    return None, NO_LOADS.get(state, case.grip.reason)


def _bearing_rows(
    scenario: Scenario, bearings: Sequence[BearingSolution], index: int
) -> tuple[BearingLoad, ...]:
    return tuple(
        BearingLoad(
            name=bearing.name,
            load=_number(solution.load[index]),
            direction=_number(solution.direction[index]),
            pressure=_number(solution.pressure[index]),
            share_of_limit=_number(solution.share[index]),
        )
        for bearing, solution in zip(scenario.driven.bearings, bearings, strict=True)
    )


def _self_tightening(rows: Sequence[Row]) -> tuple[Note, ...]:
    names = {
        name for row in rows for name, case in row.cases.items() if case.state is State.AT_STOP
    }
    cases = " and ".join(word for name, word in _CASE_WORDS.items() if name in names)
    return (note("pulls-itself-tight", cases=cases),) if names else ()


@dataclass(frozen=True)
class _Band:
    """What the belt's uncertain stiffness does to a table: its two sides at the same turns.

    Rest tension at its ``low`` and ``high`` [N] (NaN where there is none), whether the softest
    belt slips running, and whether the stiffest loads anything to its limit.
    """

    low: Array
    high: Array
    soft_slips: Bools
    stiff_over_limit: Bools


def _stiffness_band(solved: SolvedMount, placement: AdjusterPosition, tension: Array) -> _Band:
    """Solve the same turns with the belt as soft and as stiff as it may be."""
    factor = solved.mount.scenario.belt.stiffness_factor
    known = np.isfinite(tension)
    tensions = [tension]
    slips, over = np.zeros(tension.shape, bool), np.zeros(tension.shape, bool)
    for stiffness in (solved.mount.stiffness / factor, solved.mount.stiffness * factor):
        try:
            other = solved.with_stiffness(stiffness)
            cases = other.cases(other.place(placement.turns), with_grip=False)
        except MountError:
            continue
        tensions.append(cases.rest.tension)
        if stiffness < solved.mount.stiffness:
            slips = cases.running.slips
        else:
            over = worst_share_of(solved.mount.scenario, cases) >= 1.0
    stack = np.where(known, np.stack(tensions), 0.0)
    return _Band(
        np.where(known, np.nanmin(stack, axis=0), np.nan),
        np.where(known, np.nanmax(stack, axis=0), np.nan),
        slips & known,
        over & known,
    )
