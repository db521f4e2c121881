"""From ``[search]`` of a file to what a search may try."""

from __future__ import annotations

import math
from dataclasses import replace
from typing import Any

from mountcalc.handbook.belts.designation import Designation
from mountcalc.scenario.file.build import build_belt, keep_outs, section_name
from mountcalc.scenario.file.tables import Facts
from mountcalc.scenario.model import AdjusterKind, BarredPart, Display, KeepOut
from mountcalc.scenario.search import SearchBelt, SearchSpace
from mountcalc.scenario.text.quantities import DISTANCE, read_quantity
from mountcalc.scenario.text.writing import Notes

# Estimates: room for a spanner and for chips, lengths and thicknesses that a shop has at hand.
_DEFAULTS = {
    "clearance": ("1/2 in", "12 mm", "room to every keep-out"),
    "wrench_space": ("2 in", "50 mm", "free radius about the bolt's head"),
    "link_length": ("8 in", "200 mm", "length of a link as drawn"),
    "bolt_length": ("6 in", "150 mm", "length of a jack from tip to head as drawn"),
    "plate_thickness": ("3/4 in", "18 mm", "thickness of the plate"),
}
_DRIVEN_SHAFT = "driven shaft"
_CORNERS = 24  # of the polygon round it
_OF_SECTION = {f"belt.{name}" for name in ("section", "stiffness", "mass", "width", "thickness")}


def build_search(facts: Facts, display: Display) -> tuple[SearchSpace, tuple[str, ...]]:
    """Return what a search may try, and the notes of defaults that were taken."""
    notes, said = Notes(display), facts.of(SearchSpace, "search")
    if "motor_body" not in said:
        said["motor_body"] = 2 * said["motor_height"][0]
        notes.add(
            "The motor's body is not given: a circle of "
            f"{notes.show(said['motor_body'], 'length')} is taken, twice the least motor height."
        )
    said.setdefault("motor_feet", said["motor_body"])
    if "plate.thickness" in facts.good:
        said.setdefault("plate_thickness", facts.good["plate.thickness"])
    said |= _lengths(said, display, notes)
    if "threads" not in said:
        said["threads"] = (facts.good["adjuster.thread"],)
    said["belts"] = tuple(_belt(facts, bought, notes) for bought in said.get("belts", ()))
    space = SearchSpace(**said)
    ground = (*keep_outs(facts), *_driven_shaft(facts, space))
    space = replace(space, keep_outs=ground)
    _note_travel(space, notes)
    return space, tuple(notes.sentences)


def _note_travel(space: SearchSpace, notes: Notes) -> None:
    """Say how far the adjusters that are tried may travel, where the file does not."""
    if space.thread_length is not None:
        return
    words = {AdjusterKind.LINK: "half the length of a link"}
    travels = {
        words.get(kind, "the whole length of a jack"): space.most_travel(kind)
        for kind in space.kinds
    }
    listed = "; ".join(f"{name}: {notes.show(most, 'length')}" for name, most in travels.items())
    notes.add(
        "How far the bolt may travel from a new belt to full take-up (thread_length) is not given: "
        f"{listed}."
    )


def _belt(facts: Facts, bought: Designation, notes: Notes) -> SearchBelt:
    """Return a belt to try: the scenario's in another length, or one of another section."""
    changed = {"belt.length"}
    if bought.section != (section_name(facts) or "").upper():
        changed |= _OF_SECTION
    good = {key: value for key, value in facts.good.items() if key not in changed}
    belt = build_belt(Facts(good=good | {"belt.designation": bought}), notes)
    return SearchBelt(bought.text, belt)


def _driven_shaft(facts: Facts, space: SearchSpace) -> tuple[KeepOut, ...]:
    """The driven shaft between pulley and bearings, which runs past plate, motor and bolt."""
    if space.beside_driven_shaft or _DRIVEN_SHAFT in {one.name for one in keep_outs(facts)}:
        return ()
    journals = (facts.good[f"driven.bearing.{index}.journal_diameter"] for index in (0, 1))
    thick = max(*journals, facts.good.get("driven.shaft_diameter", 0.0))
    (x, y), radius = facts.good["driven.shaft"], thick / 2 / math.cos(math.pi / _CORNERS)
    angles = [2 * math.pi * corner / _CORNERS for corner in range(_CORNERS)]
    corners = tuple((x + radius * math.cos(at), y + radius * math.sin(at)) for at in angles)
    parts = tuple(part for part in BarredPart if part is not BarredPart.BELT)
    return (KeepOut(_DRIVEN_SHAFT, corners, parts),)


def _lengths(said: dict[str, Any], display: Display, notes: Notes) -> dict[str, float]:
    """Return the lengths that have a default of their own and are not given [m]."""
    taken = {
        name: (inch if display is Display.INCH else metric, words)
        for name, (inch, metric, words) in _DEFAULTS.items()
        if name not in said
    }
    if taken:
        told = "; ".join(f"{words}: {text}" for text, words in taken.values())
        notes.add(f"Lengths of the search that are not given are estimates: {told}.")
    return {name: read_quantity(text, DISTANCE) for name, (text, _) in taken.items()}
