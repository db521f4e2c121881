"""Results of the gentlest setting, of the ways to set it by, and of what would widen it.

Immutable, SI units, ``None`` where there is nothing to say and never NaN. The keys, units and
sentences of every field stand in :mod:`mountcalc.quantities`.
"""

from __future__ import annotations

from enum import StrEnum

from mountcalc.pages.as_json import Result
from mountcalc.pages.page import Note
from mountcalc.record import Record
from mountcalc.structure.give import PartsGive


class MethodName(StrEnum):
    """What the hand goes by."""

    BALANCE = "spring balance"
    PRESS = "press"
    HUM = "hum"
    TURNS = "turns"
    SPRING = "spring's travel"

    @property
    def words(self) -> str:
        """The same in a sentence."""
        return "plucked strand" if self is MethodName.HUM else self.value


class ReadingUnit(StrEnum):
    """What a method reads in; the keys of its readings end in it."""

    FORCE = "N"
    SWINGS = "Hz"
    TURNS = "turns"
    TRAVEL = "mm"


class Method(Record):
    """One method's readings in its ``unit``; more is tighter.

    A spring balance's is what it shows more than with the slack belt, a spring's travel how much
    shorter it is than under no load. ``aim`` is for a belt that
    has bedded in, ``new_aim`` for a new one. From ``not_below`` to ``never_above`` a belt of any
    age keeps grip and limits although the reading is off by its error and the belt as soft or as
    stiff as it may be; both are None where the method is not ``trustworthy``, the latter also where
    the travel ends before any limit. Read at the aim, a strand has ``tension_low`` to
    ``tension_high`` [N], None where the travel ends first. A press is 1/``span_over_deflection``
    [-] of the span deep.
    """

    name: MethodName
    unit: ReadingUnit
    aim: float
    new_aim: float
    not_below: float | None
    never_above: float | None
    tension_low: float
    tension_high: float | None
    trustworthy: bool
    why: str
    span_over_deflection: int | None = None

    @property
    def own_keys(self) -> dict[str, str]:
        """Keys of the readings outside the package: they end in the unit."""
        readings = ("aim", "new_aim", "not_below", "never_above")
        return {name: f"{name}_{self.unit}" for name in readings}


class Part(StrEnum):
    """What can have a limit."""

    BEARING = "bearing"
    ADJUSTER = "adjuster"
    HINGE = "hinge"


class Ruler(Record):
    """What decides one side of a setting: the load case, and the part at its limit, if any.

    ``bearing`` is the name of the bearing that it is, if it is one.
    """

    case: str
    bearing: str | None
    part: Part | None = None

    @property
    def limited(self) -> str:
        """What is at its limit, in words; empty where nothing is."""
        if self.bearing is not None:
            return f'bearing "{self.bearing}"'
        return "" if self.part is None else f"the {self.part.value}"


class Governs(Record):
    """What decides the least and the most turns; where a side is open, why."""

    min: Ruler | None
    max: Ruler | None
    min_reason: str | None
    max_reason: str | None


class Sensitivity(Record):
    """How fine the range between the least and the most turns is.

    The range as turns, as ``extension_range`` [m] of the adjuster and as ``center_range`` [m] of
    the centre distance; the tension that one turn adds at the set point, for the softest and the
    stiffest belt. ``turns_can_be_trusted`` is False where counting turns may break a requirement;
    ``why_not`` says how.
    """

    turns_range: float | None = None
    extension_range: float | None = None
    center_range: float | None = None
    tension_per_turn_low: float | None = None
    tension_per_turn_high: float | None = None
    turns_can_be_trusted: bool = False
    why_not: tuple[str, ...] = ()


class SpringBalance(Record):
    """A pull on the plate that puts the wanted tension into the belt, whatever its stiffness.

    ``pull`` [N] square to the line from the hinge to the named spot, ``radius`` [m] from the
    hinge; ``tightens`` is False where the plate must be held back instead. ``slack_pull`` [N] is
    what plate and motor alone ask for, with the belt slack; ``direction`` [rad] the way to tighten.
    """

    spot: str
    radius: float
    pull: float
    new_pull: float
    tightens: bool
    slack_pull: float
    slack_tightens: bool
    direction: float


class Step(Record):
    """One step of the way from physics to advice: the rest tension [N] so far, and why."""

    name: str
    tension: float
    is_physics: bool
    sentence: str


class Setting(Record, kw_only=True):
    """The gentlest setting and the range around it; turns are None without an adjuster.

    ``free_turns`` [-] is where an adjuster that holds the plate back comes free, None where it
    does not: from there on weight alone sets the tension.
    ``methods`` are the ways to set it by, the one to go by first; ``set_turns`` is that one's aim
    as a hand can set it, ``aim_turns`` before it was rounded.
    """

    title: str
    turns_min: float | None = None
    turns_max: float | None = None
    tension_min: float | None = None
    tension_max: float | None = None
    aim_turns: float | None = None
    set_turns: float | None = None
    set_tension: float | None = None
    new_turns: float | None = None
    new_tension: float | None = None
    free_turns: float | None = None
    open: bool = False
    why_not_open: str | None = None
    governs: Governs
    grip_wanted: float
    turn_error: float
    sensitivity: Sensitivity = Sensitivity()
    spring_balance: SpringBalance | None = None
    slips_at_start: bool | None = None
    steps: tuple[Step, ...] = ()
    methods: tuple[Method, ...] = ()


class Remedy(Record):
    """A change to the mount and what it does to the range, from the changed mount solved.

    ``opening`` [-] is the tension at the most turns over that at the fewest, ``turns_range`` the
    turns between them, before and after the change; None where a side is not reached. ``open`` says
    that the changed mount has a setting, ``opens`` that the mount as it stands has none besides.
    ``widening`` [-] is how many times wider the change makes the range, None where there was
    nothing to widen.
    """

    name: str
    sentence: str
    turns_min: float | None
    turns_max: float | None
    tension_min: float | None
    tension_max: float | None
    opening_before: float | None
    opening_after: float | None
    turns_range_before: float | None
    turns_range_after: float | None
    widening: float | None
    open: bool
    opens: bool


class WeightAlone(Record):
    """What the weights do to the belt with the adjuster off and the plate free.

    ``tension`` [N] at rest, 0 where they slacken the belt. ``hinge_shift`` [m] moves the hinge
    alone, to the right, so that they give ``wanted_tension`` [N]; None where no place near does.
    ``over_tightens`` says that a limit is then broken, None where it cannot be told; ``keeps`` that
    the wanted grip and all limits are kept, though weights and stiffness are not known exactly.
    """

    tension: float
    tension_sentence: str
    wanted_tension: float | None
    hinge_shift: float | None
    hinge_sentence: str
    over_tightens: bool | None
    over_tightens_sentence: str | None
    keeps: bool
    keeps_sentence: str | None


class Advice(Record, Result):
    """A setting with all that is said beside it; ``remedies`` is empty where none is called for.

    ``span`` [m] is a strand's free length at the set point; what follows it is as in the table.
    """

    setting: Setting
    weight_alone: WeightAlone
    remedies: tuple[Remedy, ...]
    margins: tuple[Margin, ...]
    notes: tuple[Note, ...]
    span: float | None = None
    adjuster_travel: float | None = None
    bolt_length: float | None = None
    adjuster_stiffness: float | None = None
    parts_give: PartsGive | None = None

    def _plain(self) -> dict[str, object]:
        """The setting's keys with those beside it."""
        beside = Result._plain(self)  # noqa: SLF001
        setting = beside.pop("setting")
        assert isinstance(setting, dict)
        return {**setting, **beside}


class Margin(Record):
    """One item of the stack of margins: a factor, and what it stands for."""

    name: str
    factor: float
    sentence: str
