"""The command ``card``."""

from __future__ import annotations

from typing import Annotated

import typer

from mountcalc.console.application import app
from mountcalc.console.arguments import (
    AsJson,
    More,
    ScenarioFile,
    one_setting,
    scenario_of,
)
from mountcalc.console.speech import say_result


@app.command(
    epilog="""\b
Examples:
  mountcalc card cider-mill.toml
  mountcalc card cider-mill.toml --turns "1 1/2" --json
"""
)
def card(
    file: ScenarioFile,
    *,
    turns: Annotated[
        str | None,
        typer.Option(metavar="TURNS", help="For this setting instead of the gentlest one."),
    ] = None,
    more: More = False,
    json: AsJson = False,
) -> None:
    """A card for the bench: how to feel, hear and weigh the tension, and when to look again."""
    from mountcalc.card.card import bench_card  # noqa: PLC0415
    from mountcalc.card.page import card_text  # noqa: PLC0415

    asked = one_setting(turns)
    scenario = scenario_of(file)
    result = bench_card(scenario, asked)
    say_result(result, lambda: card_text(scenario, result, more=more), json=json)
