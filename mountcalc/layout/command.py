"""The command ``plot``."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from mountcalc.console.application import app
from mountcalc.console.arguments import (
    ScenarioFile,
    one_setting,
    scenario_of,
    source_of,
    stem_of,
)
from mountcalc.console.speech import say_written


@app.command(
    epilog="""\b
Examples:
  mountcalc plot cider-mill.toml --out pictures
  mountcalc plot cider-mill.toml --out pictures --turns 2
"""
)
def plot(
    file: ScenarioFile,
    out: Annotated[
        Path, typer.Option(metavar="DIR", readable=False, help="Folder for the PNG files.")
    ] = Path(),
    turns: Annotated[
        str | None,
        typer.Option(metavar="TURNS", help="The other setting that the layout shows."),
    ] = None,
) -> None:
    """Two pictures: loads against turns, and the layout to scale."""
    from mountcalc.pages.files import refuse_other_than_folder, write_files  # noqa: PLC0415
    from mountcalc.pages.own_settings import image_of, own_settings  # noqa: PLC0415

    asked = one_setting(turns)
    scenario = scenario_of(file)
    refuse_other_than_folder(out)
    with own_settings():
        from mountcalc.layout.figure import plot_figures  # noqa: PLC0415

        paths = {
            out / f"{stem_of(file)}-{name}.png": image_of(figure)
            for name, figure in plot_figures(scenario, asked).items()
        }
    write_files(paths, [source_of(file)])
    say_written(paths)
