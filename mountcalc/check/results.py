"""Results of judging a mount: in SI, each field's sentence in :mod:`mountcalc.quantities`."""

from __future__ import annotations

from mountcalc.judgement import Judgement
from mountcalc.loads import PartLoad
from mountcalc.pages.as_json import Result
from mountcalc.record import Record

NOTHING = "Nothing of what mountcalc knows does it by itself."
"""Said to change what has no cure."""


class BearingCase(Record):
    """What one bearing carries in one load case, the motor turning as ``rotation`` says.

    ``edge_load`` [N] is the greatest load if the boxes bore at any of their ends instead of at
    their middles, ``edge`` the place in this box at which it is reached.
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


class BearingFilm(Record):
    """The oil film of a full round bearing, running, at the load and at twice it.

    ``least_film`` is Trumpler's; ``edge_rise`` [m] is what the shaft's slope takes off the film.
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


class BearingReport(Record):
    """One bearing at the set point; ``film_reason`` says why there is no film to tell of."""

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


class Check(Result, Record):
    """Every judgement of a mount at ``turns``; ``turns_reason`` says why it is judged there.

    ``loads`` are what each part carries there in every rotation, and at a new belt's turns.
    """

    title: str
    turns: float | None
    turns_reason: str
    ok: bool
    judgements: tuple[Judgement, ...]
    bearings: tuple[BearingReport, ...]
    loads: tuple[PartLoad, ...]
