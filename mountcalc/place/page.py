"""A placement as text: how many layouts will do, the best of them, why others will not."""

from __future__ import annotations

from mountcalc.pages.amounts import UNITS, turns_text
from mountcalc.pages.page import CAUTIONS, bullets, heading, page, paragraph, unlikely
from mountcalc.place.marking_out import beside, marked, marking_out, tied, turned, untied
from mountcalc.place.results import PlacedLayout, Placement, Prefer
from mountcalc.place.tables import layouts_tables, reasons_line, reasons_table, sentence
from mountcalc.requirements.results import MethodName
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.search import Search
from mountcalc.setting import balance_words, methods_text

_SMALL_SHARE = 0.001
_BEST = {
    Prefer.FINE: "the least tension per turn of the bolt",
    Prefer.COMPACT: "the shortest plate",
    Prefer.LIGHT_BOLT: "the least force in the bolt at rest",
}
# What the short page has of layouts, and of reasons where no layout will do.
_FEW_LAYOUTS, _FEW_REASONS = 3, 5


def place_text(
    search: Search, placement: Placement, best: Scenario | None, *, more: bool = False
) -> str:
    """The page of one placement."""
    answer = [heading(f"{placement.title}: where hinge and bolt go"), _verdict(placement)]
    why_not, tried = placement.why_not, placement.evaluated
    if not placement.layouts or best is None:
        answer.append(reasons_table(why_not, tried, None if more else _FEW_REASONS))
    else:
        first, display = placement.layouts[0], search.scenario.display
        setting = _setting(search, first, more=more)
        if more:
            answer += [
                reasons_table(why_not, tried),
                layouts_tables(placement, display),
                "TO MARK OUT THE FIRST\n" + marking_out(search, first, best),
                _swing(first),
                setting,
                methods_text(best, first.methods, first.span),
                _weigh(first, best),
                _break(search, first),
            ]
        else:
            told = [setting, _break(search, first), reasons_line(why_not, tried), _FILES]
            answer += [
                layouts_tables(placement, display, _FEW_LAYOUTS),
                "\n".join(filter(None, told)),
            ]
    if not more:  # among the notes
        answer.append(unlikely(search.scenario))
    what = "all layouts, marking out, reasons, all cautions"
    if not placement.layouts:
        what = "all reasons, notes, all cautions"
    return untied(page("place FILE", answer, [_notes(placement)], more=more, what=what))


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


def _setting(search: Search, layout: PlacedLayout, *, more: bool) -> str:
    units = UNITS[search.scenario.display]

    def force(value: float) -> str:
        return f"{units.strength(value)} {units.force}"

    zero = " (mountcalc table on its file, see --write, tells how to find it)" if more else ""
    sentences = [
        f"{turns_text(layout.set_turns)} turns from zero{zero} put {force(layout.set_tension)} on "
        f"each strand at rest; one more turn adds {force(layout.tension_per_turn)}."
    ]
    if more:
        travel = marked(layout.bolt_travel, search.scenario.display)
        sentences += [
            f"The {_bolt_word(layout)} then has {force(abs(layout.adjuster))} to carry, at most "
            f"{force(layout.adjuster_most)} in all cases, and travels {travel} between a new belt "
            f"and the last take-up{_long_way(search, layout)}.",
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
            f"Where the hand sets it slackest the belt still carries {layout.grip_low:.2f} times "
            "the pull that is needed."
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


_FILES = paragraph(
    "Build",
    "mountcalc place FILE --write DIR gives each as a scenario file for table, setting, check and "
    "draw; --plot DIR draws the first to mark out from, and a map of where the hinge may be.",
)


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
            f" Put a stop where the plate's end meets it just beyond its travel: {at}; or nearer "
            "to the hinge, where mountcalc draw has its block clear of motor and bolt. It holds "
            "the motor when the bolt is out, too."
        )
    return paragraph("Break", tied(text))
