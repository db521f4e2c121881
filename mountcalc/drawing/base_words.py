"""Sentences about the height of the base that carries the hinge."""

from __future__ import annotations

from mountcalc.drawing.base_height import base_height, hinge_height
from mountcalc.drawing.bench_lengths import bench_length
from mountcalc.scenario.model import Scenario

__all__ = ["base_words"]


def base_words(scenario: Scenario) -> tuple[str, ...]:
    """Say how high the base stands.

    Parameters
    ----------
    scenario : Scenario
        The mount.

    Returns
    -------
    tuple of str
        Sentences; they name the key where one is missing.
    """
    height, top = hinge_height(scenario), base_height(scenario)
    if height is None:
        return ("base.floor is needed to tell how high the base that carries the hinge stands.",)
    display = scenario.display
    if height <= 0:
        return (
            f"The hinge pin is {bench_length(-height, display)} below the floor that base.floor "
            "gives: one of them is wrong.",
        )
    pin = f"The middle of the hinge pin is {bench_length(height, display)} above the floor."
    if top is None:
        return (f"{pin} hinge.leaf_thickness is needed to tell the top of the base under it.",)
    return (
        f"{pin} Where a leaf lies flat on the base, the top of the base is "
        f"{bench_length(top, display)} above the floor.",
    )
