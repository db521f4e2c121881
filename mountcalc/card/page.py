"""The bench card as text to be printed and pinned up: what to do first, then the numbers."""

from __future__ import annotations

import math

from mountcalc.card.card import timing_of
from mountcalc.card.results import (
    BenchCard,
    Gives,
    StrandTest,
    TableComparison,
    Timing,
)
from mountcalc.handbook.rows import load
from mountcalc.pages.amounts import (
    UNITS,
    deflection_text,
    force_ranges,
    percent,
)
from mountcalc.pages.page import bullets, heading, page, paragraph, wrap
from mountcalc.requirements.notes import note_texts
from mountcalc.requirements.readings import readings_of, too_coarse
from mountcalc.requirements.results import Method, MethodName
from mountcalc.requirements.setting import gentlest_setting
from mountcalc.scenario.model import Scenario
from mountcalc.setting import (
    balance_words,
    method_label,
    methods_text,
    methods_why,
    spring_words,
)
from mountcalc.table import words as bench_words

_SWINGS = 10


def card_text(scenario: Scenario, card: BenchCard, *, more: bool = False) -> str:
    """The page of one card; with ``more`` why so, what a force table would do, and notes."""
    by_weight = card.weight_alone is not None
    weigh = (
        ""
        if card.spring_balance is None
        else paragraph(
            "Weigh", balance_words(scenario, card.spring_balance, card.methods, card.ceiling)
        )
    )
    spring = spring_words(scenario, card.methods)
    is_behind = by_weight or bool(spring)  # weighing is not what one goes by first
    first, *then = card_words(scenario, card)
    answer = [heading(f"{scenario.title}: bench card for the belt"), first]
    if card.bedded is not None:
        answer += [
            methods_text(scenario, card.methods, card.bedded.span, by_weight=by_weight)
            + ("\n  How to weigh: mountcalc setting FILE." if by_weight and weigh else ""),
            paragraph("Spring", spring) if spring else "",
            "" if is_behind else weigh,
            *then,
        ]
    rest = (
        weigh if is_behind else "",
        methods_why(card.methods),
        _force_table(scenario, card.table),
        "NOTES\n" + bullets(note_texts(card.notes)) if card.notes else "",
    )
    return page("card FILE", answer, rest, more=more)


def card_words(scenario: Scenario, card: BenchCard) -> list[str]:
    """Which tension; how it is heard and pressed; when to look again."""
    if card.bedded is None:
        return [paragraph("No card", card.why_not or "")]
    first = [] if card.weight_alone is None else [paragraph("First", card.weight_alone)]
    return [
        "\n\n".join([*first, _tension(scenario, card, card.bedded)]),
        hearing_text(scenario, card.bedded, card.new, card.methods),
        _press(scenario, card, card.bedded),
        _look_again(card),
    ]


def _tension(scenario: Scenario, card: BenchCard, bedded: StrandTest) -> str:
    units = UNITS[scenario.display]
    text = f"{units.strength(bedded.tension, 2)} {units.force} on each strand"
    if card.count > 1:
        text += f" of each of the {card.count} belts"
    text += f" at rest, {card.reason}"
    if bedded.turns is not None:
        text += f", {bench_words.counted_turns(bedded.turns)} from zero"
    text += "."
    if card.new is not None:
        new = f"{units.strength(card.new.tension, 2)} {units.force}"
        text += f" A new belt: {new}, {bench_words.counted_turns(card.new.turns)}"
    less = _less(card)
    text += f"{less}." if less or card.new is not None else ""
    if card.ceiling is not None:
        shown = readings_of(card.ceiling, scenario)
        label = method_label(scenario, card.ceiling, shown.unit, bedded.span)
        text += f" Never above {shown.never_above} ({label}): there a limit may be passed."
    text += bench_words.own_count(scenario)
    warning = "" if card.caution is None else "\n" + paragraph("But", card.caution)
    return paragraph("Tension", text) + warning


def _less(card: BenchCard) -> str:
    """How a new belt falls short of what it is to lose, where it does."""
    less = next((one for one in card.notes if one.id == "less-for-new"), None)
    if less is None:
        return ""
    if card.new is None:
        return " A new belt is set no tighter: look at it sooner"
    times, bedding = less.numbers["times"], less.numbers["bedding"]
    return f", only {times:.2f} of the {bedding:g} times wanted: look at it sooner"


def hearing_text(
    scenario: Scenario,
    bedded: StrandTest,
    new: StrandTest | None,
    methods: tuple[Method, ...] = (),
) -> str:
    """How a plucked strand is heard, filmed or counted; nothing where its note is not known."""
    timing, old = bedded.timing, bedded.span_frequency
    if timing is None or old is None:
        return ""
    both = [old] if new is None or new.span_frequency is None else [old, new.span_frequency]
    often = [f"{value:.{0 if value >= _SWINGS else 1}f}" for value in both]
    hum = next((one for one in methods if one.name is MethodName.HUM), None)
    if hum is not None:
        # The least that is read must be heard, and what is told is what the table has.
        timing = timing_of(hum.aim if hum.not_below is None else hum.not_below)
        shown = readings_of(hum, scenario)
        both = sorted({float(shown.aim), float(shown.new_aim)})
        often = [f"{value:g}" for value in both]
    facts = load("bench_card")
    frames, seconds = facts["filmed"]["frames_Hz"], facts["counted"]["seconds"]
    is_film, how, per = (
        timing is Timing.FILM,
        "A tuner program on a telephone held close shows",
        1.0,
    )
    unit = "Hz"
    if timing is Timing.COUNT:
        how, per, unit = "Count by eye:", seconds, f"swings in {seconds:.0f} s"
    elif is_film:
        how = f"Filmed at {frames:.0f} frames a second, {_SWINGS} swings take"
        per, unit = _SWINGS * frames, "frames"

    def read(value: float) -> float:
        return per / value if is_film else per * value

    counted = often if timing is Timing.MICROPHONE else [f"{read(value):.0f}" for value in both]
    text = f"Pluck the strand in mid-span: it swings {' (new: '.join(often)}"
    text += f"{')' if often[1:] else ''} times a second"
    text += ", too low for most telephones' tuner programs. " if is_film else ". "
    text += f"{how} {' (new: '.join(counted)}{')' if counted[1:] else ''} {unit}"
    for end, word in () if hum is None else (
        (hum.not_below, "too slack"), (hum.never_above, "too tight")
    ):  # fmt: skip
        if end is not None:
            more = (word == "too tight") != is_film
            limit = math.floor(read(end)) if more else math.ceil(read(end))
            text += f"; {'more' if more else 'fewer'} than {limit} is {word}"
    return paragraph("Hear", f"{text}.{too_coarse(hum)}")


def _press(scenario: Scenario, card: BenchCard, bedded: StrandTest) -> str:
    press = bedded.press
    how_far = deflection_text(press.deflection, scenario.display)
    belts = "" if card.count == 1 else " Do so with each belt."
    text = (
        "Motor unplugged. Turn the pulleys by hand a few times, so that both strands pull alike. "
        "Measure from a string along the strand, rim to rim. In mid-span press the belt "
        f"{how_far} (1/{press.span_over_deflection} of the span), square to it, with a "
        f"scale.{belts} It shows"
    )
    methods = gentlest_setting(scenario).methods
    way = next((one for one in methods if one.name is MethodName.PRESS), None)
    if card.methods:
        return paragraph("Press", f"{text} what the table says.{too_coarse(way)}")
    if card.new is not None:
        tests = {"bedded in": bedded, "new belt": card.new}
    else:
        tests = {"old or new" if bedded.gives is Gives.WHOLLY else "bedded in": bedded}
    pressed = (test.press for test in tests.values())
    shown = force_ranges(
        ((one.force_creeping, one.force_not_creeping) for one in pressed),
        scenario.display,
        None if way is None else way.aim,  # in the same unit on all cards of a mount
    )
    rows = (f"{'':14}{name + ':':14}{text}" for name, text in zip(tests, shown, strict=True))
    return "\n".join([paragraph("Press", f"{text}:"), *rows])


def _look_again(card: BenchCard) -> str:
    said: list[str] = []
    for look in card.look_again:
        sure = "" if look.sure == "published" else f" ({look.sure})"
        when = look.when
        if not said and _less(card):
            when = when.replace("after", "well within", 1)
        said.append(f"{when[:1].upper()}{when[1:]}: {look.sentence}{sure}.")
    return paragraph("Again", " ".join(said))


def _force_table(scenario: Scenario, table: TableComparison | None) -> str:
    """What a force table would do here, and what the common one does at large."""
    if table is None:
        return ""
    units = UNITS[scenario.display]
    here, said = f"For this mount the common table cannot be used: {table.why_not}.", []
    if table.row is not None:
        here = f"Here, by the {table.row} (stretch taken off: {table.stretch}):"
    for name, one in (("bedded in", table.bedded), ("new belt", table.new)):
        if one is None:
            continue
        (force,) = force_ranges([(one.table_force, one.table_force)], scenario.display)
        text = (
            f"{name}: {force} at span/64 is {units.strength(one.table_tension, 2)} {units.force} "
            f"on each strand, {one.times_tension:.1f} times this card's; "
        )
        if one.share_of_limit is None or one.share_as_set is None:
            said.append(f"{text}{one.why_not}.")
        else:
            said.append(
                f'{text}at rest bearing "{one.bearing}" would be at {percent(one.share_of_limit)} '
                f"% of its limit, where this card has {percent(one.share_as_set)} %."
            )
    lines = [wrap(text, "  ", "  ") for text in (table.published, here)]
    return "\n".join(["WHY NOT A FORCE TABLE", *lines, *([bullets(said)] if said else [])])
