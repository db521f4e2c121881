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
            'f.toml:1: not valid TOML: invalid value; write title = "mill", at column 9',
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


SEVERAL = "not valid TOML: more than one value on the line"
OPEN = "not valid TOML: a text is not closed on its line"
POINT = 'a point is typed as ["-20 in", "-4 in"], in square brackets and each part between quotes'


@pytest.mark.parametrize(
    ("line", "message"),
    [
        ('length = 15 1/2"', f'{SEVERAL}; write length = "15 1/2 in", at column 13'),
        ('length = "15 1/2"" # tape', f'{SEVERAL}; write length = "15 1/2 in", at column 18'),
        (
            'length = "15 1/2',
            f"{OPEN}; a quantity stands between quotes with its unit, such as "
            'length = "15 1/2 in", at column 17',
        ),
        ('length = "15 1/2 in', f'{OPEN}; write length = "15 1/2 in", at column 20'),
        ("length = 1' 3\"", f'{SEVERAL}; write length = "1 ft 3 in", at column 11'),
        ("length = 15''", f'{SEVERAL}; write length = "15 in", at column 12'),
        ("length = 14.5 inches", f'{SEVERAL}; write length = "14.5 inches", at column 15'),
        ("length = “15 in”", 'not valid TOML: invalid value; write length = "15 in", at column 10'),
        ("thread = 3/8-16", f'{SEVERAL}; write thread = "3/8-16", at column 11'),
        ("traction = 0,3", f"{SEVERAL}; write traction = 0.3, with a point, at column 13"),
        ("rotation = clockwise",
         'not valid TOML: invalid value; write rotation = "clockwise", at column 12'),
        ('shaft = [20 1/2", 4"]',
         f"not valid TOML: a list is not closed; {POINT}, at column 13"),
        ('shaft = ("20 in", "4 in")', f"not valid TOML: invalid value; {POINT}, at column 9"),
        ("x = \x0b", "not valid TOML: invalid value; text and quantities stand between quotes, "
         "at column 5"),
    ],
)  # fmt: skip
def test_what_is_no_toml_is_told_with_what_to_type(line, message):
    assert told_of_text(f"# first\n{line}\n") == f"f.toml:2: {message}"


def test_a_list_of_tables_in_single_brackets():
    heads = ("[driven.bearing]", "[[driven.bearing]]")
    for first, second in ((0, 0), (0, 1)):
        text = f"{heads[first]}\nx = 1\n{heads[second]} # two\ny = 1\n"
        assert told_of_text(text) == (
            "f.toml:3: not valid TOML: [driven.bearing] on line 1 has single brackets; write "
            "[[driven.bearing]] over each of them"
        )
