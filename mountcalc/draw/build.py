"""The mount that is drawn: what all its drawings share is found once."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cached_property, wraps
from typing import Any, TypeVar

from mountcalc.draw.swing import Swing, swing_of, turned
from mountcalc.equilibrium.mount import Mount
from mountcalc.scenario.drawn_plate import BoardFrame, plate_frame
from mountcalc.scenario.model import Display, Scenario

__all__ = ["Build", "Swing", "once", "swing_of", "turned"]

Found = TypeVar("Found")


@dataclass(frozen=True, eq=False)
class Build:
    """A mount that is drawn.

    Attributes
    ----------
    scenario : Scenario
    found : dict
        What `once` has kept.
    """

    scenario: Scenario
    found: dict[Callable[[Build], Any], Any] = field(default_factory=dict, repr=False)

    @property
    def display(self) -> Display:
        """Units of all texts."""
        return self.scenario.display

    @cached_property
    def mount(self) -> Mount:
        """The linkage with its numbers."""
        return Mount.of(self.scenario)

    @cached_property
    def swing(self) -> Swing:
        """The plate angles between which a belt is fitted and taken up."""
        return swing_of(self.scenario)

    @cached_property
    def frame(self) -> BoardFrame:
        """The plate's face that the motor stands on."""
        return plate_frame(self.scenario)


def once(find: Callable[[Build], Found]) -> Callable[[Build], Found]:
    """Find something of a mount at the first asking, and keep it with the mount."""

    @wraps(find)
    def kept(build: Build) -> Found:
        if find not in build.found:
            build.found[find] = find(build)
        found: Found = build.found[find]
        return found

    return kept
