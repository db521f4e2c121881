"""The gentlest setting as text for the bench: what to do first, then the numbers behind it."""

from __future__ import annotations

from collections.abc import Iterator

from mountcalc.check import NOTHING
from mountcalc.pages.amounts import UNITS, deflection_text
from mountcalc.pages.page import bullets, heading, page, paragraph, unlikely, wrap
from mountcalc.requirements.notes import less_for_new, note_texts
from mountcalc.requirements.results import Advice, MethodName, Setting
from mountcalc.requirements.setting import idles
from mountcalc.scenario.model import Scenario
from mountcalc.setting.methods_page import balance_words, methods_text, methods_why, spring_words
from mountcalc.strength.bolt_length import length_words
from mountcalc.table import giving, words

WIDEN = "WHAT WOULD WIDEN THE RANGE (each solved and judged anew, the widest first)"
_MOST_REMEDIES = 4
_SIXTEENTH = 1 / 16  # of a turn: no hand tells it


def setting_text(scenario: Scenario, advice: Advice, *, more: bool = False) -> str:
    """The page of one setting; with ``more`` what it is made of, how fine it is, and notes."""
    setting, alone = advice.setting, advice.weight_alone
    by_weight = alone.keeps_sentence is not None and setting.set_turns is not None
    balance, weigh = setting.spring_balance, ""
    by_balance = [one for one in setting.methods if one.name is MethodName.BALANCE]
    if balance is not None and any(one.trustworthy for one in by_balance):
        weigh = paragraph("Weigh", balance_words(scenario, balance, setting.methods))
    spring = spring_words(scenario, setting.methods)
    answer = [
        heading(f"{scenario.title}: the gentlest setting"),
        paragraph("First", alone.keeps_sentence or "") if by_weight else "",
        giving.unsaid(scenario, setting.set_turns),
        open_or_closed(scenario, setting),
        "\n".join(
            [
                methods_text(scenario, setting.methods, advice.span, by_weight=by_weight),
                *(wrap(text, "  ", "  ") for text in new_belt(scenario, setting)),
                *(wrap(text.strip(), "  ", "  ") for text in [words.own_count(scenario)] if text),
            ]
        ),
        paragraph("Spring", spring) if spring else weigh,
        _window(scenario, setting),
        _remedies(widen(scenario, advice)),
        "" if more else unlikely(scenario),  # among the notes
    ]
    bolt = length_words(scenario)
    rest = (
        paragraph("Bolt", f"{bolt[:1].upper()}{bolt[1:]} (mountcalc parts).") if bolt else "",
        weigh if spring else "",
        methods_why(setting.methods),
        _steps(scenario, setting),
        _sensitivity(scenario, setting),
        _weight(advice),
        "NOTES\n" + bullets(note_texts(advice.notes)),
    )
    return page(
        "setting FILE", answer, rest, more=more, what="why so, notes, sources, all cautions"
    )


def open_or_closed(scenario: Scenario, setting: Setting) -> str:
    """The verdict: whether there is a setting, and what it keeps."""
    units = UNITS[scenario.display]
    if setting.open and setting.set_tension is not None:
        keeps = f"keeps a grip of {setting.grip_wanted:g} and every bearing within its limits"
        tension = f"{units.strength(setting.set_tension, 2)} {units.force} on each strand"
        if setting.turns_min is None:
            text = f"Open: weight alone puts {tension}; that {keeps}."
        else:
            lead = setting.methods[0].name.words if setting.methods else "adjuster"
            text = (
                f"Open: {tension}, at rest, {keeps}, for the softest and the stiffest belt, the "
                f"error of the {lead} included."
            )
    else:
        text = f"{'None' if idles(scenario) else 'Closed'}: {setting.why_not_open}."
    if setting.slips_at_start:
        text += (
            " The belt slips for a moment as it starts; many do. If yours must not, set "
            "starting_grip in [limits]."
        )
    return paragraph("Verdict", f"{text} mountcalc check judges the rest.")


def new_belt(scenario: Scenario, setting: Setting) -> Iterator[str]:
    """Where its setting ends as weight gives no more; that it gets less than it is to lose."""
    free, old, new = setting.free_turns, setting.set_tension, setting.new_tension
    if free is not None and setting.new_turns is not None and free - setting.new_turns < _SIXTEENTH:
        noun = words.adjuster_noun(scenario)
        yield (
            f"A new belt's setting ends at {words.counted_turns(setting.new_turns)}, where the "
            f"{noun} comes free: leave the {noun} clear, more turns add nothing."
        )
    if not setting.methods or old is None or new is None:
        return
    less = less_for_new(scenario.limits.bedding, (setting.set_turns, old), (setting.new_turns, new))
    if less is not None:
        times, bedding = less.numbers["times"], less.numbers["bedding"]
        yield (
            f"A new belt gets only {times:.2f} of the {bedding:g} times wanted: look at it sooner."
        )


def _window(scenario: Scenario, setting: Setting) -> str:
    governs = setting.governs
    if governs.min_reason is not None and governs.min_reason == governs.max_reason:
        return ""
    fewest, most = range_ends(scenario, setting)
    lines = paragraph("fewest", fewest), paragraph("most", most)
    return "\n".join(["THE RANGE (turns from zero, tension of one strand at rest)", *lines])


def range_ends(scenario: Scenario, setting: Setting) -> tuple[str, str]:
    """The fewest and the most turns, their tensions, and what decides them."""
    units, governs, said = UNITS[scenario.display], setting.governs, []
    for word, turns, tension, ruler, why in (
        ("fewer", setting.turns_min, setting.tension_min, governs.min, governs.min_reason),
        ("more", setting.turns_max, setting.tension_max, governs.max, governs.max_reason),
    ):
        reason = "as the verdict says" if why and why == setting.why_not_open else why
        if turns is None or (turns == 0 and reason is not None):
            said.append(f"none: {reason}.")
            continue
        text = f"{turns:.2f} turns, {units.strength(tension, 2)} {units.force}"
        if ruler is not None and ruler.part is not None:
            case = words.case_words(ruler.case)
            text += f": with {word}, {ruler.limited} is over its limit, {case}"
        elif ruler is not None and reason is None:
            text += f": the wanted grip is reached, {ruler.case}"
        said.append(f"{text}{'' if reason is None else f' ({reason})'}.")
    return said[0], said[1]


def _steps(scenario: Scenario, setting: Setting) -> str:
    units = UNITS[scenario.display]
    lines = [
        wrap(
            f"{units.strength(one.tension, 2):>6}  {'physics' if one.is_physics else 'caution'}: "
            f"{one.name}; {one.sentence}.",
            "",
            " " * 8,
        )
        for one in setting.steps
    ]
    head = f"WHAT THE SETTING IS MADE OF ({units.force} on each strand)"
    return "\n".join([head, *lines]) if lines else ""


def _sensitivity(scenario: Scenario, setting: Setting) -> str:
    fine = setting.sensitivity
    if fine.turns_range is None or fine.extension_range is None or fine.center_range is None:
        return ""
    if fine.turns_range <= 0:
        return ""
    display, units, sides = scenario.display, UNITS[scenario.display], words.flats(scenario)
    flats = f" or {sides * fine.turns_range:.1f} flats" if sides else ""
    lines = [
        "HOW FINE IT IS",
        paragraph(
            "range",
            f"{fine.turns_range:.2f} turns{flats}; "
            f"{deflection_text(fine.extension_range, display)} of the "
            f"{words.adjuster_noun(scenario)}; "
            f"{deflection_text(fine.center_range, display)} between the shafts.",
        ),
    ]
    if fine.tension_per_turn_low is not None:
        low, high = (
            units.strength(value, 2)
            for value in (fine.tension_per_turn_low, fine.tension_per_turn_high)
        )
        lines.append(
            paragraph(
                "a turn",
                f"adds {low} to {high} {units.force} to each strand, softest to stiffest belt.",
            )
        )
    return "\n".join(lines)


def _remedies(said: list[str]) -> str:
    return f"{WIDEN}\n{bullets(said)}" if said else ""


def widen(scenario: Scenario, advice: Advice) -> list[str]:
    """What would widen the range, in numbers; whether even the gentlest tension grows by it."""
    units, before = UNITS[scenario.display], advice.setting

    def force(value: float | None) -> str:
        return f"{units.strength(value, 2)} {units.force}"

    said = []
    for remedy in advice.remedies[:_MOST_REMEDIES]:
        low, high, old = remedy.tension_min, remedy.tension_max, before.tension_min
        text = f"{remedy.sentence} Then: open"
        if remedy.name == "weight-alone":
            low, old = advice.weight_alone.tension, before.set_tension
            text += f", {force(low)} on each strand"
        elif low is not None and high is not None:
            text += f", {units.strength(low, 2)} to {force(high)}"
        if remedy.turns_range_after is not None:
            text += f", {remedy.turns_range_after:.2f} turns"
        if remedy.widening is not None:
            text += f", {remedy.widening:.2f} times as wide"
        if low is not None and old is not None and low > 1.01 * old:  # as far as a page shows
            text += f"; the gentlest tension grows from {force(old)}"
        said.append(f"{text}.")
    if not said and not before.open and not advice.weight_alone.keeps and not idles(scenario):
        said = [NOTHING]
    return said


def _weight(advice: Advice) -> str:
    alone = advice.weight_alone
    seeks = not alone.keeps and alone.wanted_tension is not None
    hinge = alone.hinge_sentence if seeks else None
    sentences = (alone.tension_sentence, alone.over_tightens_sentence, hinge)
    return "WEIGHT ALONE (adjuster off, plate free)\n" + bullets(s for s in sentences if s)
