"""How to set a belt's tension, in words: a table of all methods, and how each is done."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence

from mountcalc.pages.amounts import UNITS, deflection_text
from mountcalc.pages.page import bullets
from mountcalc.requirements.readings import readings_of, scale_mark
from mountcalc.requirements.results import Method, MethodName, SpringBalance
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.text.wording import compass
from mountcalc.scenario.text.writing import Display
from mountcalc.table import words
from mountcalc.units import STANDARD_GRAVITY, si_factor

_LENGTHS = {"mm": 1e-3, "in": si_factor("in")}
_SIZES = {"N": 1.0, "lbf": si_factor("lbf"), "kg": STANDARD_GRAVITY}  # as a balance shows them
_MARKS_KG = (1.0, 0.5, 0.2, 0.1, 0.05, 0.02, 0.01)
_LABEL, _COLUMN = 30, 12
# What an arm holds while the other hand turns a bolt: 25 lbf (estimate).
_ARM = 25 * 4.4482216152605
HEADS = ("aim", "new belt", "not below", "never above")
"""Of the numbers of each method."""
_TOUCH = {
    True: "turn the link until its pin slips in without force",
    False: "bring the bolt up until it just touches",
}
_NAMES = {
    MethodName.BALANCE: "spring balance, {unit} gained",
    MethodName.HUM: "plucked strand, swings/s",
    MethodName.TURNS: "turns from zero",
    MethodName.SPRING: "spring pressed in by, {unit}",
}


def methods_text(
    scenario: Scenario,
    methods: tuple[Method, ...],
    span: float | None,
    *,
    by_weight: bool = False,
) -> str:
    """The table of all methods, the one to go by first; ``by_weight`` says that none is needed."""
    if not methods:
        return ""
    lines = [methods_head(scenario, methods, by_weight=by_weight), _line("", HEADS)]
    lines += [_line(label, cells) for label, *cells in method_rows(scenario, methods, span)]
    above = above_all(methods)
    return "\n".join([*lines, f"  {above}"] if above else lines)


def methods_head(scenario: Scenario, methods: tuple[Method, ...], *, by_weight: bool) -> str:
    """The head of that table, with what its order is by."""
    order = "turns need no tool; then the surest" if _by_turns(methods) else "the surest first"
    by = f" BY {words.adjuster_noun(scenario).upper()}" if by_weight else ""
    return f"HOW TO SET IT{by} ({order}; more is tighter)"


def above_all(methods: tuple[Method, ...]) -> str:
    """What is done above the last column, where a limit is known."""
    known = any(one.never_above is not None for one in methods)
    return "Above the last column a limit may be passed: slacken." if known else ""


def method_rows(
    scenario: Scenario, methods: tuple[Method, ...], span: float | None
) -> Iterator[tuple[str, ...]]:
    """What is read, its aim and what `HEADS` says; a word instead where it is not to be trusted."""
    for one in methods:
        shown = readings_of(one, scenario)
        certain = (shown.not_below, shown.never_above)
        ends = certain if one.trustworthy else ("do not trust it here",)
        yield method_label(scenario, one, shown.unit, span), shown.aim, shown.new_aim, *ends


def _line(label: str, cells: Sequence[str]) -> str:
    return (f"  {label:{_LABEL}}" + "".join(f"{cell:{_COLUMN}}" for cell in cells)).rstrip()


def method_label(scenario: Scenario, one: Method, unit: str, span: float | None) -> str:
    """What is read, and in what unit."""
    if one.name is not MethodName.PRESS:
        return _NAMES[one.name].format(unit=unit)
    over = one.span_over_deflection
    if span is None or over is None:
        return f"press span/{over}, {unit}"
    return f"press {deflection_text(span / over, scenario.display)} deep, {unit}"


def _by_turns(methods: tuple[Method, ...]) -> bool:
    """Whether counted turns lead: sure enough, but seldom the surest."""
    return methods[0].name is MethodName.TURNS and methods[0].trustworthy


def methods_why(methods: tuple[Method, ...]) -> str:
    """Why this order: what a reading of each may mean."""
    said = [f"{one.name.words.capitalize()}: {one.why}." for one in methods]
    if any(one.trustworthy for one in methods[1:]) and not _by_turns(methods):
        said.append("The aims differ: each leaves room for the error of its own way.")
    return "WHY IN THIS ORDER\n" + bullets(said) if methods else ""


def spring_words(scenario: Scenario, methods: tuple[Method, ...]) -> str:
    """How to set the mount by its spring's length; nothing where that cannot be trusted."""
    coil = scenario.adjuster.coil
    way = next((one for one in methods if one.name is MethodName.SPRING), None)
    if coil is None or way is None or not way.trustworthy:
        return ""
    shown, noun = readings_of(way, scenario), words.adjuster_noun(scenario)
    free = coil.free_length / _LENGTHS[shown.unit]
    places = len(shown.aim.partition(".")[2])

    def length(pressed: str) -> str:
        return f"{free - float(pressed):.{places}f} {shown.unit}"

    new = "" if shown.new_aim == shown.aim else f" (new belt {length(shown.new_aim)})"
    least = "" if shown.never_above == "-" else f" Never shorter than {length(shown.never_above)}."
    return (
        f"Measure the spring under no load. If it is {free:.{places}f} {shown.unit} long, turn the "
        f"{noun} until it is {length(shown.aim)} long{new}; if not, press it in by what the table "
        f"says. Lock it, and measure again.{least} As the belt beds in the spring grows longer: "
        f"bring it back."
    )


def balance_words(
    scenario: Scenario,
    balance: SpringBalance,
    methods: tuple[Method, ...] = (),
    ceiling: Method | None = None,
) -> str:
    """How to set the mount with a spring balance, by the difference of two readings."""
    units, link = UNITS[scenario.display], words.adjuster_noun(scenario) == "link"
    noun, hold_back = words.adjuster_noun(scenario), not balance.slack_tightens
    slack = -balance.slack_pull if hold_back else balance.slack_pull
    mark, gains = _gains(scenario, balance, slack, methods, ceiling)
    shown_by = _scale(scenario.display, mark)
    hangs_free = not balance.tightens and balance.new_pull < scenario.limits.balance_error
    if hangs_free or gains[1] <= gains[0]:
        del gains[1]
    free = "Link unpinned" if link else "Bolt clear"
    spot = balance.spot if balance.spot.startswith("where") else f"at {balance.spot}"
    hold = "Hold the plate back" if hold_back else "Pull"
    lead = ""
    if round(slack / mark) + round(gains[0] / mark) == 0:  # nothing is left to hold
        lead = f"The {noun} just hangs clear there: weight alone gives that tension. "
        lead += f"Let the plate down gently, {_TOUCH[link]} and lock it."
        if len(gains) == 1:
            return lead + (" For a new belt leave it clear." if hangs_free else "")
        del gains[0]
        lead += " For a new belt, weigh. "
    text = lead
    if max(abs(force) for force in (slack, *(slack + gain for gain in gains))) > _ARM:
        text += "A lever or a strap, a second pair of hands, and a block under the plate. "
    elif hold_back:
        text += "A second pair of hands, and a block under the plate: the motor hangs on it. "
    # What to pull once the belt is on, and in brackets what the balance then shows.
    rule, word = "Let the belt take hold and pull until it shows", " more"
    if hold_back:
        rule, word = "Let the belt take hold and give way until it shows", " less"
        if slack + gains[0] > 0:
            rule = f"Then pull {_way(scenario, balance)}, until the two readings add up to"
            word = ""
    sums = (f"{shown_by(gain)}{word} ({shown_by(slack, gain)})" for gain in gains)
    text += (
        f"{free}, belt slack, hook the balance on {spot}, "
        f"{units.long(balance.radius)} {units.length} from the hinge. {hold} "
        f"{_way(scenario, balance, back=hold_back)}, square to the line from the hinge, until "
        f"motor and plate just hang on it: about {shown_by(slack)}. "
        f"{rule} {', for a new belt '.join(sums)}. "
    )
    if hangs_free:
        text += f"For a new belt leave the {noun} clear. "
    return text + _lock(scenario, is_link=link)


def _lock(scenario: Scenario, *, is_link: bool) -> str:
    """How the adjuster takes over from the balance.

    Where plate and adjuster give, one that only touches would leave less tension as one lets go.
    """
    if not scenario.adjuster.gives:
        free = "pin must just be loose" if is_link else "bolt must just come free"
        again = f"Weigh again: the {free} there."
        return f"Hold it there, {_TOUCH[is_link]} and lock it. {again}"
    turn = "Pin the link and turn it" if is_link else "Turn the bolt"
    return (
        "Hold it there and prop the plate, so that it can move neither way; let go. "
        f"{turn} until the prop just comes loose, and lock it."
    )


def _gains(
    scenario: Scenario,
    balance: SpringBalance,
    slack: float,
    methods: tuple[Method, ...],
    ceiling: Method | None,
) -> tuple[float, list[float]]:
    """The balance's mark, and what it gains [N] over the slack belt, for an old and a new one."""
    mark, pull = scale_mark(scenario), balance.pull if balance.tightens else -balance.pull
    own = next((one for one in methods if one.name is MethodName.BALANCE), None)
    if own is not None:  # what the table of methods has
        shown = readings_of(own, scenario)
        size = _SIZES[shown.unit]
        return shown.step * size, [float(text) * size for text in (shown.aim, shown.new_aim)]
    # From where weight alone holds it, more tension always adds.
    way = 1.0 if balance.pull < mark / 2 else pull
    gains = [pull - slack, math.copysign(balance.new_pull, way) - slack]
    if ceiling is not None and ceiling.name is MethodName.BALANCE:
        shown = readings_of(ceiling, scenario)
        most = float(shown.never_above) * _SIZES[shown.unit]
        if gains[0] <= most:
            gains[1] = min(gains[1], most)
    return mark, gains


def _scale(display: Display, mark: float) -> Callable[..., str]:
    """What a balance shows of the sum of some forces [N], each rounded to its marks.

    A metric one has kilograms besides; a sum is that of what was told of each, in either unit.
    """
    marks = {UNITS[display].force: mark}
    if display is Display.METRIC:
        near = (one for one in _MARKS_KG if one * _SIZES["kg"] <= mark)
        marks["kg"] = next(near, _MARKS_KG[-1]) * _SIZES["kg"]

    def shown(*forces: float) -> str:
        return " or ".join(
            f"{abs(sum(round(force / mark) for force in forces)) * mark / _SIZES[unit]:.10g} {unit}"
            for unit, mark in marks.items()
        )

    return shown


def _way(scenario: Scenario, balance: SpringBalance, *, back: bool = False) -> str:
    """The way that tightens, or back, as one looks at the motor's pulley."""
    direction = balance.direction + (math.pi if back else 0.0)
    adjuster = scenario.adjuster
    at = adjuster.plate_pin if adjuster.tip is None else adjuster.tip
    assert at is not None
    x, y = (here - there for here, there in zip(at, scenario.driven.shaft, strict=True))
    apart = x * math.cos(direction) + y * math.sin(direction)
    return f"{compass(direction)}, {'away from' if apart > 0 else 'towards'} the driven shaft"
