"""What is said beside the assembly of stops: where they stand, what they catch."""

from __future__ import annotations

from collections.abc import Iterable

from mountcalc.drafting.told import Told
from mountcalc.draw.assembly.stop import Catch
from mountcalc.draw.assembly.stop_place import STOP_ACROSS, STOP_DEPTH, STOP_GAP, STOP_HALF, Beside
from mountcalc.draw.build import Build
from mountcalc.scenario.model import Display
from mountcalc.units import si_factor

__all__ = ["tell_stops"]


def tell_stops(told: Told, build: Build, stops: Iterable[Catch]) -> None:
    """Say where stops stand and what they catch."""
    stops = tuple(stops)
    if len(stops) > 1:
        told.note(
            "Without the belt the weight drives the plate one way or the other: it wants a stop, "
            "or a strap, on both sides."
        )
    for stop in stops:
        _stop(told, build, stop, only=len(stops) == 1)


def _stop(told: Told, build: Build, stop: Catch, *, only: bool) -> None:
    beyond = stop.beyond
    way = "away from the driven shaft" if stop.side.tightens else "towards the driven shaft"
    if build.scenario.adjuster.kind.value == "none" or not stop.held:
        why = f"If the belt breaks, nothing but a stop holds the plate: it falls {way}"
    else:
        why = f"If the belt breaks, the plate rests on the adjuster; without that it falls {way}"
    if only:
        told.note(f"{why}.")
    told.note(_where(told, stop))
    told.facts |= {
        f"stop_{beyond.replace('-', '_')}_angle": stop.plate_angle,
        f"stop_{beyond.replace('-', '_')}_drop": stop.drop,
        f"stop_{beyond.replace('-', '_')}_energy": stop.energy,
    }
    if stop.drop > 0:
        told.note(
            f"From snug to the stop the motor falls {told.write(stop.drop)}, and the stop takes up "
            f"{_energy(stop.energy, build.display)}."
            if stop.energy > 0
            else f"From snug to the stop the motor falls {told.write(stop.drop)}."
        )
    if not stop.in_travel:
        told.note(
            f"The stop beyond {beyond} is outside plate.travel: build it so that the plate can "
            "swing that far, or let what ends the travel there be the stop."
        )


def _energy(energy: float, display: Display) -> str:
    """An energy [J] with its unit."""
    if display is Display.METRIC:
        return f"{energy:.2g} J"
    return f"{energy / (si_factor('ft') * si_factor('lbf')):.2g} ft lbf"


def _where(told: Told, stop: Catch) -> str:
    beyond, gap, place = stop.beyond, told.write(STOP_GAP), stop.place
    if place.beside is Beside.NO_ROOM:
        longer = ""
        if place.wanted_length is not None:
            longer = f", or a plate {told.write(place.wanted_length)} long with the stop past them"
        return (
            f"The plate has no room for a stop beyond {beyond} that motor and adjuster would pass: "
            f"take a strap or chain that comes taut {gap} (estimate) beyond {beyond}{longer}."
        )
    size = " x ".join(told.write(one) for one in (2.0 * STOP_HALF, STOP_DEPTH, STOP_ACROSS))
    beside = {
        Beside.NOTHING: "",
        Beside.ADJUSTER: " It is not in line with the adjuster but beside it, along the shafts.",
        Beside.MOTOR: " It is not in line with the motor but beside it, along the shafts.",
    }[place.beside]
    return (
        f"The stop stands just beyond {beyond}, {gap} clear of the plate there; its size, {size}, "
        f"is an estimate, as that gap is.{beside} A strap or chain that comes taut at the same "
        "place does as well."
    )
