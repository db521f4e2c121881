"""`mountcalc setting` as users meet it."""

import json
import re

import pytest

SETTING_KEYS = {
    "turns_min", "turns_max", "tension_min_N", "tension_max_N", "set_turns", "set_tension_N",
    "new_turns", "new_tension_N", "open", "governs", "sensitivity", "spring_balance", "steps",
    "weight_alone", "remedies", "margins", "notes",
}  # fmt: skip


def test_pages_are_for_80_columns_without_colour_noise_or_promises(mountcalc, scenario_file):
    done = mountcalc("setting", scenario_file)
    assert done.code == 0
    assert done.err == ""
    assert max(map(len, done.out.splitlines())) <= 80
    assert not re.search(r"\x1b|\bnan\b|\binf\b|None|\bsafe(ly|ty)?\b", done.out)
    assert "Unplug" in done.out


def test_setting_json_has_the_promised_keys_and_no_nan(mountcalc, scenario_file):
    done = mountcalc("setting", scenario_file, "--json")
    plain = json.loads(done.out, parse_constant=pytest.fail)
    assert done.code == 0
    assert plain.keys() >= SETTING_KEYS
    assert plain["governs"].keys() >= {"min", "max"}
    assert plain["open"] == (scenario_file.stem != "job-press")


def test_what_is_closed_says_so_and_ranks_what_would_open_it(mountcalc, cider):
    out = mountcalc("setting", cider.with_name("job-press.toml")).out
    text = re.sub(r"\s+", " ", out)
    assert 'Verdict: Closed: bearing "wheel side" is at its limit before the belt grips' in text
    assert text.count("Then: open, ") >= 2
    assert "HOW FINE IT IS" not in text


def test_remedies_are_solved_when_asked_for(mountcalc, cider):
    assert "WHAT WOULD WIDEN" not in mountcalc("setting", cider).out
    assert "WHAT WOULD WIDEN" in mountcalc("setting", cider, "--remedies").out


def test_the_picture_is_written_whole(mountcalc, cider, tmp_path):
    path = tmp_path / "deep" / "setting.png"
    done = mountcalc("setting", cider, "--plot", path)
    assert done.code == 0
    assert done.err == f"written: {path}\n"
    assert path.read_bytes()[:8] == b"\x89PNG\r\n\x1a\n"


def test_bad_input_is_exit_2_not_1(mountcalc, cider, tmp_path):
    bad = tmp_path / "bad.toml"
    bad.write_text(cider.read_text().replace('"A60"', '"A75"'))
    done = mountcalc("setting", bad)
    assert done.code == 2
    assert done.err.count("\n") == 1
    assert not done.out
