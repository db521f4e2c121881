"""``[search]`` and ``[[keep_out]]`` of a file: rules between their keys, and what they allow."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

from mountcalc.handbook.belts.designation import Designation
from mountcalc.handbook.frames import MotorFrame
from mountcalc.scenario.drawn_plate import least_body
from mountcalc.scenario.file.build import build_belt, keep_outs, section_name
from mountcalc.scenario.file.tables import Facts, Finding, Rule, found, rule_on
from mountcalc.scenario.model import IDLE_SHARE, AdjusterKind, BarredPart, Display, KeepOut
from mountcalc.scenario.search import Action, SearchBelt, SearchSpace
from mountcalc.scenario.text.quantities import DISTANCE, read_quantity
from mountcalc.scenario.text.values import Range, contains
from mountcalc.scenario.text.wording import both, shown
from mountcalc.scenario.text.writing import Notes

_MOST_KEEP_OUTS = 50


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


def _keep_outs(facts: Facts) -> list[str]:
    return [f"keep_out.{index}" for index in range(facts.counts.get("keep_out", 0))]


def _outlines(facts: Facts) -> Iterator[Finding]:
    """Each keep-out is one box or one polygon."""
    keep_outs = _keep_outs(facts)
    if len(keep_outs) > _MOST_KEEP_OUTS:
        yield found(
            keep_outs[_MOST_KEEP_OUTS],
            f"at most {_MOST_KEEP_OUTS} [[keep_out]] wanted, found {len(keep_outs)}",
        )
    for key in keep_outs:
        given = {name for name in ("box", "polygon") if f"{key}.{name}" in facts.present}
        if not given and key in facts.tables:
            yield found(
                key,
                'missing: box (such as [["10 in", "-20 in"], ["14 in", "0 in"]]) or polygon '
                "(three or more such corners in order)",
            )
        elif len(given) > 1:
            yield found(f"{key}.polygon", "box or polygon wanted, got both")


def _names(facts: Facts) -> Iterator[Finding]:
    """Answers name keep-outs, so that two must not be called the same."""
    seen: set[str] = set()
    for key in _keep_outs(facts):
        name = facts.get(f"{key}.name")
        if name is not None and name[0] in seen:
            yield found(f"{key}.name", f"a keep-out named {shown(name[0])} is there already")
        seen.update(name or ())


def _clears_driven_shaft(facts: Facts) -> Iterator[Finding]:
    """Ground that the belt must clear cannot hold the shaft that it runs on."""
    shaft = facts.get("driven.shaft")
    for key in _keep_outs(facts):
        outline = facts.get(f"{key}.box") or facts.get(f"{key}.polygon")
        if f"{key}.parts" in facts.present:
            parts = facts.get(f"{key}.parts")
            barred = parts is not None and BarredPart.BELT in parts[0]
        else:
            barred = True
        if shaft is not None and outline is not None and barred and contains(outline[0], shaft[0]):
            yield found(
                key,
                "it holds the driven shaft, so that no belt could clear it; if the belt runs in "
                'front of it, say what it bars: parts = ["plate", "motor", "bolt"]',
            )


def _threads(facts: Facts) -> Iterator[Finding]:
    if "search" not in facts.tables or "search.threads" in facts.present:
        return
    if "adjuster.kind" in facts.good and "adjuster.thread" not in facts.present:
        yield found(
            "search",
            'threads missing (such as ["3/8-16", "3/8-24"]), since [adjuster] has no thread',
        )


@rule_on("search.acts", "search.kinds")
def _nothing_to_try(acts: tuple[Action, ...], kinds: tuple[AdjusterKind, ...]) -> str | None:
    """A jack in the plate cannot pull."""
    if (acts, kinds) != ((Action.PULL,), (AdjusterKind.JACK_IN_PLATE,)):
        return None
    return (
        'a "jack-in-plate" cannot pull: the tip bears on a fixed face; allow "push" or '
        '"hold-back", or another kind'
    )


@rule_on("search.motor_height", "motor.frame")
def _motor_height(heights: Range, frame: MotorFrame) -> str | None:
    """No layout has its motor in its plate."""
    least = least_body(frame)
    if heights[0] >= least:
        return None
    return (
        f"from {both(least)} on wanted, the radius that the body of frame {frame.name} has at "
        f"least (estimate; its shaft height is {both(frame.shaft_height)}), got {both(heights[0])}"
    )


def _power(facts: Facts) -> Iterator[Finding]:
    """What idles has no setting, so that no layout could be judged."""
    powers = facts.get("driven.power", "motor.power")
    if "search" in facts.tables and powers is not None and powers[0] < IDLE_SHARE * powers[1]:
        yield found(
            "driven.power",
            "a search wants the power that the machine takes at work, "
            f"{100 * IDLE_SHARE:g} % of motor.power or more",
        )


SEARCH_RULES: tuple[Rule, ...] = (
    _outlines, _names, _clears_driven_shaft, _threads, _nothing_to_try, _motor_height, _power,
)  # fmt: skip
"""Each takes the facts and gives what is wrong."""


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
