"""Commands on belts: belts, measure, card."""

from __future__ import annotations

from typing import Annotated

import typer

from mountcalc.cli.application import app
from mountcalc.cli.arguments import AsJson, ScenarioFile, asked_quantity, asked_turns, one_setting
from mountcalc.cli.speech import say

__all__ = ["belts", "card"]


@app.command(
    epilog="""\b
Examples:
  mountcalc belts scenarios/cider-mill.toml
  mountcalc belts scenarios/cider-mill.toml --driven-speed "500 rpm"
  mountcalc belts scenarios/wood-lathe.toml --json
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
    json: AsJson = False,
) -> None:
    """Which belt: every published length that fits the travel, ranked, and why one is out."""
    from mountcalc.scenario.quantity_text import ROTATION_SPEED  # noqa: PLC0415
    from mountcalc.scenario.reader import read_scenario  # noqa: PLC0415
    from mountcalc.tasks.belt_choice import choose_belt  # noqa: PLC0415

    speed = asked_quantity("driven-speed", driven_speed, ROTATION_SPEED)
    scenario = read_scenario(file)
    choice = choose_belt(scenario, speed)
    if json:
        from mountcalc.show.data import as_json  # noqa: PLC0415

        say(as_json(choice))
    else:
        from mountcalc.show.belts_text import belts_text  # noqa: PLC0415

        say(belts_text(scenario, choice))


@app.command(
    epilog="""\b
Examples:
  mountcalc card scenarios/cider-mill.toml
  mountcalc card scenarios/cider-mill.toml --turns "1 1/2" --json
"""
)
def card(
    file: ScenarioFile,
    *,
    turns: Annotated[
        str | None,
        typer.Option(metavar="TURNS", help="For this setting instead of the gentlest one."),
    ] = None,
    json: AsJson = False,
) -> None:
    """A card for the bench: how to feel, hear and weigh the tension, and when to look again."""
    from mountcalc.scenario.reader import read_scenario  # noqa: PLC0415
    from mountcalc.tasks.bench_card import bench_card  # noqa: PLC0415

    asked = asked_turns(turns)
    scenario = read_scenario(file)
    result = bench_card(scenario, one_setting(asked))
    if json:
        from mountcalc.show.data import as_json  # noqa: PLC0415

        say(as_json(result))
    else:
        from mountcalc.show.card_text import card_text  # noqa: PLC0415

        say(card_text(scenario, result))
