"""How a plucked strand is heard, filmed or counted, in words."""

from __future__ import annotations

from collections.abc import Callable

from mountcalc.belts.data import load
from mountcalc.results.card import StrandTest, Timing
from mountcalc.show.page import paragraph

__all__ = ["hearing_text"]

_SWINGS = 10


def hearing_text(bedded: StrandTest, new: StrandTest | None) -> str:
    """What to listen for; nothing where the span's frequency is not known.

    Parameters
    ----------
    bedded, new : StrandTest
        A belt that has bedded in, and a new one where it is set otherwise.

    Returns
    -------
    str
        A paragraph of the page.
    """
    if bedded.timing is None:
        return ""
    often = _both(
        bedded,
        new,
        lambda frequency: f"{frequency:.0f}" if frequency >= _SWINGS else f"{frequency:.1f}",
    )
    how = {Timing.MICROPHONE: _by_ear, Timing.FILM: _by_film, Timing.COUNT: _by_eye}
    return paragraph(
        "Hear",
        f"Pluck the strand in mid-span: it swings {often} times a second. "
        f"{how[bedded.timing](bedded, new)} A tenth too few is a fifth too little tension.",
    )


def _by_ear(bedded: StrandTest, new: StrandTest | None) -> str:
    hertz = _both(bedded, new, lambda frequency: f"{frequency:.0f}")
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
