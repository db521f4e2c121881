"""Impossible mounts as users meet them: one line before all computing, or a caution on pages."""

import re
from pathlib import Path

import pytest

BENCH = Path(__file__).parents[2] / "scenarios" / "fretsaw-bench.toml"
TIP = 'tip = ["-24 in", "1 1/2 in"]'
THREAD = "3/8-15 is no thread of the standard series"


def spoilt(path, folder, old, new):
    text = path.read_text(encoding="utf-8")
    assert old in text
    file = folder / "spoilt.toml"
    file.write_text(text.replace(old, new, 1), encoding="utf-8")
    return file


def line_of(file, start):
    """Number of the first line that begins so."""
    lines = file.read_text(encoding="utf-8").splitlines()
    return next(number for number, line in enumerate(lines, 1) if line.startswith(start))


@pytest.mark.parametrize(
    ("command", "options"),
    [("table", ()), ("setting", ()), ("check", ()), ("belts", ()), ("card", ()),
     ("draw", ("--out",)), ("plot", ("--out",))],
)  # fmt: skip
def test_what_no_mount_can_be_is_one_line(mountcalc, cider, tmp_path, command, options):
    file = spoilt(cider, tmp_path, TIP, 'tip = ["-24 in", "5 in"]')
    done = mountcalc(command, file, *options, *([tmp_path / "new"] if options else []))
    assert (done.code, done.out) == (2, "")
    assert done.err == (
        f"{file}:{line_of(file, 'tip = ')}: adjuster.tip: the bolt's tip is 18 in from the hinge "
        "along the plate, which ends at 16.2 in: move it, or give the plate's true length\n"
    )
    assert not (tmp_path / "new").exists()


def test_a_search_from_an_impossible_sketch_is_refused(mountcalc, tmp_path):
    file = spoilt(BENCH, tmp_path, 'axis = "135 deg"', 'axis = "-45 deg"')
    done = mountcalc("place", file)
    assert (done.code, done.out) == (2, "")
    assert done.err.startswith(
        f"{file}:{line_of(file, 'axis = ')}: adjuster.axis: the bolt's tip is drawn on the plate's "
        "back, and axis takes it away from the plate, 90 deg out of that face"
    )


@pytest.mark.parametrize("command", ["table", "setting", "check", "belts"])
def test_what_is_unlikely_stands_on_every_page(mountcalc, cider, tmp_path, command):
    file = spoilt(cider, tmp_path, '"3/8-16"', '"3/8-15"')
    done = mountcalc(command, file)
    assert done.code in {0, 1}
    assert THREAD in re.sub(r"\s+", " ", done.out)


def test_what_is_unlikely_stands_beside_a_search_and_on_drawings(mountcalc, cider, tmp_path):
    done = mountcalc("place", spoilt(BENCH, tmp_path, '"3/8-24"', '"3/8-15"'), "--samples", "256")
    assert THREAD in re.sub(r"\s+", " ", done.out)
    file = spoilt(cider, tmp_path, '"3/8-16"', '"3/8-15"')
    options = ("--only", "plate", "--format", "svg", "--out", tmp_path)
    assert mountcalc("draw", file, *options).code == 0
    sheet = (tmp_path / "spoilt-plate.svg").read_text(encoding="utf-8")
    assert THREAD in re.sub(r"<[^>]*>|\s+", " ", sheet).replace("  ", " ")


def test_a_mount_that_fails_is_told_what_may_be_wrong_with_its_points(mountcalc, tmp_path):
    press = BENCH.with_name("job-press.toml")
    file = spoilt(press, tmp_path, 'tip = ["-22 in", "-4 in"]', 'tip = ["-4 in", "-22 in"]')
    done = mountcalc("table", file)
    assert done.code == 2
    first, second = done.err.splitlines()
    assert "adjuster.acts: an adjuster that can only push cannot carry the plate" in first
    assert second == (
        f"{file}:{line_of(file, 'center_of_mass = ')}: plate.center_of_mass: the plate's centre of "
        "mass is drawn 6.74 in off the line from the hinge to the bolt's tip, and no plate is "
        "taken to be thicker than 2.95 in (estimate); are x and y of adjuster.tip or "
        "plate.center_of_mass swapped? either would fit the other way round"
    )
