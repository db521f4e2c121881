"""Commands that make drawings for the bench: draw."""

from __future__ import annotations

import gc
from collections.abc import Collection
from pathlib import Path
from typing import Annotated

import typer

from mountcalc.cli.application import app
from mountcalc.cli.arguments import ScenarioFile
from mountcalc.cli.speech import say
from mountcalc.errors import InputError

__all__ = ["draw"]


@app.command(
    epilog="""\b
Examples:
  mountcalc draw scenarios/cider-mill.toml --out drawings
  mountcalc draw scenarios/cider-mill.toml --out drawings --only plate,guard --sheet tabloid
  mountcalc draw scenarios/cider-mill.toml --out drawings --format pdf,dxf,svg,png --base --mirror
"""
)
def draw(  # noqa: PLR0913 (a command has as many options as it needs)
    file: ScenarioFile,
    *,
    out: Annotated[
        Path, typer.Option(metavar="DIR", readable=False, help="Folder for the files.")
    ] = Path(),
    sheet: Annotated[
        str | None,
        typer.Option(
            metavar="NAME",
            help="Paper: a4, a3, letter or tabloid. Without it: letter for a scenario in inches, "
            "else a4.",
        ),
    ] = None,
    format_: Annotated[
        str,
        typer.Option("--format", metavar="LIST", help="Any of pdf, dxf, svg, png, with commas."),
    ] = "pdf,dxf",
    only: Annotated[
        str | None,
        typer.Option(
            metavar="LIST", help="Any of plate, base, guard, assembly, along-shafts, with commas."
        ),
    ] = None,
    base: Annotated[
        bool, typer.Option("--base", help="Also the half that the hinge is fixed to.")
    ] = False,
    mirror: Annotated[
        bool, typer.Option("--mirror", help="Also a copy of each, mirrored left for right.")
    ] = False,
) -> None:
    """Drawings at true scale: templates to tape on the board, files for a router, views."""
    _keep_libraries_quiet()
    gc.enable()  # drawings make much garbage, unlike the other commands
    from mountcalc.drawing.drawings import DRAWINGS, drawings_of  # noqa: PLC0415
    from mountcalc.scenario.reader import read_scenario  # noqa: PLC0415
    from mountcalc.show.drawing_files import FORMATS, drawing_files, sheet_of  # noqa: PLC0415
    from mountcalc.show.drawing_paper import PAPERS  # noqa: PLC0415
    from mountcalc.show.files import refuse_other_than_folder, write_files  # noqa: PLC0415

    formats = _some_of("format", format_, FORMATS)
    wanted = [name for name in DRAWINGS if name != "base"]
    names = wanted if only is None else _some_of("only", only, DRAWINGS)
    paper = None if sheet is None else _one_of("sheet", sheet, PAPERS)
    scenario = read_scenario(file)
    refuse_other_than_folder(out)
    drawings = drawings_of(scenario, [*names, "base"] if base else names)
    copies = {drawing.name: drawing for drawing in drawings}
    if mirror:
        copies |= {f"{drawing.name}-mirrored": drawing.mirrored() for drawing in drawings}
    contents = {
        out / f"{file.stem}-{name}.{ending}": content
        for name, drawing in copies.items()
        for ending, content in drawing_files(drawing, paper or sheet_of(scenario), formats).items()
    }
    write_files(contents)
    for path in contents:
        say(str(path))


def _keep_libraries_quiet() -> None:
    """Without a home to write to, two of them would tell users of their caches."""
    import logging  # noqa: PLC0415

    for library in ("matplotlib", "ezdxf"):
        logging.getLogger(library).setLevel(logging.ERROR)


def _some_of(option: str, text: str, possible: Collection[str]) -> list[str]:
    """The names in a list with commas."""
    return [_one_of(option, part, possible) for part in text.split(",")]


def _one_of(option: str, text: str, possible: Collection[str]) -> str:
    from mountcalc.scenario.wording import near_spelling, shown  # noqa: PLC0415

    name = text.strip().lower()
    if name not in possible:
        near = near_spelling(name, possible)
        hint = f"; did you mean {near}?" if near else ""
        known = ", ".join(possible)
        raise InputError(f"{option}: one of {known} is wanted, got {shown(text.strip())}{hint}")
    return name
