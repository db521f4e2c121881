"""The command: where answers come from, what is written, and that nothing is written over."""

import json
import os
import shlex
import sys

import pexpect
import pytest
from tape_answers import BOTH, KEYS, MILL

import mountcalc as library
from mountcalc.new.answers import marks, measured, option_of
from mountcalc.new.sheet import sheet_text
from mountcalc.scenario.reader import read_scenario


@pytest.fixture
def folder(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    return tmp_path


def options(answers):
    return [word for key, text in answers.items() for word in (option_of(key), text)]


def filled(answers):
    """A sheet with answers, each in its line."""
    given = {key: text for key, text in answers.items() if key in {"way", "built"}}
    lines = []
    for line in sheet_text(measured(given)).splitlines():
        key = KEYS.get(line.split(" ")[0])
        is_open = key in answers and key not in given
        lines.append(f"{line} {answers[key]}" if is_open else line)
    return "\n".join(lines)


def names(folder):
    return sorted(path.name for path in folder.iterdir())


def test_options_sheet_and_function_give_one_file(mountcalc, folder):
    by_options = mountcalc("new", *options(MILL), "a.toml")
    (folder / "sheet.txt").write_text(filled(MILL))
    by_sheet = mountcalc("new", "b.toml", "--from", "sheet.txt")
    assert by_options.code == by_sheet.code == 0
    text = (folder / "a.toml").read_text()
    assert text == (folder / "b.toml").read_text() == library.new(MILL).text
    assert by_options.err == "written: a.toml\n"
    assert by_options.out.replace("a.toml", "b.toml") == by_sheet.out
    assert max(map(len, by_options.out.splitlines())) <= 80
    assert len(by_options.out.splitlines()) <= 45
    assert by_options.out.endswith(
        "mountcalc setting a.toml  the gentlest setting that drives it\n"
    )
    assert mountcalc("table", "a.toml").code == 0


def test_an_option_goes_before_the_sheet(mountcalc, folder):
    (folder / "sheet.txt").write_text(filled(MILL))
    assert mountcalc("new", "a.toml", "--from", "sheet.txt", "--title", "Another").code == 0
    assert read_scenario("a.toml").title == "Another"


def test_json_has_what_was_taken(mountcalc, folder):
    done = mountcalc("new", "a.toml", "--json", *options(MILL))
    result = json.loads(done.out)
    assert result["text"] == (folder / "a.toml").read_text()
    assert result["contradictions"] == []
    assert "mountcalc_version" in result
    assert "bearing_kind" in [one["key"] for one in result["taken"]]


@pytest.mark.usefixtures("folder")
def test_more_tells_all_that_was_taken(mountcalc):
    wanted = [
        "--built=no",
        *options(dict.fromkeys(("room_left", "room_right", "room_above"), "30 in")),
    ]
    wanted += options({k: MILL[k] for k in ("driven_height", "driven_wall")})
    wanted += options({"motor_pulley_across": "3 in", "driven_pulley_across": "9 in"})
    short, long = mountcalc("new", "a.toml", *wanted), mountcalc("new", "b.toml", *wanted, "--more")
    assert "more: --more tells all" in short.out
    assert len(short.out.splitlines()) <= 45
    assert len(long.out.splitlines()) > len(short.out.splitlines())
    assert "more: --more" not in long.out
    assert "  mountcalc place a.toml  " in short.out


def test_a_sheet_that_does_not_fit_is_told_with_its_line(mountcalc, folder):
    text = filled(BOTH | {"driven_to_motor": "22 7/8"})
    (folder / "sheet.txt").write_text(text)
    done = mountcalc("new", "a.toml", "--from", "sheet.txt")
    assert done.code == 2
    source, line, mark, _ = done.err.split(":", 3)
    assert source == "sheet.txt"
    assert text.splitlines()[int(line) - 1].startswith(mark.split()[0])
    assert "22 7/8" in text.splitlines()[int(line) - 1]
    assert names(folder) == ["sheet.txt"]


def test_what_is_wanted_and_missing_is_named(mountcalc, folder):
    rest = {key: text for key, text in MILL.items() if key != "hinge_height"}
    done = mountcalc("new", "a.toml", *options(rest))
    assert done.err.startswith("mountcalc: --hinge-height: ")
    (folder / "sheet.txt").write_text(filled(rest))
    done = mountcalc("new", "a.toml", "--from", "sheet.txt")
    assert done.err.startswith(f"sheet.txt: {marks()['hinge_height']} hinge's pin")
    assert names(folder) == ["sheet.txt"]


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ("", "FILE: the name of the file to write is wanted, such as saw.toml"),
        ("a.toml", "nobody can be asked here: answers are wanted as options"),
        ("a.txt --built no", "FILE: a scenario's name ends in .toml, got a.txt"),
        ("a.toml b.toml", "FILE: one name is wanted, got a.toml b.toml"),
        ("a.toml --from none.txt", "none.txt: no such file"),
        ("--sheet --from none.txt", "--sheet: it goes without --from"),
        ("--sheet a.toml", "FILE: a sheet's name ends in .pdf, got a.toml"),
        ("a.toml --biult no", 'no such option: "--biult"; did you mean --built?'),
        ("nowhere/deep/there.toml/a.toml --built no", ""),
    ],
)
def test_what_cannot_be_done_is_one_line(mountcalc, folder, arguments, said):
    done = mountcalc("new", *shlex.split(arguments))
    assert done.code == 2
    assert done.out == ""
    assert said in done.err
    assert done.err.count("\n") == 1
    assert names(folder) == []


def test_nothing_is_written_over(mountcalc, folder):
    for name in ("saw.toml", "measuring-sheet.txt"):
        (folder / name).write_text("mine")
    for arguments in (["saw.toml", *options(MILL)], ["--sheet"]):
        done = mountcalc("new", *arguments)
        assert done.code == 2
        assert "is there already, and is not written over" in done.err
        assert done.err.count("\n") == 1
    assert names(folder) == ["measuring-sheet.txt", "saw.toml"]
    assert {path.read_text() for path in folder.iterdir()} == {"mine"}


def test_the_sheet_and_its_text_are_written_together(mountcalc, folder):
    done = mountcalc("new", "--sheet", "shop.pdf", "--built", "no")
    assert done.out == "shop.pdf\nshop.txt\n"
    assert (folder / "shop.pdf").read_bytes().startswith(b"%PDF")
    assert "A3 is the mount built" in (folder / "shop.txt").read_text()


def terminal(folder):
    child = pexpect.spawn(
        sys.executable, ["-m", "mountcalc", "new", "saw.toml"], cwd=folder, timeout=60,
        encoding="utf-8", dimensions=(24, 80), env=os.environ | {"TERM": "dumb"},
    )  # fmt: skip
    child.delaybeforesend = None
    child.expect("A1  Inches or millimetres")
    child.expect("  > ")
    return child


def test_who_stops_has_written_nothing(tmp_path):
    child = terminal(tmp_path)
    child.sendline("inch")
    child.expect("  > ")
    child.sendintr()
    child.expect(pexpect.EOF)
    child.close()
    assert child.before.strip().splitlines()[-1] == "mountcalc: stopped: nothing is written"
    assert child.signalstatus == 2 or child.exitstatus == 130
    assert names(tmp_path) == []


def test_the_end_of_what_is_typed_is_one_line_and_nothing_written(tmp_path):
    child = terminal(tmp_path)
    child.sendeof()
    child.expect(pexpect.EOF)
    child.close()
    assert child.before.strip().splitlines()[-1] == (
        "mountcalc: stopped before the last answer: nothing is written"
    )
    assert child.exitstatus == 2
    assert names(tmp_path) == []


def test_a_file_that_appears_during_the_conversation_is_kept(tmp_path):
    child = terminal(tmp_path)
    (tmp_path / "saw.toml").write_text("mine")
    child.sendline("inch")
    told = ""
    while child.expect(["\r\n  > ", "Is it so. > "]) == 0:
        told += child.before
        mark = [one for one in told.split("\r\n") if one[:1].isupper() and one[1:2].isdigit()][-1]
        child.sendline(MILL.get(KEYS[mark.split()[0]], ""))
    child.sendline("yes")
    child.expect(pexpect.EOF)
    child.close()
    assert child.exitstatus == 2
    assert "saw.toml: is there already, and is not written over" in child.before
    assert names(tmp_path) == ["saw.toml"]
    assert (tmp_path / "saw.toml").read_text() == "mine"
