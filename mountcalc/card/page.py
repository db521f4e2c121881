"""The bench card as text to be printed and pinned up: what to do first, then the numbers."""

from __future__ import annotations

from mountcalc.card.hearing import hearing_text
from mountcalc.card.numbers import by_age, table_text
from mountcalc.card.results import BenchCard
from mountcalc.pages.amounts import deflection_text, force_range, mass_range
from mountcalc.pages.display import UNITS, turns_text
from mountcalc.pages.page import bullets, heading, page, paragraph
from mountcalc.requirements.readings import too_coarse
from mountcalc.requirements.results import MethodName
from mountcalc.scenario.model import Display, Scenario
from mountcalc.setting import balance_words, methods_text

__all__ = ["card_text"]


def card_text(scenario: Scenario, card: BenchCard, *, more: bool = False) -> str:
    """The page of one card."""
    answer = [heading(f"{scenario.title}: bench card for the belt"), *_body(scenario, card)]
    notes = "NOTES\n" + bullets(card.notes) if card.notes else ""
    return page("card FILE", answer, (notes,), more=more)


def _body(scenario: Scenario, card: BenchCard) -> list[str]:
    if card.bedded is None:
        return [paragraph("No card", card.why_not or "")]
    return [
        "" if card.weight_alone is None else paragraph("First", card.weight_alone),
        _what(scenario, card),
        methods_text(scenario, card.methods, card.bedded.span),
        _weigh(scenario, card),
        hearing_text(card.bedded, card.new, card.methods),
        _press(scenario, card),
        _look_again(card),
        table_text(scenario, card.table),
    ]


def _what(scenario: Scenario, card: BenchCard) -> str:
    units = UNITS[scenario.display]
    assert card.bedded is not None
    at = f"{units.strength(card.bedded.tension, 2)} {units.force} on each strand"
    if card.count > 1:
        at += f" of each of the {card.count} belts"
    text = f"{at} at rest, {card.reason}"
    if card.bedded.turns is not None:
        text += f", {_turns(card.bedded.turns)} from zero"
    text += "."
    if card.new is not None:
        text += (
            f" A new belt: {units.strength(card.new.tension, 2)} {units.force}, "
            f"{_turns(card.new.turns)}."
        )
    warning = "" if card.caution is None else "\n" + paragraph("But", card.caution)
    return paragraph("Tension", text) + warning


def _turns(turns: float | None) -> str:
    """Turns in full, as they pass when they are typed back."""
    turns = turns or 0.0
    return f"{turns_text(turns)} {'turn' if 0 < turns <= 1 else 'turns'}"


def _press(scenario: Scenario, card: BenchCard) -> str:
    tests = by_age(card)
    press = next(iter(tests.values())).press
    how_far = deflection_text(press.deflection, scenario.display)
    belts = "" if card.count == 1 else " Do so with each belt."
    text = (
        "Motor unplugged. Turn the pulleys round by hand a few times, so that both strands pull "
        "alike. Stretch a string along one strand, rim to rim, to measure from. In the middle of "
        f"the span push or pull the belt {how_far} (1/{press.span_over_deflection} of the span), "
        f"square to it, with a scale.{belts} The scale should then show"
    )
    if card.methods:
        way = next((one for one in card.methods if one.name is MethodName.PRESS), None)
        return paragraph("Press", f"{text} what the table has.{too_coarse(way)}")
    lines = [paragraph("Press", f"{text}:")]
    for name, test in tests.items():
        ends = test.press.force_creeping, test.press.force_not_creeping
        lines.append(f"{'':14}{name + ':':14}{_with_mass(*ends, scenario.display)}")
    return "\n".join(lines)


def _with_mass(low: float, high: float, display: Display) -> str:
    """A range of forces, with what a metric scale shows."""
    text = force_range(low, high, display)
    return f"{text} ({mass_range(low, high)})" if display is Display.METRIC else text


def _weigh(scenario: Scenario, card: BenchCard) -> str:
    if card.spring_balance is None:
        return ""
    return paragraph("Weigh", balance_words(scenario, card.spring_balance, card.methods))


def _look_again(card: BenchCard) -> str:
    lines = (f"{look.when}: {look.sentence} ({look.sure})." for look in card.look_again)
    return "LOOK AGAIN\n" + bullets(line[:1].upper() + line[1:] for line in lines)
