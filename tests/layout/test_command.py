"""`mountcalc plot` as users meet it."""

from pathlib import Path

import pytest


def test_plot_writes_two_pictures(mountcalc, cider, tmp_path):
    done = mountcalc("plot", cider, "--out", tmp_path / "pictures")
    assert done.code == 0
    assert done.err == ""
    paths = [Path(line) for line in done.out.splitlines()]
    assert [path.name for path in paths] == [
        "cider-mill-loads.png", "cider-mill-layout.png",
    ]  # fmt: skip
    for path in paths:
        assert path.read_bytes()[:8] == b"\x89PNG\r\n\x1a\n"


def test_plot_writes_nothing_for_a_bad_file(mountcalc, cider, tmp_path):
    bad = tmp_path / "bad.toml"
    bad.write_text(cider.read_text().replace('"A60"', '"A75"'))
    assert mountcalc("plot", bad, "--out", tmp_path / "pictures").code == 2
    assert not (tmp_path / "pictures").exists()


@pytest.mark.parametrize("turns", ["0:2:1", "", "two", "nan"])
def test_plot_takes_one_setting(mountcalc, cider, tmp_path, turns):
    done = mountcalc("plot", cider, "--out", tmp_path / "new", "--turns", turns)
    assert done.code == 2
    assert done.out == ""
    assert done.err.startswith("mountcalc: turns: one number is wanted here, such as 2")
    assert repr(turns) in done.err
    assert not (tmp_path / "new").exists()
