"""How a plucked strand is heard, filmed or counted, in words."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import replace

from mountcalc.card.results import StrandTest, Timing
from mountcalc.card.strand_test import timing_of
from mountcalc.handbook.rows import load
from mountcalc.pages.page import paragraph
from mountcalc.requirements.readings import readings_of, too_coarse
from mountcalc.requirements.results import Method, MethodName
from mountcalc.scenario.model import Display

__all__ = ["hearing_text"]

_SWINGS = 10
_MORE = {
    Timing.MICROPHONE: "Higher is tighter",
    Timing.FILM: "Fewer frames are tighter",
    Timing.COUNT: "More swings are tighter",
}


def hearing_text(
    bedded: StrandTest, new: StrandTest | None, methods: tuple[Method, ...] = ()
) -> str:
    """What to listen for; nothing where the span's frequency is not known."""
    timing = bedded.timing
    if timing is None:
        return ""
    hum = next((one for one in methods if one.name is MethodName.HUM), None)
    if hum is not None:
        # The least that is read must be heard, and what is told is what the table has.
        timing = timing_of(hum.aim if hum.not_below is None else hum.not_below)
        shown = readings_of(hum, Display.METRIC)
        aim, new_aim = float(shown.aim), float(shown.new_aim)
        bedded = replace(bedded, span_frequency=aim)
        new = replace(bedded, span_frequency=new_aim) if new_aim > aim else None
    often = _both(bedded, new, _plain if hum is not None else _whole)
    how = {Timing.MICROPHONE: _by_ear, Timing.FILM: _by_film, Timing.COUNT: _by_eye}
    text = (
        f"Pluck the strand in mid-span: it swings {often} times a second. "
        f"{how[timing](bedded, new)} {_MORE[timing]}{_too_far(timing, hum)}.{too_coarse(hum)}"
    )
    return paragraph("Hear", text)


def _plain(frequency: float) -> str:
    return f"{frequency:g}"


def _whole(frequency: float) -> str:
    return f"{frequency:.0f}" if frequency >= _SWINGS else f"{frequency:.1f}"


def _too_far(timing: Timing, hum: Method | None) -> str:
    """The readings that are too slack and too tight, in what is counted."""
    if hum is None or hum.not_below is None:
        return ""
    shown = [_counted(timing, hum.not_below, up=True)]
    if hum.never_above is not None:
        shown.append(_counted(timing, hum.never_above, up=False))
    words = ("is too slack", "is too tight")
    sides = ("more", "fewer") if timing is Timing.FILM else ("less", "more")
    ends = (
        f"{side} than {text} {word}" for side, text, word in zip(sides, shown, words, strict=False)
    )
    return f": {', '.join(ends)}"


def _counted(timing: Timing, frequency: float, *, up: bool) -> str:
    """A frequency as frames, swings or hertz, rounded to the certain side."""
    facts = load("bench_card")
    if timing is Timing.FILM:
        frames = _SWINGS * facts["filmed"]["frames_Hz"] / frequency
        return f"{math.floor(frames) if up else math.ceil(frames)}"
    value = frequency * (facts["counted"]["seconds"] if timing is Timing.COUNT else 1.0)
    return f"{math.ceil(value) if up else math.floor(value)}"


def _by_ear(bedded: StrandTest, new: StrandTest | None) -> str:
    hertz = _both(bedded, new, _plain)
    return f"A tuner program on a telephone held close to it should show {hertz} Hz."


def _by_film(bedded: StrandTest, new: StrandTest | None) -> str:
    frames = load("bench_card")["filmed"]["frames_Hz"]
    ten = _both(bedded, new, lambda frequency: f"{_SWINGS * frames / frequency:.0f}")
    return (
        f"{_too_low()} Film it in slow motion, {frames:.0f} frames a second, and count: {_SWINGS} "
        f"swings take {ten} frames."
    )


def _by_eye(bedded: StrandTest, new: StrandTest | None) -> str:
    seconds = load("bench_card")["counted"]["seconds"]
    swings = _both(bedded, new, lambda frequency: f"{seconds * frequency:.0f}")
    return f"{_too_low()} Count by eye: {swings} swings in {seconds:.0f} s."


def _too_low() -> str:
    heard = load("bench_card")["heard"]
    return (
        f"Most telephones hear nothing below about {heard['least_Hz']:.0f} ({heard['sure']}): "
        "do not trust what a tuner program shows here."
    )


def _both(bedded: StrandTest, new: StrandTest | None, show: Callable[[float], str]) -> str:
    """A number made from the frequency, and in brackets that of a new belt."""
    assert bedded.span_frequency is not None
    text = show(bedded.span_frequency)
    if new is None or new.span_frequency is None:
        return text
    return f"{text} (new: {show(new.span_frequency)})"
