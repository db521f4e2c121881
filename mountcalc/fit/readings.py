"""What was read at a machine: one row of the log that is kept beside it, in SI units."""

from __future__ import annotations

import datetime as dt
from enum import StrEnum

from mountcalc.pages.amounts import FORCE, LENGTH, POWER, Kind
from mountcalc.record import Record

FREQUENCY = Kind("Hz", "Hz", "Hz")


class ReadingMethod(StrEnum):
    """What was read.

    ``balance``: the pull [N] on the plate, square to the line from the hinge to the spot, at which
    the adjuster just comes clear with the plate where it stands; positive where it pulls the way
    that tightens, negative where the plate is held back. ``at`` is the spot's distance from the
    hinge [m], None for where the adjuster bears. ``push``: the force [N] across the middle of a
    strand, ``at`` the deflection [m] that it makes. ``swings``: the plucked strand's [Hz].
    ``hung``: the sag [m] that a weight hung at mid-span makes, ``at`` the weight [N]. ``centres``:
    from shaft to shaft [m]. ``tip``: how far the tip, of a link the pins, has moved since the
    person's zero [m], positive the way that tightens. ``slip``: the power [W] that the machine took
    as the belt just began to slip, running at full speed. ``spring``: length of the coil spring [m]
    as it is pressed in, ``at`` that under no load [m], None for what the scenario says.
    """

    BALANCE = "balance"
    PUSH = "push"
    SWINGS = "swings"
    HUNG = "hung"
    CENTRES = "centres"
    TIP = "tip"
    SLIP = "slip"
    SPRING = "spring"

    @property
    def kind(self) -> Kind:
        """What kind of quantity is read."""
        return _KINDS[self][0]

    @property
    def at_kind(self) -> Kind | None:
        """What kind ``at`` is; None where there is none."""
        return _KINDS[self][1]

    @property
    def needs_at(self) -> bool:
        """Whether a reading says nothing without its ``at``."""
        return self in (ReadingMethod.PUSH, ReadingMethod.HUNG)


_KINDS = {
    ReadingMethod.BALANCE: (FORCE, LENGTH),
    ReadingMethod.PUSH: (FORCE, LENGTH),
    ReadingMethod.SWINGS: (FREQUENCY, None),
    ReadingMethod.HUNG: (LENGTH, FORCE),
    ReadingMethod.CENTRES: (LENGTH, None),
    ReadingMethod.TIP: (LENGTH, None),
    ReadingMethod.SLIP: (POWER, None),
    ReadingMethod.SPRING: (LENGTH, LENGTH),
}


class Reading(Record):
    """One reading.

    ``row`` is the line of the log; ``turns`` [-] are in the person's count from the person's zero,
    None with the belt slack; ``value`` and ``at`` are in SI, as the method says. ``hours`` [h] is
    how long the machine has run since the log began, None where the log does not say.
    """

    row: int
    turns: float | None
    method: ReadingMethod
    value: float
    at: float | None = None
    date: dt.date | None = None
    hours: float | None = None
    note: str = ""
