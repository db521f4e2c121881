"""Nothing of the user's is written over, and no output is lost without a word."""

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

from mountcalc.cli.program import app

SCENARIOS = Path(__file__).parents[2] / "scenarios"
MILL = (SCENARIOS / "cider-mill.toml").read_text(encoding="utf-8")
FULL = Path("/dev/full")
LONG = ("--json", "--turns", "0:50:1/20")  # more than a pipe holds


def command(*arguments, **streams):
    """Run the program as a process, standard error caught."""
    streams = {"stdout": subprocess.PIPE, "stderr": subprocess.PIPE, **streams}
    return subprocess.Popen([sys.executable, "-m", "mountcalc", *map(str, arguments)], **streams)


def ended(process):
    out, err = process.communicate(timeout=120)
    return process.returncode, out or b"", (err or b"").decode()


def environment(**changes):
    return os.environ | changes


@pytest.fixture
def mill(tmp_path):
    file = tmp_path / "mill.toml"
    file.write_text(MILL, encoding="utf-8")
    return file


def other_names(file, ending):
    """The same file by a link, a second name and another spelling."""
    link, hard = file.with_name(f"link{ending}"), file.with_name(f"hard{ending}")
    link.symlink_to(file)
    hard.hardlink_to(file)
    return [link, hard, file.parent / ".." / file.parent.name / link.name]


def test_rows_do_not_take_the_place_of_the_scenario(mountcalc, mill):
    for target in (mill, *other_names(mill, ".csv")):
        done = mountcalc("table", mill, "--csv", target)
        assert done.code == 2
        assert done.out == ""
        assert done.err == (
            f"mountcalc: {target}: this is the scenario itself: give the result another name\n"
        )
        assert mill.read_text(encoding="utf-8") == MILL


@pytest.mark.parametrize(
    ("name", "call"),
    [
        ("x.png", ("setting", "--plot", "x.png")),
        ("mill-loads.png", ("plot", "--out", ".")),
        ("mill-along-shafts.dxf", ("draw", "--out", ".", "--only", "along-shafts", "--format=dxf")),
    ],
)
def test_pictures_do_not_take_the_place_of_the_scenario(
    mountcalc, mill, monkeypatch, tmp_path, name, call
):
    monkeypatch.chdir(tmp_path)
    Path(name).hardlink_to(mill)
    before = set(tmp_path.iterdir())
    done = mountcalc(call[0], mill, *call[1:])
    assert done.code == 2
    assert "this is the scenario itself" in done.err
    assert mill.read_text(encoding="utf-8") == MILL
    assert set(tmp_path.iterdir()) == before


def test_layouts_do_not_take_the_place_of_their_search(mountcalc, tmp_path):
    text = (SCENARIOS / "polishing-lathe.toml").read_text(encoding="utf-8")
    text = text.replace('thread_length = "36 mm"', 'thread_length = "90 mm"')
    file = tmp_path / "wall.toml"
    file.write_text(text, encoding="utf-8")
    (tmp_path / "wall-1.toml").symlink_to(file)
    few = ("--samples", "64", "--count", "1")
    for option in (("--write", tmp_path), ("--csv", file)):
        done = mountcalc("place", file, *few, *option)
        assert done.code == 2
        assert "this is the scenario itself" in done.err
        assert file.read_text(encoding="utf-8") == text


def test_a_scenario_on_standard_input_is_kept_too(mill):
    with mill.open("rb") as stream:
        code, out, err = ended(command("table", "-", "--csv", mill, stdin=stream))
    assert (code, out) == (2, b"")
    assert "this is the scenario itself" in err
    assert mill.read_text(encoding="utf-8") == MILL


def test_standard_input_and_output_have_a_name(mill):
    """``-``, with the line of a mistake that shows only when the mount is solved."""
    with mill.open("rb") as stream:
        rows = ended(command("table", "-", "--csv", "-", stdin=stream))
    assert (rows[0], rows[2]) == (0, "")
    assert rows[1].startswith(b"turns,")
    path = mill.with_name("rows.csv")
    assert ended(command("table", mill, "--csv", path))[0] == 0
    assert path.read_bytes() == rows[1]
    mill.write_text(MILL.replace('"A60"', '"A75"'), encoding="utf-8")
    with mill.open("rb") as stream:
        code, out, err = ended(command("table", "-", stdin=stream))
    line = MILL[: MILL.index('"A60"')].count("\n") + 1
    assert (code, out) == (2, b"")
    assert err.startswith(f"standard input:{line}: belt.designation: the belt A75")


def test_json_and_csv_do_not_share_standard_output(mountcalc, mill):
    for file, name in ((mill, "table"), (SCENARIOS / "fretsaw-bench.toml", "place")):
        done = mountcalc(name, file, "--json", "--csv", "-")
        assert done.code == 2
        assert done.out == ""
        assert done.err.startswith("mountcalc: json and csv: one of them")


@pytest.mark.skipif(not FULL.exists(), reason="this system has no /dev/full")
@pytest.mark.parametrize("unbuffered", ["", "1"])
@pytest.mark.parametrize("call", [("--help",), ("table", SCENARIOS / "cider-mill.toml")])
def test_a_full_disk_is_a_line_and_exit_2(call, unbuffered):
    with FULL.open("wb") as full:
        done = ended(command(*call, stdout=full, env=environment(PYTHONUNBUFFERED=unbuffered)))
    assert done == (
        2, b"", "mountcalc: the output cannot be written: No space left on device\n",
    )  # fmt: skip


@pytest.mark.skipif(sys.platform == "win32", reason="no limits of a process there")
@pytest.mark.parametrize("unbuffered", ["", "1"])
def test_a_short_write_is_a_line_and_exit_2(mill, tmp_path, unbuffered):
    import resource

    limit = 4096
    path = tmp_path / "out"
    with path.open("wb") as out:
        process = command(
            *("table", mill, "--json"),
            stdout=out,
            env=environment(PYTHONUNBUFFERED=unbuffered, PYTHONDONTWRITEBYTECODE="1"),
            preexec_fn=lambda: resource.setrlimit(resource.RLIMIT_FSIZE, (limit, limit)),
        )
        code, _, err = ended(process)
    assert path.stat().st_size <= limit
    assert (code, err) == (2, "mountcalc: the output cannot be written: File too large\n")


@pytest.mark.parametrize("unbuffered", ["", "1"])
def test_a_pipe_closed_early_is_a_line_and_exit_2(mill, unbuffered):
    process = command("table", mill, *LONG, env=environment(PYTHONUNBUFFERED=unbuffered))
    process.stdout.read(10)
    process.stdout.close()
    process.stdout = None
    assert ended(process) == (
        2, b"", "mountcalc: the output cannot be written: Broken pipe\n",
    )  # fmt: skip


@pytest.mark.skipif(sys.platform == "win32", reason="no shell of that kind there")
@pytest.mark.usefixtures("mill")
def test_closed_streams_are_an_error_or_a_clean_end(tmp_path):
    def shell(line):
        whole = f"{sys.executable} -m mountcalc {line}"
        return ended(subprocess.Popen(whole, shell=True, stdout=-1, stderr=-1, cwd=tmp_path))  # noqa: S602

    closed = "mountcalc: the output cannot be written: standard output is closed\n"
    assert shell("table mill.toml >&-") == (2, b"", closed)
    assert shell("plot mill.toml >&-") == (2, b"", closed)
    assert [path.name for path in tmp_path.iterdir()] == ["mill.toml"]
    code, out, _ = shell("table mill.toml 2>&-")
    assert code == 0
    assert out.startswith(b"Cider mill")
    assert shell("table none.toml 2>&-") == (2, b"", "")
    # What is opened must not take the closed stream's number and its texts.
    code, _, _ = shell("table mill.toml --csv rows.csv 2>&-")
    assert code == 0
    assert (tmp_path / "rows.csv").read_bytes().startswith(b"turns,")
    code, _, err = shell("table - <&-")
    assert code == 2
    assert err == "mountcalc: standard input is closed: there is nothing to read\n"
    if FULL.exists():
        assert shell("table none.toml 2>/dev/full")[0] == 2


def renamed(file, title):
    lines = MILL.splitlines(keepends=True)
    where = next(index for index, line in enumerate(lines) if line.startswith("title"))
    file.write_text("".join([*lines[:where], title, *lines[where + 1 :]]), encoding="utf-8")
    return file


def test_json_is_whole_on_any_terminal(mill):
    renamed(mill, 'title = "Mühle 磨 ½"\n')
    plain = environment(PYTHONIOENCODING="ascii", PYTHONUTF8="0", LC_ALL="C")
    for env in (plain, environment(PYTHONIOENCODING="utf-8")):
        code, out, _ = ended(command("table", mill, "--json", env=env))
        assert code == 0
        assert json.loads(out)["title"] == "Mühle 磨 ½"
    code, out, _ = ended(command("table", mill, env=plain))
    assert code == 0
    assert out.splitlines()[0] == b"Muhle \\u78e8  1/2"


def test_control_bytes_do_not_reach_a_terminal(mountcalc, mill, tmp_path):
    steer = "\x1b[31m\x07\u202e\n"
    bad = tmp_path / f"{steer}.toml"
    (tmp_path / steer).mkdir()
    calls = [
        ("table", bad),
        ("table", mill, "--turns", f"0:{steer}"),
        ("check", mill, "--turns", steer),
        ("belts", mill, "--driven-speed", steer),
        ("measure", "--designation", steer),
        ("draw", mill, "--only", steer),
        ("place", mill, "--seed", steer),
        ("table", mill, "--csv", tmp_path / steer),
        ("table", mill, f"--{steer}"),
        (steer,),
        ("draw", mill, "--only", "along-shafts", "--format", "dxf", "--out", tmp_path / steer),
        ("table", mill, "--csv", tmp_path / steer / "rows.csv"),
    ]
    for call in calls:
        done = mountcalc(*call)
        said = done.out + done.err
        assert not set(said) & set("\x1b\x07\u202e"), call
        assert done.err.count("\n") <= 1, call
    assert (tmp_path / steer / "rows.csv").exists()


def test_a_cell_does_not_begin_a_formula(mountcalc, mill):
    assert MILL.count('name = "far end"') == 1
    mill.write_text(MILL.replace('name = "far end"', 'name = "=1+2"'), encoding="utf-8")
    done = mountcalc("table", mill, "--csv", "-", "--turns", "-1:1:1")
    assert done.code == 0
    assert "'=1+2" in done.out
    assert ",=" not in done.out
    assert "\n-1.0," in done.out.replace("\r", "")  # a number stays one


@pytest.mark.parametrize(
    ("ending", "start"), [("PNG", b"\x89PNG"), ("pdf", b"%PDF"), ("svg", b"<")]
)
def test_a_picture_is_what_its_name_says(mountcalc, mill, tmp_path, ending, start):
    path = tmp_path / f"range.{ending}"
    assert mountcalc("setting", mill, "--plot", path).code == 0
    content = path.read_bytes()
    assert content.startswith(start)
    assert (b"<svg" in content) == (ending == "svg")
    before = content
    assert mountcalc("setting", mill, "--plot", path).code == 0
    assert path.read_bytes() == before


@pytest.mark.parametrize("name", ["range", "range.jpg", "range.png.gz"])
def test_a_picture_of_another_kind_is_refused(mountcalc, mill, tmp_path, name):
    done = mountcalc("setting", mill, "--plot", tmp_path / name)
    assert done.code == 2
    assert done.out == ""
    assert done.err == (
        f"mountcalc: {tmp_path / name}: a picture's name ends in one of .png, .pdf, .svg\n"
    )


@pytest.mark.parametrize("call", [("plot", "--out"), ("draw", "--out"), ("place", "--plot")])
def test_a_folder_is_not_given_the_name_of_a_picture(mountcalc, mill, tmp_path, call):
    file = SCENARIOS / "fretsaw-bench.toml" if call[0] == "place" else mill
    done = mountcalc(call[0], file, call[1], tmp_path / "range.pdf")
    assert done.code == 2
    assert done.err == (
        f"mountcalc: {tmp_path / 'range.pdf'}: a folder is wanted, this is a file's name\n"
    )
    assert not (tmp_path / "range.pdf").exists()


def test_errors_of_the_call_look_like_all_others(mountcalc, mill):
    for call, said in (
        (("tabel", mill), "no such command 'tabel'"),
        (("table",), "missing argument 'FILE'"),
        (("table", mill, "--nonsense"), "no such option: --nonsense"),
        (("table", mill, "--turns"), "option '--turns' requires an argument"),
        (("table", mill, mill), "got unexpected extra argument"),
    ):
        done = mountcalc(*call)
        assert done.code == 2
        assert done.out == ""
        assert done.err.startswith(f"mountcalc: {said}")
        assert done.err.count("\n") == 1
        assert "--help" in done.err


def test_the_help_lists_first_what_is_used_first(mountcalc):
    text = mountcalc("--help").out
    commands = [
        line.split()[0] for line in text.split("Commands:\n")[1].split("\n\n")[0].split("\n")
    ]
    begun = ("new", "example")  # what gives a file to begin with
    used = [name for name in commands if name not in begun]
    assert used[:4] == ["table", "setting", "check", "plot"]
    assert set(commands) - set(used) == set(commands[: -len(used)])
    assert len(commands) == len(set(commands)) == len(app.registered_commands)
    alone = mountcalc()
    assert (alone.code, alone.out) == (0, text)


@pytest.mark.parametrize(
    ("words", "offered"),
    [
        ("place x --prefer co", ["compact"]),
        ("draw x --sheet ", ["a4", "a3", "letter", "tabloid"]),
        ("draw x --format pdf,d", ["pdf,dxf"]),
        ("draw x --format pdf,", ["pdf,dxf", "pdf,svg", "pdf,png"]),
        ("draw x --only plate,g", ["plate,guard"]),
    ],
)
def test_the_shell_completes_choices(mountcalc, monkeypatch, words, offered):
    monkeypatch.setenv("_MOUNTCALC_COMPLETE", "complete_bash")
    monkeypatch.setenv("COMP_WORDS", f"mountcalc {words}")
    monkeypatch.setenv("COMP_CWORD", str(len(words.split(" "))))
    assert mountcalc().out.split() == offered


def test_choices_are_those_that_there_are():
    from mountcalc.console.choices import DrawingName, FileFormat, Sheet
    from mountcalc.drafting.formats.files import FORMATS
    from mountcalc.drafting.paper.sheets import PAPERS
    from mountcalc.draw.drawings import DRAWINGS

    assert list(DrawingName) == list(DRAWINGS)
    assert list(FileFormat) == list(FORMATS)
    assert set(Sheet) == set(PAPERS)
