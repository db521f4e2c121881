"""What the guide tells of drawings is what the program has: options, drawings, layers."""

import re

import pytest
import typer
from written import PAGES

from mountcalc.cli.program import app
from mountcalc.drafting.formats.files import FORMATS
from mountcalc.drafting.items import Layer
from mountcalc.drafting.paper.sheets import PAPERS
from mountcalc.draw.drawings import DRAWINGS

TEXT = PAGES["mountcalc/guide/drawings.md"]
COMMANDS = PAGES["mountcalc/guide/commands.md"]


def rows(heading):
    """First cells of a table of the section, and the rest of their rows."""
    table = re.search(rf"^\| {heading} \|.*\n\| --- .*\n((?:\|.*\n)+)", TEXT, re.MULTILINE)[1]
    return dict(re.match(r"\| (.*?) \| (.*) \|$", line).groups() for line in table.splitlines())


def options(command):
    """Names of the options of a command, with what stands for their values in the help."""
    params = typer.main.get_command(app).commands[command].params
    named = [one for one in params if one.param_type_name == "option"]
    return {one.opts[0]: None if one.is_flag else one.metavar for one in named}


def test_options_in_the_table_are_those_of_the_command():
    told = {}
    for cell in rows("option"):
        name, _, value = cell.strip("`").partition(" ")
        told[name] = value or None
    assert told == options("draw")


def usage_of(command):
    lines = re.findall(rf"^mountcalc {command}\b.*\n(?: .*\n)*", COMMANDS, re.MULTILINE)
    return "".join(lines)


@pytest.mark.parametrize("command", typer.main.get_command(app).commands)
def test_usage_names_every_option(command):
    """But for those that all have: --help, and --more of those that print a page."""
    told = set(re.findall(r"--[a-z-]+", usage_of(command)))
    assert told == options(command).keys() - {"--more"}


def test_usage_names_the_papers_and_formats():
    usage = usage_of("draw")
    assert f"--sheet {'|'.join(PAPERS)}" in usage
    assert f"--format {','.join(FORMATS)}" in usage


def test_values_of_options_are_told():
    told = rows("option")
    assert set(re.findall(r"`(\w+)`", told["`--sheet NAME`"])) == PAPERS.keys()
    assert set(re.findall(r"`(\w+)`", told["`--format LIST`"])) == set(FORMATS)


def test_drawings_in_the_table_are_those_that_there_are():
    assert [re.match(r"`([\w-]+)`", cell)[1] for cell in rows("drawing")] == list(DRAWINGS)


def test_layers_in_the_table_are_those_of_the_files():
    assert [cell.strip("`") for cell in rows("layer")] == [str(layer) for layer in Layer]
