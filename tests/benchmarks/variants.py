"""How long a thousand variants of a mount take at once, and one by one.

Run on demand: ``python tests/benchmarks/variants.py``. Aim: less than a second.
"""

import time
from pathlib import Path

import numpy as np

import mountcalc

VARIANTS, TURNS = 1000, np.arange(0.0, 4.0, 0.5)


def main():
    for path in sorted((Path(__file__).parents[2] / "scenarios").glob("*.toml")):
        scenario, random = mountcalc.read_scenario(path), np.random.default_rng(1)
        hinge = scenario.plate.hinge + random.uniform(-0.02, 0.02, (VARIANTS, 2))
        start = time.perf_counter()
        mountcalc.tables(scenario, TURNS, hinge=hinge)
        at_once = time.perf_counter() - start
        mountcalc.table(scenario, TURNS)
        alone = time.perf_counter() - start - at_once
        print(f"{path.name:24} {at_once:5.2f} s at once, {VARIANTS * alone:5.1f} s one by one")


if __name__ == "__main__":
    main()
