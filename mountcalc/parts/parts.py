"""The list of parts of a mount: what is bought, then what is cut, as its drawings have it."""

from __future__ import annotations

from collections.abc import Iterator

from mountcalc.draw import Build, Cut, pieces, refuse_larger
from mountcalc.parts.adjuster import adjuster_parts
from mountcalc.parts.amounts import short
from mountcalc.parts.bought import belt_part, feet_parts, guard_screws, hinge_parts, pulley_parts
from mountcalc.parts.results import Part, PartsList
from mountcalc.scenario.hardware import Joined
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.text.writing import Display
from mountcalc.strength.bolt_length import bolt_length

_CUT_WORDS = {
    "strip for the hinges": "carries the hinges' other leaves",
    "base": "carries the hinges' other leaves",
    "block for the adjuster": "fixed to the frame; its size an estimate",
    "metal under the tip": "hard, wherever the tip goes, let in or screwed on",
    "guard panel and front": "blanks of one outline; the front, on the strip's edge, has no slot",
    "guard strip": "round the panel's edge, butt to butt: leave it longer and trim it",
}
_ESTIMATED = "an estimate, as is where it stands"


def parts_list(scenario: Scenario) -> PartsList:
    """All parts that a mount is bought and cut from."""
    refuse_larger(scenario)
    build, bolt = Build(scenario), bolt_length(scenario)
    bought = (
        belt_part(scenario),
        *pulley_parts(build),
        *hinge_parts(scenario),
        *adjuster_parts(scenario),
        *feet_parts(build),
        *_straps(build),
        guard_screws(build),
    )
    return PartsList(
        title=scenario.title,
        parts=(*bought, *_cut(build)),
        adjuster_travel=None if bolt is None else bolt.travel,
        bolt_length=None if bolt is None else bolt.length,
        notes=(
            *(() if bolt else ("There is no adjuster: the plate hangs by its weight alone.",)),
            *build.swing.notes,
        ),
    )


def _cut(build: Build) -> Iterator[Part]:
    """The pieces with sizes as their drawings tell them."""
    display, parts = build.display, build.scenario.parts
    for one in pieces(build):
        if one.width is None and one.thickness is None:
            continue
        sentence, missing = _CUT_WORDS.get(one.name, _ESTIMATED), list(one.taken)
        source = f"mountcalc draw --only {one.drawing}"
        if one.name == "plate":
            layers = parts.plate.layers or 1
            sentence = parts.plate.material or "wood"
            if parts.plate.material is None:
                missing.append("plate.material")
            if layers > 1:
                joined = "screwed" if parts.plate.joined is Joined.SCREWED else "glued"
                thick = short((one.thickness or 0.0) / layers, display)
                sentence += f", {layers} layers of {thick} {joined}"
            sentence += f"; grain {build.grain_words}"
        elif one.drawing == "base" and one.name.startswith(("base", "strip")):
            if parts.base.material is None:
                missing.append("base.material")
            wood = "" if parts.base.material is None else f"{parts.base.material}; "
            sentence = f"{wood}{sentence}; grain along the long side"
        elif one.name == "metal under the tip" and parts.bolt.pad is None:
            missing.append("adjuster.pad")
        if one.taken:
            sentence += "; what is not told is taken as usual (estimates)"
        estimate = bool(one.taken) or one.name.startswith(("block", "stop"))
        size, keys = _size(one, display), tuple(missing)
        yield Part(
            one.name, one.count, size, one.length, sentence, source, keys, estimate, cut=True
        )


def _straps(build: Build) -> Iterator[Part]:
    """Where there is no room for a stop, a strap catches the plate."""
    for one in pieces(build):
        if one.width is None and one.thickness is None:
            yield Part(
                name=one.name.replace("strap", "strap or chain"),
                count=one.count,
                size=f"taut {short(one.length, build.display)} beyond it",
                length=None,
                sentence="there is no room for a stop that motor and adjuster would pass",
                source=f"mountcalc draw --only {one.drawing}",
                estimate=True,
            )


def _size(one: Cut, display: Display) -> str:
    sizes = (one.length, one.width, one.thickness)
    texts = [short(size, display).rpartition(" ")[0] for size in sizes if size is not None]
    unit = short(one.length, display).rpartition(" ")[2]
    if one.width is None:
        return f"{texts[0]} {unit} long, {texts[1]} {unit} thick; its width is not told"
    return f"{' x '.join(texts)} {unit}"
