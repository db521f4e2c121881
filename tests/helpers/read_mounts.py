"""What would be read at a mount with another belt and another zero, by the public functions."""

import math
import random

import mountcalc


def read_off(scenario, times=1.3, zero=-0.5, seed=1):
    """Swings and pushes at settings of its table, each off by a small error of a fixed seed."""
    rng = random.Random(seed)  # noqa: S311  # to be repeatable
    true = scenario.with_(belt={"stiffness": times * scenario.belt.stiffness})
    rows = [row for row in mountcalc.table(true).rows if row.tension and row.turns]
    found = []
    for row in (rows[0], rows[len(rows) // 2], rows[-1]):
        turns = round(16 * (row.turns + zero)) / 16
        if row.span_frequency is not None:
            swings = row.span_frequency * math.exp(rng.gauss(0.0, 0.04))
            found.append({"turns": turns, "method": "swings", "value": f"{swings:.1f} Hz"})
        push = row.deflection_force * math.exp(rng.gauss(0.0, 0.05))
        found.append({"turns": turns, "method": "push", "value": push, "at": row.deflection})
    return found
