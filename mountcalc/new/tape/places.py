"""Where the parts of a mount are, from its measurements: or which are wanted, or do not fit."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from functools import cache, partial
from typing import NoReturn

from mountcalc.errors import InputError
from mountcalc.new.measurements import Measurements, questions
from mountcalc.new.results import Contradiction
from mountcalc.new.tape.misfit import Show, contradiction, fits, single_slips
from mountcalc.new.tape.positions import (
    DRIVEN,
    ORIGIN,
    Found,
    TapeReading,
    Tells,
    open_ways,
    positions,
)
from mountcalc.record import Record
from mountcalc.scenario.text.wording import listed
from mountcalc.scenario.text.writing import Vector

THINGS = {
    DRIVEN: "the machine's shaft",
    "motor": "the motor's shaft",
    "hinge": "the hinge's pin",
    "bolt": "the place where the bolt bears",
    "post": "the fixed end of the eye-bolt",
    "plate_end": "the plate's far end",
}
"""Points by their names, as a sentence has them."""
_SPANS = {
    "driven_to_motor": (DRIVEN, "motor"),
    "hinge_to_driven": ("hinge", DRIVEN),
    "hinge_to_motor": ("hinge", "motor"),
    "hinge_to_bolt": ("hinge", "bolt"),
    "driven_to_bolt": (DRIVEN, "bolt"),
    "bolt_to_post": ("bolt", "post"),
}
# Words that tell where a thing lies, seen from another; axis and sign of each.
_WORDS = {"motor_lies": ("motor", DRIVEN), "hinge_lies": ("hinge", "motor")}
_WAYS = {"left": (0, -1), "right": (0, 1), "below": (1, -1), "above": (1, 1)}
_ANYWHERE = ((-0.5, -0.1), (-0.6, -0.3), (-0.63, 0.1), (-0.8, 0.13))
# A place that may be off by more than so many errors of the tape is told.
_LOOSE = 8.0
_SURE_PLACE = 2


class Located(Record):
    """Points [m] from the machine's shaft by name: motor and hinge, bolt and post if measured.

    The ``choices`` have one motor and one hinge, and fit alike; ``height`` [m] is that of the
    machine's shaft over the floor, None where nothing tells it.
    """

    choices: tuple[Mapping[str, Vector], ...]
    height: float | None
    remarks: tuple[str, ...]
    contradiction: Contradiction | None


def _reading(key: str, value: float) -> TapeReading:
    if key in _SPANS:
        return TapeReading(key, Tells.SPAN, _SPANS[key], value)
    name, _, tells = key.partition("_")
    return TapeReading(key, Tells(tells), (name,), value)


@cache
def tape_keys() -> tuple[str, ...]:
    """Keys of all that a tape reads of places, in the order in which they are asked."""
    keys = {f"{name}_{tells}" for name in THINGS for tells in ("height", "wall")} | _SPANS.keys()
    return tuple(key for key in questions() if key in keys)


def located(measured: Measurements, show: Show) -> Located:
    """Find the points of a mount; ``show`` writes a length.

    An InputError names the question whose answer is wanted.
    """
    every = [_reading(key, measured.value(key)) for key in tape_keys() if key in measured]
    names = ["motor", "hinge"]
    # What hangs on the plate is found by the tape if it read enough, else by the plate's line.
    for name in ("bolt", "post"):
        near = {DRIVEN, *names, name}
        told = [one for one in every if name in one.points and near.issuperset(one.points)]
        if len(told) >= _SURE_PLACE:
            names.append(name)
    known = {DRIVEN, *names}
    readings = [one for one in every if known.issuperset(one.points)]
    side = -1 if measured.text("wall_side") == "right" else 1
    error = measured.value("tape_error")
    found = positions(readings, names, side) if readings else []
    good = [at for at in found if fits(at, error)]
    if not found or (good and good[0].is_open):
        _refuse_open(measured, readings, names, good, side)
    meant = [at for at in good if _is_meant(measured, at)]
    wrong = None
    if not good:
        wrong = contradiction(readings, names, side, error, partial(_is_meant, measured), show)
    elif not meant:
        slips = single_slips(readings, names, side, error, partial(_is_meant, measured))
        wrong = _wrong_word(measured, good, slips, show)
    best = (meant or good or found)[0]
    choices = [one for one in meant if _is_same(one, best, ("motor", "hinge"), error)]
    if len(choices) < len(meant):
        other = next(one for one in meant if one not in choices)
        _refuse_two(measured, (best, other), side, show)
    return Located(
        tuple(one.points for one in choices or [best]),
        best.levels.get(Tells.HEIGHT),
        () if wrong else tuple(_loose(measured, best, names, error, show)),
        wrong,
    )


def _is_meant(measured: Measurements, at: Found) -> bool:
    """Whether motor and hinge lie where who measured says that they do."""
    return all(_is_there(measured, at, key) for key in _WORDS)


def _is_there(measured: Measurements, at: Found, key: str) -> bool:
    (seen, whence), word = _WORDS[key], measured.text(key)
    if word is None:
        return True
    beyond = ORIGIN if whence == DRIVEN else at.points[whence]
    axis, sign = _WAYS[word]
    return sign * (at.points[seen][axis] - beyond[axis]) > 0


def _is_same(one: Found, other: Found, names: Sequence[str], error: float) -> bool:
    return all(math.dist(one.points[n], other.points[n]) <= 2 * error for n in names)


def _wrong_word(
    measured: Measurements, good: Sequence[Found], slips: Mapping[str, float], show: Show
) -> Contradiction:
    """Words that say where a thing lies, and measurements that put it elsewhere.

    ``slips`` [m] are readings without which the others would fit those words.
    """
    wrong = [key for key in _WORDS if not any(_is_there(measured, at, key) for at in good)]
    keys = tuple(wrong or [key for key in _WORDS if key in measured])
    told = listed((f"{key} ({measured.text(key)})" for key in keys), "and")
    others = [f"{key} is off by {show(off)}" for key, off in slips.items()]
    if any(key.endswith("_wall") for key in measured.answers):
        keys, others = (*keys, "wall_side"), [*others, "wall_side is wrong"]
    unless = f", unless {listed(others)}" if others else ""
    sentence = f"{told}: the measurements put it on the other side{unless}"
    return Contradiction((*slips, *keys), tuple(slips.values()), sentence)


def _refuse_open(
    measured: Measurements,
    readings: list[TapeReading],
    names: Sequence[str],
    found: Sequence[Found],
    side: int,
) -> NoReturn:
    """Refuse readings that leave a place open; name the one to take next."""
    there = found[0].points if found else dict(zip(names, _ANYWHERE, strict=False))
    left = open_ways(readings, names, there, side)
    missing = [
        one
        for one in tape_keys()
        if one not in measured and {DRIVEN, *names}.issuperset(_reading(one, 1.0).points)
    ]
    missing = [one for one in missing if measured.is_asked(one)] or missing
    closes = [
        key
        for key in missing
        if open_ways([*readings, _reading(key, 1.0)], names, there, side) < left
    ]
    key = (closes or missing)[0]
    thing = THINGS[next((name for name in _reading(key, 1.0).points if name != DRIVEN), DRIVEN)]
    raise InputError(
        f"{key}: wanted: what was measured so far does not tell where {thing} is; another distance "
        "or height of it does as well"
    )


def _refuse_two(
    measured: Measurements, two: tuple[Found, Found], side: int, show: Show
) -> NoReturn:
    """Refuse readings that fit two mounts; name what tells them apart."""
    for key, (seen, _) in _WORDS.items():
        words = [word for word in _WAYS if word in questions()[key].choices]
        sides = [[_is_there(measured.with_(key, word), at, key) for word in words] for at in two]
        if key not in measured and sides[0] != sides[1]:
            raise InputError(
                f"{key}: wanted: the measurements fit two mounts, with {THINGS[seen]} on one side "
                "or the other"
            )
    missing = [key for key in tape_keys() if key not in measured]
    apart = {
        key: [at.would_read(one, side) for at in two]
        for key in missing
        if {DRIVEN, *two[0].points}.issuperset((one := _reading(key, 0.0)).points)
    }
    key = max(apart, key=lambda key: abs(apart[key][0] - apart[key][1]))
    raise InputError(
        f"{key}: wanted: the measurements fit two mounts; it is {show(apart[key][0])} in the one, "
        f"{show(apart[key][1])} in the other"
    )


def _loose(
    measured: Measurements,
    at: Found,
    names: Sequence[str],
    error: float,
    show: Show,
) -> Iterator[str]:
    """Tell places that the readings leave less sure than a tape is."""
    spread = at.spread(error)
    for n, name in enumerate(names):
        off = float(spread[2 * n : 2 * n + 2].max())
        if off > _LOOSE * error:
            more = next(
                (key for key in tape_keys() if key not in measured and key.startswith(name)), None
            )
            helps = f" Measure {more}, too." if more else ""
            yield f"{THINGS[name].capitalize()} is known to about {show(off)} only.{helps}"
