"""What is said beside the assembly: where things stand, what stops the plate."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from mountcalc.drawing.baselines import SAME
from mountcalc.drawing.model import Point
from mountcalc.drawing.stop import STOP_GAP, Catch
from mountcalc.drawing.told import Told
from mountcalc.scenario.model import Scenario

__all__ = ["tell_places", "tell_stops"]


def tell_places(
    told: Told, scenario: Scenario, points: Mapping[str, Point], level: tuple[str, float]
) -> None:
    """List the points by their distances from both datum edges.

    Parameters
    ----------
    told : Told
        Where it is said.
    scenario : Scenario
        The mount.
    points : mapping of str to Point [m]
        By their names.
    level : (str, float [m])
        Name and height of the level datum edge.
    """
    name, height = level
    told.note(f"Measured from two edges: the upright through the driven shaft, and {name}.")
    for what, (x, y) in points.items():
        across, up = x - scenario.driven.shaft[0], y - height
        name = f"{what[0].upper()}{what[1:]}"
        told.note_of_side(
            f"{name}: {_place(told, across, up)}.", f"{name}: {_place(told, -across, up)}."
        )
        key = what.replace(" ", "_").replace("'s", "").replace(",", "").replace("-", "_")
        told.facts |= {f"{key}_x": across, f"{key}_y": up}


def _place(told: Told, across: float, up: float) -> str:
    """Distances from the edges in words."""
    words = []
    if abs(across) > SAME:
        words.append(f"{told.write(abs(across))} {'left' if across < 0 else 'right'}")
    if abs(up) > SAME:
        words.append(f"{told.write(abs(up))} {'below' if up < 0 else 'above'}")
    return ", ".join(words) or "where they cross"


def tell_stops(told: Told, scenario: Scenario, stops: Iterable[Catch]) -> None:
    """Say where stops stand and what they catch.

    Parameters
    ----------
    told : Told
        Where it is said.
    scenario : Scenario
        The mount.
    stops : iterable of Catch
        One or two.
    """
    stops = tuple(stops)
    if len(stops) > 1:
        told.note(
            "Without the belt the weight drives the plate one way or the other: it wants a stop, "
            "or a strap, on both sides."
        )
    for stop in stops:
        _stop(told, scenario, stop, only=len(stops) == 1)


def _stop(told: Told, scenario: Scenario, stop: Catch, *, only: bool) -> None:
    beyond = "take-up" if stop.side.tightens else "install"
    way = "away from the driven shaft" if stop.side.tightens else "towards the driven shaft"
    if scenario.adjuster.kind.value == "none" or not stop.held:
        why = f"If the belt breaks, nothing but a stop holds the plate: it falls {way}"
    else:
        why = f"If the belt breaks, the plate rests on the adjuster; without that it falls {way}"
    if only:
        told.note(f"{why}.")
    told.note(
        f"The stop stands just beyond {beyond}, {told.write(STOP_GAP)} (estimate) clear of the "
        "plate there; a strap or chain that comes taut at the same place does as well."
    )
    told.facts |= {
        f"stop_{beyond.replace('-', '_')}_angle": stop.plate_angle,
        f"stop_{beyond.replace('-', '_')}_drop": stop.drop,
        f"stop_{beyond.replace('-', '_')}_energy": stop.energy,
    }
    if not stop.is_clear:
        told.note(
            f"The stop beyond {beyond} stands beside the adjuster and the motor's feet, not in "
            "line with them."
        )
    if stop.drop > 0:
        told.note(
            f"From snug to the stop the motor falls {told.write(stop.drop)}, and the stop takes up "
            f"{stop.energy:.2g} J."
            if stop.energy > 0
            else f"From snug to the stop the motor falls {told.write(stop.drop)}."
        )
    if not stop.in_travel:
        told.note(
            f"The stop beyond {beyond} is outside plate.travel: build it so that the plate can "
            "swing that far, or let what ends the travel there be the stop."
        )
