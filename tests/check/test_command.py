"""`mountcalc check` as users meet it."""

import json
import re

import pytest

CHECK_KEYS = {"title", "turns", "ok", "judgements", "bearings"}


def test_check_json_and_exit_code_go_together(mountcalc, scenario_file):
    done = mountcalc("check", scenario_file, "--json")
    plain = json.loads(done.out, parse_constant=pytest.fail)
    assert plain.keys() >= CHECK_KEYS
    failed = [one for one in plain["judgements"] if one["verdict"] == "fail"]
    assert plain["ok"] == (not failed)
    assert done.code == (1 if failed else 0)
    assert (scenario_file.stem in {"job-press", "seed-cleaner"}) == bool(failed)


def test_check_at_other_turns_fails_past_the_limit(mountcalc, cider):
    assert mountcalc("check", cider, "--turns", "2").code == 0
    done = mountcalc("check", cider, "--turns", "4")
    assert done.code == 1
    assert '"pulley end"' in done.out.split("WHAT PASSES")[0]


@pytest.mark.parametrize("turns", ["0:2:1", "", "two", "0:1", "nan", "1/0", "__import__('os')"])
def test_check_takes_one_setting(mountcalc, cider, turns):
    done = mountcalc("check", cider, "--turns", turns)
    assert done.code == 2
    assert done.out == ""
    assert done.err.startswith("mountcalc: turns: one number is wanted here, such as 2")
    assert done.err.count("\n") == 1
    assert repr(turns) in done.err


def test_pages_are_for_80_columns_without_colour_noise_or_promises(mountcalc, scenario_file):
    done = mountcalc("check", scenario_file)
    assert done.code in {0, 1}
    assert done.err == ""
    assert max(map(len, done.out.splitlines())) <= 80
    assert not re.search(r"\x1b|\bnan\b|\binf\b|None|\bsafe(ly|ty)?\b", done.out)
    assert "Unplug" in done.out


def test_bad_input_is_exit_2_not_1(mountcalc, cider, tmp_path):
    bad = tmp_path / "bad.toml"
    bad.write_text(cider.read_text().replace('"A60"', '"A75"'))
    done = mountcalc("check", bad)
    assert done.code == 2
    assert done.err.count("\n") == 1
    assert not done.out
