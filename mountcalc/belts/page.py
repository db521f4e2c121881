"""The choice of a belt as text: which to buy, the lengths ranked, why one is out; the rest."""

from __future__ import annotations

import math

from mountcalc.belts.choice import is_made_to_length
from mountcalc.belts.drive import NOT_JUDGED
from mountcalc.belts.results import BeltChoice, BeltOption, PulleyPair
from mountcalc.judgement import Judgement, Verdict
from mountcalc.pages.amounts import (
    UNITS,
    figures,
    length_text,
    need_text,
    power_text,
    room_text,
    speed_text,
)
from mountcalc.pages.page import bullets, heading, page, paragraph, wrap
from mountcalc.requirements.swing import Room
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.text.wording import listed, section_words

_RPM = 2 * math.pi / 60
# Lengths that the short page has lines for.
_MOST_LINES = 9
# What a length is out for, or has a caution for, in the room that its line has.
_FOR = {
    "belt-install": " fit on",
    "belt-take-up": " take up",
    "belt-power": " power",
    "belt-tolerance": " length",
}


def belts_text(scenario: Scenario, choice: BeltChoice, *, more: bool = False) -> str:
    """The page of one choice."""
    answer = [heading(f"{scenario.title}: which belt"), _verdict(scenario, choice)]
    rest = [_drive(scenario, choice)]
    if choice.belts:
        answer[-1] += "\n" + _best(scenario, choice)
        answer.append(_table(scenario, choice, more=more))
        rest += [_details(scenario, choice), *_faults(choice)]
    shared = [
        f"{one.sentence[0].upper()}{one.sentence[1:]} [{one.source}]."
        for one in choice.drive.judgements
        if one.verdict in {Verdict.FAIL, Verdict.CAUTION}
    ]
    answer += [
        "EVERY LENGTH\n" + bullets(shared) if shared else "",
        _pulleys(scenario, choice),
        "NOTES\n" + bullets(choice.notes) if choice.notes else "",
    ]
    return page("belts FILE", answer, rest, more=more)


def _verdict(scenario: Scenario, choice: BeltChoice) -> str:
    travel = (
        f"pitch lengths from {length_text(choice.shortest_path, scenario.display)} to "
        f"{length_text(choice.longest_path, scenario.display)} become snug in the travel"
    )
    if not choice.belts:
        return paragraph("Verdict", f"No published length becomes snug: {travel}.")
    first, good = choice.belts[0], [option for option in choice.belts if option.ok]
    text = f"No length will do; the least bad is {first.designation}. See below why"
    if good:
        text = f"{first.designation} {_lead(good)}"
        if first.cautions:
            text += ", with a caution, below"
        clear = [option.designation for option in good[1:] if not option.cautions]
        if clear:
            text += f"; {listed(clear, 'and')} would do too"
        elif len(good) > 1:
            text += "; others with cautions, below"
        elif len(choice.belts) > 1:
            text += "; no other length will do"
    text += f".{_yours(scenario, choice)} ({travel[0].upper()}{travel[1:]}.)"
    return paragraph("Verdict", text)


def _yours(scenario: Scenario, choice: BeltChoice) -> str:
    """What becomes of the belt that the scenario names, where that is not said yet."""
    yours = next((option for option in choice.belts if option.is_yours), None)
    if yours is None:
        return " Yours never becomes snug in the travel."
    name, is_first = f" Yours, {yours.designation}, is", yours is choice.belts[0]
    if not yours.ok:
        return f"{name} out." if not is_first else ""
    if not yours.in_series and not is_made_to_length(scenario.belt):
        return f"{name} in no published series: ask whether it is made."
    return f"{name} good." if not is_first else ""


def _lead(good: list[BeltOption]) -> str:
    """Why the first of the good lengths is first."""
    if len(good) == 1:
        return "has room to be fitted and to be taken up"
    room, best = "leaves the most room to fit it and to take it up", good[0]
    peers = [one for one in good if len(one.cautions) == len(best.cautions)]
    if all(one.room_share <= best.room_share for one in good):
        return room
    if all(one.room_share <= best.room_share for one in peers):
        return f"{room} of those with the fewest cautions"
    return f"{room} of the usual lengths"


def _best(scenario: Scenario, choice: BeltChoice) -> str:
    """What the first length wants of the mount, and what it carries."""
    best, drive, display = choice.belts[0], choice.drive, scenario.display
    carries = "not judged, no rating is known"
    if best.rating is not None:
        have = "" if drive.count == 1 else f", {drive.count} belts"
        carries = f"{power_text(best.rating, display)} a belt{have}"
    carries += (
        f"; {power_text(drive.design_power, display)} is asked, {power_text(drive.power, display)} "
        f"times the service factor {drive.service_factor:g}."
    )
    paragraphs = {
        "Fit": _wanted(scenario, best.install, "come {} closer", "to slip it on"),
        "Take up": _wanted(scenario, best.take_up, "go {} further apart", "as it stretches"),
        "Carries": carries,
    }
    return "\n".join(paragraph(name, text) for name, text in paragraphs.items())


def _wanted(scenario: Scenario, room: Room, move: str, why: str) -> str:
    """What the shafts must do, and where the plate is then."""
    if room.needed == 0:
        return f"the shafts need not move: {room.source}."
    text = f"the shafts must {move.format(need_text(room.needed, scenario.display))} {why}"
    there = room_text(room.there, scenario.display)
    if room.plate_angle is None:
        return f"{text}: only {there} is there."
    angle = f"{math.degrees(room.plate_angle):.2f} deg"
    return f"{text} ({there} is there): the plate is then at {angle}."


def _table(scenario: Scenario, choice: BeltChoice, *, more: bool) -> str:
    unit, power = UNITS[scenario.display].length, power_text(1.0, scenario.display).split()[1]
    shown = [
        option
        for place, option in enumerate(choice.belts)
        if more or option.is_yours or place < _MOST_LINES
    ]
    left = len(choice.belts) - len(shown)
    lines = [
        "THE LENGTHS, best first (room: what the travel gives / what is wanted)",
        f"  {'belt':<10}{'pitch':>7}{'plate':>8}{'centres':>8}{'fit on':>10}{'take up':>10}"
        f"{'rating':>7}{'belts':>6}",
        f"  {'':<10}{unit:>7}{'deg':>8}{unit:>8}{unit:>10}{unit:>10}{power:>7}",
        *(_line(scenario, choice, option) for option in shown),
        *([f"  and {left} more lengths, no better: --more"] if left else []),
        wrap(
            "plate: its angle at snug, from as drawn. fit on: how far the shafts come closer "
            "from there. take up: how far they go apart. rating: of one belt. *: yours. ~: in no "
            "published series. ok?: with a caution. After out and ok? stands why.",
            "  ",
            "  ",
        ),
    ]
    return "\n".join(lines)


def _line(scenario: Scenario, choice: BeltChoice, option: BeltOption) -> str:
    """Figures of one length, whether it will do, and for what of its own if not, or perhaps not."""
    units, display = UNITS[scenario.display], scenario.display
    mark = ("*" if option.is_yours else "") + ("" if option.in_series else "~")
    # Together as wide as their heads, but a space between them in any case.
    name, pitch = option.designation + mark, units.long(option.pitch_length)
    rating = "-" if option.rating is None else power_text(option.rating, display).split()[0]
    status = "ok"
    if not option.ok or option.cautions:
        own = _own(choice, option, Verdict.CAUTION if option.ok else Verdict.FAIL)
        why = [_FOR.get(one.name, "") for one in own]
        status = ("ok?" if option.ok else "out") + (why[0] if why else "")
    return (
        f"  {name} {pitch:>{max(0, 16 - len(name))}}"
        f"{math.degrees(option.snug_plate_angle):>8.2f}{units.long(option.center_distance):>8}"
        f" {_room(scenario, option.install):>9} {_room(scenario, option.take_up):>9}"
        f"{rating:>7}{option.belts_needed or '-':>6} {status}"
    )


def _own(choice: BeltChoice, option: BeltOption, verdict: Verdict) -> list[Judgement]:
    """Judgements of a verdict that not every length shares."""
    shared = choice.drive.judgements
    return [one for one in option.judgements if one.verdict is verdict and one not in shared]


def _room(scenario: Scenario, room: Room) -> str:
    there = room_text(room.there, scenario.display).split()[0]
    needed = need_text(room.needed, scenario.display).split()[0] if room.needed > 0 else "-"
    if "." in there:
        # Ten inches and more without their last digit, which rounds down and keeps to the column.
        there = there[:4].rstrip(".")
    return f"{there}/{needed}"


def _pulleys(scenario: Scenario, choice: BeltChoice) -> str:
    if choice.wanted_speed is None:
        return ""
    wanted = choice.wanted_speed / _RPM
    if not choice.pulleys:
        return paragraph(
            "Speed",
            f"no pair of preferred diameters comes near {figures(wanted, 4)} rpm, with the shaft "
            "below its max_speed and the rims below theirs.",
        )
    first, unit = choice.pulleys[0], UNITS[scenario.display].length
    lines = [
        f"PULLEYS for {figures(wanted, 4)} rpm ({unit}; nearest belt for the centres as drawn)",
        f"  {'motor':>8}{'driven':>9}{'rpm':>8}{'off':>8}{'pitch':>8}  {'belt':<8}{'off':>8}",
        f"  {first.motor_named:>8}{first.driven_named:>9}",
        *(_pair(scenario, pair) for pair in choice.pulleys),
    ]
    if first.difference is not None:
        lines.append("  off: a belt so much longer puts the shafts half as much further apart.")
    return "\n".join(lines)


def _pair(scenario: Scenario, pair: PulleyPair) -> str:
    units = UNITS[scenario.display]
    off = "-" if pair.difference is None else units.long(pair.difference)
    off = off if off.startswith("-") else f"+{off}"
    new = {"driven": "new motor pulley", "motor": "new driven pulley", "both": "as they are"}
    return (
        f"  {units.long(pair.motor_pulley):>8}{units.long(pair.driven_pulley):>9}"
        f"{figures(pair.driven / _RPM, 4):>8}{round(100 * pair.speed_error, 1) + 0.0:>+7.1f}%"
        f"{units.long(pair.pitch_length):>8}  {pair.designation or '-':<8}{off:>8}  "
        f"{new.get(pair.kept or '', 'both new')}"
    )


def _drive(scenario: Scenario, choice: BeltChoice) -> str:
    """What holds for every length, and where it is from."""
    drive, display = choice.drive, scenario.display
    belts = "one belt" if drive.count == 1 else f"{drive.count} belts"
    low, high = drive.service_factor_low, drive.service_factor_high
    of_range = f"{low:g}" if low == high else f"{low:g} to {high:g}, the upper end taken"
    rating = f"{drive.rating_why_not}."
    if drive.table_rating is not None:
        others = "; ".join(
            f"{power_text(other.table_rating, display)} by {other.source}"
            for other in drive.other_ratings
        )
        rating = (
            f"{power_text(drive.table_rating, display)} a belt before the factors for arc and "
            f"length, by {drive.rating_source}. "
        ) + (
            f"Other generations, their factors for the speed ratio in them: {others}."
            if others
            else "Generations of ratings differ by up to two times: compare only within one."
        )
    pulleys = [  # what does not pass stands above
        one.sentence
        for one in drive.judgements
        if one.name.endswith("-pulley") and one.verdict is Verdict.PASS
    ]
    if drive.least_diameter is None:
        pulleys.insert(0, "no least one is known for this belt")
    if drive.least_motor_sentence and drive.least_motor_diameter is None:
        pulleys.append(drive.least_motor_sentence)
    paragraphs = {
        "Drive": f"{belts}, {section_words(drive.section)}, running at "
        f"{speed_text(drive.belt_speed, display)} (rims up to "
        f"{speed_text(drive.rim_speed, display)}); driven shaft at {drive.driven / _RPM:.0f} rpm "
        "without creep.",
        "Power": f"service factor {of_range}: {drive.service_factor_source}.",
        "Rating": rating,
    }
    if pulleys:
        paragraphs["Pulleys"] = f"{'; '.join(pulleys)}."
    return "\n".join(paragraph(name, text) for name, text in paragraphs.items())


def _details(scenario: Scenario, choice: BeltChoice) -> str:
    """Tolerance, factors and sources of the first length."""
    best, display = choice.belts[0], scenario.display
    rooms = best.install, best.take_up
    sources = dict.fromkeys(room.source for room in rooms if room.needed > 0)
    wrapped = math.degrees(min(best.wrap_motor, best.wrap_driven))
    text = f"its wrap on the smaller pulley is {wrapped:.0f} deg."
    if sources:
        text += f" How much room is wanted: {' and '.join(sources)}."
    if best.shortest is not None and best.longest is not None:
        ends = best.shortest, best.longest
        lengths = " to ".join(length_text(end.pitch_length, display) for end in ends)
        snug = " to ".join(
            "beyond the travel" if angle is None else f"{math.degrees(angle):.2f} deg"
            for angle in (end.snug_plate_angle for end in ends)
        )
        text += f" By its tolerance it is {lengths} long, and so snug from {snug}."
    if best.arc_factor is not None:
        factor = "" if best.length_factor is None else f", for its length {best.length_factor:.2f}"
        text += f" Its factor for the arc is {best.arc_factor:.2f}{factor}."
    return paragraph(best.designation, text)


def _faults(choice: BeltChoice) -> list[str]:
    """Why a length is out, cautions and remarks, in full."""
    heads = {
        "WHY A LENGTH IS OUT": Verdict.FAIL,
        "CAUTIONS ON LENGTHS (what may be, or limits nobody can vouch for)": Verdict.CAUTION,
        "GOOD TO KNOW": None,
    }
    sections = []
    for head, verdict in heads.items():
        lines = []
        for option in choice.belts:
            said = [one for one in option.remarks if one != NOT_JUDGED]
            if verdict is not None:
                said = [one.sentence for one in _own(choice, option, verdict)]
            if said:
                lines.append(f"{option.designation}: {'; '.join(said)}.")
        if lines:
            sections.append(f"{head}\n{bullets(lines)}")
    return sections
