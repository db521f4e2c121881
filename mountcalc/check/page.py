"""A check as text: what fails and what cures it, cautions, what passes; the rest line by line."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterator, Sequence

from mountcalc.check.results import BearingReport, Check
from mountcalc.judgement import Judgement, Verdict
from mountcalc.loads import parts_text
from mountcalc.pages.amounts import (
    FILM,
    FORCE,
    NUMBER,
    POWER,
    PRESSURE,
    PRESSURE_SPEED,
    SLOPE,
    SURFACE_SPEED,
    TORQUE,
    VISCOSITY,
    Kind,
    kind_of,
    percent,
)
from mountcalc.pages.page import bullets, columns, heading, page, paragraph, wrap
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.text.writing import Display
from mountcalc.table import giving, words

_SHARE = 8
FAILS = "WHAT FAILS (share of the limit that is used up)"
DOUBTS = "CAUTIONS ON THIS MOUNT (what may be, or limits nobody can vouch for)"
_PASSES = "WHAT PASSES (share of the limit that is used up; sources: --json)"
# What a judgement is called, and how its limit goes on.
_NAMES = {
    "setting": ("turns to set it in", "wanted"),
    "plate": ("the plate's hold", ""),
    "grip": ("grip", "wanted"),
    "adjuster-load": ("adjuster", "allowed"),
    "hinge-load": ("hinge", "allowed"),
    "spring-travel": ("the spring's travel", "solid"),
    "driven-speed": ("speed of the driven shaft", "allowed"),
    "motor-rating": ("power asked of the motor", "rated"),
    "belt-pulley": ("pitch diameter for the belt", "wanted"),
    "motor-pulley": ("pitch diameter for the motor's bearings", "wanted"),
    "rim-speed": ("speed of the rims", "ordinary pulleys"),
    "belt-power": ("power asked of the belt, with service factor", "rated"),
    "belt-install": ("room to slip a new belt on", "wanted"),
    "belt-take-up": ("room to take the belt up", "wanted"),
    "bearing-limit": ("", "allowed"),
    "new-belt": ("a new belt's worst share of a limit", "allowed"),
    "softest-belt": ("grip with the softest belt", "wanted"),
    "stiffest-belt": ("worst share of a limit with the stiffest belt", "allowed"),
    "start-up-pressure": ("before it turns", "allowed"),
    "service-pressure": ("rest or running, for its service", "in use"),
    "groove-direction": ("load from the groove", "wanted"),
    "cap-direction": ("load from the joint of the cap", "wanted"),
    "plate-bending": ("bending of the plate's board", "allowed"),
    "plate-shear": ("shear of the plate's board", "allowed"),
    "plate-twist": ("shear of the plate's board in twist", "allowed"),
    "screws-in-plate": ("worst screw in the plate, as a share", "allowed"),
    "screws-in-base": ("worst screw in the base, as a share", "allowed"),
    "hinge-pin": ("shear of the hinge's pin", "allowed"),
    "hinge-leaf": ("bending of the hinge's leaf", "allowed"),
    "bolt-stress": ("stress in the bolt", "allowed"),
    "bolt-buckling": ("bolt as a column", "allowed"),
    "bolt-thread": ("bolt in its thread", "allowed"),
    "tip-pressure": ("wood under the bolt's tip", "allowed"),
    "nut-washer": ("wood under the nut's washer", "allowed"),
    "bolt-turning": ("a hand on the wrench", "without strain"),
    "foot-washers": ("wood under a foot's washer", "allowed"),
    "foot-bolts": ("stress in a foot's bolt", "allowed"),
    "tension-left": ("a strand after a year of creep", "wanted"),
    "season": ("what the seasons move the bolt by", "wide is the range"),
    "plate-deflection": ("bend of the plate", "usual"),
    "pulley-tilt": ("tilt of the motor's pulley", "let pass"),
    "bolt-ripple": ("swing of the bolt's force", "carried"),
    "plate-shaking": ("the plate's own swing", ""),
}
# What several judgements are of, by the head of their names.
_GROUPS = {
    "plate-": "the plate's board",
    "screws-": "the hinges",
    "hinge-": "the hinges",
    "bolt-": "the bolt",
    "tip-": "the bolt",
    "nut-": "the bolt",
    "foot-": "the motor's feet",
    "tension-": "a year's creep",
    "season": "the seasons",
}
# Notes that stand with the verdict, or with the bearings.
_ELSEWHERE = {
    "keep-out", "edge-load", "surface-speed", "pressure-speed", "oil-film", "film-friction",
    "shaft-slope", "shaft-bending",
}  # fmt: skip
_ON_BEARINGS = {"bearing-limit", "start-up-pressure", "service-pressure"}
_FULL_TURN = 360
_LONGEST = 45  # lines of a page
_WIDEST = 6  # number of a bearing without an exponent


def check_text(scenario: Scenario, check: Check, *, more: bool = False) -> str:
    """The page of one check."""
    notes = [
        f"{_sentence(one)}."
        for one in of_verdict(check, Verdict.NOTE)
        if one.name not in _ELSEWHERE
    ]
    fails = of_verdict(check, Verdict.FAIL)
    said = {one.what_to_change for one in fails}
    answer = [
        heading(f"{check.title}: check"),
        giving.unsaid(scenario, check.turns),
        judged_first(check),
        _kept_badly(fails, FAILS),
        _kept_badly(of_verdict(check, Verdict.CAUTION), DOUBTS, said),
        _bearings(scenario, check, worst=True),
    ]
    rest = [
        _passing(scenario, check),
        "GOOD TO KNOW (no verdicts)\n" + bullets(notes) if notes else "",
        _bearings(scenario, check),
        _statements(check),
        parts_text(check.loads, scenario.display),
    ]
    text = page("check FILE", answer, rest, more=more)
    if not more and len(text.splitlines()) > _LONGEST:
        # So much is amiss that the bearings have to wait for --more.
        return page("check FILE", answer[:-1], rest)
    return text


def of_verdict(check: Check, verdict: Verdict) -> list[Judgement]:
    """Judgements of one verdict, the highest share first where it can be told."""
    found = [judgement for judgement in check.judgements if judgement.verdict is verdict]
    return sorted(found, key=lambda one: -math.inf if one.share is None else -one.share)


def judged_first(check: Check) -> str:
    """How many of what verdict; what passes in a line, each name once with the most it has."""
    failing, passing, cautions, notes = (
        of_verdict(check, one)
        for one in (Verdict.FAIL, Verdict.PASS, Verdict.CAUTION, Verdict.NOTE)
    )
    text = f"All {len(passing)} judgements pass"
    if failing:
        every, plural = len(failing) + len(passing), "s" if len(failing) == 1 else ""
        text = f"{len(failing)} of {every} judgements fail{plural}"
    if cautions:
        text += f", with {len(cautions)} caution{'' if len(cautions) == 1 else 's'}"
    where = "" if check.turns is None else f"{words.counted_turns(check.turns)} from zero, "
    lines = [
        paragraph("Verdict", f"{text}."),
        paragraph("Judged", f"at {where}{check.turns_reason}."),
        *(paragraph("Left out", f"{one.sentence}.") for one in notes if one.name == "keep-out"),
    ]
    most: dict[str, str] = {}
    for one in passing:
        heads = [] if one.name.endswith("-shaking") else _GROUPS.items()
        group = next((name for head, name in heads if one.name.startswith(head)), "")
        group = "the setting" if one.name == "setting" else group
        name = group or _NAMES.get(one.name, (one.name, ""))[0]
        if one.name in _ON_BEARINGS:
            case = "before it turns" if one.name == "start-up-pressure" else one.case
            fails = one.subject in {each.subject for each in failing}
            name = f'"{one.subject}"' + (f", {case}," if fails else "")
        most.setdefault(name, "" if one.share is None else f" {percent(one.share)}\xa0%")
    if most:
        text = "; ".join(f"{name}{share}" for name, share in most.items())
        lines.append(paragraph("Passes", f"{text}.").replace("\xa0", " "))
    return "\n".join(lines)


def _kept_badly(judgements: Sequence[Judgement], head: str, said: Collection[str] = ()) -> str:
    """The section of what fails or may; nothing where nothing does."""
    lines = [_beside(*one) for one in kept_badly(judgements, said)]
    return "\n".join([head, *lines]) if lines else ""


def kept_badly(
    judgements: Sequence[Judgement], said: Collection[str] = ()
) -> Iterator[tuple[str, str]]:
    """What fails or may: its share of the limit, and what is said with its source.

    What cures several stands once behind them, without a share. Cures that are ``said`` above
    already are only pointed to.
    """
    by_cure: dict[str, list[Judgement]] = {}
    for one in judgements:
        by_cure.setdefault(one.what_to_change, []).append(one)
    for cure, alike in by_cure.items():
        yield from ((_share(one), f"{_sentence(one)} [{one.source}].") for one in alike)
        what = "it" if len(alike) == 1 else f"these {len(alike)}"
        if cure and cure in said:
            yield "", f"The change above cures {what}, too."
        elif cure:
            yield "", f"To change {what} (solved and judged again): {cure}"


def _share(judgement: Judgement) -> str:
    """Share of the limit that is used up, where it can be told."""
    if judgement.share is None:
        return ""
    return f"{percent(judgement.share)} %" if judgement.share < 1000 else "far over"  # noqa: PLR2004


def _beside(margin: str, said: str) -> str:
    """What is said, beside a margin."""
    return wrap(said, f"{margin:>{_SHARE}}  ", " " * (_SHARE + 2))


def _sentence(judgement: Judgement) -> str:
    return judgement.sentence[0].upper() + judgement.sentence[1:]


def _passing(scenario: Scenario, check: Check) -> str:
    """What is kept, in one line where its numbers say it."""
    bearings, display = {one.name for one in scenario.driven.bearings}, scenario.display
    lines = []
    for one in of_verdict(check, Verdict.PASS):
        said = f"{_sentence(one)}."
        if one.name in _NAMES and one.value is not None and one.limit is not None:
            (name, relation), kind = _NAMES[one.name], kind_of(one.unit)
            about = [f'"{one.subject}"' if one.subject in bearings else one.subject]
            about += [name, "" if one.name == "start-up-pressure" else one.case]
            value, limit = (kind.text(kind.inside(it), display) for it in (one.value, one.limit))
            said = f"{', '.join(filter(None, about))}: {value}, {limit} {relation}"
            said = said[0].upper() + said[1:]
        lines.append(_beside(_share(one), said))
    return "\n".join([_PASSES, *lines]) if lines else ""


# Columns of the bearings: head, number of a case, and its kind, or its unit and what one is in it.
_COLUMNS: tuple[tuple[str, str, Kind | tuple[str, float]], ...] = (
    ("load", "load", FORCE),
    ("points", "direction", ("deg", math.degrees(1.0))),
    ("pressure", "pressure", PRESSURE),
    ("limit", "share_of_limit", ("%", 100.0)),
    ("at an end", "edge_load", FORCE),
    ("limit", "edge_share_of_limit", ("%", 100.0)),
    ("slope", "slope", SLOPE),
    ("bending", "bending_stress", PRESSURE),
)


def _cell(value: float | None, kind: Kind | tuple[str, float], display: Display) -> str:
    if value is None:
        return "-"
    if isinstance(kind, Kind):
        text = kind.number(value, display)
        return text if len(text) <= _WIDEST else f"{float(text):.0e}"
    unit, one = kind
    return percent(value) if unit == "%" else str(round(one * value) % _FULL_TURN)


def _bearings(scenario: Scenario, check: Check, *, worst: bool = False) -> str:
    """Both bearings at the set point itself; or each only where it is nearest to its limit."""
    display, cases = scenario.display, [case for one in check.bearings for case in one.cases]
    if worst:
        cases = [
            max(one.cases, key=lambda case: case.share_of_limit or 0.0) for one in check.bearings
        ]
    has_shaft = any(case.slope is not None for case in cases)
    shown = _COLUMNS if has_shaft else _COLUMNS[:-2]
    units = [kind.shown(display) if isinstance(kind, Kind) else kind[0] for _, _, kind in shown]
    rows = [
        [
            f"{case.case} {case.rotation}" if scenario.motor.reverses else case.case,
            *(_cell(getattr(case, name), kind, display) for _, name, kind in shown),
        ]
        for case in cases
    ]
    heads = ["", *(head for head, _, _ in shown)], ["", *units]
    first, second, *lines = columns([*heads, *rows], left={0})
    said = ["BEARINGS AT THE SETTING ITSELF", first, second]
    if worst:
        said[0] += ", where nearest to their limits"
    each = len(lines) // len(check.bearings)
    for place, report in enumerate(check.bearings):
        about = "" if worst else f": {_rubbing(report, check, display)}"
        said.append(wrap(f'"{report.name}"{about}', "", "  "))
        said += lines[place * each : (place + 1) * each]
        if not worst:
            said += [wrap(one, "  ", "    ") for one in _remarks(report, check, display)]
    return "\n".join(said)


def _remarks(report: BearingReport, check: Check, display: Display) -> list[str]:
    """What the numbers of a bearing do not say by themselves."""
    film, notes = report.film, _of_bearing(report, check)
    remarks = []
    if film is not None:
        remarks.append(
            f"Oil film, running: viscosity {VISCOSITY.text(film.viscosity, display)}, Sommerfeld "
            f"number {NUMBER.text(film.sommerfeld, display)}, eccentricity ratio "
            f"{film.eccentricity:.2f}, thinnest film {FILM.text(film.minimum_film, display)} "
            f"(wanted {FILM.text(film.least_film, display)}), friction "
            f"{NUMBER.text(film.friction, display)}, torque "
            f"{TORQUE.text(film.friction_torque, display)}, power lost "
            f"{POWER.text(film.power_lost, display)}."
        )
    names = ("shaft-slope",) if film is None else ("shaft-slope", "oil-film")
    return [*remarks, *(f"{_after_name(notes[name])}." for name in names if name in notes)]


def _of_bearing(report: BearingReport, check: Check) -> dict[str, Judgement]:
    notes = of_verdict(check, Verdict.NOTE)
    return {one.name: one for one in notes if one.subject == report.name}


def _rubbing(report: BearingReport, check: Check, display: Display) -> str:
    """Speed of the journal's surface, and how warm it gets."""
    said = f"surface {SURFACE_SPEED.text(report.surface_speed, display)}"
    judged = _of_bearing(report, check).get("pressure-speed")
    if judged is None or report.pressure_speed is None or judged.limit is None:
        return said
    limit = PRESSURE_SPEED.inside(judged.limit)
    return (
        f"{said}; pressure times speed {PRESSURE_SPEED.number(report.pressure_speed, display)} "
        f"of {PRESSURE_SPEED.text(limit, display)}"
    )


def _after_name(judgement: Judgement) -> str:
    """A sentence on a bearing without its name."""
    said = judgement.sentence.removeprefix(f'"{judgement.subject}"').lstrip(":, ")
    return said[0].upper() + said[1:]


def _statements(check: Check) -> str:
    """What must be said beside the numbers, each once."""
    said: dict[str, list[str]] = {}
    for report in check.bearings:
        for statement in report.statements:
            said.setdefault(statement, []).append(report.name)
        if report.film is None and (note := _of_bearing(report, check).get("oil-film")):
            said.setdefault(f"{_after_name(note)}.", []).append(report.name)
    return "ABOUT THESE NUMBERS\n" + bullets(
        statement if len(names) == len(check.bearings) else f'"{names[0]}": {statement}'
        for statement, names in said.items()
    )
