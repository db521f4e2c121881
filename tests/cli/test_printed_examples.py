"""Every command that a page prints runs as printed, where ``mountcalc example`` put its files."""

import json
import re
import shlex
import shutil

import pytest
import typer
from sizes import size
from written import PAGES, TOP

import mountcalc as library
from mountcalc.cli.program import app

COMMANDS = typer.main.get_command(app).commands
# What takes more than a second: all of it with --full.
SLOW = re.compile(r"mountcalc (draw|place|tolerance|plot|report)|--plot|--remedies")

# For the JSON of commands that try many, fewer.
FEWER = {
    "place": ["place", "polishing-lathe.toml", "--samples", "64"],
    "tolerance": ["tolerance", "cider-mill.toml", "--builds", "200"],
}


def in_help(command):
    """The lines under Examples, whole where the shell would join them."""
    told = (COMMANDS[command].epilog or "").replace("\\\n", " ")
    return re.findall(r"^ +(mountcalc .*)$", told.partition("Examples:")[2], re.MULTILINE)


def in_pages():
    """Commands under a heading of a page; blocks with a marker have tests of their own."""
    block = re.compile(r"(?<!-->\n)^```sh\n(.*?)```", re.DOTALL | re.MULTILINE)
    sections = [
        (page, section)
        for page, text in PAGES.items()
        for section in re.split(r"^## ", text, flags=re.MULTILINE)
    ]
    return [
        pytest.param("".join(block.findall(section)).splitlines(), id=f"{page}: {section[:30]}")
        for page, section in sections
        if block.search(section)
    ]


@pytest.fixture
def run(mountcalc, tmp_path, monkeypatch):
    """Run a line as a shell does, in a folder of its own; nothing is refused."""
    monkeypatch.chdir(tmp_path)

    def run_line(line):
        program, *arguments = shlex.split(line)
        assert program == "mountcalc", line
        done = mountcalc(*arguments)
        assert done.code == 0, (line, done.err)
        assert done.out, line

    return run_line


@pytest.mark.parametrize("command", COMMANDS)
def test_help_has_examples(command):
    lines = in_help(command)
    assert lines
    assert all(line.startswith(f"mountcalc {command}") for line in lines)
    assert not any("scenarios/" in line for line in lines), (
        "whoever installed it has them elsewhere"
    )


@pytest.mark.parametrize("line", [line for command in COMMANDS for line in in_help(command)])
def test_examples_of_help_run(run, tmp_path, line):
    if SLOW.search(line) and not size(full=True, part=False):
        pytest.skip("with --full")
    if not line.startswith("mountcalc example"):
        for path in (TOP / "scenarios").glob("*[!g]"):
            shutil.copy(path, tmp_path)
    run(line)


@pytest.mark.parametrize("lines", in_pages())
def test_commands_of_pages_run_one_after_the_other(run, tmp_path, lines):
    if SLOW.search("\n".join(lines)) and not size(full=True, part=False):
        pytest.skip("with --full")
    (tmp_path / "scenarios").symlink_to(TOP / "scenarios")
    for line in lines:
        run(line)


JSON = [name for name, one in COMMANDS.items() if any("--json" in p.opts for p in one.params)]


@pytest.mark.parametrize("command", JSON)
def test_json_begins_with_the_version(mountcalc, monkeypatch, command):
    monkeypatch.chdir(TOP / "scenarios")
    arguments = FEWER.get(command) or shlex.split(in_help(command)[0])[1:]
    found = json.loads(mountcalc(*arguments, *["--json"] * ("--json" not in arguments)).out)
    assert next(iter(found)) == "mountcalc_version"
    assert found["mountcalc_version"] == library.__version__
    assert len(found) > 2, "something is told of it"


def test_json_is_what_most_commands_have():
    without = {"plot", "draw", "example", "new", "report"}  # what they give are files
    assert set(COMMANDS) - set(JSON) <= without
