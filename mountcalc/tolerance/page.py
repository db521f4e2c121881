"""What many builds come to, as a page for the shop: the answers first, what helps, then shares."""

from __future__ import annotations

from collections.abc import Sequence

from mountcalc.equilibrium.states import ZeroKind
from mountcalc.pages.amounts import UNITS, fine_length, length_text, turns_text
from mountcalc.pages.page import bullets, columns, heading, page, paragraph, unlikely, wrap
from mountcalc.scenario.model import AdjusterKind, Scenario
from mountcalc.scenario.text.wording import listed
from mountcalc.table import TightenBy, words
from mountcalc.tolerance.precautions import BOLT_LAST, MORE, NARROWER, STOPS_WIDER
from mountcalc.tolerance.results import ErrorSource, Outcome, Precaution, Share, Tolerance

# What is done while it is built; the others at the machine.
_BUILDING = (BOLT_LAST, "measure_belt", "mark_finer", STOPS_WIDER, "weigh", "weigh_spring")
_DONE = {
    BOLT_LAST: "bolt last",
    "measure_belt": "belt measured",
    "fit": "readings",
    "weigh": "weighed",
    "mark_finer": "marked finer",
    STOPS_WIDER: "stops further",
    "turn_finer": "turned finer",
    "weigh_spring": "spring weighed",
}
SOURCES = {
    ErrorSource.HINGE: "hinge",
    ErrorSource.BOLT: "bolt",
    ErrorSource.SHAFT: "shafts",
    ErrorSource.BELT_LENGTH: "belt's length",
    ErrorSource.WEIGHTS: "weights",
    ErrorSource.STIFFNESS: "belt's stiffness",
    ErrorSource.TRACTION: "traction",
    ErrorSource.TURNS: "turns as set",
    ErrorSource.SPRING: "spring's rate",
    ErrorSource.GIVE: "give at the bolt",
}
_COARSE = 1.0  # [-] turns from which quarters are told, sixteenths below
_FEW, _MOST = 0.005, 0.995  # of builds: beyond, per cents have a decimal
_MUCH = 0.1  # of builds more
_WORTH = 0.025  # of builds, or of a variance: less is not told
_HELPS = 5  # rows of what helps: there is room for no more


def tolerance_text(scenario: Scenario, found: Tolerance, *, more: bool = False) -> str:
    """The page of many builds; with ``more`` the bands, what was taken for the errors, notes."""
    answer = [
        heading(f"{scenario.title}: how well it must be built"),
        *in_words(scenario, found),
        _what_helps(scenario, found),
        _shares(scenario, found),
        "" if more else unlikely(scenario),
    ]
    rest = (
        _bands(scenario, found),
        "NOTES\n" + bullets([*(note.text for note in found.notes), *scenario.notes]),
    )
    return page("tolerance FILE", answer, rest, more=more, what="bands, notes, all cautions")


def in_words(scenario: Scenario, found: Tolerance) -> tuple[str, str]:
    """The verdict; what matters most, and what to do when building and when setting."""
    building = [one for one in found.precautions if one.name in _BUILDING]
    setting = [one for one in found.precautions if one.name not in _BUILDING]
    matters = [_matters(found)]
    matters += [
        paragraph(name, " ".join(precaution_text(scenario, found, one) for one in told))
        for name, told in (("Build", _worth_telling(building)), ("Set", setting[:1]))
        if told
    ]
    return _verdict(scenario, found), "\n".join(matters)


def _worth_telling(building: Sequence[Precaution]) -> list[Precaution]:
    """The best, and what lets many more builds be: they are against different things."""
    most = max(building, key=lambda one: one.gain, default=None)
    much = [] if most is None or most.gain < _MUCH else [most]
    return list({one.name: one for one in (*building[:1], *much)}.values())


def _word(found: Tolerance) -> str:
    return "contact" if found.zero is ZeroKind.CONTACT else "snug"


def of_builds(share: float | None) -> str:
    """A share of builds: never all or none where some differ."""
    if share is None:
        return "-"
    if share in (0.0, 1.0) or _FEW < share < _MOST:
        return f"{100 * share:.0f} %"
    return f"{min(max(100 * share, 0.1), 99.9):.1f} %"


def shifts(found: Tolerance, outcome: Outcome) -> tuple[float, float] | None:
    """Turns by which zero comes elsewhere than drawn, in 9 builds of 10: out, or longer, is +."""
    ends = _ends(outcome, "snug_turns")
    if ends is None or found.snug_turns is None:
        return None
    low, high = (end - found.snug_turns for end in ends)
    return (low, high) if found.tighten_by is TightenBy.EXTEND else (-high, -low)


def _turns(turns: float) -> float:
    """Turns as finely as a band tells them."""
    parts = 4 if abs(turns) >= _COARSE else 16
    return round(turns * parts) / parts


def _shift_text(scenario: Scenario, ends: tuple[float, float]) -> str:
    """Where zero comes: ``1 1/2 turns further in to 2 turns further out than drawn``."""
    link = scenario.adjuster.kind is AdjusterKind.LINK
    ways = ("shorter", "longer") if link else ("further in", "further out")
    told = [_turns(end) for end in ends]
    if not any(told):
        return "as drawn"
    text = " to ".join(f"{words.counted_turns(abs(end))} {ways[end > 0]}" for end in told)
    return f"{text} than drawn"


def _ends(outcome: Outcome, name: str) -> tuple[float, float] | None:
    """What 9 builds of 10 lie between; None where nothing is asked."""
    low, high = getattr(outcome, f"{name}_p5"), getattr(outcome, f"{name}_p95")
    return None if low is None or high is None else (low, high)


def _forces(scenario: Scenario, ends: tuple[float, float] | None) -> str:
    units = UNITS[scenario.display]
    told = [] if ends is None else [units.strength(end, 2) for end in ends]
    return " to ".join(dict.fromkeys(told)) or "-"


def _within(scenario: Scenario, found: Tolerance) -> str:
    """How well it is built."""
    errors, display = found.errors, scenario.display
    sizes = {"hinge": errors.hinge_error, "shafts": errors.shaft_error}
    if scenario.adjuster.kind is not AdjusterKind.NONE:
        sizes["bolt"] = errors.bolt_error
    told = {name: fine_length(size, display) for name, size in sizes.items()}
    if len({*told.values()}) == 1:
        return f"Build it within {told['hinge']}"
    return f"Build it with {', '.join(f'{name} within {size}' for name, size in told.items())}"


def _verdict(scenario: Scenario, found: Tolerance) -> str:
    """The answers, in words."""
    outcome, unit, built = found.outcome, UNITS[scenario.display].force, _within(scenario, found)
    word = _word(found)
    zero, by_weight = shifts(found, outcome), found.zero is None
    forces = _forces(scenario, _ends(outcome, "set_tension" if by_weight else "tension_per_turn"))
    if by_weight:
        what = f"weight alone puts {forces} {unit} on each strand"
    elif zero is None:
        what = f"it never comes to {word} in the travel"
    else:
        what = (
            f"{word} comes {_shift_text(scenario, zero)}; after {word} one turn gives {forces} "
            f"{unit}"
        )
    said = [f"{built}, and in 9 builds of 10 {what}."]
    if found.why_not_open is not None:
        said.append(
            f"As drawn it has no setting: {found.why_not_open} (mountcalc setting says what would "
            "open it)."
        )
    range_is = "The range is" if found.why_not_open else "The range stays"
    what = "Grip and limits are kept" if by_weight else f"{range_is} open"
    said.append(f"{what} in {of_builds(outcome.open_share)} of builds.")
    if found.set_turns is not None and outcome.set_share is not None:
        said.append(
            f"Set by counting {words.counted_turns(found.set_turns)} as drawn, "
            f"{of_builds(outcome.set_share)} keep grip and limits."
        )
    if found.looked_at < found.alone:
        said.append(
            f"These shares are coarse: {found.looked_at} builds, judged one by one, stand for "
            f"{'all' if found.alone == found.builds else f'{found.alone:,}'}."
        )
    if outcome.snug_share < 1:
        said.append(f"{of_builds(outcome.snug_share)} come to {word} in the travel.")
    if outcome.take_up_share < 1:
        said.append(
            f"{of_builds(outcome.take_up_share)} have room to put a new belt on and to take it up."
        )
    return paragraph("Verdict", " ".join(said))


def _matters(found: Tolerance) -> str:
    """Which error matters most to each answer, and to the open range, as halving each shows."""
    hangs = dict[ErrorSource, list[str]]()
    for what, name in (
        (f"where {_word(found)} comes", "snug_turns_share"),
        ("what a turn gives", "tension_per_turn_share"),
        ("the tension at the set turns" if found.zero else "the tension", "set_tension_share"),
    ):
        known = {one.source: getattr(one, name) or 0.0 for one in found.shares}
        source = max(known, key=lambda one: known[one])
        if known[source] > 0:
            of = "" if hangs else " of the spread"
            hangs.setdefault(source, []).append(f"{what} ({100 * known[source]:.0f} %{of})")
    if not hangs:
        return ""
    first, *others = (f"the {SOURCES[one]}: {listed(what, 'and')}" for one, what in hangs.items())
    text = f"{'; '.join([first, *others])}."
    best = max(found.shares, key=lambda one: _more(found, one, "open_share"))
    if _more(found, best, "open_share") >= MORE:
        text += (
            f" With half the error of the {SOURCES[best.source]} the range is open in "
            f"{of_builds(best.halved.open_share)} of builds."
        )
    return paragraph("Matters", text)


def precaution_text(scenario: Scenario, found: Tolerance, done: Precaution) -> str:
    """A precaution and what it does: the shares that it raises, and the bands it narrows."""
    before, after, unit = found.compared, done.outcome, UNITS[scenario.display].force
    said = list[str]()
    for name, what in (
        ("open_share", "the range is open in {}"),
        ("set_share", "the set turns keep grip and limits in {}"),
        ("take_up_share", "{} have room for the belt"),
    ):
        low, high = getattr(before, name), getattr(after, name)
        if low is not None and high is not None and high >= low + MORE:
            said.append(f"{what.format(of_builds(high))}, not {of_builds(low)}")
    for name, what in (
        ("snug_turns", f"{_word(found)} comes {{}}"),
        ("tension_per_turn", f"one turn gives {{}} {unit}"),
        ("set_tension", f"{'the set turns give' if found.zero else 'weight puts'} {{}} {unit}"),
    ):
        was, ends = _ends(before, name), _ends(after, name)
        if was is None or ends is None or ends[1] - ends[0] > NARROWER * (was[1] - was[0]):
            continue
        shift = shifts(found, after) if name == "snug_turns" else None
        text = _shift_text(scenario, shift) if shift else _forces(scenario, ends)
        said.append(what.format(text))
    return f"{done.sentence} Then {'; '.join(said)}."


def _what_helps(scenario: Scenario, found: Tolerance) -> str:
    """The precautions that help most, with what the same builds then come to."""
    if not found.precautions:
        return ""
    units, turns = UNITS[scenario.display], found.set_turns
    at = "by weight" if turns is None else "set"
    rows = [["", f"{_word(found)}, turns", "a turn", at, "open", "kept", "room"]]
    for name, outcome in (
        ("as it is", found.compared),
        *((_DONE[one.name], one.outcome) for one in found.precautions[:_HELPS]),
    ):
        ends = shifts(found, outcome) or ()
        rows.append(
            [
                name,
                " to ".join(f"{'+' * (_turns(end) > 0)}{turns_text(_turns(end))}" for end in ends),
                _forces(scenario, _ends(outcome, "tension_per_turn")),
                _forces(scenario, _ends(outcome, "set_tension")),
                of_builds(outcome.open_share),
                of_builds(outcome.set_share),
                of_builds(outcome.take_up_share),
            ]
        )
    out = "longer" if scenario.adjuster.kind is AdjusterKind.LINK else "out"
    legend = f"{_word(found)}: from where it is drawn, + is {out}. a turn: what one gives"
    each = f"({units.force} on each strand)"
    if found.zero is None:
        rows = _columns(rows, (0, 3, 4, 6))
        legend = f"by weight: {units.force} on each strand. open: builds that keep grip and limits."
    elif turns is None:
        rows = _columns(rows, (0, 1, 2, 4, 6))
        legend += f" {each}. open: builds with a range."
    else:
        legend += (
            f"; set: what {words.counted_turns(turns)} give {each}. open: builds with a range. "
            "kept: grip and limits, set by counting."
        )
    if found.compared.take_up_share < 1:
        legend += " room: for the belt."
    else:
        rows = [row[:-1] for row in rows]
    head = f"WHAT HELPS (9 builds of 10; the same {found.compared_builds:,} builds with it done)"
    return "\n".join([head, *columns(rows, left=(0,)), wrap(legend, "  ", "  ")])


def _columns(rows: Sequence[Sequence[str]], kept: Sequence[int]) -> list[list[str]]:
    return [[row[place] for place in kept] for row in rows]


def _shares(scenario: Scenario, found: Tolerance) -> str:
    """How much of each answer's variance each error makes, and what halving it does."""
    halves = [
        (name, title)
        for name, title in (("open_share", "open if halved"), ("set_share", "kept if halved"))
        if any(abs(_more(found, one, name)) >= _WORTH for one in found.shares)
    ]
    rows = []
    for one in found.shares:
        parts = (one.snug_turns_share, one.tension_per_turn_share, one.set_tension_share)
        changes = [abs(_more(found, one, name)) for name, _ in halves]
        if max(changes, default=0.0) >= MORE or max(part or 0.0 for part in parts) >= _WORTH:
            cells = ["-" if part is None else f"{100 * part:.0f} %" for part in parts]
            cells += [of_builds(getattr(one.halved, name)) for name, _ in halves]
            rows.append([SOURCES[one.source], _size(scenario, found, one.source), *cells])
    if not rows:
        return ""
    titles = ["error", "off by", _word(found), "a turn", "set", *(title for _, title in halves)]
    head = "WHICH ERROR MATTERS (its share of the spread, as variance)"
    return "\n".join([head, *columns([titles, *rows], left=(0, 1))])


def _more(found: Tolerance, one: Share, name: str) -> float:
    """How many more builds keep something with one error halved, where that is known."""
    was, now = (getattr(outcome, name) for outcome in (found.compared, one.halved))
    return 0.0 if was is None or now is None else float(now - was)


def _size(scenario: Scenario, found: Tolerance, source: ErrorSource) -> str:
    """How far off something is, either way."""
    errors, display = found.errors, scenario.display
    lengths = {
        ErrorSource.HINGE: errors.hinge_error,
        ErrorSource.BOLT: errors.bolt_error,
        ErrorSource.SHAFT: errors.shaft_error,
    }
    if source in lengths:
        return f"± {fine_length(lengths[source], display)}"
    return {
        ErrorSource.BELT_LENGTH: f"± {length_text(errors.belt_length_error, display)}",
        ErrorSource.WEIGHTS: f"± {100 * errors.weight_error:.3g} %",
        ErrorSource.STIFFNESS: f"×/÷ {errors.stiffness_factor:.3g}",
        ErrorSource.TRACTION: f"×/÷ {errors.traction_factor:.3g}",
        ErrorSource.TURNS: f"± {turns_text(errors.turn_error)} turn",
        ErrorSource.SPRING: f"± {100 * (errors.spring_rate_error or 0.0):.3g} %",
        ErrorSource.GIVE: f"×/÷ {errors.give_factor or 1.0:.3g}",
    }[source]


def _bands(scenario: Scenario, found: Tolerance) -> str:
    """Percentiles of each answer beside the drawing's own, and where the belt's error is from."""
    units, outcome = UNITS[scenario.display], found.outcome
    rows = [["", "drawn", "5 %", "50 %", "95 %"]]
    for what, name, is_force in (
        (f"{_word(found)}, turns from as drawn", "snug_turns", False),
        (f"one turn gives, {units.force}", "tension_per_turn", True),
        (f"set, {units.force}", "set_tension", True),
    ):
        values = [getattr(found, name), *(getattr(outcome, f"{name}_p{p}") for p in (5, 50, 95))]
        if any(value is None for value in values):
            continue
        told = [units.strength(one) if is_force else f"{one:.2f}" for one in values]
        rows.append([what, *told])
    belt = f"belt's length {_size(scenario, found, ErrorSource.BELT_LENGTH)}"
    return "\n".join(
        [
            f"BANDS (5, 50 and 95 of 100 builds stay below; {found.builds:,}, seed {found.seed})",
            *columns(rows, left=(0,)),
            wrap(f"{belt}: {found.errors.belt_length_source}.", "  ", "  "),
        ]
    )
