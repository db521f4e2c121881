"""A machine that asks for no power: what its belt wants instead of a setting."""

from __future__ import annotations

from mountcalc.equilibrium.mount import Mount
from mountcalc.pages.amounts import force_text, power_text
from mountcalc.scenario.model import IDLE_SHARE, Scenario

__all__ = ["IDLE", "idle_sentence", "idles"]

IDLE = "no grip is asked for"


def idles(scenario: Scenario) -> bool:
    """Whether the machine asks for no power to speak of, so that no tension follows from it."""
    return scenario.driven.power < IDLE_SHARE * scenario.motor.power


def idle_sentence(scenario: Scenario) -> str:
    """What the belt of such a machine wants."""
    display = scenario.display
    own = force_text(Mount.of(scenario).centrifugal_tension, display)
    asked = power_text(scenario.driven.power, display)
    return (
        f"the machine takes {asked} (driven.power), from which no tension follows. A belt that "
        "only idles wants its slack just taken up, as at zero, and no more than keeps it from "
        f"flapping; its own motion takes {own} on each strand. Give the power that the machine "
        "takes at work to be told a setting"
    )
