"""Whether a belt is near enough to what was measured, and what to do where none is."""

from __future__ import annotations

from dataclasses import dataclass
from math import pi

from mountcalc.handbook.belts.designation import Designation
from mountcalc.handbook.belts.grooves import in_same_grooves
from mountcalc.measure.lengths import belt_length, belts_of, nearest_by
from mountcalc.measure.notes import OLD_STRETCH
from mountcalc.measure.pulleys import Pair, drive_of, driven_for
from mountcalc.measure.results import BeltLength
from mountcalc.pages.amounts import length_text
from mountcalc.scenario.model import Display

__all__ = ["Wanted", "is_near_enough", "what_to_do"]

# Tolerance of a belt of which none is known: the share of its length that metric belts have.
_SHARE = 0.01
_ROUNDING = 1e-6


@dataclass(frozen=True, slots=True)
class Wanted:
    """The belt that is looked for.

    ``pitch_length`` [m] was found for a ``section``; the shafts can move by ``room`` [m] either
    way, None where that was not said. ``is_belt`` tells that a belt was measured, which may be old.
    """

    section: str
    pitch_length: float
    pair: Pair | None
    room: float | None
    metric: bool | None
    display: Display
    is_belt: bool = False


def is_near_enough(belt: BeltLength, wanted: Wanted) -> bool:
    """Whether a belt may stand for what was found."""
    off = belt.difference or 0.0
    if wanted.room is not None and abs(_move(belt, wanted)) <= wanted.room + _ROUNDING:
        return True
    usual = _SHARE * belt.pitch_length
    short, long = (
        usual if one is None else one for one in (belt.tolerance_short, belt.tolerance_long)
    )
    return -long - _ROUNDING <= off <= short + _ROUNDING


def _move(belt: BeltLength, wanted: Wanted) -> float:
    """How much further apart a belt wants the shafts than they are [m]; half of it, roughly."""
    drive = None if wanted.pair is None else drive_of(wanted.pair, wanted.pitch_length)
    if drive is None or belt.center_distance is None:
        return (belt.difference or 0.0) / 2
    return belt.center_distance - drive.center_distance


def what_to_do(belts: tuple[Designation, ...], wanted: Wanted) -> tuple[str, ...]:
    """What to do where no published length is near enough."""
    beside = _beside(belts, wanted)
    said = [
        _between(beside, wanted),
        _stretched(beside[0], wanted),
        _moves(beside, wanted),
        _same_grooves(wanted),
        _other_pulley(beside, wanted),
    ]
    return tuple(text for text in said if text)


def _beside(belts: tuple[Designation, ...], wanted: Wanted) -> list[BeltLength]:
    """The belts on either side, the shorter first; one past an end of the series."""
    shorter = [one for one in belts if one.pitch_length <= wanted.pitch_length]
    longer = [one for one in belts if one.pitch_length > wanted.pitch_length]
    return [
        belt_length(one, wanted.pair, wanted.pitch_length) for one in (*shorter[-1:], *longer[:1])
    ]


def _between(beside: list[BeltLength], wanted: Wanted) -> str:
    found = length_text(wanted.pitch_length, wanted.display)
    places = [
        f"{one.designation}, {_amount(one.difference, wanted)} "
        f"{'shorter' if (one.difference or 0.0) < 0 else 'longer'},"
        for one in beside
    ]
    where = f"{'between' if len(places) > 1 else 'past'} {' and '.join(places).rstrip(',')}"
    return (
        f"No published length of section {wanted.section} is near enough: {found} in pitch length "
        f"is {where}."
    )


def _stretched(shorter: BeltLength, wanted: Wanted) -> str | None:
    """Whether an old belt of the next shorter length may read so."""
    share = -(shorter.difference or 0.0) / shorter.pitch_length
    if not (wanted.is_belt and 0 < share <= OLD_STRETCH):
        return None
    return (
        f"If it is an old belt, it may be {shorter.designation}, stretched by {100 * share:.1f} %: "
        "read its number."
    )


def _moves(beside: list[BeltLength], wanted: Wanted) -> str:
    about = "" if all(one.center_distance is not None for one in beside) else "about "
    moves = [
        f"{about}{_amount(_move(one, wanted), wanted)} "
        f"{'nearer' if (one.difference or 0.0) < 0 else 'further off'} for {one.designation}"
        for one in beside
    ]
    return (
        f"Move the motor {', or '.join(moves)}, besides the room to slip the belt on and to take "
        "it up."
    )


def _same_grooves(wanted: Wanted) -> str | None:
    """Belts of other sections that lie in the same grooves, with their cords where these have."""
    others = in_same_grooves(wanted.section)
    fits = []
    for name in others.sections:
        if belts := belts_of(name, metric=wanted.metric):
            near = nearest_by(belts, "pitch_length", wanted.pitch_length)
            belt = belt_length(near, wanted.pair, wanted.pitch_length)
            fits += [belt.designation] if is_near_enough(belt, wanted) else []
    if not fits:
        return None
    return (
        f"Of another section that lies in the same grooves ({others.source}; {others.sure}): "
        f"{', '.join(fits)}. It may carry less: see mountcalc belts."
    )


def _other_pulley(beside: list[BeltLength], wanted: Wanted) -> str:
    nearest = min(beside, key=lambda one: abs(one.difference or 0.0))
    off = nearest.difference or 0.0
    size = "smaller" if off < 0 else "larger"
    pair, name = wanted.pair, nearest.designation
    drive = None if pair is None else drive_of(pair, wanted.pitch_length)
    if pair is None or drive is None:
        # Half a turn of the belt lies on a pulley, so that its length grows by pi/2 of a diameter.
        by = _amount(2 * off / pi, wanted)
        return f"Or fit a pulley about {by} {size} for {name}, which changes the speed."
    driven = driven_for(pair, drive.center_distance, nearest.pitch_length)
    if driven is None:
        return f"No other driven pulley makes {name} fit where the motor stands."
    speed = 100 * (pair.driven.diameter / driven - 1)
    return (
        f"Or fit a driven pulley of {length_text(driven, wanted.display)} in pitch diameter for "
        f"{name}: the driven shaft then turns {abs(speed):.2g} % "
        f"{'faster' if speed > 0 else 'slower'}."
    )


def _amount(value: float | None, wanted: Wanted) -> str:
    return length_text(abs(value or 0.0), wanted.display)
