"""The command ``example``."""

from __future__ import annotations

from pathlib import Path
from typing import Annotated

import typer

from mountcalc.console.application import app
from mountcalc.console.speech import say, say_written
from mountcalc.errors import InputError


def _names(incomplete: str) -> list[str]:
    from mountcalc.example.shipped import lessons  # noqa: PLC0415

    return [name for name in lessons() if name.startswith(incomplete)]


@app.command(
    epilog="""\b
Examples:
  mountcalc example
  mountcalc example cider-mill
  mountcalc example grindstone --out my-stone.toml
"""
)
def example(
    name: Annotated[
        str | None,
        typer.Argument(
            metavar="[NAME]",
            help="Which to copy; without it they are listed.",
            autocompletion=_names,
            show_default=False,
        ),
    ] = None,
    *,
    out: Annotated[
        Path | None,
        typer.Option(
            metavar="PATH", readable=False, help="Folder for the copy, or its name, ending in .toml"
        ),
    ] = None,
) -> None:
    """Scenarios that ship: what each teaches, or a copy of one to change; overwrites nothing."""
    from mountcalc.example.shipped import example_files, examples_text  # noqa: PLC0415
    from mountcalc.pages.files import write_files  # noqa: PLC0415

    if name is None:
        if out is not None:
            raise InputError("name: which one is to be copied? mountcalc example lists them")
        say(examples_text())
        return
    files = example_files(name)
    if out is not None and out.suffix.lower() == ".toml":
        contents = {out: next(iter(files.values()))}
    else:
        contents = {(out or Path()) / file: content for file, content in files.items()}
    write_files(contents, new=True)
    say_written(contents)
