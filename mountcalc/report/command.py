"""The command ``report``."""

from __future__ import annotations

import gc
from pathlib import Path
from typing import Annotated

import typer

from mountcalc.console.application import app
from mountcalc.console.arguments import ScenarioFile, scenario_of, source_of, stem_of
from mountcalc.console.speech import say_written
from mountcalc.errors import InputError


@app.command(
    epilog="""\b
Examples:
  mountcalc report cider-mill.toml
  mountcalc report cider-mill.toml --out mill.html --pdf
"""
)
def report(
    file: ScenarioFile,
    *,
    out: Annotated[
        Path | None,
        typer.Option(
            metavar="PATH.html",
            readable=False,
            help="The page. Without it: the scenario's name, in the current folder.",
            show_default=False,
        ),
    ] = None,
    pdf: Annotated[
        bool, typer.Option("--pdf", help="Also the same as PDF, under the page's name.")
    ] = False,
) -> None:
    """One page for the wall and the telephone: what to buy, saw and set, and all that is known."""
    from mountcalc.pages.files import refuse_targets, write_files  # noqa: PLC0415
    from mountcalc.report.report import reported  # noqa: PLC0415

    page = Path(f"{stem_of(file)}.html") if out is None else out
    if page.suffix.lower() not in {".html", ".htm"}:
        raise InputError(f"out: a name that ends in .html is wanted, got {str(page)!r}")
    scenario = scenario_of(file)
    forms = {"html": page} | ({"pdf": page.with_suffix(".pdf")} if pdf else {})
    refuse_targets(forms.values(), [source_of(file)])
    gc.enable()  # pictures make much garbage, unlike the other commands
    made = reported(scenario, forms)
    contents = {path: made[form] for form, path in forms.items()}
    write_files(contents, [source_of(file)])
    say_written(contents)
