"""A check as text: what fails first, then what passes, what is good to know, and the bearings."""

from __future__ import annotations

import math
from collections.abc import Callable

from mountcalc.results.check import (
    BearingCase,
    BearingFilm,
    BearingReport,
    Check,
    Judgement,
    Verdict,
)
from mountcalc.scenario.model import Display, Scenario
from mountcalc.show.page import bullets, heading, paragraph, wrap
from mountcalc.tasks.measures import (
    FILM,
    FORCE,
    NUMBER,
    POWER,
    PRESSURE,
    SLOPE,
    STRESS,
    TORQUE,
    VISCOSITY,
    Kind,
)
from mountcalc.tasks.notes import CAUTIONS
from mountcalc.tasks.printed_turns import turns_text

__all__ = ["check_text"]

_SHARE = 8
_HEADS = {
    Verdict.FAIL: "WHAT FAILS (share of the limit that is used up)",
    Verdict.PASS: "WHAT PASSES (share of the limit that is used up)",
    Verdict.NOTE: "GOOD TO KNOW (no verdicts)",
}
_FULL_TURN = 360
_LEAST_WIDTH = 6


def check_text(scenario: Scenario, check: Check) -> str:
    """The page of one check.

    Parameters
    ----------
    scenario : Scenario
        The mount, for its units.
    check : Check
        Its check.

    Returns
    -------
    str
        Lines of at most 80 characters.
    """
    sections = [
        heading(f"{check.title}: check"),
        _verdict(check),
        *(_judgements(check, verdict) for verdict in (Verdict.FAIL, Verdict.PASS, Verdict.NOTE)),
        *(_bearing(scenario, report) for report in check.bearings),
        _statements(check),
        "CAUTIONS\n" + bullets(CAUTIONS),
    ]
    return "\n\n".join(section for section in sections if section)


def _verdict(check: Check) -> str:
    verdicts = [judgement.verdict for judgement in check.judgements]
    fails, passes = verdicts.count(Verdict.FAIL), verdicts.count(Verdict.PASS)
    if fails:
        text = f"{fails} of {fails + passes} judgements fail{'s' if fails == 1 else ''}."
    else:
        text = f"All {passes} judgements pass."
    where = "" if check.turns is None else f"{turns_text(check.turns)} turns from zero, "
    lines = [paragraph("Verdict", text), paragraph("Judged", f"at {where}{check.turns_reason}.")]
    return "\n".join(lines)


def _judgements(check: Check, verdict: Verdict) -> str:
    """One line each, the highest share first where it can be told."""
    found = [judgement for judgement in check.judgements if judgement.verdict is verdict]
    if not found:
        return ""
    if verdict is not Verdict.NOTE:
        found.sort(key=lambda one: -math.inf if one.share is None else -one.share)
    by_cure: dict[str, list[Judgement]] = {}
    for one in found:
        by_cure.setdefault(one.what_to_change, []).append(one)
    lines = [_HEADS[verdict]]
    for cure, judgements in by_cure.items():
        lines += map(_judgement, judgements)
        if cure:
            what = "it" if len(judgements) == 1 else f"these {len(judgements)}"
            later = " " * (_SHARE + 2)
            lines.append(wrap(f"To change {what} (solved and judged again): {cure}", later, later))
    return "\n".join(lines)


def _judgement(judgement: Judgement) -> str:
    lead = "  - " if judgement.verdict is Verdict.NOTE else f"{_share(judgement.share):>{_SHARE}}  "
    sentence = judgement.sentence[0].upper() + judgement.sentence[1:]
    return wrap(f"{sentence} [{judgement.source}].", lead, " " * len(lead))


def _share(share: float | None) -> str:
    if share is None:
        return ""
    # A share just above 1 must not be read as kept.
    percent = math.ceil(100 * share - 1e-4) if share > 1 else round(100 * share)
    return f"{percent} %" if percent < 100_000 else "far over"  # noqa: PLR2004 (no room for more)


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
    ("bending", STRESS.unit_shown, _of(STRESS, "bending_stress")),
)


def _bearing(scenario: Scenario, report: BearingReport) -> str:
    """One bearing at the set point itself."""
    display = scenario.display
    columns = _COLUMNS
    if any(case.slope is not None for case in report.cases):
        columns += _SHAFT_COLUMNS
    widths = [max(len(head), _LEAST_WIDTH) for head, _, _ in columns]
    lines = [
        wrap(f'BEARING "{report.name}" AT THE SETTING ITSELF'),
        _line("", [head for head, _, _ in columns], widths),
        _line("", [unit(display) for _, unit, _ in columns], widths),
    ]
    for case in report.cases:
        name = f"{case.case} {case.rotation}" if scenario.motor.reverses else case.case
        lines.append(_line(name, [show(case, display) for _, _, show in columns], widths))
    if report.film is not None:
        lines.append(wrap(_film(report.film, display), "  ", "    "))
    return "\n".join(lines)


def _line(name: str, cells: list[str], widths: list[int]) -> str:
    text = "".join(f" {_fit(cell, width)}" for cell, width in zip(cells, widths, strict=True))
    return f"{name:<12}{text}"


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
    if not said:
        return ""
    everywhere = len(check.bearings)
    return "ABOUT THESE NUMBERS\n" + bullets(
        statement if len(names) == everywhere else f'"{names[0]}": {statement}'
        for statement, names in said.items()
    )
