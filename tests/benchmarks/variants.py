"""How long a thousand variants of a mount take at once, and one by one; rigid, and with give.

Run on demand: ``python tests/benchmarks/variants.py``. Aim: less than a second.
"""

import dataclasses
import time
from pathlib import Path

import numpy as np

import mountcalc
from mountcalc.scenario.model import AdjusterKind

VARIANTS, TURNS = 1000, np.arange(0.0, 4.0, 0.5)


def main():
    for path in sorted((Path(__file__).parents[2] / "scenarios").glob("*.toml")):
        scenario, random = mountcalc.read_scenario(path), np.random.default_rng(1)
        hinge = scenario.plate.hinge + random.uniform(-0.02, 0.02, (VARIANTS, 2))
        has_bolt = scenario.adjuster.kind is not AdjusterKind.NONE
        gives = dataclasses.replace(scenario.adjuster, spring=3e5 if has_bolt else None)
        for mount in (scenario, dataclasses.replace(scenario, adjuster=gives)):
            start = time.perf_counter()
            mountcalc.tables(mount, TURNS, hinge=hinge)
            at_once = time.perf_counter() - start
            mountcalc.table(mount, TURNS)
            alone = VARIANTS * (time.perf_counter() - start - at_once)
            name = f"{path.name}{' with give' if mount is not scenario else ''}"
            print(f"{name:32} {at_once:5.2f} s at once, {alone:5.1f} s one by one")


if __name__ == "__main__":
    main()
