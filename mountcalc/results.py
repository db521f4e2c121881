"""Result types: immutable, SI units, ``None`` where there is nothing to say and never NaN.

The keys, units and sentences of every field stand in :mod:`mountcalc.quantities`.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import StrEnum

__all__ = [
    "Advice",
    "BearingCase",
    "BearingFilm",
    "BearingLoad",
    "BearingReport",
    "Case",
    "Check",
    "Fineness",
    "Governs",
    "Judgement",
    "Margin",
    "Remedy",
    "Row",
    "Ruler",
    "Setting",
    "Snug",
    "SpringBalance",
    "State",
    "Step",
    "TensionTable",
    "TightenBy",
    "Verdict",
    "WeightAlone",
    "Zero",
    "ZeroKind",
]


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


class TightenBy(StrEnum):
    """Which way the adjuster moves to tighten the belt."""

    EXTEND = "extend"
    RETRACT = "retract"


@dataclass(frozen=True, slots=True)
class Snug:
    """Where the belt is taut without tension."""

    plate_angle: float
    center_distance: float
    extension: float | None


@dataclass(frozen=True, slots=True)
class Zero:
    """Where turns are counted from; None where weight alone finds no balance."""

    kind: ZeroKind
    plate_angle: float | None
    center_distance: float | None
    extension: float | None
    tension: float | None


@dataclass(frozen=True, slots=True)
class BearingLoad:
    """The load that the driven shaft puts on one bearing."""

    name: str
    load: float | None
    direction: float | None
    pressure: float | None
    share_of_limit: float | None


@dataclass(frozen=True, slots=True)
class Case:
    """One load case (rest, running or starting) at one setting."""

    state: State
    plate_angle: float | None
    grip: float | None
    grip_reason: str | None
    slips: bool | None
    pull: float | None
    tight: float | None
    slack: float | None
    shaft_load: float | None
    adjuster: float | None
    hinge: float | None
    bearings: tuple[BearingLoad, ...]


@dataclass(frozen=True, slots=True)
class Row:
    """One setting of the adjuster; position, tension and span are those at rest.

    ``slips_if_soft`` and ``over_limit_if_stiff`` say whether the belt, as soft as it may be, slips
    running, and whether, as stiff as it may be, it loads a bearing to its limit.
    """

    turns: float | None
    extension: float | None
    plate_angle: float | None
    center_distance: float | None
    state: State
    tension: float | None
    tension_low: float | None
    tension_high: float | None
    tension_per_turn: float | None
    grip: float | None
    slips_if_soft: bool | None
    over_limit_if_stiff: bool | None
    span: float | None
    span_frequency: float | None
    deflection: float | None
    deflection_force: float | None
    rest: Case
    running: Case
    starting: Case

    @property
    def cases(self) -> dict[str, Case]:
        """The three load cases by name."""
        return {"rest": self.rest, "running": self.running, "starting": self.starting}

    @property
    def worst_share_of_limit(self) -> float:
        """Greatest share of its limit that a bearing reaches in any case; 0 without loads."""
        shares = [
            bearing.share_of_limit for case in self.cases.values() for bearing in case.bearings
        ]
        return max((share for share in shares if share is not None), default=0.0)


@dataclass(frozen=True, slots=True)
class Margin:
    """One item of the stack of margins: a factor, and what it stands for."""

    name: str
    factor: float
    sentence: str


@dataclass(frozen=True, slots=True)
class TensionTable:
    """Tension, loads and forces against turns of the adjuster.

    ``driven`` [rad/s] is the driven shaft's speed without creep; ``tighten_by`` and
    ``advance_per_turn`` are None where there is no adjuster.
    """

    title: str
    driven: float
    belt_speed: float
    snug: Snug
    zero: Zero
    tighten_by: TightenBy | None
    advance_per_turn: float | None
    notes: tuple[str, ...]
    margins: tuple[Margin, ...]
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True)
class Ruler:
    """What decides one side of a setting: the load case, and the bearing where there is one."""

    case: str
    bearing: str | None


@dataclass(frozen=True, slots=True)
class Governs:
    """What decides the least and the most turns; where a side is open, why."""

    min: Ruler | None
    max: Ruler | None
    min_reason: str | None
    max_reason: str | None


@dataclass(frozen=True, slots=True)
class Fineness:
    """How fine the range between the least and the most turns is.

    The range as turns, as ``extension_range`` [m] of the adjuster and as ``center_range`` [m] of
    the centre distance; the tension that one turn adds at the set point, for the softest and the
    stiffest belt. ``turns_can_be_trusted`` is False where counting turns may break a promise;
    ``why_not`` says how.
    """

    turns_range: float | None
    extension_range: float | None
    center_range: float | None
    tension_per_turn_low: float | None
    tension_per_turn_high: float | None
    turns_can_be_trusted: bool
    why_not: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class SpringBalance:
    """A pull on the plate that puts the wanted tension into the belt, whatever its stiffness.

    ``pull`` [N] square to the line from the hinge to the named spot, ``radius`` [m] from the
    hinge; ``tightens`` is False where the plate must be held back instead.
    """

    spot: str
    radius: float
    pull: float
    new_pull: float
    tightens: bool


@dataclass(frozen=True, slots=True)
class Step:
    """One step of the way from physics to advice: the rest tension [N] so far, and why."""

    name: str
    tension: float
    is_physics: bool
    sentence: str


@dataclass(frozen=True, slots=True)
class Setting:
    """The gentlest setting and the range around it; turns are None without an adjuster."""

    title: str
    turns_min: float | None
    turns_max: float | None
    tension_min: float | None
    tension_max: float | None
    set_turns: float | None
    set_tension: float | None
    new_turns: float | None
    new_tension: float | None
    open: bool
    why_not_open: str | None
    governs: Governs
    grip_wanted: float
    turn_error: float
    fineness: Fineness
    spring_balance: SpringBalance | None
    slips_at_start: bool | None
    steps: tuple[Step, ...]


class Verdict(StrEnum):
    """What a judgement comes to; a note is information and never fails."""

    PASS = "pass"  # noqa: S105 (no password)
    FAIL = "fail"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class Judgement:
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


@dataclass(frozen=True, slots=True)
class BearingCase:
    """What one bearing carries in one load case, the motor turning as ``rotation`` says.

    ``edge_load`` [N] is the greatest load if the boxes bore at any of their ends instead of at
    their middles, ``edge`` the place in this box at which it is reached. ``slope`` [rad] of the
    shaft and ``bending_stress`` [Pa] in it are those at this bearing, None without a shaft
    diameter.
    """

    case: str
    rotation: str
    load: float | None
    direction: float | None
    pressure: float | None
    share_of_limit: float | None
    edge_load: float | None
    edge_share_of_limit: float | None
    edge: str | None
    slope: float | None
    bending_stress: float | None


@dataclass(frozen=True, slots=True)
class BearingFilm:
    """The oil film of a full round bearing, running.

    ``minimum_film`` [m] at the load and ``minimum_film_doubled`` at twice it (None where the film
    breaks down) stand beside ``least_film``, Trumpler's. ``edge_rise`` [m] is what the shaft's
    slope takes off the film at the end of the box, None without a shaft diameter.
    """

    viscosity: float
    sommerfeld: float
    eccentricity: float
    minimum_film: float
    minimum_film_doubled: float | None
    least_film: float
    edge_rise: float | None
    friction: float
    friction_torque: float
    power_lost: float


@dataclass(frozen=True, slots=True)
class BearingReport:
    """One bearing at the set point; ``film_reason`` says why there is no film to tell of.

    ``service_low`` and ``service_high`` [Pa] are the published range of the named service;
    ``pressure_speed`` [Pa m/s] is the running pressure times ``surface_speed`` [m/s].
    """

    name: str
    service: str | None
    service_low: float | None
    service_high: float | None
    surface_speed: float
    pressure_speed: float | None
    film: BearingFilm | None
    film_reason: str | None
    cases: tuple[BearingCase, ...]
    statements: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Check:
    """Every judgement of a mount at ``turns``; ``turns_reason`` says why it is judged there."""

    title: str
    turns: float | None
    turns_reason: str
    ok: bool
    judgements: tuple[Judgement, ...]
    bearings: tuple[BearingReport, ...]


@dataclass(frozen=True, slots=True)
class Remedy:
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


@dataclass(frozen=True, slots=True)
class WeightAlone:
    """What the weights do to the belt with the adjuster off and the plate free.

    ``tension`` [N] at rest, 0 where they slacken the belt. ``hinge_shift`` [m] moves the hinge
    alone, to the right, so that they give ``wanted_tension`` [N]; None where no place near does.
    ``over_tightens`` says that a bearing is then over its limit, None where it cannot be told.
    """

    tension: float
    tension_sentence: str
    wanted_tension: float | None
    hinge_shift: float | None
    hinge_sentence: str
    over_tightens: bool | None
    over_tightens_sentence: str


@dataclass(frozen=True, slots=True)
class Advice:
    """A setting with all that is said beside it; ``remedies`` is empty where none is called for."""

    setting: Setting
    weight_alone: WeightAlone
    remedies: tuple[Remedy, ...]
    margins: tuple[Margin, ...]
    notes: tuple[str, ...]
