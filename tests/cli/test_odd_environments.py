"""The same answers wherever the program runs: settings, folders and terminals of others."""

import os
import subprocess
import sys
from pathlib import Path

import pytest

SCENARIOS = Path(__file__).parents[2] / "scenarios"
SETTINGS = """text.usetex: True
savefig.dpi: 100000
savefig.bbox: tight
figure.dpi: 9999
font.size: 80
lines.linewidth: 30
axes.facecolor: red
backend: qtagg
"""
# What does not touch each other is tried together: a process costs a second.
TERMINALS = {
    "C, dumb": {"LANG": "C", "LC_ALL": "C", "TERM": "dumb", "NO_COLOR": "1", "COLUMNS": "20"},
    "latin, colour": {
        "PYTHONIOENCODING": "latin-1",
        "PYTHONUTF8": "0",
        "FORCE_COLOR": "1",
        "TERM": "xterm-256color",
    },
    "plain": {"PYTHONIOENCODING": "ascii", "PYTHONUTF8": "0", "PYTHONUNBUFFERED": "1"},
}
PICTURES = {
    "homeless": {"HOME": None, "TMPDIR": "/dev/null/none", "PYTHONWARNINGS": "error"},
    "window": {
        "HOME": "/dev/null/none",
        "XDG_CONFIG_HOME": "/dev/null/none",
        "MPLBACKEND": "qtagg",
    },
    "nonsense": {"MPLBACKEND": "nonsense", "MATPLOTLIBRC": "nonsense"},
}


def run(folder, *arguments, **changes):
    """Run the program in a folder; None takes a variable away."""
    env = {name: value for name, value in (os.environ | changes).items() if value is not None}
    done = subprocess.run(
        [sys.executable, "-m", "mountcalc", *map(str, arguments)],
        capture_output=True, check=False, env=env, cwd=folder, timeout=120,
        stdin=subprocess.DEVNULL,
    )  # fmt: skip
    return done.returncode, done.stdout, done.stderr.decode()


MILL = SCENARIOS / "cider-mill.toml"
CALL = ("setting", MILL, "--plot")


@pytest.fixture(scope="module")
def usual(tmp_path_factory):
    """The page and the picture where nothing is odd."""
    folder = tmp_path_factory.mktemp("usual")
    code, out, _ = run(folder, *CALL, folder / "range.png")
    assert code == 0
    return out, (folder / "range.png").read_bytes()


@pytest.mark.parametrize("name", TERMINALS)
def test_terminals_change_nothing(usual, tmp_path, name):
    assert run(tmp_path, "setting", MILL, **TERMINALS[name]) == (0, usual[0], "")


@pytest.mark.parametrize("name", PICTURES)
def test_variables_change_nothing(usual, tmp_path, name):
    path = tmp_path / "range.png"
    code, out, err = run(tmp_path, *CALL, path, **PICTURES[name])
    assert code == 0
    assert out == usual[0]
    assert err == f"written: {path}\n"
    assert path.read_bytes() == usual[1]
    assert list(tmp_path.iterdir()) == [path]


@pytest.mark.parametrize("kind", ["settings", "broken", "pipe", "at home"])
def test_settings_of_the_folder_change_nothing(usual, tmp_path, kind):
    """Those of the library of pictures, and those of the library of DXF."""
    here = tmp_path / "here"
    here.mkdir()
    homes = here / "home", here / "home" / "matplotlib", here / "home" / "ezdxf"
    for home in homes:
        home.mkdir()
    places = [homes[1], homes[2]] if kind == "at home" else [here, here]
    for place, name in zip(places, ("matplotlibrc", "ezdxf.ini"), strict=True):
        if kind == "pipe":
            os.mkfifo(place / name)
        else:
            (place / name).write_bytes(b"\xff\xfe[" if kind == "broken" else SETTINGS.encode())
    config = {"XDG_CONFIG_HOME": str(homes[0]), "MPLCONFIGDIR": str(homes[1])}
    code, out, err = run(here, *CALL, tmp_path / "range.png", **config)
    assert (code, err) == (0, f"written: {tmp_path / 'range.png'}\n")
    assert out == usual[0]
    assert (tmp_path / "range.png").read_bytes() == usual[1]
    call = ("draw", MILL, "--only", "along-shafts", "--format", "dxf", "--out", tmp_path / "new")
    code, _, err = run(here, *call, **config)
    assert (code, err) == (0, "")


def test_a_folder_that_is_gone_or_takes_no_files(usual, tmp_path):
    gone = tmp_path / "gone"
    gone.mkdir()
    call = [sys.executable, "-m", "mountcalc", "plot", str(MILL), "--out"]
    out = subprocess.run(
        ["/bin/sh", "-c", 'rmdir ../gone && exec "$@"', "sh", *call, str(tmp_path / "new")],
        capture_output=True, check=False, cwd=gone,
    )  # fmt: skip
    assert (out.returncode, out.stderr) == (0, b"")
    assert len(list((tmp_path / "new").iterdir())) == 2
    for folder in ("/proc/self", "/dev/null"):
        if Path(folder).exists():
            code, said, err = run(tmp_path, *CALL, Path(folder, "range.png"))
            assert (code, said) == (2, b"")
            assert err.count("\n") == 1
    code, said, err = run("/", "table", MILL)
    assert (code, err) == (0, "")
    assert said.split(b"\n")[0] == usual[0].split(b":")[0]
