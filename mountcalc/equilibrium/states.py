"""What the plate rests on, and where turns are counted from."""

from __future__ import annotations

from enum import StrEnum


class State(StrEnum):
    """What the plate rests on."""

    HELD = "held"
    RIDING = "riding"
    NO_BALANCE = "no_balance"
    AT_STOP = "at_stop"
    BEYOND_TRAVEL = "beyond_travel"


class ZeroKind(StrEnum):
    """Where turns are counted from."""

    SNUG = "snug"
    CONTACT = "contact"
