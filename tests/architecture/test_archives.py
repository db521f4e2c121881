"""What is given away is whole: the source archive is the project, the wheel runs by itself."""

import os
import re
import shutil
import subprocess
import sys
import tarfile
import tomllib
import zipfile
from email import message_from_bytes
from pathlib import Path

import pytest
import sizes
from written import TOP, files

import mountcalc

PROJECT = tomllib.loads((TOP / "pyproject.toml").read_text(encoding="utf-8"))
SHIPPED = {".toml", ".csv", ".wav"}
BESIDE = {"LICENSE", "pyproject.toml", ".gitignore"}


def names():
    """All files of the project, but for what programs leave behind."""
    found = {path.relative_to(TOP).as_posix() for path in files()}
    left = re.compile(r"__pycache__|\.ipynb_checkpoints|\.pyc$")
    return {
        name
        for name in found
        if ("/" in name or name in BESIDE or name.endswith(".md")) and not left.search(name)
    }


def in_the_wheel():
    """Of those, what has to be in the wheel, by the names it has there."""
    inside = {name for name in names() if name.startswith("mountcalc/")}
    scenarios = {path.name for path in (TOP / "scenarios").iterdir() if path.suffix in SHIPPED}
    return inside | {f"mountcalc/scenarios/{name}" for name in scenarios}


def test_pythons_that_are_named_are_those_that_are_asked_for():
    told = [
        line.rpartition(" ")[2] for line in PROJECT["project"]["classifiers"] if ":: 3." in line
    ]
    assert f">={told[0]}" == PROJECT["project"]["requires-python"]
    assert told == [f"3.{11 + i}" for i in range(len(told))]


@pytest.fixture(scope="module")
def archives(tmp_path_factory):
    """Both, built in a copy of the project: (source archive, wheel)."""
    if not sizes.FULL:
        pytest.skip("built with --full")
    place = tmp_path_factory.mktemp("project")
    for name in names():
        (place / name).parent.mkdir(parents=True, exist_ok=True)
        shutil.copy(TOP / name, place / name)
    build = "from hatchling import build as b; print(b.build_sdist('.'), b.build_wheel('.'))"
    said = subprocess.run(
        [sys.executable, "-c", build], cwd=place, capture_output=True, text=True, check=True
    )
    return [place / name for name in said.stdout.split("\n")[-2].split()]


def test_the_source_archive_is_the_whole_project(archives):
    with tarfile.open(archives[0]) as archive:
        found = {one.name.partition("/")[2] for one in archive.getmembers() if one.isfile()}
    assert found == names() | {"PKG-INFO"}


def test_the_wheel_has_the_package_and_the_scenarios_and_nothing_else(archives):
    with zipfile.ZipFile(archives[1]) as wheel:
        found = set(wheel.namelist())
        (told,) = (name for name in found if name.endswith("METADATA"))
        metadata = message_from_bytes(wheel.read(told))
    assert {name for name in found if ".dist-info/" not in name} == in_the_wheel()
    assert metadata["Version"] == mountcalc.__version__
    assert metadata.get_payload().startswith("# mountcalc")


def test_the_wheel_runs_where_the_project_is_not(archives, tmp_path):
    shutil.unpack_archive(archives[1], tmp_path / "installed", "zip")
    folder = tmp_path / "empty"
    folder.mkdir()
    for arguments in (["example", "cider-mill"], ["table", "cider-mill.toml"]):
        subprocess.run(
            [sys.executable, "-P", "-m", "mountcalc", *arguments],
            cwd=folder,
            check=True,
            capture_output=True,
            env={**os.environ, "PYTHONPATH": str(tmp_path / "installed")},
        )
    assert Path(folder / "cider-mill.toml").is_file()
