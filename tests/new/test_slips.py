"""A slip of the tape is found, and named where the other readings can tell it.

Whether they can is told by a second way: the mount's own slopes, and for each other reading a
linear programme that asks whether the rest would fit without it.
"""

import numpy as np
import pytest
from scipy.optimize import linprog
from sizes import size
from tape_mounts import (
    ROUNDING,
    SPANS,
    Tolerance,
    answers,
    levels_of,
    seeded,
    sixteenths,
    tape_mount,
)

from mountcalc.new.measurements import Measurements
from mountcalc.new.tape.places import located

CHUNKS = 4
TAPE = 1 / 16  # [in] what a reading may be off, as answered; rounding is half of that
NAMED_RIGHT = 0.95
SMALL = 1.0  # [in] of slips that slopes tell enough of


def least_miss(slopes, slip):
    """The greatest that rows miss a slip by, where unknowns are moved to make that least."""
    rows, columns = slopes.shape
    ends = -np.ones((rows, 1))
    answer = linprog(
        [*[0.0] * columns, 1.0],
        A_ub=np.vstack([np.hstack([slopes, ends]), np.hstack([-slopes, ends])]),
        b_ub=np.concatenate([slip, -slip]),
        bounds=(None, None),
    )
    return answer.fun


def told_apart(slopes, row, slip):
    """Whether it is found, and whether it is told from all others: None where rounding decides."""

    def beyond(miss):
        return None if TAPE - ROUNDING < miss < TAPE * 1.1 + ROUNDING else miss > TAPE

    off = np.zeros(len(slopes))
    off[row] = slip
    without = [
        beyond(least_miss(np.delete(slopes, other, 0), np.delete(off, other)))
        for other in range(len(slopes))
        if other != row
    ]
    is_told = None if None in without and False not in without else False not in without
    return beyond(least_miss(slopes, off)), is_told


def spoilt(seed):
    """A mount measured both ways with one reading off by half an inch to six."""
    rng = seeded(1000 + seed)
    mount = tape_mount(seed)
    said = answers(mount, "both", rng)
    keys = [key for key in said if key in SPANS or key in levels_of(mount)]
    if seed % 3 == 0:  # few more readings than are needed
        spare = [key for key in keys if key in SPANS]
        for key in rng.sample(spare, len(spare) - 2):
            keys.remove(key)
            del said[key]
    wrong = rng.choice(keys)
    slip = rng.uniform(0.5, 6.0) * rng.choice((-1, 1))
    read = round((mount.reads(wrong) + slip) * 16) / 16
    if read <= 0:
        return None
    slopes, slip = Tolerance(mount, keys).slopes, read - mount.reads(wrong)
    found, told = told_apart(slopes, keys.index(wrong), slip)
    return wrong, slip, found, told, said | {wrong: sixteenths(read)}


@pytest.mark.parametrize("chunk", range(CHUNKS))
def test_a_slip_is_found_and_named_where_it_can_be_told(chunk):
    named, tellable = [], []
    for seed in range(chunk, size(600, 8), CHUNKS):
        case = spoilt(seed)
        if case is None or case[2] is None:
            continue
        wrong, slip, is_found, is_told, said = case
        clashes = suspects(said)
        if is_found:
            assert wrong in clashes, seed
        if is_told:
            tellable.append(seed)
            named += [seed] if clashes == (wrong,) else []
        elif is_told is False and is_found and abs(slip) < SMALL:
            assert len(clashes) > 1, seed  # one of several, and it says so
        elif clashes:  # large slips may tell more than the slopes of the true mount do
            assert wrong in clashes, seed
    assert tellable
    assert len(named) >= NAMED_RIGHT * len(tellable)


def suspects(said):
    """Readings that may be wrong."""
    clash = located(Measurements.of(said), str).contradiction
    return () if clash is None else clash.suspects[: len(clash.off)]
