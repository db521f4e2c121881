"""From checked tables to what a search may try: defaults are taken here, and noted."""

from __future__ import annotations

import math

from mountcalc.handbook.belts.designation import Designation
from mountcalc.scenario.file.build_belt import build_belt, section_of
from mountcalc.scenario.file.schema import ScenarioTable
from mountcalc.scenario.file.schema_search import KeepOutTable, SearchTable
from mountcalc.scenario.model import AdjusterKind, BarredPart, Display, KeepOut, Thread
from mountcalc.scenario.search import BeltChoice, SearchSpace
from mountcalc.scenario.text.quantities import DISTANCE, read_quantity
from mountcalc.scenario.text.writing import Notes

__all__ = ["build_keep_outs", "build_search"]

# Estimates: room for a spanner and for chips, lengths and thicknesses that a shop has at hand.
_DEFAULTS = {
    "clearance": ("1/2 in", "12 mm", "room to every keep-out"),
    "wrench_space": ("2 in", "50 mm", "free radius about the bolt's head"),
    "link_length": ("8 in", "200 mm", "length of a link as drawn"),
    "bolt_length": ("6 in", "150 mm", "length of a jack from tip to head as drawn"),
    "plate_thickness": ("3/4 in", "18 mm", "thickness of the plate"),
}
_LEVERAGE = 0.2
_DRIVEN_SHAFT = "driven shaft"
_CORNERS = 24  # of the polygon round it


def build_keep_outs(table: ScenarioTable) -> tuple[KeepOut, ...]:
    """Return the keep-outs of a file."""
    return tuple(_keep_out(one, number) for number, one in enumerate(table.keep_out, 1))


def _keep_out(table: KeepOutTable, number: int) -> KeepOut:
    corners = table.box or table.polygon
    assert corners is not None, "the rules between keys require an outline"
    return KeepOut(
        name=table.name or f"keep-out {number}",
        corners=corners,
        parts=table.parts or tuple(BarredPart),
    )


def build_search(table: ScenarioTable, search: SearchTable) -> tuple[SearchSpace, tuple[str, ...]]:
    """Return what a search may try, and the notes of defaults that were taken."""
    notes = Notes(table.display)
    body = search.motor_body or 2 * search.motor_height[0]
    if search.motor_body is None:
        notes.add(
            "The motor's body is not given: a circle of "
            f"{notes.show(body, 'length')} is taken, twice the least motor height."
        )
    lengths = _lengths(table, search, notes)
    space = SearchSpace(
        hinge_x=search.hinge_x,
        hinge_y=search.hinge_y,
        reach=search.reach,
        motor_height=search.motor_height,
        motor_side=search.motor_side,
        motor_direction=search.motor_direction,
        belts=tuple(_belt(table, bought, notes) for bought in search.belts),
        kinds=search.kinds,
        acts=search.acts,
        threads=_threads(table, search),
        plate_length=search.plate_length,
        samples=search.samples,
        seed=search.seed,
        motor_body=body,
        motor_feet=search.motor_feet or body,
        leverage=_LEVERAGE if search.leverage is None else search.leverage,
        face_offset=search.face_offset,
        thread_length=search.thread_length,
        keep_outs=(*build_keep_outs(table), *_driven_shaft(table, search)),
        clearance=lengths["clearance"],
        wrench_space=lengths["wrench_space"],
        link_length=lengths["link_length"],
        bolt_length=lengths["bolt_length"],
        plate_thickness=lengths["plate_thickness"],
        bolt_beside_motor=search.bolt_beside_motor,
    )
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


def _belt(table: ScenarioTable, bought: Designation, notes: Notes) -> BeltChoice:
    """Return a belt to try: the scenario's in another length, or one of another section."""
    own = table.belt
    changes: dict[str, object] = {"designation": bought, "length": None}
    if bought.section != (section_of(own) or "").upper():
        others = ("section", "stiffness", "mass", "width", "thickness")
        changes |= dict.fromkeys(others)
    of_it = Notes(table.display)
    belt = build_belt(table.model_copy(update={"belt": own.model_copy(update=changes)}), of_it)
    for sentence in of_it.sentences:
        if sentence not in notes.sentences:
            notes.add(sentence)
    return BeltChoice(bought.text, belt)


def _driven_shaft(table: ScenarioTable, search: SearchTable) -> tuple[KeepOut, ...]:
    """The driven shaft between pulley and bearings, which runs past plate, motor and bolt."""
    named = {one.name for one in table.keep_out}
    if search.beside_driven_shaft or _DRIVEN_SHAFT in named:
        return ()
    driven = table.driven
    thick = max(one.journal_diameter for one in driven.bearing)
    radius = max(thick, driven.shaft_diameter or 0.0) / 2 / math.cos(math.pi / _CORNERS)
    corners = tuple(
        (
            driven.shaft[0] + radius * math.cos(2 * math.pi * corner / _CORNERS),
            driven.shaft[1] + radius * math.sin(2 * math.pi * corner / _CORNERS),
        )
        for corner in range(_CORNERS)
    )
    parts = tuple(part for part in BarredPart if part is not BarredPart.BELT)
    return (KeepOut(_DRIVEN_SHAFT, corners, parts),)


def _threads(table: ScenarioTable, search: SearchTable) -> tuple[Thread, ...]:
    if search.threads is not None:
        return search.threads
    assert table.adjuster.thread is not None, "the rules between keys require a thread here"
    return (table.adjuster.thread,)


def _lengths(table: ScenarioTable, search: SearchTable, notes: Notes) -> dict[str, float]:
    """Return the lengths that have a default of their own [m]."""
    lengths, taken = {}, []
    told = {"plate_thickness": table.plate.thickness}
    for name, (inch, metric, words) in _DEFAULTS.items():
        given = getattr(search, name)
        given = told.get(name) if given is None else given
        text = inch if table.display is Display.INCH else metric
        lengths[name] = read_quantity(text, DISTANCE) if given is None else given
        if given is None:
            taken.append(f"{words}: {text}")
    if taken:
        notes.add(f"Lengths of the search that are not given are estimates: {'; '.join(taken)}.")
    return lengths
