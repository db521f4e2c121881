"""The command ``belts``."""

from __future__ import annotations

from typing import Annotated

import typer

from mountcalc.console.application import app
from mountcalc.console.arguments import AsJson, More, ScenarioFile, asked_quantity, scenario_of
from mountcalc.console.speech import say_result


@app.command(
    epilog="""\b
Examples:
  mountcalc belts cider-mill.toml
  mountcalc belts cider-mill.toml --driven-speed "500 rpm"
  mountcalc belts wood-lathe.toml --json
"""
)
def belts(
    file: ScenarioFile,
    *,
    driven_speed: Annotated[
        str | None,
        typer.Option(
            metavar="SPEED",
            help='Also look up pulleys of preferred diameters for this speed, such as "500 rpm".',
        ),
    ] = None,
    more: More = False,
    json: AsJson = False,
) -> None:
    """Which belt: every published length that fits the travel, ranked, and why one is out."""
    from mountcalc.belts.choice import choose_belt  # noqa: PLC0415
    from mountcalc.belts.page import belts_text  # noqa: PLC0415
    from mountcalc.scenario.text.quantities import ROTATION_SPEED  # noqa: PLC0415

    speed = asked_quantity("driven-speed", driven_speed, ROTATION_SPEED)
    scenario = scenario_of(file)
    choice = choose_belt(scenario, speed)
    say_result(choice, lambda: belts_text(scenario, choice, more=more), json=json)
