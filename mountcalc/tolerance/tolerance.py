"""Many builds of one drawing: where snug comes, what a turn gives, whether the range stays open."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from functools import cached_property, partial

import numpy as np
from numpy.typing import NDArray

from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.solve import SolvedMount, solve_mount
from mountcalc.pages.amounts import fine_length
from mountcalc.record import Record
from mountcalc.requirements.notes import note
from mountcalc.requirements.results import Setting
from mountcalc.requirements.setting import gentlest_setting
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.workmanship import Workmanship
from mountcalc.table import TightenBy
from mountcalc.tolerance.judge import Judged, judged
from mountcalc.tolerance.known import belt_tolerance, known
from mountcalc.tolerance.precautions import (
    BOLT_LAST,
    MORE,
    NARROWER,
    STOPS_WIDER,
    halved,
    ways,
    wider,
)
from mountcalc.tolerance.results import (
    BandRow,
    Errors,
    ErrorSource,
    Outcome,
    Precaution,
    Share,
    Tolerance,
)
from mountcalc.tolerance.sample import Builds, builds_of
from mountcalc.tolerance.shares import SOURCES, Shares, shares_of
from mountcalc.tolerance.turned import rest_tensions

Array = NDArray[np.float64]

BUILDS = 10_000
_ROWS = 25  # of the bands
# Builds that are looked at one by one where that has to be: a few seconds, and one without.
_ALONE, _ALONE_BY_WEIGHT = 20, 100
_FURTHER = 1.25  # than the drawing's most turns, or this many
_UNBOUNDED = 3.0
_ASKED = 1.0  # [-] turns at which a mount without a setting is asked what a turn gives


class _Study(Record):
    """A scenario whose errors are all its own, solved as drawn.

    ``turns`` are those that it is set to, None where it has no setting.
    """

    scenario: Scenario
    drawn: SolvedMount
    count: int
    seed: int
    turns: float | None

    @property
    def asked(self) -> float:
        """Turns at which it is asked what a turn gives."""
        return _ASKED if self.turns is None else self.turns

    def builds(self, build: Workmanship) -> Builds:
        """The builds that errors make: the same draws, as large as the errors."""
        return builds_of(replace(self.scenario, build=build), self.count, self.seed)

    @cached_property
    def first(self) -> tuple[Builds, Judged]:
        """The builds as they are, some looked at one by one where that has to be."""
        builds = self.builds(self.scenario.build)
        return builds, judged(builds, self.most_alone)

    @property
    def most_alone(self) -> int:
        """How many builds are looked at one by one at most."""
        return _ALONE if self.drawn.mount.has_adjuster else _ALONE_BY_WEIGHT

    @cached_property
    def base(self) -> Outcome:
        """What they come to."""
        return self._outcome(*self.first)

    @property
    def alone(self) -> int:
        """How many builds can be judged one by one only."""
        return int(np.count_nonzero(self.first[1].alone))

    @property
    def looked_at(self) -> int:
        """How many of them were."""
        found = self.first[1]
        return int(np.count_nonzero(found.alone & found.known))

    def outcome(self, build: Workmanship, scenario: Scenario | None = None) -> Outcome:
        """What builds with these errors come to; not whether they keep all, where that is long.

        The scenario may be another that has the same zero.
        """
        other = self if scenario is None else replace(self, scenario=scenario)
        builds, most = other.builds(build), self.most_alone
        return self._outcome(builds, judged(builds, most if self.alone <= most else 0))

    def _outcome(self, builds: Builds, found: Judged) -> Outcome:
        is_told = bool(np.any(found.known))
        (tension,), (per_turn,) = rest_tensions(builds, self.asked, as_missed=True)
        none, kept, reached = np.array([]), None, found.reached
        answers = {"snug_turns": found.zero, "tension_per_turn": per_turn}
        answers["set_tension"] = none if self.turns is None else tension
        if not self.drawn.mount.has_adjuster:  # neither zero nor turns: weight alone sets it
            answers, reached = dict.fromkeys(answers, none), np.isfinite(tension)
            answers["set_tension"] = tension
        elif self.turns is not None:
            turns = self.turns + np.sum(builds.hand, axis=0)
            if is_told:
                kept = found.share((found.fewest <= turns) & (turns <= found.most))
        bands = {
            f"{name}_p{percent}": value
            for name, values in answers.items()
            for percent, value in zip((5, 50, 95), _percentiles(values), strict=True)
        }
        return Outcome(
            **bands,
            open_share=found.share(found.open) if is_told else None,
            set_share=kept,
            snug_share=float(np.mean(reached)),
            install_share=float(np.mean(found.goes_on)),
            take_up_share=float(np.mean(found.goes_on & found.takes_up)),
        )


def _percentiles(values: Array) -> tuple[float | None, ...]:
    """What 5, 50 and 95 of 100 stay below, of those that have a value."""
    there = values[np.isfinite(values)]
    if not there.size:
        return None, None, None
    return tuple(float(one) for one in np.percentile(there, (5, 50, 95)))


def tolerance(scenario: Scenario, builds: int = BUILDS, seed: int = 0) -> Tolerance:
    """Build a scenario so many times with the errors it says, and judge every build.

    An error that is halved or taken out is the same draw, smaller; that takes fewer builds.
    MountError where the drawing itself cannot be solved.
    """
    setting, build = gentlest_setting(scenario), known(scenario)
    drawn = solve_mount(Mount.of(scenario))
    study = _Study(replace(scenario, build=build), drawn, builds, seed, setting.set_turns)
    few = study if builds <= BUILDS else replace(study, count=BUILDS)
    slopes = shares_of(study.scenario, study.asked)
    has_adjuster = drawn.mount.has_adjuster
    tightens = TightenBy.EXTEND if drawn.travel.turn_sign > 0 else TightenBy.RETRACT
    return Tolerance(
        title=scenario.title,
        builds=builds,
        seed=seed,
        errors=_errors(drawn.mount, build),
        zero=drawn.zero.kind if has_adjuster else None,
        tighten_by=tightens if has_adjuster else None,
        set_turns=setting.set_turns,
        snug_turns=slopes.zero if has_adjuster else None,
        tension_per_turn=slopes.per_turn if has_adjuster else None,
        set_tension=setting.set_tension,
        why_not_open=setting.why_not_open,
        outcome=study.base,
        alone=study.alone,
        looked_at=study.looked_at,
        compared_builds=few.count,
        compared=few.base,
        shares=tuple(_shares(few, slopes)),
        precautions=_precautions(few, slopes),
        rows=tuple(_rows(few, setting)),
        notes=(note("builds-spread"), note("builds-drawing")),
    )


def _errors(mount: Mount, build: Workmanship) -> Errors:
    scenario = mount.scenario
    assert build.belt_length is not None
    assert build.weights is not None
    assert build.stiffness_factor is not None
    assert build.turn_error is not None
    belt = belt_tolerance(scenario)
    source = belt.source if belt.sure in belt.source else f"{belt.source}, {belt.sure}"
    return Errors(
        hinge_error=build.hinge,
        bolt_error=build.bolt,
        shaft_error=build.shaft,
        belt_length_error=build.belt_length,
        belt_length_source=source if scenario.build.belt_length is None else "[build]",
        weight_error=build.weights,
        stiffness_factor=build.stiffness_factor,
        traction_factor=build.traction_factor,
        turn_error=build.turn_error,
        spring_rate_error=None if mount.coil is None else build.spring_rate,
        give_factor=None if mount.spring is None else build.give_factor,
    )


def _shares(study: _Study, slopes: Shares) -> Iterator[Share]:
    """Shares of the variance of each answer, and what halving each error does."""
    has_adjuster = study.drawn.mount.has_adjuster
    asked = (has_adjuster, has_adjuster, study.turns is not None or not has_adjuster)
    whole = np.sum(slopes.variances, axis=1)
    mount, without = study.drawn.mount, set[ErrorSource]()
    without |= {ErrorSource.SPRING} if mount.coil is None else set()
    without |= {ErrorSource.GIVE} if mount.spring is None else set()
    for index, name in enumerate(SOURCES):
        source = ErrorSource(name)
        if source in without:
            continue
        parts = [
            float(slopes.variances[row, index] / whole[row]) if is_asked and whole[row] else None
            for row, is_asked in enumerate(asked)
        ]
        outcome = study.outcome(halved(study.scenario.build, source))
        yield Share(source, parts[0], parts[1], parts[2], outcome)


def _precautions(study: _Study, slopes: Shares) -> tuple[Precaution, ...]:
    """The precautions that help: with more builds that keep all, or a narrower band."""
    scenario, base, build = study.scenario, study.base, study.scenario.build
    done = []
    for name, way in ways(scenario, build, partial(fine_length, display=scenario.display)).items():
        if name == BOLT_LAST:
            # Placed at the built hinge and belt, zero is off by the bolt's own error alone.
            exact = judged(study.builds(replace(build, bolt=0.0)), 0).zero
            zeros = slopes.zero + study.first[1].zero - exact
            low, middle, high = _percentiles(zeros)
            outcome = replace(base, snug_turns_p5=low, snug_turns_p50=middle, snug_turns_p95=high)
        elif name == STOPS_WIDER:
            outcome = study.outcome(build, wider(scenario))
        else:
            left = {str(source): error for source, error in way.leaves.items()}
            outcome = study.outcome(replace(build, **left))
        gain = _gain(base, outcome)
        done.append(Precaution(name, way.sentence, way.against, gain, outcome))
    helpful = [one for one in done if one.gain >= MORE or _left(base, one.outcome) <= NARROWER]
    return tuple(sorted(helpful, key=lambda one: _left(base, one.outcome) - one.gain))


def _gain(before: Outcome, after: Outcome) -> float:
    """How many more of all builds keep what is asked, in the answer that wins most."""
    gains = [0.0]
    for name in ("open_share", "set_share", "take_up_share"):
        was, now = getattr(before, name), getattr(after, name)
        if was is not None and now is not None:
            gains.append(now - was)
    return max(gains)


def _left(before: Outcome, after: Outcome) -> float:
    """What is left of the width of a band, of the one that is narrowed most."""
    shares = [1.0]
    for name in ("snug_turns", "tension_per_turn", "set_tension"):
        (low, high), (lower, higher) = (
            (getattr(one, f"{name}_p5"), getattr(one, f"{name}_p95")) for one in (before, after)
        )
        if low is not None and high > low and lower is not None:
            shares.append((higher - lower) / (high - low))
    return min(shares)


def _rows(study: _Study, setting: Setting) -> Iterator[BandRow]:
    """Bands of the tension at rest, past the most turns that the drawing has."""
    if not study.drawn.mount.has_adjuster:
        return
    last = math.ceil(4 * _FURTHER * (setting.turns_max or _UNBOUNDED)) / 4
    turns = np.linspace(0.0, last, _ROWS)
    tensions, _ = rest_tensions(study.builds(study.scenario.build), turns)
    for turn, tension in zip(turns.tolist(), tensions, strict=True):
        low, middle, high = _percentiles(tension)
        if low is not None and middle is not None and high is not None:
            yield BandRow(turn, low, middle, high)
