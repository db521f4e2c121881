"""A set of files is written whole or not at all, whenever the process is asked to stop."""

import os
import random
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest
import sizes

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="no such signals there")

NAMES = ["a.dxf", "b.dxf", "c.pdf", "deep/d.pdf"]
AT_ONCE = 6
# Writes one set after another, each of its own kind, until it is asked to stop.
WRITER = f"""
import sys
from pathlib import Path
from mountcalc.pages.files import write_files
folder = Path(sys.argv[1])
for kind in range(20_000):  # an end, should nobody ask
    write_files({{folder / name: b"%09d" % kind * 3000 for name in {NAMES}}})
    if kind == 0:
        print("begun", flush=True)
"""


def heeds_signals():
    """What a shell starts in its background ignores signals that the tests send."""
    for number in (signal.SIGINT, signal.SIGTERM):
        signal.signal(number, signal.SIG_DFL)


def started(*arguments):
    return subprocess.Popen(
        [sys.executable, *arguments],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        preexec_fn=heeds_signals,  # noqa: PLW1509  # no threads here
    )


@pytest.mark.parametrize("seed", range(6))
def test_a_stop_leaves_one_whole_set_and_nothing_beside(tmp_path, seed):
    if seed >= sizes.size(6, 2):
        pytest.skip("all of them with --full")
    moments = random.Random(seed)  # noqa: S311
    folders = [tmp_path / str(index) for index in range(AT_ONCE)]
    writers = [started("-c", WRITER, str(folder)) for folder in folders]
    for writer in writers:
        assert writer.stdout.readline() == b"begun\n"
    asked = [moments.choice([signal.SIGINT, signal.SIGTERM]) for _ in writers]
    for writer, number in zip(writers, asked, strict=True):
        time.sleep(moments.uniform(0, 0.02))
        writer.send_signal(number)
    for writer, number, folder in zip(writers, asked, folders, strict=True):
        writer.communicate(timeout=60)
        assert writer.returncode == -number
        left = {path for path in folder.rglob("*") if path.is_file()}
        assert left == {folder / name for name in NAMES}
        assert len({path.read_bytes() for path in left}) == 1


@pytest.mark.parametrize("number", ["SIGINT", "SIGTERM"])
def test_the_program_ends_by_the_signal_without_a_word(tmp_path, number):
    """While it waits for its scenario, when all of it has begun."""
    pipe = tmp_path / "scenario.toml"
    os.mkfifo(pipe)
    process = started("-m", "mountcalc", "plot", str(pipe), "--out", str(tmp_path / "new"))
    with pipe.open("wb"):  # opens when the program opens it for reading
        process.send_signal(getattr(signal, number))
        said = process.communicate(timeout=60)
    assert said == (b"", b"")
    assert process.returncode == -getattr(signal, number)
    assert list(tmp_path.iterdir()) == [pipe]


def test_pictures_half_made_leave_nothing(tmp_path):
    """Also where the library of pictures has made a folder for itself."""
    mill = Path(__file__).parents[2] / "scenarios" / "cider-mill.toml"
    places = {name: tmp_path / name for name in ("out", "tmp")}
    places["tmp"].mkdir()
    process = subprocess.Popen(
        [sys.executable, "-m", "mountcalc", "plot", str(mill), "--out", str(places["out"])],
        stdout=subprocess.PIPE,
        stderr=subprocess.PIPE,
        env=os.environ | {"TMPDIR": str(places["tmp"]), "MPLCONFIGDIR": "/dev/null/none"},
    )
    while process.poll() is None and not list(places["tmp"].iterdir()):
        time.sleep(0.01)
    time.sleep(0.1)  # it makes its folder, then notes that it is to be taken away
    process.terminate()
    assert process.communicate(timeout=60) == (b"", b"")
    assert process.returncode == -signal.SIGTERM
    assert list(places["tmp"].iterdir()) == []
    assert not places["out"].exists()
