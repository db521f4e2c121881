"""What all commands say alike: files that cannot be used, faults of ours, help, cautions."""

import re
import sys

import pytest

from mountcalc.pages.page import CAUTIONS


@pytest.mark.parametrize("name", ["missing.toml", "."])
def test_a_file_that_cannot_be_read(mountcalc, tmp_path, name):
    done = mountcalc("table", tmp_path / name)
    assert done.code == 2
    assert done.err.count("\n") == 1
    assert str(tmp_path / name) in done.err


def test_all_mistakes_of_a_file_in_one_run(mountcalc, cider, tmp_path):
    text = cider.read_text()
    for old, new in (
        ('pulley_diameter = "3 in"', 'pully_diameter = "3 in"'),
        ('weight = "6 lb"', 'weight = "6 in"'),
        ('designation = "A60"', "designation = 60"),
        ('travel = ["-8 deg", "17 deg"]', 'travel = ["17 deg", "-8 deg"]'),
    ):
        assert old in text
        text = text.replace(old, new)
    bad = tmp_path / "bad.toml"
    bad.write_text(text)
    done = mountcalc("table", bad)
    assert done.code == 2
    lines = done.err.splitlines()
    assert len(lines) == 4
    for line in lines:
        assert re.match(rf"{re.escape(str(bad))}:\d+: [a-z_.\[\]0-9]+: ", line)
    assert "pulley_diameter" in lines[0]


def test_mount_errors_are_one_line(mountcalc, cider, tmp_path):
    bad = tmp_path / "bad.toml"
    bad.write_text(cider.read_text().replace('"A60"', '"A75"'))
    done = mountcalc("table", bad)
    assert done.code == 2
    assert done.err.count("\n") == 1
    assert re.match(
        rf"{re.escape(str(bad))}:\d+: belt\.designation: the belt A75, 76\.30 in \(1938\.0 mm\) "
        r"is .* in \(.* mm\) too long",
        done.err,
    )
    line = bad.read_text().splitlines()[int(done.err.split(":")[1]) - 1]
    assert line.startswith('designation = "A75"')


def test_a_mount_error_of_a_belt_by_its_length_names_that(mountcalc, cider, tmp_path):
    bad = tmp_path / "bad.toml"
    text = cider.read_text().replace('designation = "A60"', 'section = "A"\nlength = "76.3 in"')
    bad.write_text(text)
    done = mountcalc("table", bad)
    assert done.code == 2
    assert re.match(
        rf"{re.escape(str(bad))}:\d+: belt\.length: the belt is .* in \(.* mm\) too long", done.err
    )


def test_version_and_help(mountcalc):
    assert re.fullmatch(r"mountcalc \d+\.\d+\.\d+\S*\n", mountcalc("--version").out)
    for command in ("table", "plot"):
        assert f"mountcalc {command} cider-mill.toml" in mountcalc(command, "--help").out
    assert "Exit codes:" in mountcalc("--help").out


def test_a_fault_of_ours_is_named_as_such_without_traceback(mountcalc, cider, monkeypatch):
    def broken(*_):
        message = "broken on purpose"
        raise RuntimeError(message)

    monkeypatch.setattr(sys.modules["mountcalc.table.table"], "solve_mount", broken)
    done = mountcalc("table", cider)
    assert done.code == 3
    assert "fault in mountcalc itself" in done.err
    assert done.err.count("\n") == 1


@pytest.mark.parametrize("command", ["table", "setting", "check", "belts", "card"])
def test_a_page_ends_in_cautions_and_says_how_to_read_the_rest(mountcalc, cider, command):
    short, full = mountcalc(command, cider).out, mountcalc(command, cider, "--more").out
    *_, first, second, how = short.splitlines()
    for hazard in ("Unplug and lock out", "fall", "pinch", "local codes", "licensed electrician"):
        assert hazard in f"{first} {second}"
    assert how.startswith(f"mountcalc {command} FILE --more: ")
    assert max(map(len, (first, second, how))) <= 80
    for caution in CAUTIONS:
        assert caution in " ".join(full.split())
    assert "--more" not in full
    answer = short.rsplit("\n\n", 1)[0]
    assert full.startswith(answer)
