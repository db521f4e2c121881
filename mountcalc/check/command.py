"""The command ``check``."""

from __future__ import annotations

from typing import Annotated

import typer

from mountcalc.console.application import app
from mountcalc.console.arguments import AsJson, More, ScenarioFile, one_setting, scenario_of
from mountcalc.console.speech import EXIT_UNMET, say_result


@app.command(
    epilog="""\b
Examples:
  mountcalc check cider-mill.toml
  mountcalc check cider-mill.toml --turns 2 --json
"""
)
def check(
    file: ScenarioFile,
    *,
    turns: Annotated[
        str | None,
        typer.Option(metavar="TURNS", help="Judge this setting instead of the gentlest one."),
    ] = None,
    more: More = False,
    json: AsJson = False,
) -> None:
    """Every judgement there is, and what cures those that fail; exit code 1 if any fails."""
    from mountcalc.check.check import check as run_check  # noqa: PLC0415
    from mountcalc.check.page import check_text  # noqa: PLC0415

    asked = one_setting(turns)
    scenario = scenario_of(file)
    result = run_check(scenario, asked)
    say_result(result, lambda: check_text(scenario, result, more=more), json=json)
    if not result.ok:
        raise typer.Exit(EXIT_UNMET)
