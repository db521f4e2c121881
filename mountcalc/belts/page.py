"""The choice of a belt as text: what the drive asks for, the lengths ranked, why one is out."""

from __future__ import annotations

import math

from mountcalc.belts.power import NOT_JUDGED
from mountcalc.belts.results import BeltChoice, BeltOption, LengthEnd, PulleyPair, Room
from mountcalc.handbook.belts.grooves import outside_less_pitch, sized_by_outside
from mountcalc.judgement import Verdict
from mountcalc.pages.amounts import length_text, need_text, power_text, room_text
from mountcalc.pages.display import UNITS, figures
from mountcalc.pages.page import bullets, heading, page, paragraph, wrap
from mountcalc.scenario.model import Display, Scenario
from mountcalc.units import si_factor

__all__ = ["belts_text"]

_RPM = 2 * math.pi / 60
_POWER = {Display.INCH: "hp", Display.METRIC: "kW"}


def belts_text(scenario: Scenario, choice: BeltChoice, *, more: bool = False) -> str:
    """The page of one choice."""
    answer = [
        heading(f"{scenario.title}: which belt"),
        _verdict(scenario, choice),
        _drive(scenario, choice),
        _table(scenario, choice),
        _best(scenario, choice),
        _faults(choice),
        _pulleys(scenario, choice),
    ]
    notes = "NOTES\n" + bullets(choice.notes) if choice.notes else ""
    return page("belts FILE", answer, (notes,), more=more)


def _verdict(scenario: Scenario, choice: BeltChoice) -> str:
    good = [option for option in choice.belts if option.ok]
    yours = next((option for option in choice.belts if option.is_yours), None)
    travel = (
        f"pitch lengths from {length_text(choice.shortest_path, scenario.display)} to "
        f"{length_text(choice.longest_path, scenario.display)} become snug in the travel"
    )
    if not choice.belts:
        return paragraph("Verdict", f"No published length becomes snug: {travel}.")
    if good:
        text = f"{good[0].designation} {_lead(good)}"
        if _cautions(good[0]):
            text += ", with a caution, below"
        clear = [option.designation for option in good[1:] if not _cautions(option)]
        if clear:
            text += f"; {_listed(clear)} would do too"
        elif len(good) > 1:
            text += "; others only with cautions, below"
        elif len(choice.belts) > 1:
            text += "; no other length will do"
        text += "."
        if choice.drive.table_rating is None:
            text += " What it carries is not judged: no rating is known."
    else:
        text = f"No length will do; the least bad is {choice.belts[0].designation}. See below why."
    if yours is not None and (not good or yours is not good[0]):
        text += f" Yours, {yours.designation}, is {'good' if yours.ok else 'out'}."
    elif yours is None:
        text += " Yours never becomes snug in the travel."
    return paragraph("Verdict", f"{text} ({travel[0].upper()}{travel[1:]}.)")


def _lead(good: list[BeltOption]) -> str:
    """Why the first of the good lengths is first."""
    if len(good) == 1:
        return "has room to be fitted and to be taken up"
    room, best = "leaves the most room to fit it and to take it up", good[0]
    peers = [one for one in good if _cautions(one) == _cautions(best)]
    if all(one.room_share <= best.room_share for one in good):
        return room
    if all(one.room_share <= best.room_share for one in peers):
        return f"{room} of those with the fewest cautions"
    return f"{room} of the usual lengths"


def _listed(names: list[str]) -> str:
    return ", ".join(names[:-1]) + " and " + names[-1] if len(names) > 1 else names[0]


def _drive(scenario: Scenario, choice: BeltChoice) -> str:
    drive, units, display = choice.drive, UNITS[scenario.display], scenario.display
    belts = "one belt" if drive.count == 1 else f"{drive.count} belts"
    speed = units.of(drive.belt_speed, units.speed)
    rim = units.of(drive.rim_speed, units.speed)
    decimals = 0 if display is Display.INCH else 1
    lines = [
        paragraph(
            "Drive",
            f"{belts}, section {drive.section or 'not named'}, running at {speed:.{decimals}f} "
            f"{units.speed} (rims up to {rim:.{decimals}f}); driven shaft at "
            f"{drive.driven / _RPM:.0f} rpm without creep.",
        ),
        paragraph(
            "Power",
            f"{power_text(drive.power, display)} x {drive.service_factor:g} = "
            f"{power_text(drive.design_power, display)} to carry. Service factor "
            f"{_range(drive.service_factor_low, drive.service_factor_high)}: "
            f"{drive.service_factor_source}.",
        ),
        paragraph("Rating", _rating(scenario, choice)),
        paragraph("Pulleys", _least(scenario, choice)),
    ]
    return "\n".join(lines)


def _range(low: float, high: float) -> str:
    return f"{low:g}" if low == high else f"{low:g} to {high:g}, the upper end taken"


def _rating(scenario: Scenario, choice: BeltChoice) -> str:
    drive = choice.drive
    if drive.table_rating is None:
        return f"{drive.rating_why_not}."
    others = "; ".join(
        f"{_power(scenario, other.table_rating)} by {other.source}" for other in drive.other_ratings
    )
    text = (
        f"{_power(scenario, drive.table_rating)} a belt before the factors for arc and length, "
        f"by {drive.rating_source}."
    )
    if others:
        return f"{text} Other generations, their factors for the speed ratio in them: {others}."
    return f"{text} Generations of ratings differ by up to two times: compare only within one."


def _power(scenario: Scenario, power: float) -> str:
    unit = _POWER[scenario.display]
    return f"{power / si_factor(unit):.2f} {unit}"


def _least(scenario: Scenario, choice: BeltChoice) -> str:
    drive, display = choice.drive, scenario.display
    text = f"the smaller has a pitch diameter of {length_text(drive.small_diameter, display)}; "
    if drive.least_diameter is None:
        text += "no least one is known for this belt"
    else:
        text += f"the belt wants {need_text(drive.least_diameter, display)} or more"
        over = outside_less_pitch(drive.section or "")
        if over is not None and sized_by_outside(drive.section or ""):
            text += f" ({need_text(drive.least_diameter + over.value, display)} over the rim)"
    return f"{text}; {drive.least_motor_sentence}." if drive.least_motor_sentence else f"{text}."


def _table(scenario: Scenario, choice: BeltChoice) -> str:
    if not choice.belts:
        return ""
    unit, power = UNITS[scenario.display].length, _POWER[scenario.display]
    lines = [
        "THE LENGTHS, best first (room: what the travel gives / what is wanted)",
        f"  {'belt':<10}{'pitch':>7}{'plate':>8}{'centres':>9}{'fit on':>10}{'take up':>10}"
        f"{'wrap':>5}{'rating':>7}{'belts':>6}",
        f"  {'':<10}{unit:>7}{'deg':>8}{unit:>9}{unit:>10}{unit:>10}{'deg':>5}{power:>7}{'':>6}",
        *(_line(scenario, option) for option in choice.belts),
        wrap(
            "plate: its angle at snug, from as drawn. fit on: how far the centres close from "
            "there. take up: how far they open. wrap: on the smaller pulley. rating: of one belt, "
            "the factors for arc and length in it. *: yours. ~: in no published series. ok?: "
            "with a caution, below.",
            "  ",
            "  ",
        ),
    ]
    return "\n".join(line.rstrip() for line in lines)


def _line(scenario: Scenario, option: BeltOption) -> str:
    units = UNITS[scenario.display]
    mark = ("*" if option.is_yours else "") + ("" if option.in_series else "~")
    # Together as wide as their heads, but a space between them in any case.
    name, pitch = option.designation + mark, units.long(option.pitch_length)
    rating = "-" if option.rating is None else f"{_of(scenario, option.rating):.2f}"
    needed = "-" if option.belts_needed is None else str(option.belts_needed)
    wrap_deg = math.degrees(min(option.wrap_motor, option.wrap_driven))
    return (
        f"  {name} {pitch:>{max(0, 16 - len(name))}}"
        f"{math.degrees(option.snug_plate_angle):>8.2f}{units.long(option.center_distance):>9}"
        f" {_room(scenario, option.install):>9} {_room(scenario, option.take_up):>9}"
        f"{wrap_deg:>5.0f}{rating:>7}{needed:>6}  {_status(option)}"
    )


def _cautions(option: BeltOption) -> int:
    return sum(one.verdict is Verdict.CAUTION for one in option.judgements)


def _status(option: BeltOption) -> str:
    return "out" if not option.ok else "ok?" if _cautions(option) else "ok"


def _of(scenario: Scenario, power: float) -> float:
    return power / si_factor(_POWER[scenario.display])


def _room(scenario: Scenario, room: Room) -> str:
    there = room_text(room.there, scenario.display).split()[0]
    needed = need_text(room.needed, scenario.display).split()[0] if room.needed > 0 else "-"
    if "." in there:
        # Ten inches and more without their last digit, which rounds down and keeps to the column.
        there = there[:4].rstrip(".")
    return f"{there}/{needed}"


def _best(scenario: Scenario, choice: BeltChoice) -> str:
    if not choice.belts:
        return ""
    best = choice.belts[0]
    text = (
        f"To fit a new one {_wanted(scenario, best.install, 'close')}. To take it up "
        f"{_wanted(scenario, best.take_up, 'open')}."
    )
    if best.shortest is not None and best.longest is not None:
        text += (
            f" By its tolerance it is {length_text(best.shortest.pitch_length, scenario.display)} "
            f"to {length_text(best.longest.pitch_length, scenario.display)} long, and so snug from "
            f"{_snug(best.shortest)} to {_snug(best.longest)}."
        )
    if best.arc_factor is not None:
        factor = "" if best.length_factor is None else f", for its length {best.length_factor:.2f}"
        text += f" Its factor for the arc is {best.arc_factor:.2f}{factor}."
    return paragraph(best.designation, text)


def _wanted(scenario: Scenario, room: Room, verb: str) -> str:
    """What the centres must do, and where the plate is then."""
    if room.needed == 0:
        return f"the centres need not {verb}: {room.source}"
    where = "past the travel"
    if room.plate_angle is not None:
        where = f"of {math.degrees(room.plate_angle):.2f} deg"
    return (
        f"the centres must {verb} by {need_text(room.needed, scenario.display)} "
        f"({room.source}), to a plate angle {where}"
    )


def _snug(end: LengthEnd) -> str:
    if end.snug_plate_angle is None:
        return "beyond the travel"
    return f"{math.degrees(end.snug_plate_angle):.2f} deg"


def _faults(choice: BeltChoice) -> str:
    remarks = [
        f"{option.designation}: {'; '.join(known)}."
        for option in choice.belts
        if (known := [one for one in option.remarks if one != NOT_JUDGED])
    ]
    blocks = (
        ("WHY A LENGTH IS OUT", _judged(choice, Verdict.FAIL)),
        ("CAUTIONS ON LENGTHS (what may be, or limits nobody can vouch for)",
         _judged(choice, Verdict.CAUTION)),
        ("GOOD TO KNOW", remarks),
    )  # fmt: skip
    return "\n\n".join(f"{head}\n{bullets(lines)}" for head, lines in blocks if lines)


def _judged(choice: BeltChoice, verdict: Verdict) -> list[str]:
    """What judgements of a verdict say, of every length and of each."""
    shared = choice.drive.judgements
    lines = [
        f"Every length: {one.sentence} [{one.source}]." for one in shared if one.verdict is verdict
    ]
    for option in choice.belts:
        own = [
            one.sentence
            for one in option.judgements
            if one.verdict is verdict and one not in shared
        ]
        if own:
            lines.append(f"{option.designation}: {'; '.join(own)}.")
    return lines


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
        text = "off: a belt so much longer puts the shafts half as much further apart."
        lines.append(wrap(text, "  ", "  "))
    return "\n".join(lines)


def _pair(scenario: Scenario, pair: PulleyPair) -> str:
    units = UNITS[scenario.display]
    off = "-" if pair.difference is None else units.long(pair.difference)
    off = off if off.startswith("-") else f"+{off}"
    return (
        f"  {units.long(pair.motor_pulley):>8}{units.long(pair.driven_pulley):>9}"
        f"{figures(pair.driven / _RPM, 4):>8}{round(100 * pair.speed_error, 1) + 0.0:>+7.1f}%"
        f"{units.long(pair.pitch_length):>8}  {pair.designation or '-':<8}{off:>8}  {_new(pair)}"
    )


def _new(pair: PulleyPair) -> str:
    """Which pulleys are to be bought."""
    new = {"driven": "new motor pulley", "motor": "new driven pulley", "both": "as they are"}
    return "both new" if pair.kept is None else new[pair.kept]
