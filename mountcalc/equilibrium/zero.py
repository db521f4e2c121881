"""Where turns are counted from: the position that a hand can find."""

from __future__ import annotations

import math
from dataclasses import dataclass

import numpy as np

from mountcalc.equilibrium.balance import Balance, Demand
from mountcalc.equilibrium.states import State, ZeroKind
from mountcalc.errors import MountError

__all__ = ["AT_REST", "Reference", "find_zero"]

AT_REST = Demand(pull=0.0, centrifugal=0.0)


@dataclass(frozen=True, slots=True)
class Reference:
    """Zero: its kind, the plate angle there [rad] and the state at rest there.

    ``plate_angle`` is NaN only where there is no adjuster and weight finds no balance.
    """

    kind: ZeroKind
    plate_angle: float
    state: State


def find_zero(balance: Balance) -> Reference:
    """Zero of a mount.

    Parameters
    ----------
    balance : Balance
        The mount's balance.

    Returns
    -------
    Reference
        Snug where the adjuster carries the plate there; else contact: where weight and belt
        balance and the adjuster, just touching, carries nothing.

    Raises
    ------
    MountError
        Where there is an adjuster and neither position exists.
    """
    has_adjuster = balance.mount.has_adjuster
    snug = np.array([balance.travel.snug])
    settled = balance.settle(snug, AT_REST, in_contact=has_adjuster)
    state, angle = State(str(settled.state[0])), float(settled.phi[0])
    if state is State.HELD:
        return Reference(ZeroKind.SNUG, balance.travel.snug, state)
    if has_adjuster and state is not State.RIDING:
        raise MountError(balance.mount.scenario.source, "adjuster.acts", _no_zero(balance, state))
    return Reference(ZeroKind.CONTACT, angle, state)


def _no_zero(balance: Balance, state: State) -> str:
    acts = balance.mount.scenario.adjuster.acts
    carry = f"an adjuster that can only {acts}" if acts is not None else "the adjuster"
    if state is State.AT_STOP:
        end = math.degrees(balance.travel.tight_end.angle)
        return (
            f"{carry} does not hold the plate back, and weight alone drives it to "
            f"the tight end of the travel ({end:.2f} deg): turns have no zero. Let the plate open "
            "further, bring the weights nearer to the hinge, or use an adjuster that holds the "
            "plate back"
        )
    return (
        f"{carry} cannot carry the plate where the belt is snug, and the weights "
        "pull the plate away from the tight side: the belt is never tightened. Put the adjuster on "
        'the other side of the plate, or let it act the other way (acts = "push", "pull" or "both")'
    )
