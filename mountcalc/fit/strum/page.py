"""What a recording tells, as text for the bench; or why it tells nothing, and the other way."""

from __future__ import annotations

from mountcalc.fit.strum.strand import Strummed
from mountcalc.pages.amounts import FORCE, in_figures
from mountcalc.pages.page import bullets, columns, heading, page, paragraph
from mountcalc.scenario.model import Scenario

_FILM = 240  # frames a second of a telephone's slow motion (common practice)
_SWINGS = 10
_AGAIN = (
    "Motor unplugged and locked out. Turn the pulleys by hand a few times, so that both strands "
    "pull alike; let somebody hold the other strand still, by its middle.",
    "Lay the telephone two fingers' breadth from the strand, on something that does not touch the "
    "mount: further off its high harmonics are lost. Quiet, please: no radio, no talk.",
    "Pluck the strand at a third or a fifth of its span, not in its middle, and let it die away: "
    "three times, two seconds apart. Save it as WAV.",
)


def strum_text(scenario: Scenario, told: Strummed, *, more: bool = False) -> str:
    """The page of a recording; with ``more`` all peaks."""
    sections = [heading(f"{told.title}: the tone of the plucked strand")]
    if told.tone is None or told.error is None:
        sections += [
            paragraph("Tone", f"none to be sure of: {told.why_not}."),
            "RECORD IT AGAIN\n" + bullets(_AGAIN),
        ]
    else:
        sections.append(_answer(scenario, told, told.tone, told.error))
    sections.append(paragraph("Film", _film(told)))
    rest = ("PEAKS OF THE SPECTRUM\n" + _peaks(told),) if told.peaks else ()
    return page("fit FILE --strum REC.wav", sections, rest, more=more, what="peaks, all cautions")


def _answer(scenario: Scenario, told: Strummed, tone: float, error: float) -> str:
    numbers, display = told.harmonics, scenario.display
    low, high = (
        FORCE.number(one, display, 2)
        for one in (told.tension_low, told.tension_high)
        if one is not None
    )
    plucks = "one pluck" if told.plucks == 1 else f"{told.plucks} plucks"
    heard = (
        f"{tone:.4g} Hz, within {in_figures(error, 1)} Hz (90 % sure). Heard in {plucks}: "
        f"{len(numbers)} harmonics, numbers {min(numbers)} to {max(numbers)}, "
        f"{told.over_noise:.0f} dB over the noise."
    )
    return "\n".join(
        [
            paragraph("Tone", heard),
            paragraph(
                "Tension",
                f"{low} to {high} {FORCE.shown(display)} on that strand at rest, the belt's mass "
                "known to a tenth.",
            ),
            paragraph("Log", f"{told.row} is the row for it, with your turns in place of TURNS."),
        ]
    )


def _film(told: Strummed) -> str:
    """The second way, which needs no sound."""
    count = _FILM * _SWINGS
    if told.tone is not None:
        return (
            f"to be sure, film the strand at {_FILM} frames a second: {_SWINGS} swings take "
            f"{count / told.tone:.0f} frames."
        )
    example = 25 if told.low < 25 < told.high else round(told.low * 2)  # noqa: PLR2004
    return (
        f"or count: film the strand from its side in slow motion, {_FILM} frames a second, and "
        f"count the frames of {_SWINGS} swings, there and back. Tone in Hz = {_FILM} x {_SWINGS} "
        f"/ frames: {round(count / example)} frames are {example} Hz. This mount's are from "
        f"{told.low:.0f} Hz, nearly slack, to {told.high:.0f} Hz at the end of its travel."
    )


def _peaks(told: Strummed) -> str:
    rows = [["Hz", "dB", "harmonic"]]
    rows += [
        [f"{one.frequency:.1f}", f"{one.level:.0f}", str(one.number or "-")] for one in told.peaks
    ]
    return "\n".join(columns(rows))
