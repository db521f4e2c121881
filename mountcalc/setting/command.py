"""The command ``setting``."""

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
)
from mountcalc.console.speech import say_result, write_beside


@app.command(
    epilog="""\b
Examples:
  mountcalc setting cider-mill.toml
  mountcalc setting cider-mill.toml --plot setting.png
  mountcalc setting cider-mill.toml --json
"""
)
def setting(
    file: ScenarioFile,
    *,
    more: More = False,
    json: AsJson = False,
    plot: Annotated[
        Path | None,
        typer.Option(
            metavar="PATH",
            readable=False,
            help="Also draw the range as a picture: .png, .pdf or .svg.",
        ),
    ] = None,
    remedies: Annotated[
        bool,
        typer.Option("--remedies", help="Solve what would widen the range although it is open."),
    ] = False,
) -> None:
    """The gentlest setting: between slip and the bearings' limits, and what would widen it."""
    from mountcalc.setting.advice import advise  # noqa: PLC0415
    from mountcalc.setting.page import setting_text  # noqa: PLC0415

    form = ""
    if plot is not None:
        from mountcalc.pages.own_settings import picture_format  # noqa: PLC0415

        form = picture_format(plot)
    scenario = scenario_of(file)
    advice = advise(scenario, always_remedies=remedies)
    if plot is not None:
        from mountcalc.pages.own_settings import image_of, own_settings  # noqa: PLC0415
        from mountcalc.setting.series import setting_tables  # noqa: PLC0415

        tables = setting_tables(scenario, advice.setting)
        with own_settings():
            from mountcalc.setting.pictures import setting_figure  # noqa: PLC0415

            picture = image_of(setting_figure(scenario, advice.setting, *tables), form)
        write_beside({plot: picture}, source_of(file))
    say_result(advice, lambda: setting_text(scenario, advice, more=more), json=json)
