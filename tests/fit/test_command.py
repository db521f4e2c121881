"""``mountcalc fit``: what it prints, writes and refuses; the scenario's file stays as it is."""

import json
import os
import re
import tomllib
from pathlib import Path

import pytest
from plot_mounts import SHIPPED
from read_mounts import read_off

from mountcalc.fit.answer import fit_log
from mountcalc.fit.log import given_readings
from mountcalc.pages.page import CAUTIONS
from mountcalc.scenario.reader import read_scenario

HEAD = "date,turns,method,value,at,note"


@pytest.fixture
def log(cider):
    return cider.with_name("cider-mill-readings.csv")


@pytest.fixture
def mill(tmp_path, cider):
    """The mill's file in a folder of its own."""
    path = tmp_path / "mill.toml"
    path.write_bytes(cider.read_bytes())
    return path


def test_the_answer_comes_first_and_fits_a_screen(mountcalc, cider, log):
    done = mountcalc("fit", cider, log)
    assert done.code == 0
    assert done.err == ""
    lines = done.out.splitlines()
    assert len(lines) <= 45
    assert max(map(len, lines)) <= 80
    names = [line.split(":")[0] for line in lines if line[:1].isupper() and ":" in line[:10]]
    assert names[:3] == ["Belt", "Zero", "A turn"]
    assert "Next" in names
    for hazard in ("Unplug and lock out", "it can fall", "pinch", "local codes", "electrician"):
        assert hazard in " ".join(lines[-3:-1])
    full = " ".join(mountcalc("fit", cider, log, "--more").out.split())
    assert all(caution in full for caution in CAUTIONS)


def test_json_has_what_the_page_tells_in_si(mountcalc, cider, log):
    plain = json.loads(mountcalc("fit", cider, log, "--json").out)
    for name in ("stiffness_N", "zero_turns"):
        one = plain[name]
        assert one["low"] < one["value"] < one["high"]
    assert plain["confidence"] == 0.9
    assert plain["written"] is None
    first = plain["readings"][0]
    assert (first["row"], first["turns"], first["method"], first["unit"]) == (
        4,
        None,
        "balance",
        "N",
    )
    assert first["read"] == pytest.approx(7.5 * 4.4482216152605)
    assert {"turns", "method", "low", "high", "sentence"} <= plain["next"].keys()
    gave, gives = plain["turn_gave"], plain["turn_gives"]
    widths = [
        one["tension_per_turn_high_N"] / one["tension_per_turn_low_N"] for one in (gave, gives)
    ]
    # Four where nothing gives; what gives is the same whatever the belt.
    assert 2 < widths[0] < 4
    assert widths[1] < 2


def test_what_is_written_is_the_file_with_what_was_fitted(mountcalc, mill, log, tmp_path):
    before, target = mill.read_text(encoding="utf-8"), tmp_path / "fitted.toml"
    done = mountcalc("fit", mill, log, "--write", target, "--json")
    plain = json.loads(done.out)
    assert plain["written"] == str(target)
    assert done.err == f"written: {target}\n"
    assert mill.read_text(encoding="utf-8") == before
    fitted = read_scenario(target)
    assert fitted.belt.stiffness == pytest.approx(plain["stiffness_N"]["value"], rel=1e-3)
    assert fitted.adjuster.zero_turns == pytest.approx(plain["zero_turns"]["value"], abs=1e-3)
    assert "# fitted on 20" in target.read_text(encoding="utf-8")
    assert "from 9 readings" in target.read_text(encoding="utf-8")
    for command in ("table", "setting", "card"):
        page = " ".join(mountcalc(command, target).out.split())
        assert "Your count reads 5/16 more (true zero at 5/16): make a new mark" in page
    assert mountcalc("check", target).code in {0, 1}


@pytest.mark.parametrize("name", [name for name in SHIPPED if name != "forge-blower"])
def test_pages_of_a_fitted_scenario_fit_a_screen(mountcalc, tmp_path, name):
    scenario, target = SHIPPED[name], tmp_path / "fitted.toml"
    found = fit_log(scenario, given_readings(read_off(scenario)))
    target.write_bytes(found.file(Path(scenario.source).read_text(encoding="utf-8")))
    for command in ("table", "setting", "card"):
        done = mountcalc(command, target)
        assert len(done.out.splitlines()) <= 45
        closed = command == "card" and name == "job-press"  # it has no setting to count turns to
        assert closed or "(true zero at -" in " ".join(done.out.split())


@pytest.mark.parametrize("name", ["mill.toml", "link.toml", "hard.toml", "log.csv"])
def test_nothing_that_was_read_is_written_over(mountcalc, mill, log, tmp_path, name):
    own = tmp_path / "log.csv"
    own.write_bytes(log.read_bytes())
    (tmp_path / "link.toml").symlink_to(mill)
    os.link(mill, tmp_path / "hard.toml")
    before = mill.read_bytes(), own.read_bytes()
    done = mountcalc("fit", mill, own, "--write", tmp_path / name)
    what = "the log" if name == "log.csv" else "the scenario"
    assert done.code == 2
    assert done.err == (
        f"mountcalc: {tmp_path / name}: this is {what} itself: give the result another name\n"
    )
    assert (mill.read_bytes(), own.read_bytes()) == before


def test_two_results_in_one_file_and_pictures_of_no_kind_are_refused(
    mountcalc, mill, log, tmp_path
):
    same = tmp_path / "same.png"
    done = mountcalc("fit", mill, log, "--plot", same, "--write", same)
    assert (done.code, same.exists()) == (2, False)
    assert "plot and write: give the picture and the scenario names of their own" in done.err
    done = mountcalc("fit", mill, log, "--plot", tmp_path / "a.jpg")
    assert done.code == 2
    assert "a picture's name ends in one of .png, .pdf, .svg" in done.err


def test_an_earlier_result_is_replaced_and_a_fitted_file_is_fitted_again(
    mountcalc, mill, log, tmp_path
):
    target = tmp_path / "fitted.toml"
    mountcalc("fit", mill, log, "--write", target)
    first = target.read_bytes()
    mountcalc("fit", mill, log, "--write", target)
    assert target.read_bytes() == first
    again = tmp_path / "again.toml"
    assert mountcalc("fit", target, log, "--write", again).code == 0
    assert (
        tomllib.loads(again.read_text())["belt"].keys()
        == tomllib.loads(first.decode())["belt"].keys()
    )


def test_a_scenario_from_standard_input(mountcalc, cider, log, tmp_path, monkeypatch):
    target = tmp_path / "fitted.toml"
    with cider.open(encoding="utf-8") as stream:
        monkeypatch.setattr("sys.stdin", stream)
        assert mountcalc("fit", "-", log, "--write", target).code == 0
    assert read_scenario(target).title == read_scenario(cider).title


def test_slips_of_the_log_are_told_by_file_and_line(mountcalc, cider, tmp_path):
    log = tmp_path / "log.csv"
    log.write_text(f"{HEAD}\n,1 1/2,balance,27,,\n,2,bolance,36 lbf,,\n", encoding="utf-8")
    done = mountcalc("fit", cider, log)
    assert (done.code, done.out) == (2, "")
    assert done.err == (
        f'{log}:2: value: number without a unit: "27"; force wanted (such as "12.5 lbf" or "55 N")'
        f'\n{log}:3: method: "balance", "push", "swings", "hung", "centres", "tip", "slip" '
        'or "spring" wanted, got "bolance"; did you mean "balance"?\n'
    )


def test_readings_that_cannot_be_fitted_are_told_alike(mountcalc, cider, tmp_path):
    log = tmp_path / "log.csv"
    log.write_text(f"{HEAD}\n,1,swings,24 Hz,,\n,1,swings,25 Hz,,\n", encoding="utf-8")
    done = mountcalc("fit", cider, log)
    assert (done.code, done.out) == (2, "")
    assert done.err.startswith(f"{log}: all readings of the tension were at 1 turn: ")
    log.write_text(f"{HEAD}\n,1,swings,24 Hz,,\n,2,push,2 lbf,9 in,\n", encoding="utf-8")
    assert mountcalc("fit", cider, log).err.startswith(f"{log}:3: so deep a push is no string")


@pytest.mark.parametrize(
    "limits",
    [
        "push_error = 0",
        "hum_error = 0.0",
        "turn_error = 0",
        'balance_error = "0.00001 N"',
        'push_error = 0\nhum_error = 0\nturn_error = 0\nbalance_error = "0.00001 N"',
    ],
)
def test_errors_that_are_said_to_be_nothing(mountcalc, mill, log, tmp_path, limits):
    text = mill.read_text(encoding="utf-8")
    mill.write_text(f"{text}\n[limits]\n{limits}\n", encoding="utf-8")
    done = mountcalc("fit", mill, log, "--more", "--plot", tmp_path / "fit.png")
    assert done.code == 0
    assert not re.search(r"\b(nan|inf)\b", done.out)


def test_weights_that_are_said_to_be_sure(mountcalc, mill, log):
    text = mill.read_text(encoding="utf-8").replace("[motor]\n", "[motor]\nweight_error = 0\n")
    mill.write_text(text.replace("[belt]\n", "[belt]\nstiffness_factor = 1\n"), encoding="utf-8")
    done = mountcalc("fit", mill, log)
    assert done.code == 0
    assert "the file says 12000 lbf." in " ".join(done.out.split())


def test_no_log_is_no_fit(mountcalc, cider):
    done = mountcalc("fit", cider)
    assert (done.code, done.out) == (2, "")
    assert (
        done.err
        == "mountcalc: readings: the log is wanted, such as mill-readings.csv, or --strum\n"
    )
