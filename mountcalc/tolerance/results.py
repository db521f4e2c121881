"""What many builds of one drawing come to: in SI, each field's sentence in `mountcalc.quantities`.

``p5``, ``p50`` and ``p95`` are what 5, 50 and 95 of 100 builds stay below.
"""

from __future__ import annotations

from enum import StrEnum

from mountcalc.equilibrium.states import ZeroKind
from mountcalc.pages.as_json import Result
from mountcalc.pages.page import Note
from mountcalc.record import Record
from mountcalc.table import TightenBy


class ErrorSource(StrEnum):
    """What is made or known with an error of its own, by its key of ``[build]``."""

    HINGE = "hinge"
    BOLT = "bolt"
    SHAFT = "shaft"
    BELT_LENGTH = "belt_length"
    WEIGHTS = "weights"
    STIFFNESS = "stiffness_factor"
    TRACTION = "traction_factor"
    TURNS = "turn_error"
    SPRING = "spring_rate"
    GIVE = "give_factor"


class Errors(Record):
    """The errors that were taken, with the meaning of `Workmanship`; None of what is not there."""

    hinge_error: float
    bolt_error: float
    shaft_error: float
    belt_length_error: float
    belt_length_source: str
    weight_error: float
    stiffness_factor: float
    traction_factor: float
    turn_error: float
    spring_rate_error: float | None = None
    give_factor: float | None = None


class Outcome(Record, kw_only=True):
    """What builds come to.

    ``snug_turns`` are where the hand's zero comes (snug, or contact), from as drawn, tightening
    positive; ``tension_per_turn`` [N] is what the next turn then adds, ``set_tension`` [N] that at
    the set turns, or by weight alone. Shares of all builds: ``open_share`` has turns that keep grip
    and limits, ``set_share`` keeps them at the drawing's own; ``snug_share`` becomes snug in the
    travel, ``install_share`` takes a new belt as well, ``take_up_share`` takes it up, too. What a
    mount has no such thing of is None, as are the first two where it would take long to tell.
    """

    snug_turns_p5: float | None
    snug_turns_p50: float | None
    snug_turns_p95: float | None
    tension_per_turn_p5: float | None
    tension_per_turn_p50: float | None
    tension_per_turn_p95: float | None
    set_tension_p5: float | None
    set_tension_p50: float | None
    set_tension_p95: float | None
    open_share: float | None
    set_share: float | None
    snug_share: float
    install_share: float
    take_up_share: float


class Share(Record):
    """Of the variance of each answer, what one source makes: first order, 1 in all.

    ``halved`` is what builds come to with that error half as large.
    """

    source: ErrorSource
    snug_turns_share: float | None
    tension_per_turn_share: float | None
    set_tension_share: float | None
    halved: Outcome


class Precaution(Record):
    """What can be done against errors, and what builds then come to: reckoned, with it done.

    ``gain`` is how many more of all builds then keep what is asked, in the share that wins most.
    """

    name: str
    sentence: str
    against: tuple[ErrorSource, ...]
    gain: float
    outcome: Outcome


class BandRow(Record):
    """The tension at rest [N] over many builds, at some turns from each one's own zero."""

    turns: float
    tension_p5: float
    tension_p50: float
    tension_p95: float


class Tolerance(Result, Record, kw_only=True):
    """Many builds of one drawing; ``set_turns`` is None where the drawing itself has none.

    ``zero`` says what turns are counted from, ``snug_turns``, ``tension_per_turn`` and
    ``set_tension`` are the drawing's own, and ``why_not_open`` why its range is closed. In shares
    of builds ``looked_at`` builds, judged one by one, stand for ``alone`` that have to be. Halves
    and ``precautions``, those that help, the best first, are of ``compared_builds``, which as they
    are come to ``compared``.
    """

    title: str
    builds: int
    seed: int
    errors: Errors
    zero: ZeroKind | None
    tighten_by: TightenBy | None
    set_turns: float | None
    snug_turns: float | None
    tension_per_turn: float | None
    set_tension: float | None
    why_not_open: str | None
    outcome: Outcome
    alone: int
    looked_at: int
    compared_builds: int
    compared: Outcome
    shares: tuple[Share, ...]
    precautions: tuple[Precaution, ...]
    rows: tuple[BandRow, ...]
    notes: tuple[Note, ...]
