"""What a judgement is made of: a value beside its limit, a topic with its source, a verdict.

Values are in the units of the keys for programs, in those of the display for sentences.
"""

from __future__ import annotations

import math
from enum import StrEnum

from mountcalc.pages.amounts import Kind
from mountcalc.record import Record
from mountcalc.thresholds import SETTLED

Key = tuple[str, str, str]
"""Which judgement: its name, its bearing and its load case."""


class Verdict(StrEnum):
    """What a judgement comes to; only a failure fails a mount.

    A caution is a limit not kept that is from memory or an estimate, or something that may turn
    out so; a note is information.
    """

    PASS = "pass"  # noqa: S105 (no password)
    FAIL = "fail"
    CAUTION = "caution"
    NOTE = "note"


class Judgement(Record):
    """One thing that is judged, or that is good to know.

    ``value`` and ``limit`` are in ``unit``, one of those that keys name; ``share`` is what is used
    up of the limit, so that above 1 fails. What cannot be told is None, and the sentence says why.
    ``subject`` is the bearing, ``case`` the load case, each empty where there is none.
    """

    name: str
    subject: str
    case: str
    value: float | None
    limit: float | None
    unit: str
    share: float | None
    verdict: Verdict
    sentence: str
    source: str
    what_to_change: str


def key_of(judgement: Judgement) -> Key:
    """What tells a judgement from the others of a mount."""
    return judgement.name, judgement.subject, judgement.case


# What nobody can vouch for, the weakest last.
_UNSURE = ("from memory", "estimate")


class Measure(Record):
    """A value beside its limit, in SI; ``share`` is above 1 where the limit is not kept."""

    kind: Kind
    value: float | None
    limit: float | None = None
    share: float | None = None
    verdict: Verdict = Verdict.NOTE

    @staticmethod
    def at_most(kind: Kind, value: float, limit: float, rounding: float = SETTLED) -> Measure:
        """A value that must not be above a limit above zero."""
        share = value / limit
        keeps = share <= 1.0 + rounding
        return Measure(kind, value, limit, share, Verdict.PASS if keeps else Verdict.FAIL)

    @staticmethod
    def at_least(kind: Kind, value: float, limit: float, rounding: float = SETTLED) -> Measure:
        """A value that must not be below a limit; it may be infinite, which is None outside.

        A value of zero or less, or next to it, uses up no share that could be told.
        """
        if math.isinf(value):
            return Measure(kind, None, limit, 0.0, Verdict.PASS)
        keeps = value >= limit - rounding * abs(limit)
        share = limit / value if value > SETTLED * abs(limit) else None
        return Measure(kind, value, limit, share, Verdict.PASS if keeps else Verdict.FAIL)


class Topic(Record):
    """What is judged: name, source of the limit, and the bearing and load case if there are any.

    ``sure`` is how well the limit is known, in the words of the data files.
    """

    name: str
    source: str
    subject: str = ""
    case: str = ""
    sure: str = ""

    def judge(self, measure: Measure, sentence: str) -> Judgement:
        """The judgement; what would change it is for cures to find.

        A limit that is from memory or an estimate makes a caution, never a failure.
        """
        is_unsure = self.sure in _UNSURE
        is_caution = is_unsure and measure.verdict is Verdict.FAIL
        is_named = not is_unsure or self.sure in self.source
        outside = measure.kind.outside
        return Judgement(
            name=self.name,
            subject=self.subject,
            case=self.case,
            value=None if measure.value is None else outside(measure.value),
            limit=None if measure.limit is None else outside(measure.limit),
            unit=measure.kind.unit.replace("*", " "),
            share=measure.share,
            verdict=Verdict.CAUTION if is_caution else measure.verdict,
            sentence=sentence,
            source=self.source if is_named else f"{self.source}, {self.sure}",
            what_to_change="",
        )


def weakest(*sure: str) -> str:
    """How sure a result of several data is."""
    return next((one for one in reversed(_UNSURE) if one in sure), "")
