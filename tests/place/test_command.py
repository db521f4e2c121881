"""`place` as users meet it: keys, exit codes, files that hold, one line for each mistake."""

import contextlib
import csv
import itertools
import json
import os
import re
import subprocess
import sys
import tomllib
from pathlib import Path
from typing import NamedTuple

import pytest

SCENARIOS = Path(__file__).parents[2] / "scenarios"
BENCH = SCENARIOS / "fretsaw-bench.toml"
WALL = SCENARIOS / "polishing-lathe.toml"
FEW = ("--samples", "1024", "--count", "1")
PROMISED = {
    "hinge_mm", "tip_mm", "motor_mm", "reach_mm", "kind", "acts", "thread", "motor_side",
    "plate_angles_deg", "set_turns", "set_tension_N", "tension_per_turn_N", "worst_share_of_limit",
    "grip_low", "adjuster_N", "hinge_N", "plate_length_mm", "clearance_mm", "fall_mm", "pareto",
    "scenario_file",
}  # fmt: skip
PICTURES = ("map", "front", "best")
SAME = {"rel": 1e-6, "abs": 1e-6}


class Answer(NamedTuple):
    folder: Path
    code: int
    out: str
    err: str

    @property
    def plain(self):
        return json.loads(self.out, parse_constant=pytest.fail)


def process(*arguments, **streams):
    return subprocess.run(
        [sys.executable, "-m", "mountcalc", "place", *map(str, arguments)],
        check=False, timeout=300, **streams,
    )  # fmt: skip


@pytest.fixture(scope="module")
def found(tmp_path_factory):
    """The bench's layouts as JSON, with all files."""
    folder = tmp_path_factory.mktemp("found")
    done = process(
        BENCH, *FEW, "--json", "--write", folder / "layouts", "--csv", folder / "layouts.csv",
        "--plot", folder / "pictures", capture_output=True, text=True,
    )  # fmt: skip
    return Answer(folder, done.returncode, done.stdout, done.stderr)


@pytest.fixture(scope="module")
def roomy(tmp_path_factory):
    """The lathe with a longer bolt, which has layouts quickly."""
    file = tmp_path_factory.mktemp("roomy") / "roomy.toml"
    text = WALL.read_text(encoding="utf-8")
    for old, new in (('th = "36 mm"', 'th = "90 mm"'), ('power = "0.25 kW"', 'power = "0.250 kW"')):
        text = text.replace(old, new)
    file.write_text(text, encoding="utf-8")
    return file


def flat(text):
    return re.sub(r"\s+", " ", text)


def test_json_has_the_promised_keys_and_exit_code_0(found):
    answer = found.plain
    assert found.code == 0
    assert answer.keys() >= {"evaluated", "feasible", "why_not", "layouts"}
    assert answer["evaluated"] == answer["feasible"] + sum(
        count for reason, count in answer["why_not"].items() if not reason.startswith("check:")
    )
    assert 0 < answer["feasible"] < 0.05 * answer["evaluated"]
    assert answer["layouts"]
    for rank, layout in enumerate(answer["layouts"], 1):
        assert layout.keys() >= PROMISED
        assert layout["rank"] == rank
        assert layout["plate_angles_deg"].keys() == {"install", "snug", "set", "take_up"}
        assert layout["worst_share_of_limit"] <= 1


def test_standard_error_has_no_bar_and_names_the_files(found):
    written = [line.removeprefix("written: ") for line in found.err.splitlines()]
    layouts = [layout["scenario_file"] for layout in found.plain["layouts"]]
    pictures = [f"{found.folder}/pictures/fretsaw-bench-{name}.png" for name in PICTURES]
    assert written == [*layouts, *pictures, str(found.folder / "layouts.csv")]
    assert all(Path(name).is_file() for name in written)
    assert layouts[0] == str(found.folder / "layouts" / "fretsaw-bench-1.toml")


def test_csv_has_the_same_layouts(found):
    with (found.folder / "layouts.csv").open(newline="", encoding="utf-8") as stream:
        rows = list(csv.DictReader(stream))
    layouts = found.plain["layouts"]
    assert len(rows) == len(layouts)
    for row, layout in zip(rows, layouts, strict=True):
        assert float(row["set_turns"]) == layout["set_turns"]
        assert [float(row["tip_x_mm"]), float(row["tip_y_mm"])] == layout["tip_mm"]
        assert row["scenario_file"] == layout["scenario_file"]


def test_table_setting_and_check_of_each_file_give_its_numbers(mountcalc, found):
    for layout in found.plain["layouts"]:
        file = layout["scenario_file"]
        setting = json.loads(mountcalc("setting", file, "--json").out)
        assert setting["open"]
        assert setting["set_turns"] == pytest.approx(layout["set_turns"], **SAME)
        assert setting["set_tension_N"] == pytest.approx(layout["set_tension_N"], **SAME)
        done = mountcalc("table", file, "--json", "--turns", f"{layout['set_turns']:.9f}")
        (row,) = json.loads(done.out)["rows"]
        assert row["state"] == "held"
        assert row["tension_N"] == pytest.approx(layout["set_tension_N"], **SAME)
        assert row["tension_per_turn_N"] == pytest.approx(layout["tension_per_turn_N"], **SAME)
        assert row["plate_angle_deg"] == pytest.approx(layout["plate_angles_deg"]["set"], **SAME)
        assert row["rest"]["adjuster_N"] == pytest.approx(layout["adjuster_N"], **SAME)
        assert row["rest"]["hinge_N"] == pytest.approx(layout["hinge_N"], **SAME)
        check = mountcalc("check", file, "--json")
        assert check.code == 0
        assert json.loads(check.out)["ok"]


def test_dimensions_of_the_files_are_marks_of_a_rule(found):
    for layout in found.plain["layouts"]:
        for value in (*layout["hinge_mm"], layout["reach_mm"], layout["motor_height_mm"]):
            sixteenths = value / 25.4 * 16
            assert sixteenths == pytest.approx(round(sixteenths), abs=1e-6)


def test_numbers_of_the_files_are_what_a_hand_reads(found):
    """Fractions to 1/64 in, tenths of a degree, 0.01 lb, powers as they were typed."""
    for layout in found.plain["layouts"]:
        text = Path(layout["scenario_file"]).read_text(encoding="utf-8")
        for number in re.findall(r"[-+]?[\d./ ]*\d(?= (?:in|deg|lb)\b(?!/))", text):
            assert len(number.strip().split(".")[-1]) <= 2 if "." in number else len(number) < 11
        tables = tomllib.loads(text)
        assert tables["driven"]["power"] == "0.12 hp"
        assert tables["motor"]["power"] == "1/4 hp"
        for key in ("axis", "face"):
            assert re.fullmatch(r"(-?\d+(\.\d)? deg|right|left|up|down)", tables["adjuster"][key])


def test_a_power_is_written_as_it_was_typed(mountcalc, roomy, tmp_path):
    """Not 250 W, nor hp in a file that reads in metric."""
    done = mountcalc("place", roomy, "--samples", "256", "--count", "2", "--write", tmp_path / "w")
    assert done.code == 0
    (file,) = sorted((tmp_path / "w").glob("*-1.toml"))
    assert tomllib.loads(file.read_text(encoding="utf-8"))["motor"]["power"] == "0.250 kW"


def test_the_page_has_80_columns_and_the_same_counts(mountcalc, roomy):
    asked = ("--samples", "256", "--count", "2")
    done = mountcalc("place", roomy, *asked, "--more")
    answer = json.loads(mountcalc("place", roomy, *asked, "--json").out)
    assert done.code == 0
    assert done.err == ""
    assert max(map(len, done.out.splitlines())) <= 80
    assert not re.search(r"\x1b|\bnan\b|\binf\b|None|\bsafe(ly|ty)?\b", done.out)
    assert "Unplug" in done.out
    text = flat(done.out)
    assert f"{answer['evaluated']:,} layouts tried, {answer['feasible']} of them will do" in text
    for reason, count in answer["why_not"].items():
        assert re.search(rf"\b{count:,} +[\d.]+ % {re.escape(reason)}[:.]", text)
    assert "TO MARK OUT THE FIRST" in text


def test_none_is_exit_code_1_and_says_what_to_change(mountcalc, tmp_path):
    few = ("--samples", "1024")
    done = mountcalc("place", WALL, *few, "--write", tmp_path, "--csv", tmp_path / "none.csv")
    assert done.code == 1
    assert done.err == f"written: {tmp_path / 'none.csv'}\n"
    assert len((tmp_path / "none.csv").read_text().splitlines()) == 1
    text = flat(done.out)
    assert "none of them will do" in text
    first = re.search(r"First: (.*?) WHY THE OTHERS", text)[1]
    assert re.search(r"[\d,]{3,} with any thread_length", first)
    assert re.search(r"\d{3} with reach from 120 mm to 400 mm", first)
    assert max(map(len, done.out.splitlines())) <= 80
    answer = json.loads(mountcalc("place", WALL, *few, "--json").out, parse_constant=pytest.fail)
    assert answer["feasible"] == 0
    assert answer["layouts"] == []


@pytest.mark.parametrize(
    ("old", "new"),
    [('thread_length = "36 mm"', 'thread_length = "90 mm"'), ('["260 mm", ', '["100 mm", ')],
)
def test_what_its_comment_names_lifts_it(mountcalc, tmp_path, old, new):
    text = WALL.read_text(encoding="utf-8")
    assert text.count(old) == 1
    file = tmp_path / "lifted.toml"
    file.write_text(text.replace(old, new), encoding="utf-8")
    done = mountcalc("place", file, "--json", "--samples", "256", "--count", "1")
    assert done.code == 0
    assert json.loads(done.out)["feasible"] > 20


def test_options_take_the_place_of_the_file(mountcalc):
    done = mountcalc(
        "place", WALL, "--json", "--samples", "64", "--seed", "7", "--prefer", "compact"
    )
    answer = json.loads(done.out)
    assert (answer["samples"], answer["seed"], answer["prefer"]) == (64, 7, "compact")
    assert answer["evaluated"] == 64


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (
            ("--prefer", "fien"),
            'prefer: one of fine, compact, light-bolt is wanted, got "fien"; did you mean fine?',
        ),
        (("--count", "0"), "count: a whole number from 1 to 100 wanted, got '0'"),
        (("--count", "2.5"), "count: a whole number"),
        (("--samples", "100000000"), "samples: a whole number from 1 to 10,000,000 wanted"),
        (("--samples", "nan"), "samples: a whole number"),
        (("--seed", "-1"), "seed: a whole number from 0 to 4,294,967,295 wanted, got '-1'"),
        (("--seed", "٣"), "seed: a whole number"),
    ],
)
def test_a_wrong_option_is_one_line(mountcalc, arguments, said):
    done = mountcalc("place", BENCH, *arguments)
    assert done.code == 2
    assert done.out == ""
    assert done.err.count("\n") == 1
    assert said in done.err


def test_a_file_without_a_search_is_one_line_that_says_what_is_wanted(mountcalc, cider):
    done = mountcalc("place", cider)
    assert done.code == 2
    assert done.out == ""
    assert done.err.count("\n") == 1
    assert str(cider) in done.err
    assert "[search]" in done.err
    assert "hinge_x" in done.err


def test_two_results_in_one_file_are_refused(mountcalc, tmp_path):
    done = mountcalc(
        "place", WALL, "--samples", "256", "--plot", tmp_path,
        "--csv", tmp_path / "polishing-lathe-map.png",
    )  # fmt: skip
    assert done.code == 2
    assert "two results" in done.err
    assert list(tmp_path.iterdir()) == []


def test_a_failure_leaves_what_is_there(mountcalc, roomy, tmp_path):
    folder = tmp_path / "layouts"
    (folder / "roomy-2.toml").mkdir(parents=True)
    first = folder / "roomy-1.toml"
    first.write_text("mine")
    asked = ("--samples", "256", "--count", "2", "--write", folder)
    done = mountcalc("place", roomy, *asked, "--csv", folder / "x.csv")
    assert done.code == 2
    assert done.err.count("\n") == 1
    assert "roomy-2.toml" in done.err
    assert first.read_text() == "mine"
    assert {path.name for path in folder.iterdir()} == {"roomy-1.toml", "roomy-2.toml"}
    (folder / "roomy-2.toml").rmdir()
    assert mountcalc("place", roomy, *asked).code == 0
    assert first.read_text().startswith("# Layout 1 of mountcalc place, ranked by")


def test_a_search_that_finds_layouts_has_three_pictures(found):
    pictures = {path.name: path.read_bytes() for path in (found.folder / "pictures").iterdir()}
    assert set(pictures) == {f"fretsaw-bench-{name}.png" for name in PICTURES}
    assert all(content.startswith(b"\x89PNG") for content in pictures.values())


def test_pictures_are_written_whole(mountcalc, tmp_path):
    done = mountcalc("place", WALL, "--samples", "256", "--plot", tmp_path / "deep")
    assert done.code == 1
    (picture,) = (tmp_path / "deep").iterdir()
    assert picture.name == "polishing-lathe-map.png"
    assert picture.read_bytes()[:8] == b"\x89PNG\r\n\x1a\n"
    assert done.err == f"written: {picture}\n"


def on_terminal(*arguments):
    """Run on a terminal that shows standard error; the shares that it was told, and the rest."""
    here, there = os.openpty()
    drawn = b""
    try:
        with subprocess.Popen(
            [sys.executable, "-m", "mountcalc", *map(str, arguments)],
            stdout=subprocess.PIPE, stderr=there, env=os.environ | {"COLUMNS": "60"},
        ) as done:  # fmt: skip
            os.close(there)
            with contextlib.suppress(OSError):  # so a terminal ends
                while part := os.read(here, 65536):
                    drawn += part
            out = done.stdout.read()
    finally:
        os.close(here)
    shown = drawn.decode().replace("\r\n", "\n").split("\n")[0].split("\r")
    assert max(map(len, shown)) < 60
    return [int(line[:3]) for line in shown if line.strip()], " ".join(shown), out


@pytest.mark.skipif(sys.platform == "win32", reason="no pseudo-terminals there")
@pytest.mark.parametrize("command", ["place", "draw"])
def test_progress_covers_the_whole_and_is_for_a_terminal_only(tmp_path, mountcalc, command):
    if command == "place":  # nothing will do, which needs one picture only
        call = ("place", WALL, "--samples", "256", "--json", "--plot", tmp_path)
        words = ["256 layouts tried", "drawing pictures"]
    else:
        cider = SCENARIOS / "cider-mill.toml"
        call = ("draw", cider, "--only", "along-shafts,guard", "--format", "dxf", "--out", tmp_path)
        words = ["laying out: guard", "drawing: along-shafts"]
    shares, said, out = on_terminal(*call)
    assert shares == sorted(shares)
    assert shares[0] < 20
    assert shares[-1] == 100
    assert max(later - earlier for earlier, later in itertools.pairwise(shares)) <= 45
    assert all(one in said for one in words)
    plain = mountcalc(*call)
    assert "%" not in plain.err
    assert plain.out == out.decode()


def test_help_has_examples_and_exit_codes(mountcalc):
    out = mountcalc("place", "--help").out
    assert "mountcalc place fretsaw-bench.toml" in out
    assert "Exit codes" in out
    assert "no layout will do" in mountcalc("--help").out
