"""The command ``parts``."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from mountcalc.console.application import app
from mountcalc.console.arguments import (
    STANDARD,
    AsJson,
    More,
    ScenarioFile,
    scenario_of,
    source_of,
)
from mountcalc.console.speech import say_bytes, say_result, write_beside
from mountcalc.errors import InputError


@app.command(
    epilog="""\b
Examples:
  mountcalc parts cider-mill.toml
  mountcalc parts cider-mill.toml --csv parts.csv
"""
)
def parts(
    file: ScenarioFile,
    *,
    more: More = False,
    json: AsJson = False,
    csv: Annotated[
        Path | None,
        typer.Option(
            metavar="PATH",
            readable=False,
            help="Also write the parts to this file as CSV; - prints them instead of the page.",
        ),
    ] = None,
) -> None:
    """What to buy and to cut: bolt, hinges, belt, pulleys, boards, guard, each with its size."""
    from mountcalc.parts.page import parts_text  # noqa: PLC0415
    from mountcalc.parts.parts import parts_list  # noqa: PLC0415

    if json and csv == STANDARD:
        raise InputError("json and csv: one of them can go to standard output")
    scenario = scenario_of(file)
    result = parts_list(scenario)
    if csv is not None:
        from mountcalc.parts.results import as_csv  # noqa: PLC0415

        content = as_csv(result).encode()
        if csv == STANDARD:
            say_bytes(content)
            return
        write_beside({csv: content}, source_of(file))
    say_result(result, lambda: parts_text(scenario, result, more=more), json=json)
