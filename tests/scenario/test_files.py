"""Files that are no scenario: missing, too large, no text, no TOML."""

import re
import sys

import pytest

from mountcalc.errors import ScenarioError
from mountcalc.scenario.reader import parse_scenario, read_scenario


def told(path):
    with pytest.raises(ScenarioError) as caught:
        read_scenario(path)
    return str(caught.value)


def told_of_text(text):
    with pytest.raises(ScenarioError) as caught:
        parse_scenario(text, "f.toml")
    return str(caught.value)


def test_missing_file(tmp_path):
    path = tmp_path / "none.toml"
    assert told(path) == f"{path}: no such file"


def test_directory(tmp_path):
    assert told(tmp_path) == f"{tmp_path}: a directory, not a scenario file"


def test_unreadable_file(monkeypatch):
    def shut(*_):
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr("builtins.open", shut)  # a superuser may read whatever is shut
    assert told("shut.toml") == "shut.toml: the file cannot be read: permission denied"


def test_names_that_no_file_can_have():
    assert told("a\0b") == r"a\x00b: the file cannot be read: embedded null byte"
    assert told("x" * 5000).endswith("the file cannot be read: File name too long")
    assert told("new\nline") == r"new\nline: no such file"


@pytest.mark.skipif(sys.platform == "win32", reason="no such device")
def test_endless_file():
    assert told("/dev/zero") == "/dev/zero: larger than a scenario can be (at most 1 MB)"


def test_a_file_of_50_mb_is_not_read_through(tmp_path):
    path = tmp_path / "large.toml"
    with path.open("wb") as file:
        file.truncate(50_000_000)
    assert told(path) == f"{path}: larger than a scenario can be (at most 1 MB)"


def test_not_utf_8(tmp_path):
    path = tmp_path / "latin.toml"
    path.write_bytes(b'# fine\ntitle = "M\xfchle"\n')
    assert told(path) == f"{path}:2: not a text in UTF-8"


EMPTY = "f.toml: empty: tables [driven], [motor], [belt], [plate] and [adjuster] wanted"


@pytest.mark.parametrize(
    ("text", "message"),
    [
        ("", EMPTY),
        ("# nothing\n\n", EMPTY),
        (
            "title = mill\n",
            "f.toml:1: not valid TOML: invalid value; text and quantities stand between quotes, "
            "at column 9",
        ),
        (
            'title = "a"\ntitle = "b"\n',
            "f.toml:2: not valid TOML: a key is given twice, at column 12",
        ),
        ("belt = " + "[" * 5000, "f.toml: tables or lists nested too deep"),
        ("a." * 30_000 + "b = 1", "f.toml:1: tables nested too deep"),
        ("x = 1" + "0" * 5000, "f.toml: not valid TOML: a number with too many digits"),
        ("\ud800", "f.toml: not a text in UTF-8"),
        ("#" * 1_000_001, "f.toml: larger than a scenario can be (at most 1 MB)"),
    ],
)
def test_text_that_is_no_scenario(text, message):
    assert told_of_text(text) == message


# What is not put in our words is the TOML reader's wording, and differs between its versions.
@pytest.mark.parametrize(
    ("text", "where"),
    [
        ("[belt]\n[belt]\n", r"at column \d+"),
        ("\nbelt = {", "at the end of the file"),
        ('\ntitle = "\x07"', r"at column \d+"),
        ("\nbelt = [" + "belt = [" * 2000, r"at column \d+"),
    ],
)
def test_text_that_is_no_toml(text, where):
    assert re.fullmatch(rf"f\.toml:2: not valid TOML: [ -~]+, {where}", told_of_text(text))
