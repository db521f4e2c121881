"""A measured drive as text: what to buy for each section, then what a belt is, then cautions."""

from __future__ import annotations

import math
from dataclasses import dataclass

from mountcalc.measure.results import BeltFacts, BeltLength, Candidate, Measured, Reading
from mountcalc.pages.display import UNITS
from mountcalc.pages.page import bullets, heading, page, paragraph
from mountcalc.scenario.model import Display

__all__ = ["measure_text"]

_READINGS = {
    Reading.INSIDE: "a belt {} long on its inside",
    Reading.OUTSIDE: "a belt {} long on its outside",
    Reading.PITCH: "a belt {} long on its pitch line",
    Reading.STRING: "a string of {} drawn tight over the rims of both pulleys",
    Reading.CENTER: "shafts {} apart",
}
_OTHER = {Display.INCH: Display.METRIC, Display.METRIC: Display.INCH}
# Up to so many sections are told in full; of more, the nearest is, and how to tell them apart.
_IN_FULL = 2
# Belts whose lengths are off by as much, to within this, are as near [m].
_AS_NEAR = 1e-3


@dataclass(frozen=True, slots=True)
class _Column:
    """A column of a table: two lines of heading, its width, and a cell for each row."""

    head: str
    unit: str
    width: int
    cells: list[str]


def measure_text(measured: Measured, display: Display, *, more: bool = False) -> str:
    """The page of what was measured."""
    if measured.facts is not None:
        return _facts_page(measured.facts, display, more=more)
    found = _length(measured.measured, display)
    told = measured.candidates[: _IN_FULL if len(measured.candidates) <= _IN_FULL else 1]
    answer = [
        heading(f"Measured: {_READINGS[measured.reading].format(found)}"),
        _answer(measured.candidates, display),
        _choice(measured.candidates, display),
        *(_candidate(one, display, told=len(told) > 1) for one in told),
    ]
    notes = "HOW FAR THE READING MAY MISLEAD\n" + bullets(measured.notes)
    return page("measure ...", answer, (notes,), more=more)


def _answer(candidates: tuple[Candidate, ...], display: Display) -> str:
    near = [one for one in candidates if one.answer is not None]
    if not near:
        return paragraph("Buy", f"nothing yet. {_none_is_near(candidates)}")
    best, name = near[0], _to_buy(near[0], display)
    if len(candidates) == 1:
        return paragraph("Buy", f"{name}.")
    as_near = [_answered(one) for one in near if abs(_off(one) - _off(best)) < _AS_NEAR]
    tell = "The belt's top width and the pulleys' grooves tell which section it is."
    if len(as_near) > 1:
        return paragraph(
            "Buy", f"that depends on the section: {', '.join(as_near)} are as near. {tell}"
        )
    return paragraph(
        "Buy", f"{name}, if the belt is of section {best.section}; otherwise as below. {tell}"
    )


def _none_is_near(candidates: tuple[Candidate, ...]) -> str:
    if len(candidates) == 1:
        return " ".join(candidates[0].what_to_do)
    return "No section has a published length near enough. Name one to be told what else there is."


def _to_buy(candidate: Candidate, display: Display) -> str:
    if candidate.near_enough:
        off, name = _signed(candidate.buy.difference, display), candidate.buy.designation
        if float(off) == 0:
            return f"{name}, which is of that length"
        size, way = off.lstrip("+-"), "shorter" if off.startswith("-") else "longer"
        unit = UNITS[display].length
        return f"{name}, {size} {unit} {way} than what was found, which is near enough"
    return (
        f"{_answered(candidate)}, if it can be had: it is in no published series, but nearly every "
        "inch is stocked (common practice)"
    )


def _answered(candidate: Candidate) -> str:
    return _name(candidate.answer)


def _off(candidate: Candidate) -> float:
    """How far the belt to buy is from what was measured [m]."""
    return abs((candidate.answer or candidate.buy).difference or 0.0)


def _choice(candidates: tuple[Candidate, ...], display: Display) -> str:
    here = UNITS[display]
    columns = [
        _Column("section", "", 7, [one.section for one in candidates]),
        _Column("width", here.length, 6, [here.long(one.top_width) for one in candidates]),
        _Column(
            "pitch length", here.length, 12, [here.long(one.pitch_length) for one in candidates]
        ),
        _Column("nearest", "", 9, [_name(one.answer or one.buy) for one in candidates]),
        _Column(
            "off",
            here.length,
            7,
            [_signed((one.answer or one.buy).difference, display) for one in candidates],
        ),
        _Column("buy", "", 3, ["no" if one.answer is None else "yes" for one in candidates]),
        _Column("shorter", "", 9, [_name(one.shorter) for one in candidates]),
        _Column("longer", "", 9, [_name(one.longer) for one in candidates]),
        _Column(
            "shafts",
            here.length,
            8,
            [here.long((one.answer or one.buy).center_distance) for one in candidates],
        ),
    ]
    title = "WHAT TO BUY (pitch length found; the nearest belt, how far off; those beside)"
    return "\n".join([title, *_table(columns)])


def _candidate(one: Candidate, display: Display, *, told: bool) -> str:
    """A section in full; ``told`` where what to do has not been said above."""
    belts = [belt for belt in (one.shorter, one.buy, one.if_stocked, one.longer) if belt]
    belts.sort(key=lambda belt: belt.pitch_length)
    lines = [
        f"SECTION {one.section}",
        bullets([one.how]),
        *_belts(belts, display),
        bullets([*(one.what_to_do if told else ()), *one.remarks, *_no_centers(belts)]),
    ]
    return "\n".join(lines)


def _belts(belts: list[BeltLength], display: Display) -> list[str]:
    """Belts side by side: lengths, the pitch length in both units, and where the shafts come."""
    here, there = UNITS[display], UNITS[_OTHER[display]]
    unit = here.length
    columns = [
        _Column("new belt", "", 10, [belt.designation for belt in belts]),
        _Column("inside", unit, 8, [here.long(belt.inside_length) for belt in belts]),
        _Column("pitch", unit, 8, [here.long(belt.pitch_length) for belt in belts]),
        _Column("pitch", there.length, 8, [there.long(belt.pitch_length) for belt in belts]),
        _Column("outside", unit, 8, [here.long(belt.outside_length) for belt in belts]),
        _Column("off", unit, 7, [_signed(belt.difference, display) for belt in belts]),
        _Column("shafts", unit, 8, [here.long(belt.center_distance) for belt in belts]),
        _Column("wrap", "motor", 5, [_degrees(belt.wrap_motor) for belt in belts]),
        _Column("(deg)", "driven", 6, [_degrees(belt.wrap_driven) for belt in belts]),
    ]
    return _table(columns)


def _no_centers(belts: list[BeltLength]) -> list[str]:
    """Why shafts have no place, each reason once."""
    reasons: dict[str, list[str]] = {}
    for belt in belts:
        if belt.why_no_center:
            reasons.setdefault(belt.why_no_center, []).append(belt.designation)
    return [
        f"No centre distance{'' if len(names) == len(belts) else ' of ' + ', '.join(names)}: {why}."
        for why, names in reasons.items()
    ]


def _facts_page(facts: BeltFacts, display: Display, *, more: bool) -> str:
    belt = facts.belt
    series = "in a published series" if belt.in_series else "in no published series: ask for it"
    answer = [
        heading(f"What {belt.designation} is"),
        paragraph("Length", f"{series} ({belt.source}; {belt.sure})."),
        "\n".join(["LENGTHS OF A NEW BELT", *_belts([belt], display)]),
        "ABOUT IT\n" + bullets([*_readings(facts, display), *_no_centers([belt])]),
    ]
    sources = "WHERE THE NUMBERS ARE FROM\n" + bullets(f"{one}." for one in facts.sources)
    return page("measure ...", answer, (sources,), more=more)


def _readings(facts: BeltFacts, display: Display) -> list[str]:
    belt = facts.belt
    said = [
        f"Section {_length(facts.top_width, display)} wide at the top and "
        f"{_length(facts.height, display)} high.",
        f"A tape round its inside would read {_both(belt.inside_length, display)}, round its "
        f"outside {_both(belt.outside_length, display)}.",
    ]
    if facts.string_over_grooves is not None:
        said.append(
            "A string over the rims of grooved pulleys, where the belt is just taut, would read "
            f"{_both(facts.string_over_grooves, display)}."
        )
    said.append(
        f"Over flat rims it would read {_both(facts.string_over_flat_rims, display)}: a V-belt "
        "lies on them with its inside."
    )
    if facts.outside_less_pitch is not None:
        said.append(
            "A grooved pulley measures "
            f"{_length(facts.outside_less_pitch, display)} more over its rims than its pitch "
            "diameter."
        )
    if facts.least_diameter is not None:
        said.append(
            f"Least pitch diameter that is recommended: {_length(facts.least_diameter, display)}."
        )
    for groove in facts.grooves:
        rims = groove.outside_diameter
        over = "" if rims is None else f", {_length(rims, display)} over the rims"
        said.append(
            f"Groove of {groove.why}, {_length(groove.pitch_diameter, display)} in pitch "
            f"diameter{over}: {math.degrees(groove.groove_angle):.0f} deg."
        )
    return [*said, *_spread(facts, display)]


def _spread(facts: BeltFacts, display: Display) -> list[str]:
    """How much belts of the same number differ."""
    belt, said = facts.belt, []
    if belt.tolerance_short is not None and belt.tolerance_long is not None:
        short, long = (_length(one, display) for one in (belt.tolerance_short, belt.tolerance_long))
        said.append(
            f"A new one may come {short} shorter or {long} longer ({belt.tolerance_source})."
        )
    if facts.matching_limit is not None:
        said.append(
            "Belts of one set should be within "
            f"{_length(facts.matching_limit, display)} of each other in length."
        )
    return said


def _table(columns: list[_Column]) -> list[str]:
    """Lines of a table, without the columns that say nothing of any row; the first is flush."""
    first, *others = (one for one in columns if set(one.cells) != {"-"})
    rows = zip(*([one.head, one.unit, *one.cells] for one in (first, *others)), strict=True)
    return [
        (
            f"{row[0]:<{first.width}}"
            + "".join(f" {cell:>{one.width}}" for cell, one in zip(row[1:], others, strict=True))
        ).rstrip()
        for row in rows
    ]


def _length(value: float | None, display: Display) -> str:
    return f"{UNITS[display].long(value)} {UNITS[display].length}"


def _both(value: float, display: Display) -> str:
    """A length to buy or to check by, in the units of either shop."""
    return f"{_length(value, display)} ({_length(value, _OTHER[display])})"


def _signed(value: float | None, display: Display) -> str:
    text = UNITS[display].long(value)
    return text if value is None or value < 0 or float(text) == 0 else f"+{text}"


def _name(belt: BeltLength | None) -> str:
    return "-" if belt is None else belt.designation


def _degrees(angle: float | None) -> str:
    return "-" if angle is None else f"{math.degrees(angle):.0f}"
