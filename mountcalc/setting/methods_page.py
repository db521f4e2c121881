"""How to set a belt's tension, in words: a table of all methods, and how each is done."""

from __future__ import annotations

import math

from mountcalc.pages.amounts import deflection_text
from mountcalc.pages.display import UNITS, figures
from mountcalc.pages.page import wrap
from mountcalc.requirements.readings import readings_of
from mountcalc.requirements.results import Method, MethodName, SpringBalance
from mountcalc.scenario.model import Scenario
from mountcalc.table import words
from mountcalc.units import si_factor

__all__ = ["balance_words", "methods_text"]

_STANDARD_GRAVITY = 9.80665
_LABEL, _COLUMN = 30, 12
# What an arm holds while the other hand turns a bolt: 25 lbf (estimate).
_ARM = 25 * 4.4482216152605
_COMPASS = (
    "to the right", "up and to the right", "up", "up and to the left", "to the left",
    "down and to the left", "down", "down and to the right",
)  # fmt: skip
_NAMES = {
    MethodName.BALANCE: "spring balance, {unit} gained",
    MethodName.HUM: "plucked strand, swings/s",
    MethodName.TURNS: "turns from zero",
}


def methods_text(scenario: Scenario, methods: tuple[Method, ...], span: float | None) -> str:
    """The table of all methods, the one to go by first."""
    if not methods:
        return ""
    heads = ("aim", "new belt", "not below", "never above")
    order = "turns need no tool; then the surest" if _by_turns(methods) else "the surest first"
    lines = [f"HOW TO SET IT ({order}; more is tighter)", _line("", heads)]
    for one in methods:
        shown = readings_of(one, scenario.display)
        label = _label(scenario, one, shown.unit, span)
        certain = (shown.not_below, shown.never_above)
        ends = certain if one.trustworthy else ("do not trust it here",)
        lines.append(_line(label, (shown.aim, shown.new_aim, *ends)))
    lines.append(wrap(_why(methods), "  ", "  "))
    return "\n".join(lines)


def _line(label: str, cells: tuple[str, ...]) -> str:
    return (f"  {label:{_LABEL}}" + "".join(f"{cell:{_COLUMN}}" for cell in cells)).rstrip()


def _label(scenario: Scenario, one: Method, unit: str, span: float | None) -> str:
    if one.name is not MethodName.PRESS:
        return _NAMES[one.name].format(unit=unit)
    over = one.span_over_deflection
    if span is None or over is None:
        return f"press span/{over}, {unit}"
    return f"press {deflection_text(span / over, scenario.display)} deep, {unit}"


def _by_turns(methods: tuple[Method, ...]) -> bool:
    """Whether counted turns lead: sure enough, but seldom the surest."""
    return methods[0].name is MethodName.TURNS and methods[0].trustworthy


def _why(methods: tuple[Method, ...]) -> str:
    """Why this order, and what too much looks like."""
    lead, doubtful = methods[0], [one for one in methods[1:] if not one.trustworthy]
    text = f"{str(lead.name).capitalize()}: {lead.why}."
    for one in doubtful:
        text += f" {str(one.name).capitalize()}: {one.why}."
    if any(one.trustworthy for one in methods[1:]) and not _by_turns(methods):
        text += " The less sure a way is, the higher its aim."
    if any(one.never_above is not None for one in methods):
        text += " Above the last column a limit may be passed: slacken."
    return text


def balance_words(
    scenario: Scenario, balance: SpringBalance, methods: tuple[Method, ...] = ()
) -> str:
    """How to set the mount with a spring balance, by the difference of two readings."""
    own = next((one for one in methods if one.name is MethodName.BALANCE), None)
    units = UNITS[scenario.display]
    noun = words.adjuster_noun(scenario)
    way = _way(scenario, balance)
    slack = balance.slack_pull if balance.slack_tightens else -balance.slack_pull
    pull = balance.pull if balance.tightens else -balance.pull
    new = math.copysign(balance.new_pull, pull)
    gains = _pull(scenario, pull - slack), _pull(scenario, new - slack)
    if own is not None:
        pull, new = slack + own.aim, slack + own.new_aim
        shown = readings_of(own, scenario.display)
        gains = _gain(shown.aim, shown.unit), _gain(shown.new_aim, shown.unit)
    free = "Link unpinned" if noun == "link" else "Bolt clear"
    take_up = (
        "turn the link until its pin slips in without force"
        if noun == "link"
        else "bring the bolt up until it just touches"
    )
    hold = "Hold the plate back there" if slack < 0 else "Pull"
    against = _opposite(way) if slack < 0 else way
    text = (
        f"{free}, belt slack: hook the balance on at {balance.spot}, "
        f"{units.long(balance.radius)} {units.length} from the hinge. {hold}, square to the line "
        f"from the hinge, {against}, until motor and plate just hang on it: it shows about "
        f"{_pull(scenario, abs(slack))}. "
    )
    hangs_free = words.new_belt_hangs_free(scenario, balance)
    text += _second(scenario, (slack, pull, pull if hangs_free else new), gains, way)
    if hangs_free:
        text += f" For a new belt leave the {noun} clear."
    loose = "its pin is just loose" if noun == "link" else f"the {noun} just comes free"
    text += (
        f" Hold it, {take_up}, lock it, and weigh again until {loose}. Weights and belt stiffness "
        "do not matter."
    )
    if max(abs(pull), abs(new), abs(slack)) > _ARM:
        text += (
            f" That is over {_pull(scenario, _ARM)}: use a lever or a strap, a second pair of "
            "hands, and a block under the plate."
        )
    elif slack < 0:
        text += " The motor hangs on it: a second pair of hands, and a block under the plate."
    return text


def _second(
    scenario: Scenario, pulls: tuple[float, float, float], gains: tuple[str, str], way: str
) -> str:
    """What to pull once the belt is on, from the slack reading."""
    slack, pull, new = pulls
    about = f"about {_pull(scenario, abs(pull))}"
    if new > pull:
        about += f", {_pull(scenario, abs(new))} for a new belt"
    new_belt = new > pull
    if slack >= 0:
        more = f", {gains[1]} more for a new belt" if new_belt else ""
        rule = (
            f"Then let the belt take hold and pull until it shows {gains[0]} more than that{more}"
        )
    elif pull > 0:
        more = f", {gains[1]} for a new belt" if new_belt else ""
        rule = f"Then pull {way}, until the two readings add up to {gains[0]}{more}"
    else:
        more = f", {gains[1]} less for a new belt" if new_belt else ""
        rule = f"Then give way until it shows {gains[0]} less than that{more}"
    return f"{rule} ({about})."


def _gain(shown: str, unit: str) -> str:
    """A reading of the table, with what a metric scale shows."""
    text = f"{shown} {unit}"
    return f"{text} ({figures(float(shown) / _STANDARD_GRAVITY, 2)} kg)" if unit == "N" else text


def _pull(scenario: Scenario, pull: float) -> str:
    units = UNITS[scenario.display]
    text = f"{figures(pull / si_factor(units.force), 3)} {units.force}"
    if units.force == "N":
        text += f" ({figures(pull / _STANDARD_GRAVITY, 2)} kg)"
    return text


def _way(scenario: Scenario, balance: SpringBalance) -> str:
    """The way that tightens, as one looks at the motor's pulley."""
    part = round(balance.direction / (math.tau / len(_COMPASS))) % len(_COMPASS)
    adjuster = scenario.adjuster
    at = adjuster.plate_pin if adjuster.tip is None else adjuster.tip
    assert at is not None
    x, y = (here - there for here, there in zip(at, scenario.driven.shaft, strict=True))
    apart = x * math.cos(balance.direction) + y * math.sin(balance.direction)
    side = "away from" if apart > 0 else "towards"
    return f"{_COMPASS[part]}, {side} the driven shaft"


def _opposite(way: str) -> str:
    """The other way in words."""
    swap = {"right": "left", "left": "right", "up": "down", "down": "up", "away from": "towards"}
    first, _, rest = way.partition(", ")
    turned = " ".join(swap.get(word, word) for word in first.split(" "))
    side = rest.removesuffix(" the driven shaft")
    other = "towards" if side == "away from" else "away from"
    return f"{turned}, {other} the driven shaft"
