"""`mountcalc setting` and `mountcalc check` as users meet them."""

import json
import re

import pytest

SETTING_KEYS = {
    "turns_min", "turns_max", "tension_min_N", "tension_max_N", "set_turns", "set_tension_N",
    "new_turns", "new_tension_N", "open", "governs", "sensitivity", "spring_balance", "steps",
    "weight_alone", "remedies", "margins", "notes",
}  # fmt: skip
CHECK_KEYS = {"title", "turns", "ok", "judgements", "bearings"}


@pytest.mark.parametrize("command", ["setting", "check"])
def test_pages_are_for_80_columns_without_colour_noise_or_promises(
    mountcalc, scenario_file, command
):
    done = mountcalc(command, scenario_file)
    assert done.code in {0, 1}
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


def test_check_json_and_exit_code_go_together(mountcalc, scenario_file):
    done = mountcalc("check", scenario_file, "--json")
    plain = json.loads(done.out, parse_constant=pytest.fail)
    assert plain.keys() >= CHECK_KEYS
    failed = [one for one in plain["judgements"] if one["verdict"] == "fail"]
    assert plain["ok"] == (not failed)
    assert done.code == (1 if failed else 0)
    assert (scenario_file.stem == "job-press") == bool(failed)


def test_check_at_other_turns_fails_past_the_limit(mountcalc, cider):
    assert mountcalc("check", cider, "--turns", "2").code == 0
    done = mountcalc("check", cider, "--turns", "4")
    assert done.code == 1
    assert '"pulley end"' in done.out.split("WHAT PASSES")[0]


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
    for command in ("setting", "check"):
        done = mountcalc(command, bad)
        assert done.code == 2
        assert done.err.count("\n") == 1
        assert not done.out
    assert mountcalc("check", cider, "--turns", "0:2:1").code == 2
