"""Write the log of readings that ships: ``python tests/makers/make_readings.py``.

The mill, its owner and the readings are invented. What is read is what a mill like the scenario's,
but with another belt, heavier parts and a mark that is off its zero, would show, by the public
functions alone and by virtual work for the balance; a hand's turns and each reading miss that by
what the scenario's limits say, drawn with a fixed seed, and are told as a shop reads its tools.
"""

import csv
import io
import math
import random
from fractions import Fraction
from pathlib import Path

import mountcalc
from mountcalc.pages.amounts import spelled
from mountcalc.units import si_factor

SCENARIOS = Path(__file__).parents[2] / "scenarios"
LOG = SCENARIOS / "cider-mill-readings.csv"
SEED = 1
STIFFER, HEAVIER, ZERO = 1.3, 1.04, 0.3
LBF, INCH = si_factor("lbf"), si_factor("in")
_HEADER = f"""\
# A log of our own invention: no such mill exists. Made by
# tests/makers/make_readings.py, seed {SEED}.
date,turns,method,value,at,note
"""
_ROWS = (
    ("2026-05-02", None, "balance", "plate and motor hang on it, belt slack"),
    ("2026-05-02", 0.5, "balance", ""),
    ("2026-05-02", 1.0, "balance", ""),
    ("2026-05-02", 1.5, "push", ""),
    ("2026-05-02", 2.0, "balance", ""),
    ("2026-05-02", 2.0, "swings", "plucked, filmed in slow motion"),
    ("2026-05-02", 2.5, "balance", ""),
    ("2026-05-02", 3.0, "balance", ""),
    ("2026-05-02", 3.5, "balance", ""),
)


def true_mill(scenario):
    """The mill as it really is."""
    parts = {
        name: {"weight": HEAVIER * getattr(scenario, name).weight} for name in ("motor", "plate")
    }
    return scenario.with_(belt={"stiffness": STIFFER * scenario.belt.stiffness}, **parts)


def log_text():
    scenario = mountcalc.read_scenario(SCENARIOS / "cider-mill.toml")
    mill, limits, rng = true_mill(scenario), scenario.limits, random.Random(SEED)  # noqa: S311
    rigid, missed = mill.with_(adjuster={"stiffness": "rigid"}), {None: 0.0}
    stream = io.StringIO()
    written = csv.writer(stream, lineterminator="\n")
    for date, turns, method, note in _ROWS:
        if turns not in missed:
            missed[turns] = rng.gauss(0.0, limits.turn_error)
        at = 0.0 if turns is None else turns + missed[turns] - ZERO
        (row,) = mountcalc.table(mill, turns=[at]).rows
        where = ""
        if method == "balance":
            # What turns the plate by a hair takes from the bolt it gives to the balance: as far as
            # the bolt would come out if nothing gave.
            beside, after = mountcalc.table(rigid, turns=[at - 1e-3, at + 1e-3]).rows
            by_angle = (after.extension - beside.extension) / (
                after.plate_angle - beside.plate_angle
            )
            lever = math.dist(scenario.adjuster.tip, scenario.plate.hinge)
            pull = row.rest.adjuster * abs(by_angle) / lever + rng.gauss(0, limits.balance_error)
            value = f"{spelled(Fraction(round(2 * pull / LBF), 2))} lbf"
        elif method == "push":
            # The span stretches by itself, and its two halves carry what presses on it.
            where, ratio = "5/16 in", 5 / 16 * INCH / row.span
            stretched = 2 * ratio**2 * row.span / mill.belt.length * mill.belt.stiffness
            push = 4 * ratio * (row.tension + stretched) * math.exp(rng.gauss(0, limits.push_error))
            value = f"{spelled(Fraction(round(8 * push / LBF), 8))} lbf"
        else:
            value = f"{row.span_frequency * math.exp(rng.gauss(0, limits.hum_error)):.0f} Hz"
        counted = "slack" if turns is None else spelled(Fraction(turns))
        written.writerow((date, counted, method, value, where, note))
    return _HEADER + stream.getvalue()


if __name__ == "__main__":
    LOG.write_text(log_text(), encoding="utf-8")
