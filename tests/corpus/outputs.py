"""What all commands give for the scenarios that ship: kept before a redesign, compared after it.

Run on demand, from the project's folder::

    python tests/corpus/outputs.py BEFORE            # before: about a minute
    python tests/corpus/outputs.py AFTER --against BEFORE

Text and CSV are compared line by line, JSON number by number (1e-9 of each), DXF by its entities,
PDF by the texts of each page with their boxes (0.01 pt), SVG as text. It ends with 1 where
anything differs, and names the first places of each file.
"""

import argparse
import json
import math
import re
import shutil
import subprocess
import sys
from itertools import zip_longest
from pathlib import Path

TOP = Path(__file__).parents[2]
SEARCHES = ("fretsaw-bench", "polishing-lathe")
PAGES = ("table", "setting", "check", "belts", "card", "tolerance", "parts")
MEASURED = (
    "--section A --outside 62in",
    "--section A --string 62in",
    "--designation 4L460",
    "--section SPZ --pitch 950mm",
)
RELATIVE, SHOWN = 1e-9, 5


def kept(folder, name, *arguments):
    """One run's standard output as a file; what it says beside it and its code as another."""
    done = subprocess.run(
        [sys.executable, "-m", "mountcalc", *arguments],
        capture_output=True,
        text=True,
        cwd=TOP,
        check=False,
    )
    (folder / name).write_text(done.stdout, encoding="utf-8")
    if done.stderr or done.returncode:
        beside = done.stderr.replace(str(folder), "FOLDER")
        (folder / f"{name}.err").write_text(f"{done.returncode}\n{beside}", encoding="utf-8")


def make(folder):
    """Every command on every scenario."""
    shutil.rmtree(folder, ignore_errors=True)
    folder.mkdir(parents=True)
    for scenario in sorted((TOP / "scenarios").glob("*.toml")):
        name, file = scenario.stem, f"scenarios/{scenario.name}"
        for page in PAGES:
            kept(folder, f"{name}.{page}.txt", page, file)
            kept(folder, f"{name}.{page}.json", page, file, "--json")
        log = f"scenarios/{name}-readings.csv"
        if (TOP / log).exists():
            kept(folder, f"{name}.fit.txt", "fit", file, log, "--more")
            kept(folder, f"{name}.fit.json", "fit", file, log, "--json")
        kept(folder, f"{name}.rows.txt", "table", file, "--csv", str(folder / f"{name}.csv"))
        kept(folder, f"{name}.remedies.txt", "setting", file, "--remedies")
        if name in SEARCHES:
            few = ("place", file, "--samples", "4096")
            written = str(folder / f"{name}-layouts")
            kept(folder, f"{name}.place.txt", *few, "--write", written)
            kept(folder, f"{name}.place.json", *few, "--json")
        drawn = ("draw", file, "--base", "--format", "dxf,pdf,svg")
        kept(folder, f"{name}.draw.txt", *drawn, "--out", str(folder / f"{name}-drawings"))
    for number, words in enumerate(MEASURED):
        kept(folder, f"measure-{number}.txt", "measure", *words.split())
        kept(folder, f"measure-{number}.json", "measure", *words.split(), "--json")
    for path in folder.rglob("*.dxf"):
        path.with_suffix(".dxf.txt").write_text("\n".join(entities(path)), encoding="utf-8")
        path.unlink()
    for path in folder.rglob("*.pdf"):
        path.with_suffix(".pdf.txt").write_text("\n".join(texts(path)), encoding="utf-8")
        path.unlink()


def entities(path):
    """A line for each entity of a DXF file, in their order."""
    import ezdxf

    for entity in ezdxf.readfile(path).modelspace():
        facts = {
            key: value
            for key, value in entity.dxfattribs().items()
            if key not in {"handle", "owner", "geometry"}
        }
        points = list(entity.get_points()) if entity.dxftype() == "LWPOLYLINE" else []
        yield f"{entity.dxftype()} {facts} {points}"


def texts(path):
    """A line for each piece of text of a PDF file, with its box in points."""
    import pypdfium2

    for number, page in enumerate(pypdfium2.PdfDocument(path), 1):
        yield f"page {number}: {page.get_size()}"
        on_page = page.get_textpage()
        for index in range(on_page.count_rects()):
            box = on_page.get_rect(index)
            yield f"{' '.join(f'{side:.2f}' for side in box)} {on_page.get_text_bounded(*box)!r}"


def differences(before, after):
    """Places at which two files differ, as sentences."""
    if before.suffix == ".json" and before.stat().st_size and after.stat().st_size:
        yield from in_data("", *(json.loads(path.read_text("utf-8")) for path in (before, after)))
        return
    lines = (path.read_text("utf-8").splitlines() for path in (before, after))
    for number, (old, new) in enumerate(zip_longest(*lines), 1):
        if old != new and not alike(old, new):
            yield f"{number}: {old!r} -> {new!r}"


def alike(old, new):
    """Whether two lines are the same but for their numbers, and those nearly so."""
    number = r"-?\d+\.\d+(?:e[-+]\d+)?"
    if old is None or new is None or re.sub(number, "#", old) != re.sub(number, "#", new):
        return False
    pairs = zip(re.findall(number, old), re.findall(number, new), strict=True)
    return all(
        math.isclose(float(one), float(two), rel_tol=RELATIVE, abs_tol=RELATIVE)
        for one, two in pairs
    )


def in_data(where, old, new):
    """Places at which two JSON values differ."""
    if isinstance(old, dict) and isinstance(new, dict):
        for key in sorted(old.keys() | new.keys()):
            yield from in_data(f"{where}.{key}", old.get(key, "(absent)"), new.get(key, "(absent)"))
    elif isinstance(old, list) and isinstance(new, list) and len(old) == len(new):
        for index, pair in enumerate(zip(old, new, strict=True)):
            yield from in_data(f"{where}[{index}]", *pair)
    elif isinstance(old, float) and isinstance(new, float | int):
        if not math.isclose(old, new, rel_tol=RELATIVE, abs_tol=RELATIVE):
            yield f"{where}: {old} -> {new}"
    elif old != new:
        yield f"{where}: {old!r} -> {new!r}"


def compare(before, after):
    """Print what differs; the number of files that do."""
    names = {
        path.relative_to(top)
        for top in (before, after)
        for path in top.rglob("*")
        if path.is_file()
    }
    bad = 0
    for name in sorted(names):
        if not (before / name).exists() or not (after / name).exists():
            found = [f"only {'after' if (after / name).exists() else 'before'}"]
        else:
            found = list(differences(before / name, after / name))
        if found:
            bad += 1
            print(f"{name}: {len(found)}")
            print("".join(f"    {place[:300]}\n" for place in found[:SHOWN]), end="")
    print(f"{len(names)} files, {bad} differ")
    return bad


def main():
    parser = argparse.ArgumentParser()
    parser.add_argument("folder", type=Path)
    parser.add_argument("--against", type=Path)
    asked = parser.parse_args()
    make(asked.folder.resolve())
    if asked.against:
        sys.exit(bool(compare(asked.against.resolve(), asked.folder.resolve())))


if __name__ == "__main__":
    main()
