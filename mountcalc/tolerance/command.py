"""The command ``tolerance``."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from mountcalc.console.application import app
from mountcalc.console.arguments import (
    AsJson,
    More,
    ScenarioFile,
    scenario_of,
    source_of,
    whole_number,
)
from mountcalc.console.speech import say_result, write_beside
from mountcalc.scenario import MOST_BUILDS, MOST_SEED


@app.command(
    epilog="""\b
Examples:
  mountcalc tolerance cider-mill.toml
  mountcalc tolerance cider-mill.toml --plot builds.png
  mountcalc tolerance cider-mill.toml --builds 100000 --json
"""
)
def tolerance(
    file: ScenarioFile,
    *,
    builds: Annotated[
        str, typer.Option(metavar="N", help=f"Builds to compute, 1 to {MOST_BUILDS:,}.")
    ] = "10000",
    seed: Annotated[str, typer.Option(metavar="N", help="Another number draws other builds.")] = (
        "0"
    ),
    more: More = False,
    json: AsJson = False,
    plot: Annotated[
        Path | None,
        typer.Option(
            metavar="PATH",
            readable=False,
            help="Also draw bands of tension and shares of errors: .png, .pdf or .svg.",
        ),
    ] = None,
) -> None:
    """How well it must be built: what errors of building and of the belt do to the setting."""
    count = whole_number("builds", builds, 1, MOST_BUILDS)
    number = whole_number("seed", seed, 0, MOST_SEED)
    form = ""
    if plot is not None:
        from mountcalc.pages.own_settings import picture_format  # noqa: PLC0415

        form = picture_format(plot)
    scenario = scenario_of(file)
    from mountcalc.tolerance.page import tolerance_text  # noqa: PLC0415
    from mountcalc.tolerance.tolerance import tolerance as run_tolerance  # noqa: PLC0415

    found = run_tolerance(scenario, count, number)
    if plot is not None:
        from mountcalc.pages.own_settings import image_of, own_settings  # noqa: PLC0415

        with own_settings():
            from mountcalc.tolerance.pictures import tolerance_figure  # noqa: PLC0415

            picture = image_of(tolerance_figure(scenario, found), form)
        write_beside({plot: picture}, source_of(file))
    say_result(found, lambda: tolerance_text(scenario, found, more=more), json=json)
