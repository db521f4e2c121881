"""Readings that no mount has: an answer in finite numbers or one line, never anything else."""

import json
import math

import numpy as np
from random_mounts import ADJUSTED, seeded_mount
from sizes import size

from mountcalc.errors import MountcalcError
from mountcalc.fit.fitting import fit_readings
from mountcalc.fit.readings import Reading, ReadingMethod


def wild_log(rng):
    methods = list(ReadingMethod)
    for row in range(int(rng.integers(0, 9))):
        method = methods[rng.integers(len(methods))]
        turns = None if rng.random() < 0.1 else float(np.round(rng.normal(2, 3) * 8) / 8)
        value = float(rng.choice([1, 1, 1, -1]) * 10 ** rng.uniform(-3, 3))
        at = None if rng.random() < 0.3 else float(10 ** rng.uniform(-4, 2))
        hours = float(rng.integers(3)) if rng.random() < 0.2 else None
        yield Reading(row + 2, turns, method, value, at, None, hours)


def test_wild_readings_are_answered_or_refused_in_a_line():
    answers, refusals = 0, set()
    for seed in range(size(2000, 24)):
        rng = np.random.default_rng(seed)
        readings = list(wild_log(rng))
        if rng.random() < 0.7:  # by the methods' own rules, so that more of them are fitted
            balance = ReadingMethod.BALANCE
            pulls = np.sort(rng.uniform(0, 500, 4))
            readings = [Reading(n, float(n), balance, float(v)) for n, v in enumerate(pulls, 1)]
        try:
            fit = fit_readings(seeded_mount(seed, ADJUSTED), readings, "log.csv")
        except MountcalcError as error:
            assert "\n" not in str(error)
            refusals.add(str(error)[:40])
            continue
        answers += 1
        json.dumps(fit.to_dict(), allow_nan=False)
        assert 0 < fit.stiffness.low < fit.stiffness.high < math.inf
    assert answers >= size(400, 8)
    assert len(refusals) >= 3
