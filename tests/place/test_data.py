"""A placement as JSON, CSV and scenario files: keys, units, and nothing but whole numbers."""

import csv
import dataclasses
import io
import json
import math
from pathlib import Path

import pytest
from invented_placements import BENCH, LAYOUT, PLACEMENT, SECOND, mount

from mountcalc.pages.as_json import as_json
from mountcalc.place.as_scenario import layout_files
from mountcalc.place.results import PlacedLayout, place_csv
from mountcalc.scenario.reader import parse_scenario, parse_search

PROMISED = {
    "hinge_mm", "tip_mm", "motor_mm", "reach_mm", "kind", "acts", "thread", "motor_side",
    "plate_angles_deg", "set_turns", "set_tension_N", "tension_per_turn_N", "worst_share_of_limit",
    "grip_low", "adjuster_N", "hinge_N", "plate_length_mm", "clearance_mm", "fall_mm", "pareto",
    "scenario_file",
}  # fmt: skip
ANGLES = ("install", "snug", "set", "take_up")


def plain(placement=PLACEMENT):
    return json.loads(as_json(placement), parse_constant=pytest.fail)


def test_json_has_the_promised_keys():
    answer = plain()
    assert answer.keys() >= {"evaluated", "feasible", "why_not", "layouts"}
    assert answer["why_not"] == {"plate_length": 15000, "keep_out:stretcher": 1799}
    assert answer["why_not_sentences"].keys() == answer["why_not"].keys()
    for layout in answer["layouts"]:
        assert layout.keys() >= PROMISED
        assert layout["plate_angles_deg"].keys() == set(ANGLES)


def test_json_is_in_the_units_of_its_keys():
    layout = plain()["layouts"][0]
    assert layout["hinge_mm"] == pytest.approx([-228.6, -376.2375])
    assert layout["motor_mm"] == pytest.approx([-228.6, -241.3])
    assert layout["reach_mm"] == pytest.approx(9.1875 * 25.4)
    assert layout["plate_angles_deg"]["install"] == pytest.approx(-16.25)
    assert layout["tension_per_turn_N"] == LAYOUT.tension_per_turn
    assert layout["tension_per_mm_N"] == pytest.approx(38.9)
    assert layout["hinge_N"] == LAYOUT.hinge_load
    assert layout["adjuster_N"] == LAYOUT.adjuster


def test_every_length_angle_and_force_has_a_unit_in_its_key():
    bare = {"rank", "kind", "acts", "thread", "belt", "motor_side", "set_turns", "nearest",
            "worst_share_of_limit", "grip_low", "falls_onto", "of_weight", "pareto",
            "scenario_file", "turns_can_be_trusted", "turns_why_not", "spring_balance_spot",
            "spring_balance_tightens", "builds_kept", "builds_open", "builds_goes_on",
            "builds_takes_up", "builds_kept_wider"}  # fmt: skip
    keys = plain()["layouts"][0].keys() - bare
    assert all(key.endswith(("_mm", "_N", "_deg")) for key in keys)
    # Five keys are of the spring balance, five of builds, none of the methods and of what a push is
    # measured on.
    assert len(keys) + len(bare) == len(dataclasses.fields(PlacedLayout)) + 4 + 4 - 2


def test_it_says_whether_turns_can_be_trusted_and_how_hard_to_pull():
    first, second = plain()["layouts"]
    assert first["turns_can_be_trusted"] is False
    assert first["turns_why_not"] == list(LAYOUT.turns_why_not)
    assert first["spring_balance_N"] == 27.9
    assert first["spring_balance_radius_mm"] == pytest.approx(9.1875 * 25.4)
    assert first["spring_balance_tightens"] is True
    assert second["turns_can_be_trusted"] is True
    assert second["spring_balance_N"] is None


def test_what_is_not_known_is_null():
    layout = plain()["layouts"][1]
    assert layout["clearance_mm"] is None
    assert layout["stop_at_mm"] is None
    assert layout["grip_low"] is None
    assert layout["scenario_file"] is None


def test_nan_is_refused_rather_than_written():
    bad = dataclasses.replace(LAYOUT, fall=math.nan)
    with pytest.raises(ValueError, match="JSON"):
        as_json(dataclasses.replace(PLACEMENT, layouts=(bad,)))


def test_csv_has_a_row_for_each_layout_with_the_same_numbers():
    rows = list(csv.DictReader(io.StringIO(place_csv(PLACEMENT))))
    answer = plain()["layouts"]
    assert len(rows) == len(answer) == 2
    for row, layout in zip(rows, answer, strict=True):
        for key, value in layout.items():
            if key == "plate_angles_deg":
                for name, angle in value.items():
                    assert float(row[f"plate_angle_{name}_deg"]) == angle
            elif key == "turns_why_not":
                assert row[key] == "; ".join(value)
            elif isinstance(value, list):
                name = key.removesuffix("_mm")
                assert [float(row[f"{name}_{axis}_mm"]) for axis in "xy"] == value
            elif key == "stop_at_mm":
                assert row["stop_at_x_mm"] == row["stop_at_y_mm"] == ""
            else:
                assert row[key] == ("" if value is None else str(value))


def test_csv_of_none_is_its_header():
    header, *rows = place_csv(dataclasses.replace(PLACEMENT, layouts=())).splitlines()
    assert rows == []
    assert header == place_csv(PLACEMENT).splitlines()[0]


def test_files_and_their_titles_are_named_by_rank():
    files, named = layout_files(BENCH, PLACEMENT, (mount(), mount()), Path("deep"), "bench")
    assert list(files) == [Path("deep/bench-1.toml"), Path("deep/bench-2.toml")]
    assert [one.scenario_file for one in named.layouts] == [str(path) for path in files]
    text = files[Path("deep/bench-2.toml")].decode()
    read = parse_scenario(text)
    assert read.title == f"{BENCH.scenario.title}: layout 2"
    assert read.plate == BENCH.scenario.plate
    assert "fretsaw" not in text.split("title")[0]
    assert "Layout 2 of mountcalc place, ranked by the least tension per turn. Of" in text
    assert f"{PLACEMENT.feasible} will do." in text
    # Ground that the search takes by itself is not the file's to say.
    for keep_out in BENCH.space.keep_outs:
        assert (f'name = "{keep_out.name}"' in text) is (keep_out.name != "driven shaft")


def test_a_long_title_leaves_room_for_the_rank():
    long = dataclasses.replace(PLACEMENT, title="ü" * 120, layouts=(SECOND,))
    files, _ = layout_files(BENCH, long, (mount(),), Path(), "x")
    (text,) = files.values()
    title = parse_scenario(text.decode()).title
    assert len(title) == 120
    assert title.endswith("…: layout 2")


def test_a_file_is_a_mount_and_no_search():
    files, _ = layout_files(BENCH, PLACEMENT, (mount(), mount()), Path(), "x")
    with pytest.raises(Exception, match=r"\[search\]"):
        parse_search(next(iter(files.values())).decode())
