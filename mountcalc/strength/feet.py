"""What is judged of the bolts of the motor's feet: the wood under their washers, their stress."""

from __future__ import annotations

from collections.abc import Iterator, Sequence

from mountcalc.formulas.screw_threads import tensile_stress_area
from mountcalc.formulas.wood_screws import washer_pressure
from mountcalc.handbook.hardware import bolt_strength, fact, unmarked_bolt
from mountcalc.judgement import Judgement
from mountcalc.loads import Part
from mountcalc.pages.amounts import FORCE, LENGTH, PRESSURE
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.text.threads import bolt_diameter
from mountcalc.strength.carried import Carried, Line, judged, of_part
from mountcalc.structure.made import plate_of


def foot_judgements(scenario: Scenario, loads: Sequence[Carried]) -> Iterator[Judgement]:
    """Whether wood and bolts stand what the motor pulls its feet with."""
    feet = [*of_part(loads, Part.FOOT)]
    yield from judged("foot-washers", _washers(scenario, feet))
    yield from judged("foot-bolts", _bolts(scenario, feet))


def _washers(scenario: Scenario, feet: Sequence[Carried]) -> Iterator[Line]:
    """The wood under the washer of a foot that is pulled."""
    plate, frame, said = plate_of(scenario), scenario.parts.frame, scenario.parts.feet
    across = None if said.bolt is None else bolt_diameter(said.bolt)
    across = across or (None if frame is None else frame.hole)
    if plate is None or across is None or plate.wood.bearing is None:
        return
    bearing, display = plate.wood.bearing, scenario.display
    washer = said.washer or fact("bolt", "washer").value * across
    for load, _, when, _ in feet:
        force = max(load.out, 0.0)
        pressure = float(washer_pressure(force, washer, across))
        yield Line(
            PRESSURE,
            pressure,
            bearing.value,
            f"{load.name} is pulled by {FORCE.text(force, display)} {when}: a washer of "
            f"{LENGTH.text(washer, display)} presses {plate.wood.name} with "
            f"{PRESSURE.text(pressure, display)}, besides what its bolt is tightened by; "
            f"{PRESSURE.text(bearing.value, display)} is allowed",
            bearing.source,
            bearing.sure,
        )


def _bolts(scenario: Scenario, feet: Sequence[Carried]) -> Iterator[Line]:
    """The bolts themselves, pulled."""
    said, display, thread = scenario.parts.feet, scenario.display, scenario.parts.feet.bolt
    across = None if thread is None else bolt_diameter(thread)
    if thread is None or across is None:
        return
    is_inch = not thread.name.upper().startswith("M")
    strong = bolt_strength(said.strength or unmarked_bolt(is_inch=is_inch), across)
    if strong is None:
        return
    limit = fact("bolt", "share").value * strong.proof
    area = float(tensile_stress_area(across, thread.pitch, is_inch=is_inch))
    for load, _, when, _ in feet:
        stress = max(load.out, 0.0) / area
        yield Line(
            PRESSURE,
            stress,
            limit,
            f"the bolt of {load.name} ({thread.name}, {strong.name}) is pulled by "
            f"{FORCE.text(max(load.out, 0.0), display)} {when}: "
            f"{PRESSURE.text(stress, display)} of the {PRESSURE.text(limit, display)} that are "
            "three quarters of its proof stress",
            strong.source,
            strong.sure,
        )
