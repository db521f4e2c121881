"""A measured drive as text: what to buy for each section, or what a belt is; then how and why."""

from __future__ import annotations

import math

from mountcalc.measure.results import BeltFacts, BeltLength, Candidate, Measured, Reading
from mountcalc.pages.amounts import UNITS
from mountcalc.pages.page import bullets, columns, heading, page, paragraph
from mountcalc.scenario.text.writing import Display

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
_COMMAND = "measure ..."


def measure_text(measured: Measured, display: Display, *, more: bool = False) -> str:
    """The page of what was measured."""
    if measured.facts is not None:
        return _facts_page(measured.facts, display, more=more)
    candidates, found = measured.candidates, _length(measured.measured, display)
    shown = candidates[: _IN_FULL if len(candidates) <= _IN_FULL else 1]
    answer = [
        heading(f"Measured: {_READINGS[measured.reading].format(found)}"),
        paragraph("Buy", _buy(candidates, display)),
        _choice(candidates, display),
        *("\n".join([f"SECTION {one.section}", *_belts(_beside(one), display)]) for one in shown),
        *(
            bullets(one.what_to_do)
            for one in shown
            if len(shown) > 1 and one.what_to_do  # else it has been said above
        ),
        "HOW FAR THE READING MAY MISLEAD\n" + bullets(measured.notes),
    ]
    rest = [
        f"HOW SECTION {one.section} IS FOUND\n"
        + bullets([one.how, *one.remarks, *_no_centers(_beside(one))])
        for one in shown
    ]
    return page(_COMMAND, answer, rest, more=more)


def _buy(candidates: tuple[Candidate, ...], display: Display) -> str:
    near = [one for one in candidates if one.answer is not None]
    if not near and len(candidates) == 1:
        return f"nothing yet. {' '.join(candidates[0].what_to_do)}"
    if not near:
        return (
            "nothing yet. No section has a published length near enough. Name one to be told what "
            "else there is."
        )
    best, name = near[0], _to_buy(near[0], display)
    if len(candidates) == 1:
        return f"{name}."
    as_near = [_name(one.answer) for one in near if abs(_off(one) - _off(best)) < _AS_NEAR]
    tell = "The belt's top width and the pulleys' grooves tell which section it is."
    if len(as_near) > 1:
        return f"that depends on the section: {', '.join(as_near)} are as near. {tell}"
    return f"{name}, if the belt is of section {best.section}; otherwise as below. {tell}"


def _to_buy(candidate: Candidate, display: Display) -> str:
    if not candidate.near_enough:
        return (
            f"{_name(candidate.answer)}, if it can be had: it is in no published series, but "
            "nearly every inch is stocked (common practice)"
        )
    off, name = _signed(candidate.buy.difference, display), candidate.buy.designation
    if float(off) == 0:
        return f"{name}, which is of that length"
    way = "shorter" if off.startswith("-") else "longer"
    size = f"{off.lstrip('+-')} {UNITS[display].length}"
    return f"{name}, {size} {way} than what was found, which is near enough"


def _off(candidate: Candidate) -> float:
    """How far the belt to buy is from what was measured [m]."""
    return abs((candidate.answer or candidate.buy).difference or 0.0)


def _choice(candidates: tuple[Candidate, ...], display: Display) -> str:
    here, unit = UNITS[display], UNITS[display].length
    rows = [
        ["section", "width", "pitch", "nearest", "off", "buy", "shorter", "longer", "shafts"],
        ["", unit, unit, "", unit, "", "", "", unit],
    ]
    for one in candidates:
        nearest = one.answer or one.buy
        widths = here.long(one.top_width), here.long(one.pitch_length)
        off, buy = _signed(nearest.difference, display), "no" if one.answer is None else "yes"
        beside = _name(one.shorter), _name(one.longer), here.long(nearest.center_distance)
        rows.append([one.section, *widths, nearest.designation, off, buy, *beside])
    title = "WHAT TO BUY (pitch length found; the nearest belt, how far off; those beside)"
    return "\n".join([title, *_table(rows)])


def _beside(one: Candidate) -> list[BeltLength]:
    """The belt to buy and those beside it, from short to long."""
    belts = [belt for belt in (one.shorter, one.buy, one.if_stocked, one.longer) if belt]
    return sorted(belts, key=lambda belt: belt.pitch_length)


def _belts(belts: list[BeltLength], display: Display) -> list[str]:
    """Belts side by side: lengths, the pitch length in both units, and where the shafts come."""
    here, there = UNITS[display], UNITS[_OTHER[display]]
    unit = here.length
    rows = [
        ["new belt", "inside", "pitch", "pitch", "outside", "off", "shafts", "wrap", "(deg)"],
        ["", unit, unit, there.length, unit, unit, unit, "motor", "driven"],
    ]
    for belt in belts:
        inside, pitch, outside, shafts = map(
            here.long,
            (belt.inside_length, belt.pitch_length, belt.outside_length, belt.center_distance),
        )
        wraps = (
            "-" if angle is None else f"{math.degrees(angle):.0f}"
            for angle in (belt.wrap_motor, belt.wrap_driven)
        )
        lengths = inside, pitch, there.long(belt.pitch_length), outside
        off = _signed(belt.difference, display)
        rows.append([belt.designation, *lengths, off, shafts, *wraps])
    return _table(rows)


def _table(rows: list[list[str]]) -> list[str]:
    """Lines of a table, without the columns that say nothing of any row."""
    shown = [column for column in zip(*rows, strict=True) if set(column[2:]) != {"-"}]
    return columns(list(zip(*shown, strict=True)), left={0})


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
    return page(_COMMAND, answer, (sources,), more=more)


def _readings(facts: BeltFacts, display: Display) -> list[str]:
    belt, inside, outside = facts.belt, facts.belt.inside_length, facts.belt.outside_length

    def one(value: float | None) -> str:
        return _length(value, display)

    def both(value: float | None) -> str:
        """In the units of either shop."""
        return f"{one(value)} ({_length(value, _OTHER[display])})"

    said = [
        f"Section {one(facts.top_width)} wide at the top and {one(facts.height)} high.",
        f"A tape round its inside would read {both(inside)}, round its outside {both(outside)}.",
    ]
    if facts.string_over_grooves is not None:
        said.append(
            "A string over the rims of grooved pulleys, where the belt is snug, would read "
            f"{both(facts.string_over_grooves)}."
        )
    said.append(
        f"Over flat rims it would read {both(facts.string_over_flat_rims)}: a V-belt lies on them "
        "with its inside."
    )
    more = {
        "A grooved pulley measures {} more over its rims than its pitch diameter.": (
            facts.outside_less_pitch
        ),
        "Least pitch diameter that is recommended: {}.": facts.least_diameter,
        "Belts of one set should be within {} of each other in length.": facts.matching_limit,
    }
    said += [text.format(one(value)) for text, value in more.items() if value is not None]
    for groove in facts.grooves:
        rims = groove.outside_diameter
        over = "" if rims is None else f", {one(rims)} over the rims"
        said.append(
            f"Groove of {groove.why}, {one(groove.pitch_diameter)} in pitch diameter{over}: "
            f"{math.degrees(groove.groove_angle):.0f} deg."
        )
    if belt.tolerance_short is not None and belt.tolerance_long is not None:
        short, long = one(belt.tolerance_short), one(belt.tolerance_long)
        said.append(
            f"A new one may come {short} shorter or {long} longer ({belt.tolerance_source})."
        )
    return said


def _length(value: float | None, display: Display) -> str:
    return f"{UNITS[display].long(value)} {UNITS[display].length}"


def _signed(value: float | None, display: Display) -> str:
    text = UNITS[display].long(value)
    return text if value is None or value < 0 or float(text) == 0 else f"+{text}"


def _name(belt: BeltLength | None) -> str:
    return "-" if belt is None else belt.designation
