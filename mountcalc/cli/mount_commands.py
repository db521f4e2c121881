"""Commands on a mount as it is: table, setting, check, plot."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from mountcalc.cli.application import app
from mountcalc.cli.arguments import (
    STANDARD,
    AsJson,
    ScenarioFile,
    asked_turns,
    one_setting,
    scenario_of,
    source_of,
    stem_of,
)
from mountcalc.cli.speech import EXIT_UNMET, say, say_bytes, say_written, talk
from mountcalc.errors import InputError

__all__ = ["check", "plot", "setting", "table"]


@app.command(
    epilog="""\b
Examples:
  mountcalc table scenarios/cider-mill.toml
  mountcalc table scenarios/cider-mill.toml --turns 0:3:1/4 --csv cider.csv
  mountcalc table scenarios/cider-mill.toml --json
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
    json: Annotated[
        bool, typer.Option("--json", help="Print JSON instead of the table for people.")
    ] = False,
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
    from mountcalc.tasks.setting import gentlest_setting  # noqa: PLC0415
    from mountcalc.tasks.table import tension_table  # noqa: PLC0415

    if json and csv == STANDARD:
        raise InputError("json and csv: one of them can go to standard output")
    asked = asked_turns(turns)
    scenario = scenario_of(file)
    result = tension_table(scenario, asked)
    if asked is not None and result.tighten_by is None:
        talk("there is no adjuster: --turns is left aside")
    if csv is not None:
        from mountcalc.show.data import as_csv  # noqa: PLC0415
        from mountcalc.show.files import write_files  # noqa: PLC0415

        content = as_csv(result).encode()
        if csv == STANDARD:
            say_bytes(content)
            return
        write_files({csv: content}, [source_of(file)])
        talk(f"written: {csv}")
    if json:
        from mountcalc.show.data import as_json  # noqa: PLC0415

        say(as_json(result))
    else:
        from mountcalc.show.text import table_text  # noqa: PLC0415

        say(table_text(scenario, result, gentlest_setting(scenario).methods))


@app.command(
    epilog="""\b
Examples:
  mountcalc setting scenarios/cider-mill.toml
  mountcalc setting scenarios/cider-mill.toml --plot setting.png
  mountcalc setting scenarios/cider-mill.toml --json
"""
)
def setting(
    file: ScenarioFile,
    *,
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
    from mountcalc.tasks.advice import advise  # noqa: PLC0415

    form = ""
    if plot is not None:
        from mountcalc.show.pictures import picture_format  # noqa: PLC0415

        form = picture_format(plot)
    scenario = scenario_of(file)
    advice = advise(scenario, always_remedies=remedies)
    if plot is not None:
        from mountcalc.show.files import write_files  # noqa: PLC0415
        from mountcalc.show.pictures import setting_picture  # noqa: PLC0415

        picture = setting_picture(scenario, advice.setting, form)
        write_files({plot: picture}, [source_of(file)])
        talk(f"written: {plot}")
    if json:
        from mountcalc.show.data import advice_as_json  # noqa: PLC0415

        say(advice_as_json(advice))
    else:
        from mountcalc.show.setting_text import setting_text  # noqa: PLC0415

        say(setting_text(scenario, advice))


@app.command(
    epilog="""\b
Examples:
  mountcalc check scenarios/cider-mill.toml
  mountcalc check scenarios/cider-mill.toml --turns 2 --json
"""
)
def check(
    file: ScenarioFile,
    *,
    turns: Annotated[
        str | None,
        typer.Option(metavar="TURNS", help="Judge this setting instead of the gentlest one."),
    ] = None,
    json: AsJson = False,
) -> None:
    """Every judgement we have, one line each; exit code 1 if any fails."""
    from mountcalc.tasks.check import check as run_check  # noqa: PLC0415

    asked = one_setting(turns)
    scenario = scenario_of(file)
    result = run_check(scenario, asked)
    if json:
        from mountcalc.show.data import as_json  # noqa: PLC0415

        say(as_json(result))
    else:
        from mountcalc.show.check_text import check_text  # noqa: PLC0415

        say(check_text(scenario, result))
    if not result.ok:
        raise typer.Exit(EXIT_UNMET)


@app.command(
    epilog="""\b
Examples:
  mountcalc plot scenarios/cider-mill.toml --out pictures
  mountcalc plot scenarios/cider-mill.toml --out pictures --turns 2
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
    from mountcalc.show.files import refuse_other_than_folder, write_files  # noqa: PLC0415
    from mountcalc.show.pictures import pictures  # noqa: PLC0415

    asked = one_setting(turns)
    scenario = scenario_of(file)
    refuse_other_than_folder(out)
    drawn = pictures(scenario, asked)
    paths = {out / f"{stem_of(file)}-{name}.png": png for name, png in drawn.items()}
    write_files(paths, [source_of(file)])
    say_written(paths)
