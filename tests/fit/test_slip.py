"""Traction from a load at which the belt slipped: beside the solver's grip, and found in logs."""

from dataclasses import replace

import numpy as np
import pytest
from random_mounts import ADJUSTED, seeded_mount
from reading_logs import read_at
from sizes import size

from mountcalc.equilibrium.mount import Mount
from mountcalc.equilibrium.solve import solve_mount
from mountcalc.errors import MountError
from mountcalc.fit.answer import fit_log
from mountcalc.fit.fitted_keys import fitted_keys
from mountcalc.fit.fitting import fit_readings
from mountcalc.fit.least_squares.sessions import model_of
from mountcalc.fit.page import fit_text
from mountcalc.fit.readings import Reading, ReadingMethod
from mountcalc.fit.refusals import FitError
from mountcalc.scenario.reader import read_scenario

MILL, LATHE, PRESS = (
    read_scenario(f"scenarios/{name}.toml") for name in ("cider-mill", "wood-lathe", "job-press")
)
BALANCE, SLIP = ReadingMethod.BALANCE, ReadingMethod.SLIP
LOG = [Reading(2 + n, one, BALANCE, 1.0) for n, one in enumerate((None, 1.0, 1.5, 2.0, 2.5, 3.0))]
SLIPS = [Reading(10, 1.5, SLIP, 1.0), Reading(11, 2.0, SLIP, 1.0)]


@pytest.mark.parametrize("gives", [False, True])
def test_a_belt_slips_at_the_grip_that_the_solver_has(gives):
    compared = 0
    for seed in range(size(60, 12)):
        scenario = seeded_mount(seed, ADJUSTED)
        if not scenario.driven.power:
            continue
        adjuster, belt = replace(scenario.adjuster, spring=None, coil=None), scenario.belt
        rate = 20.0 * belt.count * belt.stiffness / belt.length
        softer = replace(adjuster, spring=rate) if gives else adjuster
        try:
            rigid = solve_mount(Mount.of(replace(scenario, adjuster=adjuster)))
            solved = solve_mount(Mount.of(replace(scenario, adjuster=softer)))
            turns = np.linspace(0.1, 0.6, 4) * min(rigid.turns_at(rigid.travel.tight_end), 6.0)
            run = solved.cases(solved.place(turns)).running
        except MountError:
            continue
        power = run.grip.value * scenario.driven.power
        good = np.isfinite(power) & (power > 0) & (not gives or run.state == "held")
        model = model_of(
            rigid, [Reading(2, float(turn), SLIP, 1.0) for turn in turns], gives / rate
        )
        one = np.ones((1, 1))
        found = model.readings_at(belt.stiffness * one, one, 0.0 * one, turns[np.newaxis])[0]
        assert found[good] == pytest.approx(power[good], rel=1e-4 if gives else 1e-7)
        compared += np.sum(good)
    assert compared >= size(100, 15)


@pytest.mark.parametrize("scenario", [MILL, LATHE, PRESS], ids=["mill", "lathe", "press"])
def test_the_interval_holds_the_traction(scenario):
    rng, count = np.random.default_rng(6), size(100, 12)
    inside = near = 0
    for _ in range(count):
        readings, _ = read_at(scenario, [*LOG, *SLIPS], times=1.2, zero=0.2, rng=rng, traction=1.3)
        fit = fit_readings(scenario, readings)
        assert fit.traction is not None
        inside += fit.traction.low <= 1.3 <= fit.traction.high
        near += fit.traction.low > 0.8
        assert fit.next.method is not SLIP
    # Of 100, 90 are meant; 3 standard deviations fewer are chance.
    assert inside >= count * 0.9 - 3.0 * np.sqrt(count * 0.09)
    assert near >= 0.8 * count


@pytest.mark.parametrize("scenario", [MILL, LATHE, PRESS], ids=["mill", "lathe", "press"])
def test_traction_without_errors_is_found_written_and_told(scenario):
    idle = replace(scenario, driven=replace(scenario.driven, power=0.0))
    readings, _ = read_at(idle, [*LOG, *SLIPS], times=1.2, zero=0.2, traction=1.3)
    fit = fit_readings(idle, readings)
    # Known beforehand to a factor of e: that draws it a little towards the file's.
    assert fit.traction.value == pytest.approx(1.3, rel=0.03)
    assert fit.stiffness_times.value == pytest.approx(1.2, rel=0.01)
    assert not any("Traction" in one for one in fit.cannot_tell)
    keys = fitted_keys(scenario, fit)
    assert ("traction" in keys["belt"]) == (scenario.belt.traction is not None)
    fitted = scenario.with_(**{table: dict(several) for table, several in keys.items()})
    for part in ("motor", "driven"):
        now, before = (getattr(one, part).traction for one in (fitted, scenario))
        assert now == pytest.approx(before * fit.traction.value)
    found = fit_log(scenario, readings)
    assert found.scenario.motor.traction == pytest.approx(fitted.motor.traction, rel=1e-3)
    assert set(found.fit.to_dict()["traction"]) == {"value", "low", "high"}
    assert "times what the file says" in fit_text(scenario, found.fit).partition("Traction:")[2]


def test_a_slip_that_disagrees_is_left_out_and_not_to_be_tried_again():
    log = [*LOG, *SLIPS, Reading(12, 2.5, SLIP, 1.0), Reading(13, 3.0, SLIP, 1.0)]
    readings, _ = read_at(MILL, log, times=1.2, zero=0.2, traction=1.3)
    readings = [replace(one, value=3.0 * one.value) if one.row == 12 else one for one in readings]
    fit = fit_readings(MILL, readings)
    assert [one.row for one in fit.readings if one.suspect] == [12]
    assert "left out of the fit; check its power and turns." in fit.notes[0]
    assert fit.traction.value == pytest.approx(1.3, rel=0.03)


def test_without_a_slip_traction_stays_open():
    readings, _ = read_at(MILL, LOG, times=1.2, zero=0.2)
    fit = fit_readings(MILL, readings)
    assert fit.traction is None
    assert "Traction: only a load at which the belt slips tells it." in fit.cannot_tell
    assert not any("traction" in several for several in fitted_keys(MILL, fit).values())


def test_slips_that_cannot_be_are_refused_in_a_line():
    readings, _ = read_at(MILL, LOG, times=1.2, zero=0.2)
    for slip, text in (
        (Reading(9, None, SLIP, 600.0), "log.csv:9: with the belt slack only a balance"),
        (Reading(9, 1.0, SLIP, 0.0), "log.csv:9: slip is above zero"),
        (Reading(9, -1.0, SLIP, 600.0), "log.csv:9: slip: at -1 turns the belt has no tension"),
    ):
        with pytest.raises(FitError) as caught:
            fit_readings(MILL, [*readings, slip], "log.csv")
        assert str(caught.value).startswith(text)
