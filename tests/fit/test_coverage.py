"""How often the truth is inside: readings of the model with errors of the stated size."""

import pytest
from reading_logs import invented_log
from scipy.stats import binom
from sizes import size

from mountcalc.fit.fitting import fit_readings
from mountcalc.fit.refusals import FitError
from mountcalc.scenario.model import AdjusterKind


def inside(seeds, *, spoilt):
    """Logs that were fitted, with whether stiffness and zero are inside, and those refused."""
    fitted, refused = [], []
    for seed in seeds:
        log = invented_log(seed, spoilt=spoilt)
        if log is None:
            continue
        try:
            fit = fit_readings(log.scenario, log.readings)
        except FitError as error:
            refused.append((seed, str(error)))
            continue
        one, two = fit.stiffness, fit.zero_turns
        assert 0 < one.low < one.value < one.high
        assert two.low < two.value < two.high
        hit = (one.low <= log.stiffness <= one.high, two.low <= log.zero <= two.high)
        fitted.append((log.scenario.adjuster.kind, *hit))
    return fitted, refused


def test_the_truth_is_inside_in_nine_runs_of_ten():
    fitted, refused = inside(range(size(1300, 15)), spoilt=False)
    assert {kind for kind, *_ in fitted} == set(AdjusterKind) - {AdjusterKind.NONE}
    assert len(refused) <= 0.06 * len(fitted)
    count = len(fitted)
    for which in (1, 2):
        hits = sum(one[which] for one in fitted)
        if count >= 1000:
            assert 0.88 <= hits / count <= 0.92
        else:
            assert binom.ppf(1e-3, count, 0.88) <= hits


@pytest.mark.skipif(size(1, 0) == 0, reason="long: with --full")
def test_with_one_gross_outlier_it_is_still_inside():
    fitted, _ = inside(range(5000, 6450), spoilt=True)
    assert len(fitted) >= 800
    for which in (1, 2):
        assert sum(one[which] for one in fitted) / len(fitted) >= 0.85


def test_with_one_gross_outlier_a_part_of_those():
    fitted, _ = inside(range(5000, 5005), spoilt=True)
    for which in (1, 2):
        hits = sum(one[which] for one in fitted)
        assert hits >= binom.ppf(1e-3, len(fitted), 0.85)
