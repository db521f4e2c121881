"""The scenarios that ship are listed, and copied over nothing."""

import re
import shlex
from pathlib import Path

import pytest

import mountcalc as library
from mountcalc.errors import OutputError
from mountcalc.example.shipped import example_files, lessons
from mountcalc.pages.files import write_files

SHIPPED = Path(__file__).parents[2] / "scenarios"


def found(folder):
    return [path.name for path in folder.iterdir()]


def test_the_list_has_every_scenario_that_ships_and_says_what_it_teaches(mountcalc):
    done = mountcalc("example")
    assert max(map(len, done.out.splitlines())) <= 80
    told = dict(re.findall(r"^  (\S+) +(.+)$", done.out, re.MULTILINE))
    assert told == lessons()
    assert set(told) == {path.stem for path in SHIPPED.glob("*.toml")}


@pytest.mark.parametrize("name", lessons())
def test_a_copy_is_the_scenario(mountcalc, tmp_path, monkeypatch, name):
    monkeypatch.chdir(tmp_path)
    done = mountcalc("example", name)
    assert done.code == 0
    assert done.out.split() == sorted(found(tmp_path), key=lambda one: (one != f"{name}.toml", one))
    for file in tmp_path.iterdir():
        assert file.read_bytes() == (SHIPPED / file.name).read_bytes()
    assert library.parse_scenario(library.example(name)).title.endswith("(invented example)")


def test_readings_go_with_their_scenario():
    assert list(example_files("cider-mill")) == [
        "cider-mill.toml",
        "cider-mill-pluck.wav",
        "cider-mill-readings.csv",
    ]


def test_a_copy_may_have_a_folder_or_a_name(mountcalc, tmp_path):
    assert mountcalc("example", "Grindstone.toml", "--out", tmp_path / "new").code == 0
    assert mountcalc("example", "cider-mill", "--out", tmp_path / "mine.toml").code == 0
    assert sorted(path.relative_to(tmp_path).as_posix() for path in tmp_path.rglob("*.toml")) == [
        "mine.toml",
        "new/grindstone.toml",
    ]


def test_nothing_is_overwritten(mountcalc, tmp_path):
    (tmp_path / "cider-mill-readings.csv").write_text("my own readings")
    done = mountcalc("example", "cider-mill", "--out", tmp_path)
    assert done.code == 2
    assert done.err == (
        f"mountcalc: {tmp_path}/cider-mill-readings.csv: is there already, and is not written "
        "over: take a new name\n"
    )
    assert found(tmp_path) == ["cider-mill-readings.csv"]
    assert (tmp_path / "cider-mill-readings.csv").read_text() == "my own readings"


@pytest.mark.parametrize("links", [True, False])
def test_a_file_that_appears_meanwhile_is_left_alone(tmp_path, monkeypatch, links):
    """Both are new when it begins; the second appears when the first is in its place."""
    first, second = tmp_path / "first", tmp_path / "second"
    put = Path.hardlink_to

    def link(target, beside):
        if target == second:
            second.write_bytes(b"of another")
        if not links:
            raise PermissionError(1, "Operation not permitted")
        put(target, beside)

    monkeypatch.setattr(Path, "hardlink_to", link)
    with pytest.raises(OutputError, match="second: is there already"):
        write_files({first: b"1", second: b"2"}, new=True)
    assert found(tmp_path) == ["second"]
    assert second.read_bytes() == b"of another"


def test_a_disk_without_links_takes_new_files(tmp_path, monkeypatch):
    def none(*_):
        raise PermissionError(1, "Operation not permitted")

    monkeypatch.setattr(Path, "hardlink_to", none)
    write_files({tmp_path / "one": b"1"}, new=True)
    assert found(tmp_path) == ["one"]
    assert (tmp_path / "one").read_bytes() == b"1"


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        ("cidermill", 'name: there is no example "cidermill": did you mean cider-mill?'),
        ("../x", 'name: there is no example "../x": one of cider-mill, '),
        ("--out x", "name: which one is to be copied? mountcalc example lists them"),
    ],
)
def test_what_cannot_be_copied_is_told_in_a_line(mountcalc, arguments, said):
    done = mountcalc("example", *shlex.split(arguments))
    assert done.code == 2
    assert done.err.startswith(f"mountcalc: {said}")
    assert done.err.count("\n") == 1
