"""`draw` as users meet it: which files, what is in them, one line for each mistake."""

import gc
import re
import subprocess
import sys
from pathlib import Path

import ezdxf
import pypdfium2
import pytest
from plot_mounts import SHIPPED
from sizes import size

from mountcalc.draw import drawings

SCENARIOS = Path(__file__).parents[2] / "scenarios"

NAMES = ["plate", "guard", "assembly", "along-shafts"]


def written(done):
    assert done.code == 0
    assert done.err == ""
    return done.out.splitlines()


@pytest.mark.parametrize(
    "stem", size([*SHIPPED], ["cider-mill", "forge-blower", "grindstone", "wood-lathe"])
)
def test_every_kind_of_mount_is_drawn(mountcalc, stem, tmp_path):
    scenario_file = SCENARIOS / f"{stem}.toml"
    done = mountcalc("draw", scenario_file, "--out", tmp_path, "--base")
    assert all(" the keep-out " in line for line in done.err.splitlines())
    assert done.code == 0
    paths = done.out.splitlines()
    names = ["plate", "base", "guard", "assembly", "along-shafts"]
    wanted = [str(tmp_path / f"{stem}-{name}.{end}") for name in names for end in ("pdf", "dxf")]
    assert paths == wanted
    assert sorted(map(str, tmp_path.iterdir())) == sorted(wanted)
    for name in names:
        document = ezdxf.readfile(tmp_path / f"{stem}-{name}.dxf")
        assert document.header["$INSUNITS"] == 4
        assert len(document.modelspace()) > 10
        pages = pypdfium2.PdfDocument((tmp_path / f"{stem}-{name}.pdf").read_bytes())
        said = " ".join(page.get_textpage().get_text_range() for page in pages)
        assert f"page 1 of {len(pages)}" in said
        assert not re.search(r"\b(nan|inf)\b", said, re.IGNORECASE)


def test_formats_sheet_and_mirrored_copies(mountcalc, cider, tmp_path):
    paths = written(
        mountcalc(
            *("draw", cider, "--out", tmp_path / "new", "--only", "plate, guard", "--mirror"),
            *("--format", "svg,pdf", "--sheet", "tabloid"),
        )
    )
    copies = ["plate", "guard", "plate-mirrored", "guard-mirrored"]
    assert [path.rsplit("cider-mill-", 1)[1] for path in paths] == [
        f"{copy}.{ending}" for copy in copies for ending in ("pdf", "svg")
    ]
    for copy in copies:
        for page in pypdfium2.PdfDocument(tmp_path / "new" / f"cider-mill-{copy}.pdf"):
            assert sorted(page.get_size()) == pytest.approx([11 * 72, 17 * 72], abs=0.02)
    plain, mirrored = (
        (tmp_path / "new" / f"cider-mill-plate{kind}.svg").read_text(encoding="utf-8")
        for kind in ("", "-mirrored")
    )
    assert "mirrored" not in plain
    assert "mirrored" in mirrored


def test_garbage_is_collected_while_drawings_are_made(mountcalc, cider, tmp_path, monkeypatch):
    from mountcalc.drafting.formats import pdf as drawing_pdf

    seen = []
    pdf = drawing_pdf.pdf
    monkeypatch.setattr(
        drawing_pdf, "pdf", lambda *said: (seen.append(gc.isenabled()), pdf(*said))[1]
    )
    written(mountcalc("draw", cider, "--out", tmp_path, "--only", "guard", "--format", "pdf"))
    assert seen
    assert all(seen)


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="no such file there")
def test_drawings_take_no_more_memory_than_a_small_machine_has(cider, tmp_path):
    arguments = ["draw", cider, "--out", tmp_path, "--only", "guard", "--mirror"]
    code = (
        "import re, sys; from mountcalc.cli import main\n"
        "try:\n    main()\nfinally:\n"
        # Not that of getrusage, which begins with what the parent has.
        "    most = re.search(r'VmHWM:\\s+(\\d+)', open('/proc/self/status').read())\n"
        "    print(most[1], file=sys.stderr)"
    )
    done = subprocess.run(
        [sys.executable, "-c", code, *map(str, arguments), "--format", "pdf,png"],
        capture_output=True,
        text=True,
        check=True,
    )
    assert int(done.stderr) < 320_000  # kB; 250,000 with collection, 400,000 without


def test_png_is_a_picture(mountcalc, cider, tmp_path):
    (path,) = written(
        mountcalc("draw", cider, "--out", tmp_path, "--only", "along-shafts", "--format", "PNG")
    )
    from PIL import Image

    with Image.open(path) as image:
        assert image.format == "PNG"
        assert min(image.size) > 1000


@pytest.mark.parametrize(
    ("name", "size"), [("cider-mill", (612, 792)), ("wood-lathe", (595.28, 841.89))]
)
def test_paper_is_what_is_likely_at_hand(mountcalc, cider, tmp_path, name, size):
    file = cider.with_name(f"{name}.toml")
    done = mountcalc("draw", file, "--out", tmp_path, "--only", "assembly", "--format", "pdf")
    (path,) = written(done)
    for page in pypdfium2.PdfDocument(path):
        assert sorted(page.get_size()) == pytest.approx(size, abs=0.02)


def test_base_is_drawn_where_it_is_named(mountcalc, cider, tmp_path):
    done = mountcalc("draw", cider, "--out", tmp_path, "--only", "base", "--format", "dxf")
    assert [path.rsplit("-", 1)[1] for path in written(done)] == ["base.dxf"]


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        (
            ("--format", "pdf,dwg"),
            'format: one of pdf, dxf, svg, png is wanted, got "dwg"',
        ),
        (("--format", ""), 'format: one of pdf, dxf, svg, png is wanted, got ""'),
        (
            ("--only", "plates"),
            "only: one of plate, base, guard, assembly, along-shafts is wanted, "
            'got "plates"; did you mean plate?',
        ),
        (
            ("--sheet", "tabloit"),
            'sheet: one of a4, a3, letter, tabloid is wanted, got "tabloit"; did you mean tabloid?',
        ),
    ],
)
def test_mistakes_are_one_line_and_nothing_is_written(
    mountcalc, cider, tmp_path, arguments, message
):
    done = mountcalc("draw", cider, "--out", tmp_path, *arguments)
    assert done.code == 2
    assert done.out == ""
    assert done.err == f"mountcalc: {message}\n"
    assert not list(tmp_path.iterdir())


def drawn_to(mountcalc, cider, folder):
    """What is said where nothing can be drawn, and that it is a line and nothing is computed."""
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(drawings, "drawings_of", None)
        done = mountcalc("draw", cider, "--out", folder, "--only", "along-shafts")
    assert done.code == 2
    assert done.out == ""
    assert done.err.count("\n") == 1
    return done.err.removesuffix("\n")


def test_a_file_is_no_folder(mountcalc, cider, tmp_path):
    taken = tmp_path / "file"
    taken.write_text("taken")
    assert (
        drawn_to(mountcalc, cider, taken)
        == f"mountcalc: {taken}: a folder is wanted, this is a file"
    )
    below = taken / "a" / "b"
    assert (
        drawn_to(mountcalc, cider, below)
        == f"mountcalc: {below}: a folder is wanted, {taken} is a file"
    )
    assert taken.read_text() == "taken"
    assert [path.name for path in tmp_path.iterdir()] == ["file"]


@pytest.mark.parametrize("below", [(), ("a", "b")])
def test_a_folder_that_must_not_be_written_to_is_told(
    mountcalc, cider, tmp_path, monkeypatch, below
):
    # Who runs the tests may be allowed everything.
    monkeypatch.setattr("os.access", lambda path, _: path != tmp_path)
    folder = tmp_path.joinpath(*below)
    place = tmp_path if below else "this folder"
    assert (
        drawn_to(mountcalc, cider, folder)
        == f"mountcalc: {folder}: nothing may be written in {place}"
    )
    assert not list(tmp_path.iterdir())


def test_a_link_that_leads_nowhere_is_told(mountcalc, cider, tmp_path):
    first, second = tmp_path / "first", tmp_path / "second"
    first.symlink_to(second)
    second.symlink_to(first)
    assert drawn_to(mountcalc, cider, first).startswith(f"mountcalc: {first}: cannot be written")


def test_folders_that_are_missing_are_made(mountcalc, cider, tmp_path):
    folder = tmp_path / "a" / "b"
    done = mountcalc("draw", cider, "--out", folder, "--only", "along-shafts", "--format", "dxf")
    assert written(done) == [str(folder / "cider-mill-along-shafts.dxf")]
    assert [path.name for path in folder.iterdir()] == ["cider-mill-along-shafts.dxf"]


def test_a_full_disk_leaves_neither_files_nor_folders(mountcalc, cider, tmp_path, monkeypatch):
    def full(_):
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("os.fsync", full)
    folder = tmp_path / "a" / "b"
    done = mountcalc("draw", cider, "--out", folder, "--only", "along-shafts", "--format", "dxf")
    assert done.code == 2
    assert done.err.count("\n") == 1
    assert "No space left on device" in done.err
    assert not list(tmp_path.iterdir())


def test_a_scenario_with_mistakes_is_not_drawn(mountcalc, tmp_path):
    file = tmp_path / "bad.toml"
    file.write_text("[plate]\nlength = '-3 in'\n", encoding="utf-8")
    done = mountcalc("draw", file, "--out", tmp_path / "new")
    assert done.code == 2
    assert "bad.toml" in done.err
    assert not (tmp_path / "new").exists()


def test_what_comes_into_a_keep_out_is_told_where_no_page_tells_it(mountcalc, cider, tmp_path):
    """Of a guard that is drawn for a router alone, too."""
    barred = tmp_path / "barred.toml"
    ground = '[[keep_out]]\nname = "post"\nbox = [["5 1/4 in", "-2 in"], ["8 in", "2 in"]]\n'
    barred.write_text(f"{cider.read_text()}\n{ground}", encoding="utf-8")
    done = mountcalc("draw", barred, "--out", tmp_path, "--format", "dxf", "--only", "guard")
    assert done.code == 0
    assert re.search(
        r'^The guard stands [\d/ ]+ in in the keep-out "post"\.$', done.err, re.MULTILINE
    )
