"""The log that ships: as its maker writes it, as the guide shows it, and fitted."""

from pathlib import Path

import make_readings
from written import PAGES

import mountcalc
from mountcalc.fit.log import read_log

TOP = Path(__file__).parents[2]


def test_it_is_as_its_maker_writes_it_and_the_guide_shows_it():
    text = make_readings.LOG.read_text(encoding="utf-8")
    assert text == make_readings.log_text()
    assert f"```text\n{text}```" in PAGES["mountcalc/guide/readings.md"]
    assert text.startswith("# A log of our own invention")


def test_what_the_mill_was_made_with_lies_in_the_intervals():
    mill = mountcalc.read_scenario(TOP / "scenarios" / "cider-mill.toml")
    found = mountcalc.fit(mill, make_readings.LOG)
    made = make_readings.STIFFER * mill.belt.stiffness
    assert found.stiffness.low < made < found.stiffness.high
    assert found.zero_turns.low < make_readings.ZERO < found.zero_turns.high
    assert found.stiffness.high / found.stiffness.low < 1.4  # it was known four times over


def test_without_errors_what_it_was_made_with_is_found(monkeypatch, tmp_path):
    """The maker reckons by the public functions and virtual work, not by the model of the fit."""
    monkeypatch.setattr(make_readings.random, "Random", NoErrors)
    log = tmp_path / "log.csv"
    log.write_text(make_readings.log_text(), encoding="utf-8")
    mill = mountcalc.read_scenario(TOP / "scenarios" / "cider-mill.toml")
    found = mountcalc.fit(mill, log)
    times = found.stiffness.value / mill.belt.stiffness
    # What is left is the rounding to what a shop reads, and the weights that stay as in the file.
    assert abs(times / make_readings.STIFFER - 1) < 0.02
    assert abs(found.zero_turns.value - make_readings.ZERO) < 0.03
    assert all(abs(one.read - one.fitted) < one.error for one in found.readings)
    assert len(read_log(log)) == len(found.readings)


class NoErrors:
    def __init__(self, _):
        pass

    def gauss(self, mean, _):
        return mean
