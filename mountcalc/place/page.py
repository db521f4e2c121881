"""A placement as text: how many layouts will do, why others will not, and the best to mark out."""

from __future__ import annotations

from mountcalc.pages.display import UNITS, turns_text
from mountcalc.pages.page import CAUTIONS, bullets, heading, page, paragraph
from mountcalc.place.marking_out import beside, marked, marking_out, tied, turned, untied
from mountcalc.place.results import PlacedLayout, Placement, Prefer
from mountcalc.place.tables import layouts_tables, reasons_table, sentence
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.search import Search
from mountcalc.setting import balance_words

__all__ = ["place_text"]

_SMALL_SHARE = 0.001
_BEST = {
    Prefer.FINE: "the least tension per turn of the bolt",
    Prefer.COMPACT: "the shortest plate",
    Prefer.LIGHT_BOLT: "the least force in the bolt at rest",
}


def place_text(
    search: Search, placement: Placement, best: Scenario | None, *, more: bool = False
) -> str:
    """The page of one placement."""
    answer = [
        heading(f"{placement.title}: where hinge and bolt go"),
        _verdict(placement),
        reasons_table(placement.why_not, placement.evaluated),
    ]
    if placement.layouts and best is not None:
        first = placement.layouts[0]
        answer += [
            layouts_tables(placement, search.scenario.display),
            "TO MARK OUT THE FIRST\n" + marking_out(search, first, best),
            _swing(first),
            _setting(search, first, best),
            _break(search, first),
        ]
    return untied(page("place FILE", answer, (_notes(placement),), more=more))


def _verdict(placement: Placement) -> str:
    tried = f"{placement.evaluated:,} layouts tried"
    if not placement.feasible and not placement.layouts:
        return paragraph("Verdict", f"{tried}, none of them will do.") + _first(placement)
    share = placement.feasible / max(placement.evaluated, 1)
    percent = f"{100 * share:.1f} %" if share >= _SMALL_SHARE else "less than 0.1 %"
    text = f"{tried}, {placement.feasible:,} of them will do ({percent})."
    if placement.refined:
        text += f" {placement.refined:,} more were tried near the best of them."
    text += f" {_ranked(placement)}"
    return paragraph("Verdict", text)


def _first(placement: Placement) -> str:
    """What to change first: where none will do, the search notes that before all else."""
    if not placement.notes:
        return ""
    return "\n" + paragraph("First", tied(sentence(placement.notes[0])))


def _ranked(placement: Placement) -> str:
    if placement.layouts:
        return f"Ranked by {_BEST[placement.prefer]}."
    if any(one.reason.startswith("check:") for one in placement.why_not):
        return (
            "But none of the best holds when it is solved once more and every judgement is passed "
            "on it: see the reasons below that begin with check."
        )
    return (
        "But none of the best will do once its dimensions are rounded to the marks of a rule: "
        "widen the ranges a little."
    )


def _notes(placement: Placement) -> str:
    told = placement.layouts or placement.feasible
    all_notes = placement.notes if told else placement.notes[1:]
    notes = [note for note in dict.fromkeys(all_notes) if note not in CAUTIONS]
    return "NOTES\n" + bullets(tied(sentence(note)) for note in notes) if notes else ""


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


def _setting(search: Search, layout: PlacedLayout, mount: Scenario) -> str:
    units = UNITS[search.scenario.display]

    def force(value: float) -> str:
        return f"{units.strength(value)} {units.force}"

    travel = marked(layout.bolt_travel, search.scenario.display)
    sentences = [
        f"{turns_text(layout.set_turns)} turns from zero (mountcalc table on its file, see "
        f"--write, tells how to find it) put {force(layout.set_tension)} on each strand at rest; "
        f"one more turn adds {force(layout.tension_per_turn)}.",
        f"The {_bolt_word(layout)} then has {force(abs(layout.adjuster))} to carry, at most "
        f"{force(layout.adjuster_most)} in all cases, and travels {travel} between a new belt and "
        f"the last take-up{_long_way(search, layout)}.",
        f"The hinge has {force(layout.hinge_load)}, at most {force(layout.hinge_most)}.",
    ]
    if not layout.turns_can_be_trusted:
        sentences.append(f"Do not trust turns here: {'; '.join(layout.turns_why_not)}.")
        if layout.spring_balance is not None:
            sentences.append(balance_words(mount, layout.spring_balance))
    if layout.grip_low is not None:
        sentences.append(
            f"Where the hand sets it slackest the belt still carries {layout.grip_low:.2f} times "
            "the pull that is needed."
        )
    if layout.of_weight:
        sentences.append(
            "Weight alone gives the tension: the bolt adds nothing to it and holds nothing back."
        )
    return paragraph("Setting", tied(" ".join(sentences)))


def _bolt_word(layout: PlacedLayout) -> str:
    return "link" if layout.kind == "link" else "bolt"


def _long_way(search: Search, layout: PlacedLayout) -> str:
    """A remark where the bolt would have to travel more than it is long."""
    if layout.kind == "link" or layout.bolt_travel <= search.space.bolt_length:
        return ""
    length = marked(search.space.bolt_length, search.scenario.display)
    return f", more than its whole length of {length}, as thread_length allows"


def _break(search: Search, layout: PlacedLayout) -> str:
    display, driven = search.scenario.display, search.scenario.driven.shaft
    text = f"when the belt breaks, the plate {layout.falls_onto}"
    if layout.fall > 0:
        text += f"; the motor's shaft drops {marked(layout.fall, display)}"
    text += "."
    if layout.stop_at is not None:
        at = beside(layout.stop_at, driven, display, "the driven shaft")
        text += (
            f" Put a stop where the plate's end meets it just beyond its travel: {at}. It holds "
            "the motor when the bolt is out, too."
        )
    return paragraph("Break", tied(text))
