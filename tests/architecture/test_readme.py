"""The README's commands and outputs are real."""

import re
import shlex
from pathlib import Path

import pytest

TOP = Path(__file__).parents[2]
README = (TOP / "README.md").read_text(encoding="utf-8")


def block_after(marker):
    match = re.search(rf"<!-- {re.escape(marker)} -->\n```\w*\n(.*?)```", README, re.DOTALL)
    assert match, marker
    return match[1]


def steps(marker):
    return [shlex.split(step) for step in block_after(marker).strip().split("&&")]


def test_first_paragraph_is_the_job():
    first = README.split("\n\n")[1]
    assert first.startswith("An electric motor sits on a plate")
    assert "bearing load" in first


@pytest.mark.parametrize("marker", ["command: run", "command: test"])
def test_commands_set_everything_up(marker):
    assert block_after(marker).count("\n") == 1, "one command, one line"
    make, install, *_ = steps(marker)
    assert make == ["python3", "-m", "venv", ".venv"]
    assert install[:5] == [".venv/bin/python", "-m", "pip", "install", "-q"]


def test_continuous_integration_runs_the_readme_commands():
    script = (TOP / ".ci" / "run").read_text(encoding="utf-8")
    for marker in ("command: run", "command: test"):
        assert f"run_readme_command '{marker}'" in script


def test_run_command_gives_the_table_and_pictures(mountcalc, tmp_path, monkeypatch):
    monkeypatch.chdir(TOP)
    table, plot = steps("command: run")[2:]
    assert table[0] == plot[0] == ".venv/bin/mountcalc"
    assert mountcalc(*table[1:]).code == 0
    plot[plot.index("--out") + 1] = str(tmp_path)
    assert mountcalc(*plot[1:]).code == 0
    assert len(list(tmp_path.glob("*.png"))) == 2


@pytest.mark.parametrize("command", re.findall(r"<!-- output: mountcalc (.*?) -->", README))
def test_output_shown_is_the_real_output(mountcalc, monkeypatch, command):
    monkeypatch.chdir(TOP)
    shown = block_after(f"output: mountcalc {command}").rstrip("\n")
    real = mountcalc(*shlex.split(command)).out
    assert shown
    assert real.startswith(shown)


@pytest.mark.parametrize("commands", re.findall(r"<!-- part of: mountcalc (.*?) -->", README))
def test_a_part_that_is_shown_is_in_the_real_output(mountcalc, tmp_path, monkeypatch, commands):
    (tmp_path / "scenarios").symlink_to(TOP / "scenarios")
    monkeypatch.chdir(tmp_path)
    shown = block_after(f"part of: mountcalc {commands}")
    for command in commands.split(" && mountcalc "):
        real = mountcalc(*shlex.split(command)).out
    assert shown.count("\n") > 3
    assert shown in real


def test_scenarios_in_the_table_are_those_that_ship():
    named = set(re.findall(r"^\| `([\w-]+\.toml)` \|", README, re.MULTILINE))
    assert named == {path.name for path in (TOP / "scenarios").glob("*.toml")}
