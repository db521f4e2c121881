"""Results of the bench card: how the tension is felt, heard and weighed, and when to look again.

Immutable, SI units, ``None`` where there is nothing to say and never NaN. The keys, units and
sentences of every field stand in :mod:`mountcalc.quantities`.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

from mountcalc.pages.as_json import Result
from mountcalc.pages.page import Note
from mountcalc.requirements.results import Method, SpringBalance


class Gives(StrEnum):
    """Whether the plate gives way as a strand is pressed in."""

    NOT = "not"
    PARTLY = "partly"
    WHOLLY = "wholly"


class Timing(StrEnum):
    """By what the swings of a plucked span can be told."""

    COUNT = "count"
    FILM = "film"
    MICROPHONE = "microphone"


@dataclass(frozen=True, slots=True)
class Deflection:
    """One deflection of one strand of one belt at mid-span, and the force [N] that it takes.

    ``deflection`` [m] is the span over ``span_over_deflection`` [-]. With the stiffness that is
    reckoned with, the force is ``force_creeping`` where the belt creeps round the pulleys, so that
    the whole belt stretches, and ``force_not_creeping`` where only the span does. ``force_low`` is
    that of the softest belt, creeping, ``force_high`` that of the stiffest, not creeping. All four
    are one where the plate gives way wholly.
    """

    span_over_deflection: int
    deflection: float
    force_low: float
    force_creeping: float
    force_not_creeping: float
    force_high: float


@dataclass(frozen=True, slots=True)
class StrandTest:
    """How one strand of one belt feels and sounds at one setting.

    ``usual`` is the trade's span/64. ``finer`` is a smaller deflection, None where the usual one
    will do; ``tells`` is False where even that is drowned by the belt's stretch. ``timing`` is None
    where the span's frequency is unknown.
    """

    turns: float | None
    tension: float
    span: float
    gives: Gives
    usual: Deflection
    finer: Deflection | None
    tells: bool
    span_frequency: float | None
    timing: Timing | None

    @property
    def press(self) -> Deflection:
        """The deflection to use: the finer one where there is one."""
        return self.usual if self.finer is None else self.finer


@dataclass(frozen=True, slots=True)
class LookAgain:
    """When to look at the belt again, and what to do then."""

    when: str
    sentence: str
    source: str
    sure: str


@dataclass(frozen=True, slots=True)
class TableSetting:
    """What a belt set by the common force table would do to this mount.

    ``table_force`` [N] at span/64 stands for ``table_tension`` [N], ``times_tension`` [-] that of
    this card. It is reached at ``turns``; at rest the bearing named is then at ``share_of_limit``
    [-], and at ``share_as_set`` [-] as this card has it. Where no turns reach it, they are None
    and ``why_not`` says why.
    """

    table_force: float
    table_tension: float
    times_tension: float
    turns: float | None
    bearing: str | None
    share_of_limit: float | None
    share_as_set: float | None
    why_not: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class TableComparison:
    """The common force table against this card; ``row`` is None where none fits, with the reason.

    ``published`` compares that table with a drive's own need; ``stretch`` says what was taken off
    the table's force for the belt's stretch.
    """

    published: str
    row: str | None = None
    why_not: str | None = None
    source: str | None = None
    stretch: str | None = None
    bedded: TableSetting | None = None
    new: TableSetting | None = None


@dataclass(frozen=True, slots=True, kw_only=True)
class BenchCard(Result):
    """All that is pinned up beside the machine.

    ``reason`` says why these turns; ``bedded`` is None where there is no tension to feel, and
    ``why_not`` says why. ``caution`` is what is wrong with the setting although it can be felt.
    ``new`` is the same for a new belt, None where it is set no tighter than one that has bedded in.
    ``methods`` are those of the gentlest setting, empty where other turns were asked for;
    ``ceiling`` is then the leading one, None where it knows no limit.
    ``weight_alone`` leads where weight without the adjuster keeps grip and limits.
    """

    title: str
    count: int
    reason: str
    why_not: str | None = None
    caution: str | None = None
    bedded: StrandTest | None = None
    new: StrandTest | None = None
    spring_balance: SpringBalance | None = None
    methods: tuple[Method, ...] = ()
    ceiling: Method | None = None
    weight_alone: str | None = None
    look_again: tuple[LookAgain, ...] = ()
    table: TableComparison | None = None
    notes: tuple[Note, ...] = ()
