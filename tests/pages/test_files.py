"""Files appear whole or not at all."""

import os
import stat
from pathlib import Path

import pytest

from mountcalc.errors import OutputError
from mountcalc.pages.files import write_files


def test_all_are_written_and_folders_made(tmp_path):
    paths = {tmp_path / "a" / "one": b"1", tmp_path / "b" / "two": b"2"}
    write_files(paths)
    for path, content in paths.items():
        assert path.read_bytes() == content


def test_nothing_is_written_if_one_cannot_be(tmp_path):
    standing = tmp_path / "standing"
    standing.write_bytes(b"old")
    with pytest.raises(OutputError, match="this is a folder"):
        write_files({standing: b"new", tmp_path: b"x"})
    assert standing.read_bytes() == b"old"
    assert [path.name for path in tmp_path.iterdir()] == ["standing"]


def test_folders_made_for_what_cannot_be_written_are_taken_away(tmp_path):
    taken = tmp_path / "taken"
    taken.write_bytes(b"old")
    with pytest.raises(OutputError, match="taken: a folder is wanted, this is a file"):
        write_files({tmp_path / "a" / "b" / "one": b"1", taken / "two": b"2"})
    assert [path.name for path in tmp_path.iterdir()] == ["taken"]


def test_a_full_disk_leaves_the_old_file(tmp_path, monkeypatch):
    standing = tmp_path / "standing"
    standing.write_bytes(b"old")

    def full(_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(OutputError, match="No space left"):
        write_files({standing: b"new"})
    assert standing.read_bytes() == b"old"
    assert [path.name for path in tmp_path.iterdir()] == ["standing"]


def test_modes_are_kept_and_new_files_have_the_usual_one(tmp_path):
    standing = tmp_path / "standing"
    standing.write_bytes(b"old")
    standing.chmod(0o640)
    fresh = tmp_path / "fresh"
    mask = os.umask(0o022)
    try:
        write_files({standing: b"new", fresh: b"new"})
    finally:
        os.umask(mask)
    assert stat.S_IMODE(standing.stat().st_mode) == 0o640
    assert stat.S_IMODE(fresh.stat().st_mode) == 0o644


def test_a_link_keeps_pointing_at_its_file(tmp_path):
    real, link = tmp_path / "real", tmp_path / "link"
    real.write_bytes(b"old")
    link.symlink_to(real)
    write_files({link: b"new"})
    assert link.is_symlink()
    assert real.read_bytes() == b"new"


def test_a_device_is_not_replaced(tmp_path):
    pipe = tmp_path / "pipe"
    os.mkfifo(pipe)
    with pytest.raises(OutputError, match="ordinary file"):
        write_files({pipe: b"x"})


def test_of_a_set_that_is_not_whole_the_message_names_what_is_new_and_what_is_not(
    tmp_path, monkeypatch
):
    paths = [tmp_path / name for name in ("one", "two", "three")]
    for path in paths:
        path.write_bytes(b"old")
    replace = Path.replace

    def broken(self, target):
        if target.name == "two":
            raise OSError(5, "Input/output error")
        return replace(self, target)

    monkeypatch.setattr(Path, "replace", broken)
    with pytest.raises(OutputError) as told:
        write_files(dict.fromkeys(paths, b"new"))
    one, two, three = paths
    assert str(told.value) == (
        f"{two}: cannot be written: Input/output error (new: {one}; as before: {two}, {three})"
    )
    assert [path.read_bytes() for path in paths] == [b"new", b"old", b"old"]
    assert len(list(tmp_path.iterdir())) == 3


def test_one_place_takes_one_file(tmp_path):
    (tmp_path / "real").write_bytes(b"old")
    (tmp_path / "link").symlink_to(tmp_path / "real")
    with pytest.raises(OutputError, match="two results would be written to"):
        write_files({tmp_path / "link": b"1", tmp_path / "real": b"2"})
    with pytest.raises(OutputError, match="two results would be written to"):
        write_files({tmp_path / "new": b"1", tmp_path / "." / "x" / ".." / "new": b"2"})
    assert (tmp_path / "real").read_bytes() == b"old"


def test_the_longest_name_is_written(tmp_path):
    path = tmp_path / ("ü" * 127)
    write_files({path: b"1"})
    assert list(tmp_path.iterdir()) == [path]
