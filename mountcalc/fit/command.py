"""The command ``fit``."""

from __future__ import annotations

from dataclasses import replace
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
    text_of,
)
from mountcalc.console.speech import EXIT_UNMET, say_result, write_beside
from mountcalc.errors import InputError


@app.command(
    epilog="""\b
Examples:
  mountcalc fit cider-mill.toml cider-mill-readings.csv
  mountcalc fit cider-mill.toml cider-mill-readings.csv --plot fit.png
  mountcalc fit cider-mill.toml cider-mill-readings.csv --write fitted.toml
  mountcalc fit cider-mill.toml --strum cider-mill-pluck.wav --plot spectrum.png
"""
)
def fit(  # noqa: PLR0913  # what is read, and each thing that is made of it
    file: ScenarioFile,
    readings: Annotated[
        Path | None,
        typer.Argument(
            metavar="READINGS",
            readable=False,
            help="Log of readings: CSV (date,turns,method,value,at,note) or TOML.",
            show_default=False,
        ),
    ] = None,
    *,
    more: More = False,
    json: AsJson = False,
    plot: Annotated[
        Path | None,
        typer.Option(
            metavar="PATH",
            readable=False,
            help="Also draw tension against turns, before and after, or the recording's spectrum: "
            ".png, .pdf or .svg.",
        ),
    ] = None,
    write: Annotated[
        Path | None,
        typer.Option(
            metavar="FITTED.toml",
            readable=False,
            help="Also write the scenario with what was fitted; FILE stays as it is.",
        ),
    ] = None,
    strum: Annotated[
        Path | None,
        typer.Option(
            metavar="REC.wav",
            readable=False,
            help="Instead of READINGS a recording of the plucked strand: its tone, for the log.",
        ),
    ] = None,
) -> None:
    """From readings at the machine to this belt's stiffness and the true zero, and how sure."""
    from mountcalc.fit.answer import fit_log  # noqa: PLC0415
    from mountcalc.fit.log import read_log  # noqa: PLC0415
    from mountcalc.fit.page import fit_text  # noqa: PLC0415
    from mountcalc.pages.own_settings import image_of, own_settings, picture_format  # noqa: PLC0415

    if strum is not None:
        if readings is not None or write is not None:
            raise InputError("strum: it goes without READINGS and --write: put its row in the log")
        _strum(file, strum, plot, more=more, json=json)
        return
    if readings is None:
        raise InputError("readings: the log is wanted, such as mill-readings.csv, or --strum")
    if plot is not None and plot == write:
        raise InputError("plot and write: give the picture and the scenario names of their own")
    form = "" if plot is None else picture_format(plot)
    scenario = scenario_of(file)
    found = fit_log(scenario, read_log(readings), str(readings))
    result, contents = found.fit, dict[Path, bytes]()
    if write is not None:
        contents[write] = found.file(text_of(scenario.source))
        result = replace(result, written=str(write))
    if plot is not None:
        with own_settings():
            from mountcalc.fit.figure import fit_figure  # noqa: PLC0415

            contents[plot] = image_of(fit_figure(scenario, found), form)
    if contents:
        write_beside(contents, source_of(file), readings)
    say_result(result, lambda: fit_text(scenario, result, more=more), json=json)


def _strum(file: Path, recording: Path, plot: Path | None, *, more: bool, json: bool) -> None:
    from mountcalc.fit.strum.page import strum_text  # noqa: PLC0415
    from mountcalc.fit.strum.strand import strum  # noqa: PLC0415
    from mountcalc.pages.own_settings import image_of, own_settings, picture_format  # noqa: PLC0415

    form = "" if plot is None else picture_format(plot)
    scenario = scenario_of(file)
    found = strum(scenario, recording)
    if plot is not None:
        with own_settings():
            from mountcalc.fit.strum.picture import strum_figure  # noqa: PLC0415

            picture = image_of(strum_figure(found), form)
        write_beside({plot: picture}, source_of(file), recording)
    say_result(found.told, lambda: strum_text(scenario, found.told, more=more), json=json)
    if found.told.tone is None:
        raise typer.Exit(EXIT_UNMET)
