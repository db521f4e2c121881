"""What a belt's designation says: its lengths and section, its grooves, and what a string reads."""

from __future__ import annotations

import math

from mountcalc.handbook.belts.designation import Designation
from mountcalc.handbook.belts.grooves import groove_angle, outside_less_pitch
from mountcalc.handbook.belts.lengths import matching_limit
from mountcalc.handbook.belts.sections import Section
from mountcalc.handbook.rows import Datum
from mountcalc.measure.lengths import belt_length
from mountcalc.measure.pulleys import Pair
from mountcalc.measure.results import BeltFacts, Groove
from mountcalc.scenario.model import PulleyFace

__all__ = ["facts_of"]


def facts_of(belt: Designation, section: Section, pair: Pair | None) -> BeltFacts:
    """What a designation is, and what string and tape would read."""
    over, limit = outside_less_pitch(section.name), matching_limit(belt)
    least = section.least_diameter
    return BeltFacts(
        belt=belt_length(belt, pair),
        top_width=section.width,
        height=section.height,
        string_over_grooves=None if over is None else belt.pitch_length + math.pi * over.value,
        string_over_flat_rims=belt.pitch_length - section.inside_to_pitch.value,
        outside_less_pitch=None if over is None else over.value,
        least_diameter=None if least is None else least.value,
        matching_limit=None if limit is None else limit.value,
        grooves=_grooves(section, pair),
        sources=_sources(section, over, limit),
    )


def _sources(section: Section, over: Datum | None, limit: Datum | None) -> tuple[str, ...]:
    """Where the numbers are from; those of the length stand beside it."""
    data = {
        "pitch line against the inside": section.inside_to_pitch,
        "pitch line against the outside": section.pitch_to_outside,
        "rims of its grooves": over,
        "least pulley": section.least_diameter,
        "lengths of one set": limit,
    }
    return tuple(f"{what}: {one.source}; {one.sure}" for what, one in data.items() if one)


def _grooves(section: Section, pair: Pair | None) -> tuple[Groove, ...]:
    """Grooves of the pulleys that are given, else of the least one."""
    if pair is not None:
        wanted = [
            (pulley.diameter, f"the {side} pulley")
            for side, pulley in (("motor's", pair.motor), ("driven", pair.driven))
            if pulley.face is PulleyFace.GROOVED
        ]
    elif section.least_diameter is not None:
        wanted = [(section.least_diameter.value, "the least pulley that is recommended")]
    else:
        wanted = []
    over = outside_less_pitch(section.name)
    return tuple(
        Groove(diameter, None if over is None else diameter + over.value, angle.value, why)
        for diameter, why in wanted
        if (angle := groove_angle(section.name, diameter)) is not None
    )
