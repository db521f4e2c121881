"""A placement as text: how many layouts will do, the best of them, why others will not."""

from __future__ import annotations

import math

from mountcalc.console.choices import Prefer
from mountcalc.pages.amounts import UNITS, fitted, percent, turns_text
from mountcalc.pages.page import (
    CAUTIONS,
    bullets,
    columns,
    heading,
    page,
    paragraph,
    unlikely,
    wrap,
)
from mountcalc.place.feasible.reasons import in_short
from mountcalc.place.marking_out import beside, marking_out, on_rule, tied, turned, untied
from mountcalc.place.results import PlacedLayout, Placement, whole_percent
from mountcalc.requirements.results import MethodName
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.search import Search
from mountcalc.scenario.text.writing import Display
from mountcalc.setting import balance_words, methods_text
from mountcalc.tolerance import WIDER
from mountcalc.units import si_factor

_SMALL_SHARE = 0.001
_BEST = {
    Prefer.FINE: "the least tension per turn of the bolt",
    Prefer.COMPACT: "the shortest plate",
    Prefer.LIGHT_BOLT: "the least force in the bolt at rest",
}
# What the short page has of layouts, and of reasons where no layout will do.
_FEW_LAYOUTS, _FEW_REASONS = 3, 5
_FILES = (
    "mountcalc place FILE --write DIR gives each as a scenario file for table, setting, check and "
    "draw; --plot DIR draws the first to mark out from, and a map of where the hinge may be."
)
# Each kind and way to act: the word in the table, and what it means.
_KINDS = {
    "jack-in-base": ("base", "base: a bolt through a fixed block"),
    "jack-in-plate": ("plate", "plate: a bolt through the plate"),
    "link": ("link", "link: pinned at both ends"),
}
_ACTS = {
    "push": ("push", "push, pull: it moves the plate to tighten"),
    "pull": ("pull", "push, pull: it moves the plate to tighten"),
    "hold-back": ("hold", "hold: it keeps back a plate that its weight would tighten"),
}
_MOST_REASONS = 10
_MOST_LIFTS = 3  # rarer reasons that are told for what would help
_LONGEST_CELL = 12
_COUNT = 12  # columns of a count, up to ten million with its commas
_RESULT_LEGEND = (
    "tension: of one strand at rest, as set. a turn: what one more turn adds. worst: what the "
    "bearing nearest to its limit has of it, the hand's error included. bolt, hinge: forces at "
    "rest, as set; a bolt that is pulled has a minus. clear: to the nearest keep-out over the "
    "whole travel. falls: how far the motor's shaft drops if the belt breaks."
)
_PARETO = (
    " *: no other is better in all of tension per length of bolt, worst, bolt and plate; the last "
    "in the list may be there for that alone."
)
_SHORT_LEGEND = (
    "tension: of one strand at rest, as set. worst: what the bearing nearest to its limit has of "
    "it. clear: to the nearest keep-out. falls: the motor's shaft, if the belt breaks. *: no other "
    "is better in everything."
)


def place_text(
    search: Search, placement: Placement, best: Scenario | None, *, more: bool = False
) -> str:
    """The page of one placement."""
    answer = [heading(f"{placement.title}: where hinge and bolt go"), _verdict(placement)]
    if not placement.layouts or best is None:
        answer.append(_reasons(placement, None if more else _FEW_REASONS))
    else:
        first, display = placement.layouts[0], search.scenario.display
        setting = _setting(search, first, more=more)
        if more:
            answer += [
                _reasons(placement),
                _tables(placement, display),
                "TO MARK OUT THE FIRST\n" + marking_out(search, first, best),
                _swing(first),
                *_builds(placement),
                setting,
                methods_text(best, first.methods, first.span),
                _weigh(first, best),
                _break(search, first),
            ]
        else:
            others = ", ".join(
                f"{in_short(one.reason)} ({100 * one.count / max(placement.evaluated, 1):.0f} %)"
                for one in placement.why_not[:3]
            )
            paragraphs = {
                "Others": f"will not do, mostly: {others}."
                if others and placement.builds is None
                else "",
                "Build": _FILES,
            }
            ends = [paragraph(name, text) for name, text in paragraphs.items() if text]
            answer += [
                _tables(placement, display, _FEW_LAYOUTS),
                "\n".join([*_builds(placement), setting, _break(search, first), *ends]),
            ]
    if not more:  # among the notes
        answer.append(unlikely(search.scenario))
    what = "all layouts, marking out, reasons, all cautions"
    if not placement.layouts:
        what = "all reasons, notes, all cautions"
    # What to change first leads where none will do.
    shown = placement.layouts or placement.feasible
    notes = placement.notes if shown else placement.notes[1:]
    said = [tied(_sentence(note)) for note in dict.fromkeys(notes) if note not in CAUTIONS]
    rest = ["NOTES\n" + bullets(said)] if said else []
    return untied(page("place FILE", answer, rest, more=more, what=what))


def _verdict(placement: Placement) -> str:
    text = f"{placement.evaluated:,} layouts tried"
    if not placement.feasible and not placement.layouts:
        lines = [paragraph("Verdict", f"{text}, none of them will do.")]
        lines += [paragraph("First", tied(_sentence(note))) for note in placement.notes[:1]]
        return "\n".join(lines)
    share = placement.feasible / max(placement.evaluated, 1)
    percent = f"{100 * share:.1f} %" if share >= _SMALL_SHARE else "less than 0.1 %"
    text += f", {placement.feasible:,} of them will do ({percent})."
    if placement.refined:
        text += f" {placement.refined:,} more were tried near the best."
    if placement.layouts:
        best = _BEST[placement.prefer]
        if placement.builds is not None:
            best = f"builds that keep all promises, then {best}"
        text += f" Ranked by {best}."
    elif any(one.reason.startswith("check:") for one in placement.why_not):
        text += (
            " But each of the best fails a judgement of mountcalc check: see the reasons below "
            "that begin with check."
        )
    else:
        text += (
            " But none of the best will do with its sizes rounded to the marks of a rule: widen "
            "the ranges a little."
        )
    return paragraph("Verdict", text)


def _builds(placement: Placement) -> list[str]:
    """What is promised, and how many builds of the first keep it; nothing unless it is asked."""
    kept = placement.layouts[0].builds
    if kept is None:
        return []
    text = (
        f"of {placement.builds:,}, {kept.percent} % keep all ({whole_percent(kept.open)} % open, "
        f"{whole_percent(kept.goes_on)} % take a new belt, {whole_percent(kept.takes_up)} % take "
        f"it up). Stops {math.degrees(WIDER):.0f} deg further: "
        f"{whole_percent(kept.kept_wider)} % keep all; clearances not checked."
    )
    return [paragraph("Builds", text)]


def _swing(layout: PlacedLayout) -> str:
    angles = layout.plate_angles
    return paragraph(
        "Swing",
        tied(
            f"the plate, from as drawn: a new belt goes on, {turned(angles.install)}; snug, "
            f"{turned(angles.snug)}; set, {turned(angles.set)}; fully taken up, "
            f"{turned(angles.take_up)}."
        ),
    )


def _setting(search: Search, layout: PlacedLayout, *, more: bool) -> str:
    units = UNITS[search.scenario.display]

    def force(value: float) -> str:
        return f"{units.strength(value)} {units.force}"

    zero = " (how to find it: mountcalc table on the file that --write gives)" if more else ""
    sentences = [
        f"{turns_text(layout.set_turns)} turns from zero{zero} put {force(layout.set_tension)} on "
        f"each strand at rest; one more turn adds {force(layout.tension_per_turn)}."
    ]
    if more:
        travel = on_rule(layout.bolt_travel, search.scenario.display)
        bolt = "link" if layout.kind == "link" else "bolt"
        sentences += [
            f"The {bolt} then has {force(abs(layout.adjuster))} to carry, at most "
            f"{force(layout.adjuster_most)} in all cases, and travels {travel} from a new belt to "
            f"full take-up{_long_way(search, layout)}.",
            f"The hinge has {force(layout.hinge_load)}, at most {force(layout.hinge_most)}.",
        ]
    if not layout.turns_can_be_trusted and more:
        sentences.append(f"Do not trust turns here: {'; '.join(layout.turns_why_not)}.")
    elif not layout.turns_can_be_trusted:
        by = f", by the {layout.methods[0].name}" if layout.methods else ""
        sentences.append(
            f"Do not trust turns here: mountcalc setting on its file says how to set it{by}."
        )
    if layout.grip_low is not None and more:
        sentences.append(
            f"Set as slack as the hand's error allows, the belt still carries "
            f"{layout.grip_low:.2f} times the pull that is needed."
        )
    if layout.of_weight:
        sentences.append(
            "Weight alone gives the tension: the bolt adds nothing to it and holds nothing back."
        )
    return paragraph("Setting", tied(" ".join(sentences)))


def _weigh(layout: PlacedLayout, mount: Scenario) -> str:
    """How to weigh the plate, where the command setting says so, too."""
    balance, methods = layout.spring_balance, layout.methods
    if balance is None or not any(
        one.name is MethodName.BALANCE and one.trustworthy for one in methods
    ):
        return ""
    return paragraph("Weigh", tied(balance_words(mount, balance, methods)))


def _long_way(search: Search, layout: PlacedLayout) -> str:
    """A remark where the bolt would have to travel more than it is long."""
    if layout.kind == "link" or layout.bolt_travel <= search.space.bolt_length:
        return ""
    length = on_rule(search.space.bolt_length, search.scenario.display)
    return f", more than its whole length of {length}, as thread_length allows"


def _break(search: Search, layout: PlacedLayout) -> str:
    display, driven = search.scenario.display, search.scenario.driven.shaft
    text = f"when the belt breaks, the plate {layout.falls_onto}"
    if layout.fall > 0:
        text += f"; the motor's shaft drops {on_rule(layout.fall, display)}"
    text += "."
    if layout.stop_at is not None:
        at = beside(layout.stop_at, driven, display, "the driven shaft")
        text += (
            f" Put a stop where the plate's end meets it just beyond its travel: {at}; or where "
            "mountcalc draw has it, nearer to the hinge. It holds the motor when the bolt is out, "
            "too."
        )
    return paragraph("Break", tied(text))


def _tables(placement: Placement, display: Display, most: int | None = None) -> str:
    """The ranked layouts, or so many: what to build, and what each gives."""
    layouts, units = placement.layouts[:most], UNITS[display]
    force, length = units.force, units.length
    belts = len({layout.belt for layout in layouts}) > 1
    build = [
        ["", "hinge x", "y", "reach", "motor", "side", "bolt", "thread", "belt"],
        ["", length, length, length, "high", "", "", "", ""],
        *(_built(layout, display) for layout in layouts),
    ]
    gives = [
        ["", "set", "tension", "a turn", "worst", "bolt", "hinge", "plate", "clear", "falls", ""],
        ["", "turns", force, force, "%", force, force, length, length, length, ""],
        *(_gives(layout, display) for layout in layouts),
    ]
    if placement.builds is not None:
        kept = [
            f"{one.builds.percent} ({whole_percent(one.builds.kept_wider)})"
            for one in layouts
            if one.builds is not None
        ]
        for row, cell in zip(gives, ["builds", "%", *kept], strict=True):
            row.insert(1, cell)
    words = [
        "x, y: as in the file",
        "reach: hinge to bolt along the plate",
        "motor high: its shaft off the plate's face",
    ]
    for meanings, used in (
        (_KINDS, {one.kind for one in layouts}),
        (_ACTS, {one.acts for one in layouts}),
    ):
        words += dict.fromkeys(meanings[name][1] for name in meanings if name in used)
    legend = _SHORT_LEGEND if most is not None else _RESULT_LEGEND + _PARETO
    if placement.builds is not None:
        legend = f"builds: keep all (wider stops). {legend}"
    if any(layout.of_weight for layout in layouts):
        legend += " w: weight alone gives the wanted grip, and the bolt holds nothing back."
    all_of = len(layouts) == len(placement.layouts)
    title = "THE LAYOUTS" if all_of else f"THE FIRST {len(layouts)} OF {len(placement.layouts)}"
    return "\n".join(
        [
            f"{title}, best first (--prefer {placement.prefer.value}): what to build",
            *columns([row if belts else row[:-1] for row in build], left={5, 6, 7, 8}),
            wrap(f"{'; '.join(words)}.", "  ", "  "),
            "",
            "WHAT THEY GIVE",
            *columns(gives),
            wrap(legend, "  ", "  "),
        ]
    )


def _built(layout: PlacedLayout, display: Display) -> list[str]:
    lengths = (*layout.hinge, layout.reach, layout.motor_height)
    thread, belt = (
        text if len(text) <= _LONGEST_CELL else text[: _LONGEST_CELL - 1] + "…"
        for text in (layout.thread, layout.belt)
    )
    return [
        str(layout.rank),
        *(on_rule(value, display, unit=False) for value in lengths),
        layout.motor_side,
        f"{_KINDS[layout.kind][0]} {_ACTS[layout.acts][0]}",
        thread,
        belt,
    ]


def _gives(layout: PlacedLayout, display: Display) -> list[str]:
    units, force = UNITS[display], si_factor(UNITS[display].force)
    tension, turn, bolt, hinge = (
        fitted(one / force, 3, 8)
        for one in (layout.set_tension, layout.tension_per_turn, layout.adjuster, layout.hinge_load)
    )
    return [
        str(layout.rank),
        turns_text(layout.set_turns),
        tension,
        turn,
        percent(layout.worst_share_of_limit),
        bolt,
        hinge,
        on_rule(layout.plate_length, display, unit=False),
        "-" if layout.clearance is None else units.long(layout.clearance),
        units.long(layout.fall),
        ("*" if layout.pareto else "") + ("w" if layout.of_weight else ""),
    ]


def _reasons(placement: Placement, few: int | None = None) -> str:
    """Why layouts will not do, the most frequent reason first; a few of them, or nearly all."""
    why_not, evaluated = placement.why_not, placement.evaluated
    most = few or _MOST_REASONS
    some = len(why_not) if len(why_not) <= most + 1 else most
    helpful = sorted((one for one in why_not[some:] if one.lift), key=lambda one: -one.lift)
    helpful = helpful[: 0 if few else _MOST_LIFTS]
    shown = [one for one in why_not if one in why_not[:some] or one in helpful]

    def counted(count: int, text: str) -> str:
        share = f"{100 * count / evaluated:.1f}" if evaluated else "-"
        first = f"{count:>{_COUNT},}{share:>6} %  "
        return wrap(tied(text), first, " " * len(first))

    lines = [
        counted(one.count, _sentence(f"{one.reason}: {one.sentence}".removesuffix(": ")))
        for one in shown
    ]
    if left := [one for one in why_not if one not in shown]:
        where = "" if few else ", all in --json"
        lines.append(counted(sum(one.count for one in left), f"{len(left)} more reasons{where}."))
    title = "WHY THE OTHERS WILL NOT DO (each counted at the first thing that is wrong)"
    return "\n".join([title, *lines]) if lines else ""


def _sentence(text: str) -> str:
    """A text with a full stop at its end."""
    return text if text.endswith((".", "!", "?")) else f"{text}."
