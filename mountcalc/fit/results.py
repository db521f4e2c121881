"""What readings tell of a belt and a build: values with their intervals, in SI units."""

from __future__ import annotations

from mountcalc.fit.readings import ReadingMethod
from mountcalc.pages.as_json import Result, as_plain
from mountcalc.record import Record


class Interval(Record):
    """A fitted value, and from where to where it lies with the fit's confidence."""

    value: float
    low: float
    high: float


class FittedReading(Record):
    """A reading beside what the fitted mount would read there, both in SI.

    ``turns`` is None with the belt slack; ``error`` is one standard deviation of what was read.
    ``suspect`` readings were left out. ``tension`` [N] is what a strand has by this reading alone,
    the rest as fitted, with its standard deviation; None where it tells none.
    """

    row: int
    turns: float | None
    method: ReadingMethod
    read: float
    fitted: float
    error: float
    suspect: bool
    tension: float | None = None
    tension_error: float | None = None

    @property
    def unit(self) -> str:
        """Unit of read, fitted and error outside the package."""
        return self.method.kind.unit


class NextReading(Record):
    """The reading that would narrow the stiffness most, and its interval [N] with that reading.

    Where none is proposed the ``sentence`` says so, and the rest is None.
    """

    sentence: str
    turns: float | None = None
    method: ReadingMethod | None = None
    low: float | None = None
    high: float | None = None


class Bedding(Record):
    """What a belt has lost as it bedded in: readings of several dates at comparable settings.

    ``turns_lost`` [-] is how far its zero has moved from the first to the last of ``dates`` dates,
    ``tension_lost`` [N] what a strand lost so; both positive where the belt became slacker.
    ``lost_per_hour`` [N/h] is of ``elapsed`` running hours; where the log does not say them it is
    None, ``elapsed`` in days and ``lost_per_day`` told instead. ``tension_now`` [N] is at the last
    readings, ``tension_next`` when as much time again has passed.
    """

    dates: int
    elapsed: float
    by_hours: bool
    turns: float
    turns_lost: Interval
    tension_lost: Interval
    lost_per_hour: Interval | None
    lost_per_day: Interval | None
    tension_now: Interval
    tension_next: Interval
    sentences: tuple[str, ...]


class TurnGives(Record):
    """What the first turn from zero gives a strand, with the softest and the stiffest belt [N]."""

    tension_per_turn_low: float
    tension_per_turn_high: float


class Fit(Record, Result, kw_only=True):
    """Readings fitted: this belt's stiffness [N], and where it is really snug, in person's turns.

    ``zero_turns`` is the model's zero: snug, or contact where weight tensions the belt. None are
    what these readings do not tell: ``weights`` [-] are what motor and plate weigh over what the
    scenario says, ``traction`` [-] is that of both pulleys over the scenario's, ``give`` [N/m] is
    the stiffness of plate and adjuster in series.
    ``stiffness_times`` [-] is the stiffness over the scenario's. ``scatter`` [-] is how many times
    greater than stated the errors were, 1 where they were no greater. ``turn_gave`` is by the
    scenario, ``turn_gives`` by what was fitted; None where a turn is past the travel.
    """

    title: str
    stiffness: Interval
    stiffness_times: Interval
    zero_turns: Interval
    confidence: float
    weights: Interval | None = None
    traction: Interval | None = None
    give: Interval | None = None
    scatter: float
    readings: tuple[FittedReading, ...]
    next: NextReading
    cannot_tell: tuple[str, ...]
    bedding: Bedding | None = None
    turn_gave: TurnGives | None = None
    turn_gives: TurnGives | None = None
    notes: tuple[str, ...] = ()
    written: str | None = None

    def _plain(self) -> dict[str, object]:
        """Keys that end in their units; readings in the unit that stands beside them."""
        plain = Result._plain(self)  # noqa: SLF001
        names = {"stiffness": "stiffness_N", "give": "give_N_m"}
        plain = {names.get(name, name): value for name, value in plain.items()}
        plain["readings"] = [
            {
                "row": one.row,
                "turns": one.turns,
                "method": one.method.value,
                **{
                    name: one.method.kind.outside(getattr(one, name))
                    for name in ("read", "fitted", "error")
                },
                "unit": one.unit,
                "suspect": one.suspect,
                "tension_N": one.tension,
                "tension_error_N": one.tension_error,
            }
            for one in self.readings
        ]
        if self.bedding is not None:
            plain["bedding"] = self._plain_bedding(self.bedding)
        return plain

    @staticmethod
    def _plain_bedding(bedding: Bedding) -> dict[str, object]:
        plain = as_plain(bedding)
        assert isinstance(plain, dict)
        units = {
            "elapsed": "elapsed_hours" if bedding.by_hours else "elapsed_days",
            "tension_lost": "tension_lost_N",
            "lost_per_hour": "lost_per_hour_N",
            "lost_per_day": "lost_per_day_N",
            "tension_now": "tension_now_N",
            "tension_next": "tension_next_N",
        }
        return {units.get(str(name), str(name)): value for name, value in plain.items()}
