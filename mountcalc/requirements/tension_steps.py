"""The stack of margins that makes up a setting: what is physics and what is caution."""

from __future__ import annotations

import numpy as np

from mountcalc.equilibrium.states import State
from mountcalc.formulas.belt import least_tension
from mountcalc.requirements.methods.results import Method
from mountcalc.requirements.promises import Promises
from mountcalc.requirements.results import Step
from mountcalc.scenario.model import Limits

__all__ = ["tension_steps"]


def tension_steps(
    promises: Promises,
    at: tuple[float | None, float | None, float | None],
    methods: tuple[Method, ...],
) -> tuple[Step, ...]:
    """Rest tensions from the bare pull of the load up to a new belt's setting."""
    fewest, aim, new = at
    if fewest is None or aim is None or new is None:
        return ()
    limits = promises.scenario.limits
    steps = _physics(promises, fewest)
    tensions = promises.tension(np.array([fewest, aim, new]))
    reasons = (
        (
            "wanted grip",
            f"{_wanted(limits)} may come before it slips"
            if fewest > 0
            else "zero itself gives more grip than is wanted",
        ),
        ("hand and reading", f"{methods[0].name}, and lock nut, may be off"),
        (
            "bedding in",
            f"a new belt loses tension: {limits.bedding:g} times, if limits and weights allow",
        ),
    )
    steps += [
        Step(name, float(tension), is_physics=False, sentence=sentence)
        for tension, (name, sentence) in zip(tensions, reasons, strict=True)
        if np.isfinite(tension)
    ]
    return tuple(steps)


def _wanted(limits: Limits) -> str:
    text = f"{limits.grip:g} times the running pull"
    if limits.starting_grip is not None:
        text += f", and {limits.starting_grip:g} times the starting pull,"
    return text


def _physics(promises: Promises, fewest: float) -> list[Step]:
    solved = promises.solved
    mount = solved.mount
    case = solved.case(solved.place(np.array([fewest])), solved.demands["running"])
    if case.state[0] != State.HELD or mount.pull == 0:
        return []
    share = min(float(way.mount.pulls(case.phi).share[0]) for way in promises.ways)
    slipping = float(least_tension(mount.pull, share, 0.0))
    moving = slipping + mount.centrifugal_tension
    return [
        Step(
            "half the pull",
            0.5 * mount.pull,
            is_physics=True,
            sentence="with less the slack strand would have to push",
        ),
        Step(
            "traction and wrap",
            slipping,
            is_physics=True,
            sentence="with less the belt slips on the pulley that holds it least",
        ),
        Step(
            "belt in motion",
            moving,
            is_physics=True,
            sentence="the belt's own motion takes this much of its tension off the pulleys",
        ),
    ]
