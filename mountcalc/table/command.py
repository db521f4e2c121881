"""The command ``table``."""

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
    asked_turns,
    scenario_of,
    source_of,
)
from mountcalc.console.speech import say_bytes, say_result, talk, write_beside
from mountcalc.errors import InputError


@app.command(
    epilog="""\b
Examples:
  mountcalc table cider-mill.toml
  mountcalc table cider-mill.toml --turns 0:3:1/4 --csv cider.csv
  mountcalc table cider-mill.toml --json
"""
)
def table(
    file: ScenarioFile,
    *,
    turns: Annotated[
        str | None,
        typer.Option(
            metavar="A:B:STEP",
            help="Turns from zero, B included; fractions such as 0:6:1/4 will do. Without it: from "
            "zero to a little past the first limit that is reached.",
        ),
    ] = None,
    more: More = False,
    json: AsJson = False,
    csv: Annotated[
        Path | None,
        typer.Option(
            metavar="PATH",
            readable=False,
            help="Also write the rows to this file as CSV; - prints them instead of the table.",
        ),
    ] = None,
) -> None:
    """Tension, shaft load, bearing loads and adjuster force against turns of the adjuster."""
    from mountcalc.requirements.setting import gentlest_setting  # noqa: PLC0415
    from mountcalc.table.page import table_text  # noqa: PLC0415
    from mountcalc.table.table import tension_table  # noqa: PLC0415

    if json and csv == STANDARD:
        raise InputError("json and csv: one of them can go to standard output")
    asked = asked_turns(turns)
    scenario = scenario_of(file)
    result = tension_table(scenario, asked)
    if asked is not None and result.tighten_by is None:
        talk("there is no adjuster: --turns is left aside")
    if csv is not None:
        from mountcalc.table.results import as_csv  # noqa: PLC0415

        content = as_csv(result).encode()
        if csv == STANDARD:
            say_bytes(content)
            return
        write_beside({csv: content}, source_of(file))

    def page() -> str:
        return table_text(scenario, result, gentlest_setting(scenario), more=more)

    say_result(result, page, json=json)
