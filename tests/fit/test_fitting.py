"""What a fit tells: intervals, the reading worth most next, suspects, bedding, refusals."""

import datetime as dt
import math
from dataclasses import replace

import numpy as np
import pytest
from reading_logs import invented_log, read_at
from scipy.optimize import curve_fit
from scipy.stats import binom, norm
from setting_mounts import rigid
from sizes import size

from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.solve import solve_mount
from mountcalc.errors import MountcalcError
from mountcalc.fit.fitted_keys import fitted_keys
from mountcalc.fit.fitting import fit_readings
from mountcalc.fit.least_squares.sessions import model_of
from mountcalc.fit.readings import Reading, ReadingMethod
from mountcalc.fit.refusals import FitError
from mountcalc.requirements.requirements import requirements_of
from mountcalc.requirements.setting import gentlest_setting
from mountcalc.scenario.model import Adjuster, AdjusterKind
from mountcalc.scenario.reader import read_scenario

MILL = rigid(read_scenario("scenarios/cider-mill.toml"))
LATHE = rigid(read_scenario("scenarios/wood-lathe.toml"))
BALANCE, PUSH, SWINGS = ReadingMethod.BALANCE, ReadingMethod.PUSH, ReadingMethod.SWINGS
SURE_TURNS = replace(MILL, limits=replace(MILL.limits, turn_error=0.0))


def balances(*turns):
    return [Reading(row, one, BALANCE, 1.0) for row, one in enumerate(turns, start=2)]


LOG = balances(None, 0.5, 1.0, 1.5, 2.0, 2.5)


def test_readings_without_errors_give_the_belt_back():
    for scenario in (MILL, LATHE):
        readings, _ = read_at(scenario, LOG, times=1.45, zero=0.3)
        fit = fit_readings(scenario, readings)
        assert fit.stiffness.value == pytest.approx(1.45 * scenario.belt.stiffness, rel=1e-3)
        assert fit.zero_turns.value == pytest.approx(0.3, abs=2e-3)
        assert fit.scatter == 1.0
        assert fit.notes == ()
        assert not any(one.suspect for one in fit.readings)


def test_intervals_are_those_of_curve_fit_where_all_is_linear():
    """Turns without errors, weights known, balances: tension is as good as linear in turns."""
    scenario = replace(SURE_TURNS, motor=replace(MILL.motor, weight_error=0.0))
    readings, _ = read_at(
        scenario,
        balances(0.5, 1.0, 1.5, 2.0, 2.5),
        times=1.2,
        zero=0.1,
        rng=np.random.default_rng(5),
    )
    fit = fit_readings(scenario, readings)
    turns = np.array([one.turns for one in readings])

    def pulls(turns, log_times, zero):
        mount = Mount.of(scenario)
        solved = solve_mount(mount.with_stiffness(mount.stiffness * math.exp(log_times)))
        at = solved.place(turns - zero).at
        moment = mount.count * at.tension * solved.mount.path(at.phi).length_slope + at.weight
        arm = math.dist(scenario.adjuster.tip, scenario.plate.hinge)
        return solved.travel.tightens * moment / arm

    best, covariance = curve_fit(
        pulls,
        turns,
        [one.value for one in readings],
        p0=(0.0, 0.0),
        sigma=np.full(5, scenario.limits.balance_error),
        absolute_sigma=True,
    )
    half = norm.ppf(0.95) * np.sqrt(np.diag(covariance))
    assert math.log(fit.stiffness_times.value) == pytest.approx(best[0], abs=0.01 * half[0])
    assert fit.zero_turns.value == pytest.approx(best[1], abs=0.01 * half[1])
    wide = math.log(fit.stiffness.high / fit.stiffness.low)
    assert wide == pytest.approx(2 * half[0], rel=0.03)
    assert fit.zero_turns.high - fit.zero_turns.low == pytest.approx(2 * half[1], rel=0.03)


@pytest.mark.parametrize("with_errors", [False, True])
def test_one_more_reading_narrows_as_was_said(with_errors):
    """Within 20 % of what was said in nine of ten logs; with fresh errors in 85 of 100 or more.

    The others are widths that differ with where the estimate then lies, and readings that come to
    disagree.
    """
    ratios = []
    for seed in range(size(170, 9)):
        log = invented_log(seed)
        try:
            fit = fit_readings(log.scenario, log.readings) if log else None
        except FitError:
            continue
        if fit is None or fit.next.turns is None:
            continue
        more = _read_as_proposed(log, fit, np.random.default_rng(seed) if with_errors else None)
        again = fit_readings(log.scenario, [*log.readings, more])
        assert fit.stiffness.low <= fit.next.low < fit.next.high <= fit.stiffness.high
        said = math.log(fit.next.high / fit.next.low)
        ratios.append(math.log(again.stiffness.high / again.stiffness.low) / said)
    ratios = np.array(ratios)
    assert ratios.size >= size(80, 3)
    assert np.median(ratios) == pytest.approx(1.0, abs=0.05)
    hits = np.sum(np.abs(np.log(ratios)) < math.log(1.2))
    share = 0.85 if with_errors else 0.9
    assert hits >= size(share * ratios.size, binom.ppf(1e-3, ratios.size, share))


def _read_as_proposed(log, fit, rng):
    """The proposed reading, by the fitted belt, or by the real one with errors as stated."""
    at = {one.method: one.at for one in log.readings if one.turns is not None}
    solved = _solved(log.scenario)
    span = math.sqrt(float(solved.mount.path(solved.travel.snug).span_squared))
    at.setdefault(PUSH, span / 64)
    more = Reading(99, fit.next.turns, fit.next.method, 1.0, at.get(fit.next.method))
    if rng is None:
        times, zero = fit.stiffness_times.value, fit.zero_turns.value
        return read_at(log.scenario, [more], times=times, zero=zero)[0][0]
    model, first = model_of(solved, [more]), model_of(solved, log.readings).weights
    truth = np.concatenate([log.parameters[:2], log.parameters[first : first + 2]])
    truth = np.append(truth, rng.standard_normal(model.size - 4))
    value = model.predicted(truth)[0] + model.errors * rng.standard_normal(1)
    return replace(more, value=float(model.unscaled(value)[0]))


def _solved(scenario):
    return solve_mount(Mount.of(scenario))


def test_the_next_reading_breaks_no_limit_and_no_travel():
    for scenario in (MILL, LATHE):
        readings, _ = read_at(scenario, LOG[:4], times=1.3, zero=0.2)
        fit = fit_readings(scenario, readings)
        stiff = replace(scenario, belt=replace(scenario.belt, stiffness=fit.stiffness.high))
        requirements = requirements_of(stiff)
        tightest = fit.next.turns - fit.zero_turns.low + scenario.limits.turn_error
        assert requirements.worst(tightest)[0] <= 1.0
        assert fit.next.turns > fit.zero_turns.high
        assert tightest <= requirements.last_turn
        assert fit.next.turns * 8 == round(fit.next.turns * 8)
        assert fit.next.sentence.startswith("One more reading tells most with ")
    cramped = replace(MILL, limits=replace(MILL.limits, hinge=30.0))
    readings, _ = read_at(cramped, LOG[:4], times=1.3, zero=0.2)
    following = fit_readings(cramped, readings).to_dict()["next"]
    assert following.pop("sentence").startswith("No more reading is proposed: at no setting ")
    assert set(following.values()) == {None}


@pytest.mark.parametrize("spoilt", [1, 3, 5])
def test_a_reading_that_is_grossly_off_is_told_and_not_dropped_in_silence(spoilt):
    readings, _ = read_at(MILL, LOG, times=1.2, zero=0.2)
    off = replace(readings[spoilt], value=1.6 * readings[spoilt].value + 40.0)
    fit = fit_readings(MILL, [*readings[:spoilt], off, *readings[spoilt + 1 :]])
    assert [one.suspect for one in fit.readings] == [row == spoilt for row in range(len(LOG))]
    assert len(fit.readings) == len(LOG)
    assert fit.notes[0].startswith(f"Row {off.row} disagrees with the others: balance at ")
    assert "left out of the fit; read it again" in fit.notes[0]
    assert fit.stiffness.low <= 1.2 * MILL.belt.stiffness <= fit.stiffness.high


def test_what_a_slack_belt_would_read_is_nothing_and_not_rounding():
    """The hung grindstone's slack plate, held back at a setting where the bolt carries nothing."""
    stone = read_scenario("scenarios/grindstone.toml")
    pounds = {None: -20.0, 0.25: -4.0, 0.5: 6.0, 0.75: 16.0}
    readings = [
        Reading(row, turns, BALANCE, 4.4482216152605 * pull)
        for row, (turns, pull) in enumerate(pounds.items(), start=2)
    ]
    fit = fit_readings(stone, readings)
    assert fit.notes[0].startswith("Row 3 disagrees with the others: balance at 1/4 turn reads -4")
    assert "where 0 lbf is expected" in fit.notes[0]


def test_errors_that_are_greater_than_stated_widen_the_intervals():
    rng = np.random.default_rng(4)
    log = balances(*np.linspace(0.25, 2.5, 19))
    readings, _ = read_at(SURE_TURNS, log, times=1.0, zero=0.0)
    noisy = [
        replace(one, value=one.value + 3.0 * MILL.limits.balance_error * rng.standard_normal())
        for one in readings
    ]
    fit, sure = fit_readings(SURE_TURNS, noisy), fit_readings(SURE_TURNS, readings)
    assert 2.0 < fit.scatter < 4.0
    assert any("scatter" in note for note in fit.notes)
    widths = [one.zero_turns.high - one.zero_turns.low for one in (fit, sure)]
    assert widths[0] > 2.0 * widths[1]


def test_what_cannot_be_told_goes_with_the_readings():
    with_slack, _ = read_at(LATHE, balances(None, 1.0, 2.0), times=1.0, zero=0.0)
    without = fit_readings(LATHE, with_slack[1:])
    fit = fit_readings(LATHE, with_slack)
    weigh = "What motor and plate weigh"
    assert any(one.startswith(weigh) and "slack tells it" in one for one in without.cannot_tell)
    assert without.weights is None
    assert fit.weights is not None
    assert not any(one.startswith(weigh) for one in fit.cannot_tell)
    far, _ = read_at(LATHE, balances(2.0, 2.25), times=1.0, zero=0.0)
    assert any("tell stiffness from zero" in one for one in fit_readings(LATHE, far).cannot_tell)


@pytest.mark.parametrize(("name", "share"), [("cider-mill", 0.97), ("wood-lathe", 0.8)])
def test_settings_of_fitted_scenarios_land_in_the_range(name, share):
    """A slack reading and two on the bolt; the real belt has to grip there and keep its limits."""
    scenario = read_scenario(f"scenarios/{name}.toml")
    rng = np.random.default_rng(14)
    before, after = [], []
    for _ in range(size(60, 12)):
        times = scenario.belt.stiffness_factor ** rng.uniform(-1, 1)
        zero = rng.normal(0.0, 0.25)
        readings, _ = read_at(scenario, balances(None, 0.75, 2.25), times=times, zero=zero, rng=rng)
        fit = fit_readings(scenario, readings)
        keys = fitted_keys(scenario, fit)
        fitted = scenario.with_(belt=keys["belt"])
        real = replace(
            scenario, belt=replace(scenario.belt, stiffness=times * scenario.belt.stiffness)
        )
        way = gentlest_setting(real)
        for found, setting, from_zero in (
            (before, gentlest_setting(scenario), 0.0),
            (after, gentlest_setting(fitted), fit.zero_turns.value),
        ):
            made = setting.set_turns + from_zero - zero
            found.append(way.turns_min <= made <= way.turns_max)
    assert np.mean(after) >= share
    assert np.mean(after) > np.mean(before)


def test_a_belt_that_beds_in_loses_turns_and_tension():
    days = [dt.date(2026, 5, 2), dt.date(2026, 5, 9)]
    log = [
        *(replace(one, date=days[0]) for one in balances(None, 0.5, 1.25, 2.0)),
        *(replace(one, date=days[1]) for one in balances(1.25, 2.0)),
    ]
    readings, _ = read_at(MILL, log, times=1.2, zero=[0.1, 0.6])
    fit = fit_readings(MILL, readings)
    bedding = fit.bedding
    assert fit.zero_turns.value == pytest.approx(0.6, abs=0.02)
    assert bedding.turns_lost.value == pytest.approx(0.5, abs=0.02)
    real = solve_mount(Mount.of(MILL).with_stiffness(1.2 * MILL.belt.stiffness))
    then, now = real.at_rest([1.9, 1.4]).tension
    assert bedding.tension_now.value == pytest.approx(now, rel=0.02)
    assert bedding.tension_lost.value == pytest.approx(then - now, rel=0.03)
    assert bedding.lost_per_day.value == pytest.approx((then - now) / 7, rel=0.03)
    assert bedding.lost_per_hour is None
    assert bedding.tension_next.low < now - (then - now) < bedding.tension_next.value < now
    assert "7 days" in bedding.sentences[0]
    hours = [replace(one, hours=0.0 if one.date == days[0] else 20.0) for one in readings]
    by_hours = fit_readings(MILL, hours).bedding
    assert by_hours.lost_per_hour.value == pytest.approx((then - now) / 20, rel=0.03)
    assert fit_readings(MILL, readings[:4]).bedding is None


def test_bedding_bounds_hold_the_truth():
    rng, inside, count = np.random.default_rng(8), 0, size(100, 15)
    log = [
        *(replace(one, hours=0.0) for one in balances(None, 0.5, 1.25, 2.0)),
        *(replace(one, hours=8.0) for one in balances(0.75, 1.25, 2.0)),
    ]
    for _ in range(count):
        readings, _ = read_at(MILL, log, times=1.2, zero=[0.1, 0.6], rng=rng)
        lost = fit_readings(MILL, readings).bedding.turns_lost
        inside += lost.low <= 0.5 <= lost.high
    assert 0.78 * count <= inside


def refusal(readings, scenario=MILL):
    with pytest.raises(MountcalcError) as caught:
        fit_readings(scenario, readings, "log.csv")
    text = str(caught.value)
    assert "\n" not in text
    assert text.startswith("log.csv")
    return text


def test_logs_that_cannot_be_fitted_say_why():
    good, _ = read_at(MILL, LOG, times=1.0, zero=0.0)
    slack, first, *_, last = good
    assert "too few" in refusal([slack, first])
    assert "too few" in refusal([])
    assert "at 1/2 turn: " in refusal([slack, first, replace(first, row=9)])
    falling = [replace(first, value=last.value), replace(last, value=first.value)]
    assert "counted positive the way that tightens" in refusal([slack, *falling])
    wrong = [replace(one, value=-one.value) for one in (first, *good[2:])]
    assert "positive is a pull the way that tightens" in refusal(wrong)
    assert "turns; the travel has" in refusal([first, replace(last, turns=300.0)])
    assert "no adjuster" in refusal(good, replace(MILL, adjuster=Adjuster(AdjusterKind.NONE)))
    row = Reading(7, 1.0, PUSH, 10.0)
    assert refusal([*good, row]).startswith("log.csv:7: push wants its at")
    assert "a tenth of the span of 20.8 in" in refusal([*good, replace(row, at=5.0)])
    assert "above zero" in refusal([*good, replace(row, at=0.01, value=-1.0)])
    assert "only a balance" in refusal([*good, replace(row, turns=None, at=0.01)])
    assert "finite" in refusal([*good, replace(first, value=math.nan)])
    light = replace(MILL, belt=replace(MILL.belt, mass=0.0))
    assert "belt.mass" in refusal([*good, Reading(8, 1.0, SWINGS, 20.0)], light)


def test_keys_of_a_fitted_scenario_take_in_the_interval():
    readings, _ = read_at(LATHE, LOG, times=1.3, zero=0.2, rng=np.random.default_rng(2))
    fit = fit_readings(LATHE, readings)
    keys = fitted_keys(LATHE, fit)
    belt = keys["belt"]
    assert belt["stiffness"] * belt["stiffness_factor"] >= fit.stiffness.high * (1 - 1e-12)
    assert belt["stiffness"] / belt["stiffness_factor"] <= fit.stiffness.low * (1 + 1e-12)
    assert belt["stiffness_factor"] < LATHE.belt.stiffness_factor
    assert keys["adjuster"] == {"zero_turns": fit.zero_turns.value}
    assert keys["motor"]["weight"] == pytest.approx(fit.weights.value * LATHE.motor.weight)
    fitted = LATHE.with_(**keys)
    assert fitted.belt.stiffness == pytest.approx(fit.stiffness.value)
    assert fitted.motor.weight_error <= 0.1


def test_json_has_the_keys_that_were_promised():
    readings, _ = read_at(MILL, LOG, times=1.0, zero=0.0)
    found = fit_readings(MILL, readings).to_dict()
    for name in ("stiffness_N", "zero_turns"):
        assert set(found[name]) == {"value", "low", "high"}
    assert found["confidence"] == 0.9
    assert {"turns", "method", "read", "fitted", "unit", "suspect"} <= set(found["readings"][0])
    assert set(found["next"]) == {"turns", "method", "low", "high", "sentence"}
    assert found["written"] is None
