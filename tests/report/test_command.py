"""The command: what it writes, where it refuses, and that files are whole or not there."""

import importlib
import os
import signal
import subprocess
import sys
import time

import pytest


@pytest.mark.skipif("not config.getoption('full')", reason="made whole with --full")
def test_it_writes_the_page_and_tells_its_name(mountcalc, cider, tmp_path):
    out = tmp_path / "mill.html"
    done = mountcalc("report", cider, "--out", out, "--pdf")
    assert (done.code, done.err) == (0, "")
    assert done.out.split() == [str(out), str(out.with_suffix(".pdf"))]
    assert out.read_bytes().startswith(b"<!DOCTYPE html>")
    assert out.with_suffix(".pdf").read_bytes().startswith(b"%PDF-")
    assert sorted(one.name for one in tmp_path.iterdir()) == ["mill.html", "mill.pdf"]


@pytest.fixture
def quick(monkeypatch):
    """Reports are made at once, of nothing."""
    monkeypatch.setattr(
        importlib.import_module("mountcalc.report.report"),
        "reported",
        lambda scenario, forms: {form: scenario.title.encode() for form in forms},
    )


@pytest.mark.usefixtures("quick")
def test_both_files_have_the_name_that_is_given(mountcalc, cider, tmp_path):
    done = mountcalc("report", cider, "--out", tmp_path / "mill.HTM", "--pdf")
    assert (done.code, done.err) == (0, "")
    assert done.out.split() == [str(tmp_path / "mill.HTM"), str(tmp_path / "mill.pdf")]


@pytest.mark.usefixtures("quick")
def test_without_a_name_it_is_the_scenarios(mountcalc, cider, tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    assert mountcalc("report", cider).out == "cider-mill.html\n"
    assert (tmp_path / "cider-mill.html").exists()


@pytest.mark.usefixtures("quick")
@pytest.mark.parametrize(
    ("name", "said"),
    [
        ("mill.pdf", "out: a name that ends in .html is wanted, got"),
        ("mill", "out: a name that ends in .html is wanted, got"),
        ("file/mill.html", "a folder is wanted"),
        ("folder.html", "a file name is wanted, this is a folder"),
    ],
)
def test_names_that_cannot_be_are_refused_in_a_line(mountcalc, cider, tmp_path, name, said):
    (tmp_path / "file").write_text("kept")
    (tmp_path / "folder.html").mkdir()
    done = mountcalc("report", cider, "--out", tmp_path / name)
    assert (done.code, done.out, done.err.count("\n")) == (2, "", 1)
    assert said in done.err
    assert sorted(one.name for one in tmp_path.iterdir()) == ["file", "folder.html"]


@pytest.mark.usefixtures("quick")
def test_neither_file_is_written_where_one_cannot_be(mountcalc, cider, tmp_path):
    (tmp_path / "mill.pdf").mkdir()
    done = mountcalc("report", cider, "--out", tmp_path / "mill.html", "--pdf")
    assert done.code == 2
    assert "mill.pdf: a file name is wanted, this is a folder" in done.err
    assert not (tmp_path / "mill.html").exists()


@pytest.mark.usefixtures("quick")
def test_the_scenario_is_never_written_over(mountcalc, cider, tmp_path):
    own = tmp_path / "mill.html"
    own.write_bytes(cider.read_bytes())
    done = mountcalc("report", own, "--out", own)
    assert done.code == 2
    assert "this is the scenario itself" in done.err
    assert own.read_bytes() == cider.read_bytes()


def test_a_bad_scenario_is_told_and_nothing_written(mountcalc, cider, tmp_path):
    bad = tmp_path / "bad.toml"
    bad.write_text(cider.read_text(encoding="utf-8").replace('power = "0.4 hp"', 'power = "0.4 m"'))
    done = mountcalc("report", bad, "--out", tmp_path / "bad.html")
    assert done.code == 2
    assert "driven.power" in done.err
    assert "Traceback" not in done.err
    assert not (tmp_path / "bad.html").exists()


@pytest.mark.skipif("not config.getoption('full')", reason="killed at 6 moments with --full")
def test_a_killed_command_leaves_nothing_half(cider, tmp_path):
    out = tmp_path / "mill.html"
    for wait in (0.3, 1.0, 2.0, 3.0, 4.0, 5.0):
        out.write_text("before")
        running = subprocess.Popen(
            [sys.executable, "-m", "mountcalc", "report", str(cider), "--out", str(out)],
            stdout=subprocess.DEVNULL,
            env=os.environ,
        )
        time.sleep(wait)
        running.send_signal(signal.SIGTERM)
        running.wait(timeout=30)
        content = out.read_bytes()
        assert content == b"before" or content.rstrip().endswith(b"</html>")
        assert [one.name for one in tmp_path.iterdir()] == ["mill.html"]
