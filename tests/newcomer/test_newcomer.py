"""A newcomer in an empty folder, with the README's words and a tape alone: to a page on the wall.

The commands are read from the README; what is typed at the questions is what a tape found.
"""

import os
import re
import shlex
import sys

import pexpect
import pypdfium2
import pytest
from tape_answers import KEYS, MILL, QUESTION
from written import marked

from mountcalc.scenario.reader import read_scenario

((_, _, BLOCK),) = [one for one in marked("command") if one[1] == "newcomer"]
COMMANDS = [shlex.split(line) for line in BLOCK.strip().splitlines()]


class Shop:
    """A terminal in a folder, and all that was seen on it."""

    def __init__(self, folder):
        self.folder, self.seen = folder, ""

    def runs(self, command, answers):
        """Run a command to its end, answering what it asks; its output."""
        assert command[0] == "mountcalc"
        child = pexpect.spawn(
            sys.executable, ["-m", "mountcalc", *command[1:]], cwd=self.folder, timeout=60,
            encoding="utf-8", dimensions=(24, 80), env=os.environ | {"TERM": "dumb"},
        )  # fmt: skip
        told = ""
        child.delaybeforesend = None
        while found := child.expect([pexpect.EOF, "\r\n  > ", r"Is it so\? > "]):
            told += child.before + child.after
            mark = QUESTION.findall(told)[-1]
            child.sendline("yes" if found == 2 else answers[KEYS[mark]])
        told += child.before
        child.close()
        self.seen += f"$ {shlex.join(command)}\n{told}"
        assert child.exitstatus == 0, told
        assert not re.search("traceback|fault in mountcalc", told, re.IGNORECASE)
        return told.replace("\r\n", "\n")


@pytest.fixture(scope="module")
def shop(tmp_path_factory):
    """Every command of the README was run, in an empty folder."""
    shop = Shop(tmp_path_factory.mktemp("shop"))
    asked = dict.fromkeys(KEYS.values(), "") | MILL
    shop.told = [shop.runs(command, asked) for command in COMMANDS]
    return shop


def test_the_readme_leads_from_a_tape_to_table_report_and_template():
    assert [command[1] for command in COMMANDS] == ["new", "table", "report", "draw"]
    assert {command[2] for command in COMMANDS} == {"saw.toml"}


def test_the_questions_lead_to_a_file_and_say_what_to_type_next(shop):
    told, scenario = shop.told[0], read_scenario(shop.folder / "saw.toml")
    assert scenario.title == "Cider mill"
    assert scenario.motor.shaft == pytest.approx((-20.5 * 0.0254, -4 * 0.0254))
    assert "\nsaw.toml\nsaw-layout.png\n" in told
    assert f"  {shlex.join(COMMANDS[1])}  " in told
    assert (shop.folder / "saw-layout.png").read_bytes().startswith(b"\x89PNG")
    assert max(map(len, told.splitlines())) <= 80


def test_the_table_tells_turns_and_the_limit(shop):
    assert "Cider mill\n==========" in shop.told[1]
    assert re.search(r"^      1 +0\.063 ", shop.told[1], re.MULTILINE)
    assert "mountcalc setting" in shop.told[1]


def test_the_report_is_a_page_of_that_machine(shop):
    page = (shop.folder / "saw.html").read_text(encoding="utf-8")
    assert page.lstrip().startswith("<!")
    assert "Cider mill" in page


def test_the_template_is_at_true_scale(shop):
    plate = pypdfium2.PdfDocument(shop.folder / "drawings" / "saw-plate.pdf")
    text = " ".join(page.get_textpage().get_text_range() for page in plate)
    assert "scale 1:1" in text
    assert "Cider mill" in text


def test_the_folder_holds_what_the_readme_promised_and_no_more(shop):
    names = {path.relative_to(shop.folder).as_posix() for path in shop.folder.rglob("*.*")}
    assert names == {
        *("saw.toml", "saw-layout.png", "saw.html", "drawings/saw-plate.pdf"),
        "drawings/saw-plate.dxf",
    }
