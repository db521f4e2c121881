"""Every command that a page prints runs as printed, where ``mountcalc example`` put its files."""

import json
import re
import shlex
import shutil

import pytest
import tape_answers
import typer
from sizes import size
from written import PAGES, TOP

import mountcalc as library
from mountcalc.cli.program import app
from mountcalc.new.answers import measured
from mountcalc.new.sheet import sheet_text

COMMANDS = typer.main.get_command(app).commands
# What takes more than a second: all of it with --full.
SLOW = re.compile(r"mountcalc (draw|place|tolerance|plot|report)|--plot|--remedies")

# The newcomer of tests/new answers it at a terminal, with the words of the README.
ASKS = "mountcalc new saw.toml"
# For the JSON of commands that try many, fewer.
OTHERWISE = {
    "new": f"{ASKS} --from measuring-sheet.txt",
    "place": "mountcalc place polishing-lathe.toml --samples 64",
    "tolerance": "mountcalc tolerance cider-mill.toml --builds 200",
}


def in_help(command):
    """The lines under Examples, whole where the shell would join them."""
    told = (COMMANDS[command].epilog or "").replace("\\\n", " ")
    lines = told.partition("Examples:\n")[2].partition("\n\n")[0]
    return [line.strip() for line in lines.splitlines()]


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


@pytest.fixture
def at_hand(tmp_path):
    """What the examples of the help find: the scenarios that ship, and a sheet, filled in."""
    for path in (TOP / "scenarios").glob("*[!g]"):
        shutil.copy(path, tmp_path)
    sheet = sheet_text(measured(tape_answers.MILL))
    (tmp_path / "measuring-sheet.txt").write_text(sheet, encoding="utf-8")


@pytest.mark.parametrize("command", COMMANDS)
def test_help_has_examples(command):
    lines = in_help(command)
    assert lines
    assert all(line.startswith(f"mountcalc {command}") for line in lines), "each whole"
    assert not any("scenarios/" in line for line in lines), (
        "whoever installed it has them elsewhere"
    )


def lines_of_help(*, with_files):
    """Those that find files in the folder, or those that put them there: all with --full."""
    puts = re.compile(r"mountcalc (example|new)(?!.*--from)")
    lines = [
        [line for line in in_help(command) if line != ASKS and with_files != bool(puts.match(line))]
        for command in COMMANDS
    ]
    return [line for of_command in lines for line in of_command[: size(None, 1)]]


def run_unless_slow(run, *lines):
    if SLOW.search("\n".join(lines)) and not size(full=True, part=False):
        pytest.skip("with --full")
    for line in lines:
        run(line)


@pytest.mark.parametrize("line", lines_of_help(with_files=True))
@pytest.mark.usefixtures("at_hand")
def test_examples_of_help_run(run, line):
    run_unless_slow(run, line)


@pytest.mark.parametrize("line", lines_of_help(with_files=False))
def test_examples_of_help_that_give_files_run(run, line):
    run_unless_slow(run, line)


@pytest.mark.parametrize("lines", in_pages())
def test_commands_of_pages_run_one_after_the_other(run, tmp_path, lines):
    (tmp_path / "scenarios").symlink_to(TOP / "scenarios")
    run_unless_slow(run, *lines)


JSON = [name for name, one in COMMANDS.items() if any("--json" in p.opts for p in one.params)]


@pytest.mark.parametrize("command", JSON)
@pytest.mark.usefixtures("at_hand")
def test_json_begins_with_the_version(mountcalc, tmp_path, monkeypatch, command):
    monkeypatch.chdir(tmp_path)
    _, *arguments = shlex.split(OTHERWISE.get(command) or in_help(command)[0])
    found = json.loads(mountcalc(*arguments, "--json").out)
    assert next(iter(found)) == "mountcalc_version"
    assert found["mountcalc_version"] == library.__version__
    assert len(found) > 2, "something is told of it"


def test_json_is_what_most_commands_have():
    without = {"plot", "draw", "example", "report"}  # what they give are files
    assert set(COMMANDS) - set(JSON) <= without
