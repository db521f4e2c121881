"""Tables of a placement: the layouts with what to build and what they give, and why others fail."""

from __future__ import annotations

from collections.abc import Sequence

from mountcalc.pages.amounts import UNITS, fitted, percent, turns_text
from mountcalc.pages.page import columns, paragraph, wrap
from mountcalc.place.marking_out import marked, tied, untied
from mountcalc.place.results import PlacedLayout, Placement, WhyNot
from mountcalc.scenario.model import Display
from mountcalc.units import si_factor

_KINDS = {"jack-in-base": "base", "jack-in-plate": "plate", "link": "link"}
_ACTS = {"push": "push", "pull": "pull", "hold-back": "hold"}
_MOST_REASONS = 10
_MOST_LIFTS = 3  # rarer reasons that are told for what would help
_LONGEST_CELL = 12
_COUNT = 12  # columns of a count, up to ten million with its commas
_RESULT_LEGEND = (
    "tension: of one strand at rest, set. a turn: what one more turn adds. worst: the most that a "
    "bearing has of its limit, wherever in its error the hand sets it. bolt, hinge: forces at "
    "rest, set; a bolt that is pulled has a minus. clear: to the nearest keep-out over the whole "
    "travel. falls: how far the motor's shaft drops if the belt breaks."
)
_PARETO = (
    " *: of all that were compared none beats it in tension per length of bolt, worst, bolt and "
    "plate together; the last in the list may be there for that alone."
)
_SHORT_LEGEND = (
    "tension: of one strand at rest, set. worst: the most that a bearing has of its limit. clear: "
    "to the nearest keep-out. falls: the motor's shaft, if the belt breaks. *: none beats it in "
    "everything."
)


def layouts_tables(placement: Placement, display: Display, most: int | None = None) -> str:
    """The ranked layouts, or so many: what to build, and what each gives."""
    layouts, unit = placement.layouts[:most], UNITS[display].length
    belts = len({layout.belt for layout in layouts}) > 1
    head = ["", "hinge x", "y", "reach", "motor", "side", "bolt", "thread"]
    units = ["", unit, unit, unit, "high", "", "", ""]
    if belts:
        head, units = [*head, "belt"], [*units, ""]
    build = [_built(layout, display, belts=belts) for layout in layouts]
    all_of = len(layouts) == len(placement.layouts)
    title = "THE LAYOUTS" if all_of else f"THE FIRST {len(layouts)} OF {len(placement.layouts)}"
    legend = _RESULT_LEGEND + _PARETO if most is None else _SHORT_LEGEND
    parts = [
        f"{title}, best first (--prefer {placement.prefer.value}): what to build",
        *columns([head, units, *build], left={5, 6, 7, 8}),
        wrap(_legend(layouts), "  ", "  "),
        "",
        "WHAT THEY GIVE",
        *columns([*_result_heads(display), *(_gives(layout, display) for layout in layouts)]),
        wrap(legend + _weight_legend(layouts), "  ", "  "),
    ]
    return "\n".join(parts)


def _built(layout: PlacedLayout, display: Display, *, belts: bool) -> list[str]:
    lengths = (*layout.hinge, layout.reach, layout.motor_height)
    cells = [
        str(layout.rank),
        *(marked(value, display, unit=False) for value in lengths),
        layout.motor_side,
        f"{_KINDS[layout.kind]} {_ACTS[layout.acts]}",
        _clipped(layout.thread),
    ]
    return [*cells, _clipped(layout.belt)] if belts else cells


def _legend(layouts: Sequence[PlacedLayout]) -> str:
    used_kinds, used_acts = ({getattr(one, key) for one in layouts} for key in ("kind", "acts"))
    kinds = {
        "jack-in-base": "base: a screw through a fixed block",
        "jack-in-plate": "plate: a screw through the plate",
        "link": "link: pinned at both ends",
    }
    acts = {
        "push": "push, pull: the plate the way that tightens",
        "pull": "push, pull: the plate the way that tightens",
        "hold-back": "hold: back a plate that its weight would tighten",
    }
    words = [
        "x, y: as in the file",
        "reach: hinge to bolt along the plate",
        "motor high: its shaft off the plate's face",
        *(text for kind, text in kinds.items() if kind in used_kinds),
        *dict.fromkeys(text for act, text in acts.items() if act in used_acts),
    ]
    return "; ".join(words) + "."


def _weight_legend(layouts: Sequence[PlacedLayout]) -> str:
    if not any(layout.of_weight for layout in layouts):
        return ""
    return " w: weight alone gives the wanted grip, and the bolt holds nothing back."


def _result_heads(display: Display) -> list[list[str]]:
    units = UNITS[display]
    force, length = units.force, units.length
    return [
        ["", "set", "tension", "a turn", "worst", "bolt", "hinge", "plate", "clear", "falls", ""],
        ["", "turns", force, force, "%", force, force, length, length, length, ""],
    ]


def _gives(layout: PlacedLayout, display: Display) -> list[str]:
    force = si_factor(UNITS[display].force)
    forces = (layout.adjuster, layout.hinge_load)
    return [
        str(layout.rank),
        turns_text(layout.set_turns),
        *(fitted(one / force, 3, 8) for one in (layout.set_tension, layout.tension_per_turn)),
        percent(layout.worst_share_of_limit),
        *(fitted(one / force, 3, 8) for one in forces),
        marked(layout.plate_length, display, unit=False),
        "-" if layout.clearance is None else UNITS[display].long(layout.clearance),
        UNITS[display].long(layout.fall),
        ("*" if layout.pareto else "") + ("w" if layout.of_weight else ""),
    ]


def reasons_table(why_not: Sequence[WhyNot], evaluated: int, few: int | None = None) -> str:
    """Why layouts will not do, the most frequent reason first; a few of them, or nearly all."""
    if not why_not:
        return ""
    most = few or _MOST_REASONS
    some = len(why_not) if len(why_not) <= most + 1 else most
    shown, rest = why_not[:some], why_not[some:]
    told = sorted((one for one in rest if one.lift), key=lambda one: -one.lift)
    told = told[: 0 if few else _MOST_LIFTS]
    shown = (*shown, *(one for one in rest if one in told))
    rest = [one for one in rest if one not in told]
    lines = ["WHY THE OTHERS WILL NOT DO (each counted at the first thing that is wrong)"]
    lines += [_counted(one.count, evaluated, _reason(one)) for one in shown]
    if rest:
        count, where = sum(one.count for one in rest), "" if few else ", all in --json"
        lines.append(_counted(count, evaluated, f"{len(rest)} more reasons{where}."))
    return "\n".join(lines)


def reasons_line(why_not: Sequence[WhyNot], evaluated: int) -> str:
    """The most frequent reasons by their names."""
    shown = ", ".join(
        f"{one.reason} ({100 * one.count / max(evaluated, 1):.0f} %)" for one in why_not[:3]
    )
    return paragraph("Others", f"will not do mostly for {shown}.") if shown else ""


def _reason(one: WhyNot) -> str:
    return f"{one.reason}: {sentence(one.sentence)}" if one.sentence else f"{one.reason}."


def _counted(count: int, evaluated: int, text: str) -> str:
    share = f"{100 * count / evaluated:.1f}" if evaluated else "-"
    first = f"{count:>{_COUNT},}{share:>6} %  "
    return untied(wrap(tied(text), first, " " * len(first)))


def sentence(text: str) -> str:
    """A text with a full stop at its end."""
    return text if text.endswith((".", "!", "?")) else f"{text}."


def _clipped(text: str) -> str:
    return text if len(text) <= _LONGEST_CELL else text[: _LONGEST_CELL - 1] + "…"
