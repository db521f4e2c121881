"""The gentlest setting as text for the bench: what to do first, then the numbers behind it."""

from __future__ import annotations

from mountcalc.check import NOTHING
from mountcalc.pages.display import UNITS, turns_text
from mountcalc.pages.page import CAUTIONS, bullets, heading, page, paragraph, wrap
from mountcalc.requirements.results import Advice, MethodName, Remedy, Ruler, Setting
from mountcalc.requirements.setting import idles
from mountcalc.scenario.model import Display, Scenario
from mountcalc.setting.methods_page import balance_words, methods_text
from mountcalc.table import words
from mountcalc.units import si_factor

__all__ = ["setting_text"]

_MOST_REMEDIES = 4
_SIXTY_FOURTHS = 64
_SIXTEENTH = 1 / 16  # of a turn: no hand tells it


def setting_text(scenario: Scenario, advice: Advice, *, more: bool = False) -> str:
    """The page of one setting."""
    setting = advice.setting
    answer = [
        heading(f"{scenario.title}: the gentlest setting"),
        _first_method(scenario, advice),
        _verdict(scenario, setting),
        _balance(scenario, advice),
        _window(scenario, setting),
        _steps(scenario, setting),
        _fineness(scenario, setting),
        _remedies(scenario, advice),
        _weight(advice),
    ]
    notes = "NOTES\n" + bullets(note for note in advice.notes if note not in CAUTIONS)
    return page("setting FILE", answer, (notes,), more=more)


def _verdict(scenario: Scenario, setting: Setting) -> str:
    units = UNITS[scenario.display]
    if setting.open and setting.set_tension is not None:
        text = (
            f"Open: about {units.strength(setting.set_tension, 2)} {units.force} on each strand, "
            f"at rest, keeps a grip of {setting.grip_wanted:g} and every bearing within its "
            f"limits, for the softest and the stiffest belt, the error of the "
            f"{_lead(setting)} included."
        )
        if setting.turns_min is None:
            text = (
                f"Open: weight alone puts {units.strength(setting.set_tension, 2)} {units.force} "
                f"on each strand, which keeps a grip of {setting.grip_wanted:g} and every bearing "
                "within its limits."
            )
    else:
        text = f"{'None' if idles(scenario) else 'Closed'}: {setting.why_not_open}."
    if setting.slips_at_start:
        text += (
            " At that setting the belt slips for a moment as it starts; many drives do. Say "
            "starting_grip in [limits] if yours must not."
        )
    text += " What else must hold is told by mountcalc check."
    return paragraph("Verdict", text)


def _lead(setting: Setting) -> str:
    return setting.methods[0].name if setting.methods else "adjuster"


def _first_method(scenario: Scenario, advice: Advice) -> str:
    setting, alone = advice.setting, advice.weight_alone
    if alone.keeps_sentence is not None and setting.set_turns is not None:
        first = paragraph("First", alone.keeps_sentence) + "\n\n"
    else:
        first = ""
    return first + methods_text(scenario, setting.methods, None) + _freed(scenario, setting)


def _freed(scenario: Scenario, setting: Setting) -> str:
    """Where a new belt's setting ends because weight alone gives no more."""
    free, new = setting.free_turns, setting.new_turns
    if free is None or new is None or free - new >= _SIXTEENTH:
        return ""
    noun = words.adjuster_noun(scenario)
    text = (
        f"A new belt's setting ends at {turns_text(new)} turns, where the {noun} "
        f"comes free: leave the {noun} clear, more turns add nothing."
    )
    return "\n" + wrap(text, "  ", "  ")


def _balance(scenario: Scenario, advice: Advice) -> str:
    """How to weigh the plate, where that is one of the ways."""
    balance, methods = advice.setting.spring_balance, advice.setting.methods
    if balance is None or advice.weight_alone.keeps_sentence is not None:
        return ""
    if not any(one.name is MethodName.BALANCE and one.trustworthy for one in methods):
        return ""
    return paragraph("Balance", balance_words(scenario, balance, methods))


def _window(scenario: Scenario, setting: Setting) -> str:
    if setting.governs.min_reason is not None and setting.governs.min_reason == (
        setting.governs.max_reason
    ):
        return ""
    reasons = (setting.governs.min_reason, setting.governs.max_reason)
    least, greatest = (
        "as the verdict says" if reason and reason == setting.why_not_open else reason
        for reason in reasons
    )
    fewest = (setting.turns_min, setting.tension_min)
    most = (setting.turns_max, setting.tension_max)
    return "\n".join(
        [
            "THE RANGE",
            _side("fewest", fewest, setting.governs.min, least, scenario),
            _side("most", most, setting.governs.max, greatest, scenario),
        ]
    )


def _side(
    name: str,
    at: tuple[float | None, float | None],
    ruler: Ruler | None,
    reason: str | None,
    scenario: Scenario,
) -> str:
    units = UNITS[scenario.display]
    turns, tension = at
    if turns is None or (turns == 0 and reason is not None):
        return paragraph(name, f"none: {reason}.")
    text = f"{turns:.2f} turns, {units.strength(tension, 2)} {units.force} on each strand"
    if ruler is not None and ruler.part is not None:
        text += ": with fewer " if name == "fewest" else ": with more "
        text += f"{ruler.limited} is over its limit, {_case(ruler)}"
    elif ruler is not None and reason is None:
        text += f": the wanted grip is reached, {ruler.case}"
    if reason is not None:
        text += f" ({reason})"
    return paragraph(name, text + ".")


def _steps(scenario: Scenario, setting: Setting) -> str:
    if not setting.steps:
        return ""
    units = UNITS[scenario.display]
    lines = [f"WHAT THE SETTING IS MADE OF ({units.force} on each strand)"]
    for step in setting.steps:
        kind = "physics" if step.is_physics else "caution"
        number = units.strength(step.tension, 2)
        text = f"{number:>6}  {kind}: {step.name}; {step.sentence}."
        lines.append(wrap(text, "", " " * 8))
    return "\n".join(lines)


def _case(ruler: Ruler) -> str:
    return "at rest" if ruler.case == "rest" else ruler.case


def _fineness(scenario: Scenario, setting: Setting) -> str:
    fine = setting.fineness
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
            f"{_small(fine.extension_range, display)} of the {words.adjuster_noun(scenario)}; "
            f"{_small(fine.center_range, display)} of centre distance.",
        ),
    ]
    if fine.tension_per_turn_low is not None:
        low, high = (
            units.strength(value, 2)
            for value in (fine.tension_per_turn_low, fine.tension_per_turn_high)
        )
        lines.append(
            paragraph("a turn", f"adds {low} to {high} {units.force} to each strand, by the belt.")
        )
    return "\n".join(lines)


def _remedies(scenario: Scenario, advice: Advice) -> str:
    told = [f"{remedy.sentence} {_effect(scenario, remedy)}" for remedy in advice.remedies]
    if not told and not advice.setting.open and not idles(scenario):
        told = [NOTHING]
    head = "WHAT WOULD WIDEN THE RANGE (each solved and judged anew, the widest first)\n"
    return head + bullets(told[:_MOST_REMEDIES]) if told else ""


def _effect(scenario: Scenario, remedy: Remedy) -> str:
    """What a remedy does, in numbers."""
    units = UNITS[scenario.display]
    if remedy.tension_min is None or remedy.tension_max is None:
        return "Then: open."
    low, high = (units.strength(value, 2) for value in (remedy.tension_min, remedy.tension_max))
    after = remedy.turns_range_after
    turns = "" if after is None else f", {after:.2f} turns"
    wider = "" if remedy.widening is None else f", {remedy.widening:.2f} times as wide"
    return f"Then: open, {low} to {high} {units.force}{turns}{wider}."


def _weight(advice: Advice) -> str:
    alone = advice.weight_alone
    seeks = not alone.keeps and alone.wanted_tension is not None
    hinge = alone.hinge_sentence if seeks else None
    sentences = (alone.tension_sentence, alone.over_tightens_sentence, hinge)
    return "WEIGHT ALONE (adjuster off, plate free)\n" + bullets(s for s in sentences if s)


def _small(length: float, display: Display) -> str:
    if display is Display.METRIC:
        return f"{length / si_factor('mm'):.2f} mm"
    return f"{length / si_factor('in') * _SIXTY_FOURTHS:.1f}/64 in"
