"""The command ``draw``."""

from __future__ import annotations

import gc
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from mountcalc.console.application import app
from mountcalc.console.arguments import ScenarioFile, scenario_of, source_of, stem_of
from mountcalc.console.choices import (
    DrawingName,
    FileFormat,
    Sheet,
    completion,
    listed,
    one_of,
    some_of,
)
from mountcalc.console.progress import progress
from mountcalc.console.speech import say_written, talk

if TYPE_CHECKING:
    from mountcalc.drafting.drawing import Drawing


_OF_LAYOUT = 0.3  # of the time that draw takes


@app.command(
    epilog="""\b
Examples:
  mountcalc draw cider-mill.toml --out drawings
  mountcalc draw cider-mill.toml --out drawings --only plate,guard --sheet tabloid
  mountcalc draw cider-mill.toml --out drawings --format pdf,dxf,svg,png --base --mirror
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
            autocompletion=completion(Sheet),
            help=f"Paper: one of {listed(Sheet)}. Without it: letter for a scenario in inches, "
            "else a4.",
        ),
    ] = None,
    format_: Annotated[
        str,
        typer.Option(
            "--format",
            metavar="LIST",
            autocompletion=completion(FileFormat),
            help=f"Any of {listed(FileFormat)}, with commas.",
        ),
    ] = "pdf,dxf",
    only: Annotated[
        str | None,
        typer.Option(
            metavar="LIST",
            autocompletion=completion(DrawingName),
            help=f"Any of {listed(DrawingName)}, with commas.",
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
    gc.enable()  # drawings make much garbage, unlike the other commands
    from mountcalc.drafting.formats.files import drawing_files, sheet_of  # noqa: PLC0415
    from mountcalc.draw.build import Build  # noqa: PLC0415
    from mountcalc.draw.drawings import drawings_of  # noqa: PLC0415
    from mountcalc.draw.keep_outs import keep_out_cautions  # noqa: PLC0415
    from mountcalc.pages.files import refuse_other_than_folder, write_files  # noqa: PLC0415

    formats = set(some_of("format", format_, FileFormat))
    names = set(DrawingName) - {DrawingName.BASE}
    if only is not None:
        names = set(some_of("only", only, DrawingName))
    if base:
        names.add(DrawingName.BASE)
    asked = None if sheet is None else one_of("sheet", sheet, Sheet)
    scenario = scenario_of(file)
    refuse_other_than_folder(out)
    build = Build(scenario)
    paper = asked or sheet_of(scenario)
    drawings: dict[str, Drawing] = {}
    contents: dict[Path, bytes] = {}
    with progress() as report:
        for done, wanted in enumerate(name for name in DrawingName if name in names):
            report(_OF_LAYOUT * done / len(names), f"laying out: {wanted}")
            drawings |= {drawing.name: drawing for drawing in drawings_of(build, [wanted])}
        if mirror:
            drawings |= {f"{name}-mirrored": one.mirrored() for name, one in drawings.items()}
        for done, (name, drawing) in enumerate(drawings.items()):
            report(_OF_LAYOUT + (1 - _OF_LAYOUT) * done / len(drawings), f"drawing: {name}")
            for ending, content in drawing_files(drawing, paper, formats).items():
                contents[out / f"{stem_of(file)}-{name}.{ending}"] = content
        write_files(contents, [source_of(file)])
    say_written(contents)
    talk(*keep_out_cautions(build))
