"""What the readings tell, as text for the bench: this belt, its zero, and what to read next."""

from __future__ import annotations

import math
from collections.abc import Iterator

from mountcalc.fit.results import Fit, FittedReading, Interval
from mountcalc.pages.amounts import FORCE, figures, rate_text, turns_text
from mountcalc.pages.page import columns, heading, page, paragraph, unlikely, wrap
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.text.writing import Display
from mountcalc.table import words

_LEGEND = (
    "fitted: what this belt would read there, the turns that a hand misses allowed for. off: read "
    "less fitted."
)
_FINER = 4  # times than its error a reading is shown
_PARTS = 16  # of a turn, as a hand sets it
_MOST_ROWS = 14  # of readings on the page; --more has all


def fit_text(scenario: Scenario, fit: Fit, *, more: bool = False) -> str:
    """The page of a fit; with ``more`` all readings, how sure they are taken to be, and notes."""
    shown = _shown(fit.readings)
    answer = [
        heading(f"{scenario.title}: what the readings tell"),
        "\n".join(
            [
                paragraph("Belt", _belt(scenario, fit)),
                paragraph("Zero", _zero(fit.zero_turns)),
                *(paragraph(name, text) for name, text in _also(scenario, fit)),
            ]
        ),
        paragraph("Doubt", " ".join(fit.notes)) if fit.notes else "",
        paragraph("Next", fit.next.sentence),
        paragraph("Open", " ".join(fit.cannot_tell)) if fit.cannot_tell else "",
        paragraph("Bedding", " ".join(fit.bedding.sentences)) if fit.bedding else "",
        f"THE READINGS\n{_table(shown, scenario.display)}\n"
        + ("" if len(shown) == len(fit.readings) else f"  {len(fit.readings)} in all: --more\n")
        + wrap(_LEGEND, "  ", "  "),
        "" if fit.written is None else paragraph("Written", _written(fit.written)),
        "" if more else unlikely(scenario),
    ]
    rest = (
        "ALL OF THEM (error: what one reading may be off, two times of three)\n"
        + _table(fit.readings, scenario.display, errors=True),
    )
    what = "how sure each reading is, all cautions"
    return page("fit FILE READINGS", answer, rest, more=more, what=what)


def _belt(scenario: Scenario, fit: Fit) -> str:
    display, factor = scenario.display, scenario.belt.stiffness_factor
    low, high = (FORCE.number(value, display) for value in (fit.stiffness.low, fit.stiffness.high))
    said = (
        f"stiffness {FORCE.text(fit.stiffness.value, display)}, {low} to {high} "
        f"({_sure(fit)}); the file says {FORCE.text(scenario.belt.stiffness, display)}"
    )
    said += f", known to a factor of {factor:.3g}." if factor > 1 else "."
    if fit.stiffness.high / fit.stiffness.low >= factor**2:
        said += " These readings tell no more than that: read at more turns, further apart."
    return said


def _sure(fit: Fit) -> str:
    return f"{100 * fit.confidence:.0f} % sure"


def _zero(zero: Interval) -> str:
    """Where the person's mark stands, and what to do about it."""
    low, high = math.floor(zero.low * _PARTS) / _PARTS, math.ceil(zero.high * _PARTS) / _PARTS
    at = round(zero.value * _PARTS) / _PARTS
    between = f"{turns_text(low)} to {turns_text(high)}"
    if zero.low <= 0 <= zero.high:
        return f"your mark may be right: the true zero is at {turns_text(at)} ({between})."
    return (
        f"your mark is {words.counted_turns(abs(at))} {'before' if at > 0 else 'past'} the true "
        f"zero, which is at {turns_text(at)} on your count ({between}): make a new mark there."
    )


def _also(scenario: Scenario, fit: Fit) -> Iterator[tuple[str, str]]:
    """What else was found: what a turn gives, weights, give."""
    if fit.turn_gives is not None:
        display = scenario.display
        gives, gave = (
            "-".join(
                figures(value / FORCE.size(display), 2)
                for value in (one.tension_per_turn_low, one.tension_per_turn_high)
            )
            for one in (fit.turn_gives, fit.turn_gave or fit.turn_gives)
        )
        unit = FORCE.shown(display)
        text = f"the first from the true zero gives {gives} {unit} on each strand"
        yield "A turn", f"{text}; before the readings, {gave} {unit}."
    if fit.weights is not None:
        yield (
            "Weights",
            f"motor and plate weigh {fit.weights.value:.3g} times what the file says "
            f"({fit.weights.low:.3g} to {fit.weights.high:.3g}).",
        )
    if fit.traction is not None:
        times = fit.traction
        motor, driven = (
            f"{part.traction * times.value:.2g}" for part in (scenario.motor, scenario.driven)
        )
        yield (
            "Traction",
            f"{times.value:.3g} times what the file says ({times.low:.3g} to {times.high:.3g}): "
            f"{motor} on the motor pulley, {driven} on the driven one.",
        )
    if fit.give is not None:
        value, low, high = (
            rate_text(one, scenario.display)
            for one in (fit.give.value, fit.give.low, fit.give.high)
        )
        yield "Give", f"plate and {words.adjuster_noun(scenario)} give {value} ({low} to {high})."


def _turns(one: FittedReading) -> str:
    return "slack" if one.turns is None else turns_text(one.turns)


def _shown(readings: tuple[FittedReading, ...]) -> tuple[FittedReading, ...]:
    """The readings that a page shows: the suspect and the last ones, if there are many."""
    if len(readings) <= _MOST_ROWS:
        return readings
    kept = sorted(readings, key=lambda one: (not one.suspect, -one.row))[:_MOST_ROWS]
    return tuple(one for one in readings if one in kept)


def _written(path: str) -> str:
    return f"{path}: your file with what was fitted. Go on with it, as mountcalc table {path}."


def _table(readings: tuple[FittedReading, ...], display: Display, *, errors: bool = False) -> str:
    """Each reading beside what the fitted belt would read there, in its own unit."""
    rows = [["row", "turns", "method", "read", "fitted", "off", *(["error"] if errors else [])]]
    for one in readings:
        kind, size = one.method.kind, one.method.kind.size(display)
        read, fitted, error = (value / size for value in (one.read, one.fitted, one.error))
        places = max(-math.floor(math.log10(error / _FINER)), 0)
        off = round(read - fitted, places) + 0.0  # no "-0.0"
        row = [str(one.row), _turns(one), one.method.value]
        row += [f"{read:.{places}f} {kind.shown(display)}", f"{fitted:.{places}f}"]
        row.append(f"{off:+.{places}f}")
        rows.append([*row, *([f"{error:.{places}f}"] if errors else [])])
    marks = ["", *("  DOUBT" if one.suspect else "" for one in readings)]
    return "\n".join(f"{line}{mark}" for line, mark in zip(columns(rows, {2}), marks, strict=True))
