"""`mountcalc table` as users meet it: output, exit codes and files."""

import csv
import json
import os
import re
import subprocess
import sys

import pytest

CASE_KEYS = {
    "state", "plate_angle_deg", "grip", "slips", "pull_N", "tight_N", "slack_N", "shaft_load_N",
    "adjuster_N", "hinge_N", "bearings",
}  # fmt: skip
ROW_KEYS = {
    "turns", "extension_mm", "plate_angle_deg", "center_distance_mm", "state", "tension_N",
    "tension_low_N", "tension_high_N", "tension_per_turn_N", "grip", "span_mm",
    "span_frequency_Hz", "deflection_mm", "deflection_force_N", "rest", "running", "starting",
}  # fmt: skip
TABLE_KEYS = {
    "title", "driven_rpm", "belt_speed_m_s", "snug", "zero", "tighten_by",
    "advance_per_turn_mm", "notes", "rows",
}  # fmt: skip
BEARING_KEYS = {"name", "load_N", "direction_deg", "pressure_MPa", "share_of_limit"}


def process(*arguments, **environment):
    return subprocess.run(
        [sys.executable, "-m", "mountcalc", *map(str, arguments)],
        capture_output=True,
        check=False,
        env=os.environ | environment,
    )


def test_table_is_for_80_columns_without_colour_or_noise(mountcalc, scenario_file):
    done = mountcalc("table", scenario_file)
    assert done.code == 0
    assert done.err == ""
    assert "\x1b" not in done.out
    assert max(map(len, done.out.splitlines())) <= 80
    assert not re.search(r"\bnan\b|\binf\b|None", done.out)
    assert "Unplug" in done.out


def test_table_starts_with_speeds_then_says_how_to_find_zero_and_turn(mountcalc, cider):
    lines = mountcalc("table", cider).out.splitlines()
    assert lines[2].startswith("Driven:   575 rpm")
    assert "seen facing the motor's pulley" in lines[2]
    assert "ft/min" in lines[3]
    text = " ".join(lines)
    assert "That is zero" in text
    assert "clockwise seen from the head (right-handed thread 3/8-16)" in re.sub(r"\s+", " ", text)


def test_left_handed_thread_turns_the_other_way(mountcalc, cider, tmp_path):
    file = tmp_path / "left.toml"
    file.write_text(cider.read_text().replace('"3/8-16"', '"3/8-16 LH"'))
    text = re.sub(r"\s+", " ", mountcalc("table", file).out)
    assert "counter-clockwise seen from the head (left-handed" in text


def test_json_has_the_promised_keys_and_no_nan(mountcalc, scenario_file):
    done = mountcalc("table", scenario_file, "--json")
    table = json.loads(done.out, parse_constant=pytest.fail)
    assert table.keys() >= TABLE_KEYS
    for row in table["rows"]:
        assert row.keys() >= ROW_KEYS
        for case in ("rest", "running", "starting"):
            assert row[case].keys() >= CASE_KEYS
            for bearing in row[case]["bearings"]:
                assert bearing.keys() == BEARING_KEYS
                assert 0 <= bearing["direction_deg"] < 360


def test_turns_include_both_ends(mountcalc, cider):
    done = mountcalc("table", cider, "--json", "--turns", "0:1:0.4")
    assert [row["turns"] for row in json.loads(done.out)["rows"]] == [0, 0.4, 0.8, 1.0]


def test_turns_may_be_mixed_numbers(mountcalc, cider):
    done = mountcalc("table", cider, "--json", "--turns", "1/2:1 1/2:1/2")
    assert [row["turns"] for row in json.loads(done.out)["rows"]] == [0.5, 1.0, 1.5]


def test_turns_may_be_negative_and_fractions(mountcalc, cider):
    done = mountcalc("table", cider, "--json", "--turns", "-1/2:1/2:1/4")
    assert [row["turns"] for row in json.loads(done.out)["rows"]] == [-0.5, -0.25, 0, 0.25, 0.5]


@pytest.mark.parametrize(
    "turns", ["", "a:b:c", "0:1", "0:1:0", "1:0:0.1", "0:1:-1", "0:inf:1", "nan", "0:1e9:1e-9",
              "0:1:1/0", "1e999999999:2:1", "0:1:0.1:2", "__import__('os')"],
)  # fmt: skip
def test_bad_turns_are_one_line_and_exit_2(mountcalc, cider, turns):
    done = mountcalc("table", cider, "--turns", turns)
    assert done.code == 2
    assert done.out == ""
    assert done.err.startswith("mountcalc: turns:")
    assert done.err.count("\n") == 1


def test_csv_has_one_line_a_row_with_the_json_numbers(mountcalc, scenario_file, tmp_path):
    path = tmp_path / "new folder" / "rows.csv"
    done = mountcalc("table", scenario_file, "--json", "--csv", path)
    assert done.code == 0
    assert done.err == f"written: {path}\n"
    table = json.loads(done.out)
    with path.open(newline="") as stream:
        rows = list(csv.DictReader(stream))
    assert len(rows) == len(table["rows"])
    for flat, row in zip(rows, table["rows"], strict=True):
        assert float(flat["tension_N"]) == row["tension_N"]
        assert float(flat["running_adjuster_N"]) == row["running"]["adjuster_N"]
        bearing = row["starting"]["bearings"][1]
        assert float(flat["starting_bearing_2_load_N"]) == bearing["load_N"]


def test_a_failure_leaves_the_existing_file_alone(mountcalc, cider, tmp_path):
    path = tmp_path / "rows.csv"
    path.write_text("precious")
    bad = tmp_path / "bad.toml"
    bad.write_text(cider.read_text().replace('"3/8-16"', '"three"'))
    assert mountcalc("table", bad, "--csv", path).code == 2
    assert path.read_text() == "precious"
    assert {left.name for left in tmp_path.iterdir()} == {"rows.csv", "bad.toml"}


def test_a_file_that_cannot_be_written_is_one_line(mountcalc, cider, tmp_path):
    blocker = tmp_path / "file"
    blocker.write_text("")
    done = mountcalc("table", cider, "--csv", blocker / "rows.csv")
    assert done.code == 2
    assert done.err.count("\n") == 1
    assert "file: a folder is wanted, this is a file" in done.err
    done = mountcalc("table", cider, "--csv", tmp_path)
    assert done.code == 2
    assert "this is a folder" in done.err


def test_plain_ascii_terminal(cider, tmp_path):
    file = tmp_path / "unicode.toml"
    file.write_text(cider.read_text().replace("Cider mill", "Cidre « ½ » mill"), encoding="utf-8")
    done = process("table", file, PYTHONIOENCODING="ascii", PYTHONUTF8="0", LC_ALL="C")
    assert done.returncode == 0
    assert done.stdout.isascii()
    assert b" 1/2 " in done.stdout
    done = process("table", file, PYTHONIOENCODING="utf-8")
    assert "« ½ »" in done.stdout.decode("utf-8")


def test_turns_without_an_adjuster_are_said_to_be_left_aside(mountcalc, cider):
    done = mountcalc("table", cider.with_name("forge-blower.toml"), "--turns", "0:1:1")
    assert done.code == 0
    assert "left aside" in done.err
