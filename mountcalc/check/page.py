"""A check as text: what fails first, cautions, what passes line by line, and the bearings."""

from __future__ import annotations

import math
from collections.abc import Callable

from mountcalc.check.results import BearingCase, BearingFilm, BearingReport, Check
from mountcalc.judgement import (
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
    Judgement,
    Kind,
    Verdict,
    kind_of,
)
from mountcalc.pages.amounts import percent
from mountcalc.pages.page import bullets, heading, page, paragraph, wrap
from mountcalc.pages.turns import turns_text
from mountcalc.scenario.model import Display, Scenario

__all__ = ["check_text"]

_SHARE = 8
_HEADS = {
    Verdict.FAIL: "WHAT FAILS (share of the limit that is used up)",
    Verdict.CAUTION: "CAUTIONS ON THIS MOUNT (what may be, or limits nobody can vouch for)",
    Verdict.PASS: "WHAT PASSES (share of the limit that is used up; sources: --json)",
}
# What a judgement that passes is called, and how its limit goes on.
_PASSES = {
    "setting": ("turns to set it in", "wanted"),
    "grip": ("grip", "wanted"),
    "adjuster-load": ("adjuster", "allowed"),
    "hinge-load": ("hinge", "allowed"),
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
}
_OF_BEARINGS = {
    "edge-load", "surface-speed", "pressure-speed", "oil-film", "film-friction", "shaft-slope",
    "shaft-bending",
}  # fmt: skip
_FULL_TURN = 360
_LEAST_WIDTH = 6


def check_text(scenario: Scenario, check: Check, *, more: bool = False) -> str:
    """The page of one check."""
    answer = [
        heading(f"{check.title}: check"),
        _verdict(check),
        *(_judgements(scenario, check, verdict) for verdict in _HEADS),
    ]
    rest = (_notes(check), _bearings(scenario, check), _statements(check))
    return page("check FILE", answer, rest, more=more)


def _verdict(check: Check) -> str:
    verdicts = [judgement.verdict for judgement in check.judgements]
    fails, passes, cautions = map(verdicts.count, (Verdict.FAIL, Verdict.PASS, Verdict.CAUTION))
    if fails:
        text = f"{fails} of {fails + passes} judgements fail{'s' if fails == 1 else ''}"
    else:
        text = f"All {passes} judgements pass"
    if cautions:
        text += f", with {cautions} caution{'' if cautions == 1 else 's'}"
    where = "" if check.turns is None else f"{turns_text(check.turns)} turns from zero, "
    lines = [
        paragraph("Verdict", f"{text}."),
        paragraph("Judged", f"at {where}{check.turns_reason}."),
    ]
    return "\n".join(lines)


def _judgements(scenario: Scenario, check: Check, verdict: Verdict) -> str:
    """Those of one verdict, the highest share first where it can be told."""
    found = [judgement for judgement in check.judgements if judgement.verdict is verdict]
    if not found:
        return ""
    found.sort(key=lambda one: -math.inf if one.share is None else -one.share)
    if verdict is Verdict.PASS:
        return "\n".join([_HEADS[verdict], *(_passing(scenario, one) for one in found)])
    by_cure: dict[str, list[Judgement]] = {}
    for one in found:
        by_cure.setdefault(one.what_to_change, []).append(one)
    lines = [_HEADS[verdict]]
    for cure, judgements in by_cure.items():
        lines += map(_failing, judgements)
        if cure:
            what = "it" if len(judgements) == 1 else f"these {len(judgements)}"
            later = " " * (_SHARE + 2)
            lines.append(wrap(f"To change {what} (solved and judged again): {cure}", later, later))
    return "\n".join(lines)


def _failing(judgement: Judgement) -> str:
    """What is not kept in full: its sentence and its source."""
    lead = f"{_share(judgement.share):>{_SHARE}}  "
    return wrap(f"{_sentence(judgement)} [{judgement.source}].", lead, " " * len(lead))


def _passing(scenario: Scenario, judgement: Judgement) -> str:
    """What is kept in one line where its numbers say it."""
    lead, words = f"{_share(judgement.share):>{_SHARE}}  ", _PASSES.get(judgement.name)
    value, limit, display = judgement.value, judgement.limit, scenario.display
    if words is None or value is None or limit is None:
        return wrap(f"{_sentence(judgement)}.", lead, " " * len(lead))
    name, relation = words
    about = [f'"{judgement.subject}"' if _is_bearing(scenario, judgement) else judgement.subject]
    about += [name, "" if judgement.name == "start-up-pressure" else judgement.case]
    kind = kind_of(judgement.unit)
    said = (
        f"{', '.join(filter(None, about))}: {kind.text(kind.inside(value), display)}, "
        f"{kind.text(kind.inside(limit), display)} {relation}"
    )
    return wrap(said[0].upper() + said[1:], lead, " " * len(lead))


def _is_bearing(scenario: Scenario, judgement: Judgement) -> bool:
    return any(bearing.name == judgement.subject for bearing in scenario.driven.bearings)


def _sentence(judgement: Judgement) -> str:
    return judgement.sentence[0].upper() + judgement.sentence[1:]


def _notes(check: Check) -> str:
    """What is good to know of the drive; that of the bearings stands with them."""
    found = [
        f"{_sentence(one)}."
        for one in check.judgements
        if one.verdict is Verdict.NOTE and one.name not in _OF_BEARINGS
    ]
    return "GOOD TO KNOW (no verdicts)\n" + bullets(found) if found else ""


def _share(share: float | None) -> str:
    if share is None:
        return ""
    return f"{percent(share)} %" if share < 1000 else "far over"  # noqa: PLR2004 (no room for more)


_Column = tuple[str, Callable[[Display], str], Callable[[BearingCase, Display], str]]


def _of(kind: Kind, name: str) -> Callable[[BearingCase, Display], str]:
    """How a column shows one number of a case."""

    def show(case: BearingCase, display: Display) -> str:
        value = getattr(case, name)
        return "-" if value is None else kind.number(value, display)

    return show


def _plain(unit: str) -> Callable[[Display], str]:
    return lambda _: unit


def _direction(case: BearingCase, _: Display) -> str:
    if case.direction is None:
        return "-"
    return f"{round(math.degrees(case.direction)) % _FULL_TURN}"


def _percent(name: str) -> Callable[[BearingCase, Display], str]:
    def show(case: BearingCase, _: Display) -> str:
        share = getattr(case, name)
        return "-" if share is None else f"{100 * share:.0f}"

    return show


_COLUMNS: tuple[_Column, ...] = (
    ("load", FORCE.unit_shown, _of(FORCE, "load")),
    ("points", _plain("deg"), _direction),
    ("pressure", PRESSURE.unit_shown, _of(PRESSURE, "pressure")),
    ("limit", _plain("%"), _percent("share_of_limit")),
    ("at an end", FORCE.unit_shown, _of(FORCE, "edge_load")),
    ("limit", _plain("%"), _percent("edge_share_of_limit")),
)
_SHAFT_COLUMNS: tuple[_Column, ...] = (
    ("slope", SLOPE.unit_shown, _of(SLOPE, "slope")),
    ("bending", PRESSURE.unit_shown, _of(PRESSURE, "bending_stress")),
)


def _bearings(scenario: Scenario, check: Check) -> str:
    """Both bearings at the set point itself."""
    display, columns = scenario.display, _COLUMNS
    if any(case.slope is not None for report in check.bearings for case in report.cases):
        columns += _SHAFT_COLUMNS
    widths = [max(len(head), _LEAST_WIDTH) for head, _, _ in columns]
    lines = [
        "BEARINGS AT THE SETTING ITSELF",
        _line("", [head for head, _, _ in columns], widths),
        _line("", [unit(display) for _, unit, _ in columns], widths),
    ]
    for report in check.bearings:
        lines.append(wrap(f'"{report.name}": {_rubbing(report, check, display)}', "", "  "))
        for case in report.cases:
            name = f"{case.case} {case.rotation}" if scenario.motor.reverses else case.case
            lines.append(_line(name, [show(case, display) for _, _, show in columns], widths))
        if report.film is not None:
            lines.append(wrap(_film(report.film, display), "  ", "    "))
        lines += [wrap(f"{said}.", "  ", "    ") for said in _told(report, check)]
    return "\n".join(lines)


def _of_bearing(report: BearingReport, check: Check) -> dict[str, Judgement]:
    return {
        one.name: one
        for one in check.judgements
        if one.subject == report.name and one.verdict is Verdict.NOTE
    }


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


def _told(report: BearingReport, check: Check) -> list[str]:
    """What the numbers of a bearing do not say by themselves."""
    notes = _of_bearing(report, check)
    names = ("shaft-slope", *(("oil-film",) if report.film is not None else ()))
    return [_after_name(notes[name]) for name in names if name in notes]


def _after_name(judgement: Judgement) -> str:
    """A sentence on a bearing without its name."""
    said = judgement.sentence.removeprefix(f'"{judgement.subject}"').lstrip(":, ")
    return said[0].upper() + said[1:]


def _line(name: str, cells: list[str], widths: list[int]) -> str:
    text = "".join(f" {_fit(cell, width)}" for cell, width in zip(cells, widths, strict=True))
    return f"  {name:<12}{text}"


def _fit(cell: str, width: int) -> str:
    """A cell of its width; a number too long for it with an exponent."""
    return f"{cell if len(cell) <= width else f'{float(cell):.0e}':>{width}}"


def _film(film: BearingFilm, display: Display) -> str:
    return (
        f"Oil film, running: viscosity {VISCOSITY.text(film.viscosity, display)}, Sommerfeld "
        f"number {NUMBER.text(film.sommerfeld, display)}, eccentricity ratio "
        f"{film.eccentricity:.2f}, thinnest film {FILM.text(film.minimum_film, display)} (wanted "
        f"{FILM.text(film.least_film, display)}), friction {NUMBER.text(film.friction, display)}, "
        f"torque {TORQUE.text(film.friction_torque, display)}, power lost "
        f"{POWER.text(film.power_lost, display)}."
    )


def _statements(check: Check) -> str:
    """What must be said beside the numbers, each once."""
    said: dict[str, list[str]] = {}
    for report in check.bearings:
        for statement in report.statements:
            said.setdefault(statement, []).append(report.name)
        if report.film is None and (note := _of_bearing(report, check).get("oil-film")):
            said.setdefault(f"{_after_name(note)}.", []).append(report.name)
    if not said:
        return ""
    everywhere = len(check.bearings)
    return "ABOUT THESE NUMBERS\n" + bullets(
        statement if len(names) == everywhere else f'"{names[0]}": {statement}'
        for statement, names in said.items()
    )
