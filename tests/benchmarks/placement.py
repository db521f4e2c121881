"""The fast judge of layouts: seconds and memory, and the ratio to another way of judging the same.

Run on demand: ``python tests/benchmarks/placement.py``. A million layouts around the cider mill,
all kinds of adjuster and all that they may do. Aims: under 10 s and 500 MB a million, ten million
in the same memory; at least 300 times as fast as scipy's root finding one by one
(``tests/helpers/slow_judge.py``), which gives the same reasons and measures: that is checked here.
The comparison leaves the bolt beside the motor, the million does not.
"""

import resource
import subprocess
import sys
import time
from dataclasses import replace
from pathlib import Path

import numpy as np

HERE = Path(__file__).parent
sys.path[:0] = [str(HERE), str(HERE.parent / "helpers")]

from search_spaces import INSTALL, TAKE_UP, cider  # noqa: E402

from mountcalc.place.feasible.drives import drives_of  # noqa: E402
from mountcalc.place.feasible.feasibility import Feasibility  # noqa: E402
from mountcalc.place.feasible.layouts import DIMENSIONS, layouts_from  # noqa: E402

MILLION = 1_000_000
ONE_BY_ONE = 500
ROUNDS = 5
# What a search holds at a time.
BLOCK = 1 << 17
SAME = {"rtol": 1e-9, "atol": 1e-9}


def judge(*, beside=False):
    scenario, space = cider()
    space = replace(space, bolt_beside_motor=beside)
    return Feasibility(scenario, space, drives_of(scenario, space, INSTALL, TAKE_UP))


def judge_many(count):
    """Judge so many, block by block, as a search does: counts of reasons and the finest layout."""
    judging, random = judge(), np.random.default_rng(1)
    start, reasons, finest = time.process_time(), np.zeros(32, dtype=int), np.inf
    for begin in range(0, count, BLOCK):
        judged = judging.samples(random.random((min(BLOCK, count - begin), len(DIMENSIONS))))
        reasons += np.bincount(judged.reason, minlength=32)
        finest = min(finest, judged.measures.tension_per_length.min(initial=np.inf))
    seconds = time.process_time() - start
    memory = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss / 1024
    print(
        f"{count:>10,} layouts  {seconds:7.2f} s CPU  {memory:5.0f} MB peak  "
        f"{reasons[0]:,} feasible, the finest {finest / 1000:.1f} N per mm"
    )


def seconds(function, *arguments):
    start = time.process_time()
    result = function(*arguments)
    return time.process_time() - start, result


def against_one_by_one():
    from slow_judge import slow_verdict

    scenario, space = cider()
    space = replace(space, bolt_beside_motor=True)
    random, judging = np.random.default_rng(3), judge(beside=True)
    many = random.random((BLOCK, len(DIMENSIONS)))
    per_layout = min(seconds(judging.samples, many)[0] for _ in range(ROUNDS)) / BLOCK
    points = random.random((ONE_BY_ONE, len(DIMENSIONS)))
    layouts = layouts_from(points, space, scenario)
    judged = judging.samples(points)
    arguments = [
        (scenario, space, layouts, index, (INSTALL, TAKE_UP)) for index in range(ONE_BY_ONE)
    ]
    taken, verdicts = seconds(lambda: [slow_verdict(*given) for given in arguments])
    assert judged.reason.tolist() == [reason for reason, _ in verdicts]
    for place, index in enumerate(judged.kept):
        for key, value in verdicts[index][1].items():
            np.testing.assert_allclose(getattr(judged.measures, key)[place], value, **SAME)
    each = taken / ONE_BY_ONE
    print(
        f"one by one: {each * 1e6:.0f} us a layout: {each / per_layout:.0f} times as long (aim 300)"
    )


def main():
    if len(sys.argv) > 1:
        judge_many(int(sys.argv[1]))
        return
    for count in (MILLION, 10 * MILLION):
        # A process of its own, so that the peak is its own.
        subprocess.run([sys.executable, __file__, str(count)], check=True)
    against_one_by_one()


if __name__ == "__main__":
    main()
