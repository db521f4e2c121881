"""What the weights alone do to the belt, with the adjuster off and the plate free."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import numpy as np

from mountcalc.equilibrium.many import zeros_of_many
from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.roots import bracketed_roots
from mountcalc.equilibrium.solve import SolvedMount
from mountcalc.equilibrium.states import State
from mountcalc.pages.amounts import force_text, length_text
from mountcalc.requirements.requirements import (
    Requirements,
    requirements_of,
    weight_alone_of,
    weight_is_within,
    weight_keeps,
)
from mountcalc.requirements.results import Setting, WeightAlone
from mountcalc.requirements.setting import gentlest_setting
from mountcalc.scenario.model import AdjusterKind, Scenario
from mountcalc.table import words
from mountcalc.thresholds import MARKED, SETTLED

# How far the hinge is moved in the search, in distances of hinge and motor shaft.
_FARTHEST = 2.0
# Places of the hinge that are tried between as drawn and the farthest, on either side.
_PLACES = 60


def weight_alone(scenario: Scenario, setting: Setting | None = None) -> WeightAlone:
    """The tension that the weights alone put on the belt, and where the hinge would have to be."""
    setting = gentlest_setting(scenario) if setting is None else setting
    requirements = requirements_of(weight_alone_of(scenario))
    solved, state = requirements.solved, requirements.solved.zero.state
    tension, over = _rest_tension(solved), None
    amount = force_text(tension, scenario.display)
    if state is State.AT_STOP:  # as it would be with the adjuster there
        said = (
            "With the adjuster off the weights drive the plate to the tight end of its travel, "
            f"where the belt has {amount} on each strand; only the stop keeps it from more."
        )
        if scenario.adjuster.kind is not AdjusterKind.NONE:
            over = setting.tension_max is not None and tension > setting.tension_max
    else:
        said = (
            f"The most that the weights alone can ever put on this belt is {amount} on each strand."
        )
        over = tension > 0 and bool(requirements.worst(np.zeros(1))[0] > 1.0)
    if state is State.NO_BALANCE:
        said = "With the adjuster off the weights slacken the belt: they put no tension on it."
    wanted = setting.tension_min if setting.set_tension is None else setting.set_tension
    shift = None if wanted is None else _hinge_shift(solved, wanted)
    keeps = keeps_sentence(scenario, setting)
    return WeightAlone(
        tension=tension,
        tension_sentence=said,
        wanted_tension=wanted,
        hinge_shift=shift,
        hinge_sentence=_hinge_sentence(scenario, wanted, shift),
        over_tightens=over,
        over_tightens_sentence=_over_sentence(scenario, requirements, over) if tension else None,
        keeps=keeps is not None,
        keeps_sentence=keeps,
    )


def keeps_sentence(scenario: Scenario, setting: Setting) -> str | None:
    """That weight alone will do, where it keeps all."""
    if not weight_keeps(scenario):
        return None
    tension = _rest_tension(requirements_of(weight_alone_of(scenario)).solved)
    display, more, gentlest = scenario.display, "", setting.set_tension
    if gentlest is not None and tension > 1.01 * gentlest:  # as far as a page shows
        more = f", more than the {force_text(gentlest, display)} of the gentlest setting"
    return (
        f"{words.leave_it(scenario)}: weight alone puts {force_text(tension, display)} on each "
        f"strand{more}, keeps a grip of {scenario.limits.grip:g} and every known limit, and goes "
        f"on doing so as the belt stretches, even with weights "
        f"{100 * scenario.motor.weight_error:.0f} % off and the softest or stiffest belt."
    )


def _rest_tension(solved: SolvedMount) -> float:
    """Rest tension of one strand of one belt, plate free or driven to its stop [N]."""
    state = solved.zero.state
    if state is State.NO_BALANCE:
        return 0.0
    angle = solved.travel.tight_end.angle if state is State.AT_STOP else solved.zero.plate_angle
    return float(solved.mount.tension(solved.mount.path(angle).length))


def _excess(free: SolvedMount, shifts: np.ndarray, wanted: float) -> np.ndarray:
    """Rest tension with the hinge alone moved to the right [m], less the wanted one [N].

    NaN where the plate lies at a stop, or the belt tightens the other way than as drawn: past
    that dead centre it is another mount.
    """
    scenario, (x, y) = free.mount.scenario, free.mount.scenario.plate.hinge
    mounts = replace(free.mount, hinge=(x + shifts[:, np.newaxis], np.full((shifts.size, 1), y)))

    def alone(row: int) -> Mount:
        hinge = x + float(shifts[row]), y
        return Mount.of(replace(scenario, plate=replace(scenario.plate, hinge=hinge)))

    found = zeros_of_many(mounts, shifts.size, alone)
    is_this = (found.state != State.AT_STOP) & (found.tightens == free.travel.tightens)
    return np.where(is_this, found.tension - wanted, np.nan)


def _hinge_shift(free: SolvedMount, wanted: float) -> float | None:
    """The least shift of the hinge [m] with which the weights give a tension [N], or None."""
    plate, motor = free.mount.scenario.plate, free.mount.scenario.motor
    farthest = _FARTHEST * math.dist(plate.hinge, motor.shaft)
    places = np.linspace(-farthest, farthest, 2 * _PLACES + 1)
    values = _excess(free, places, wanted)
    pairs = zip(pairwise(places), pairwise(values), strict=True)
    brackets = [ends for ends, excess in pairs if excess[0] * excess[1] <= 0]
    for low, high in sorted(brackets, key=lambda ends: min(abs(ends[0]), abs(ends[1]))):
        root = bracketed_roots(
            lambda shift: _excess(free, shift, wanted), np.array([low]), np.array([high])
        )
        if abs(_excess(free, root, wanted)[0]) <= SETTLED * wanted:
            return float(root[0])
    return None


def _hinge_sentence(scenario: Scenario, wanted: float | None, shift: float | None) -> str:
    if wanted is None:
        return "There is no tension to set, so no place of the hinge to look for."
    amount = force_text(wanted, scenario.display)
    if shift is None:
        reach = _FARTHEST * math.dist(scenario.plate.hinge, scenario.motor.shaft)
        return (
            f"No place of the hinge on its own level was found within "
            f"{length_text(reach, scenario.display)}, motor as drawn, where the weights put "
            f"{amount} on each strand."
        )
    if abs(shift) < MARKED:
        return f"The hinge is where the weights put {amount} on each strand."
    side = "right" if shift > 0 else "left"
    return (
        f"For {amount} on each strand by weight alone the hinge would have to be "
        f"{length_text(abs(shift), scenario.display)} further to the {side}, on its own level, "
        "with the motor as drawn."
    )


def _over_sentence(
    scenario: Scenario,
    requirements: Requirements,
    over: bool | None,  # noqa: FBT001  # a finding
) -> str:
    if over is None:
        return "Whether weight alone over-tightens the belt cannot be told: it ends at the stop."
    if over:
        part = requirements.nearest_limit(0.0)[0].limited
        if max(requirements.slack.values()) > 1.0:
            return f"Then {part} is over its limit, as by the loads on the shaft."
        grips = requirements.grip(0.0)[0] >= 1.0
        then = "An adjuster has to hold the plate back" if grips else "Held back, it slips"
        return f"Weight alone already over-tightens the belt: {part} is over its limit. {then}."
    error = f"{100 * scenario.motor.weight_error:.0f} % heavier"
    if weight_is_within(scenario):
        return f"It keeps every known limit, even with weights {error} and the stiffest belt."
    return f"It keeps every known limit as weighed; {error} it would not."
