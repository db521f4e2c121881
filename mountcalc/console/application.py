"""The application that commands are added to; each command imports what it needs when it runs."""

from __future__ import annotations

import os
from typing import Annotated

# The validation library would look through all installed packages for plug-ins, at every start.
os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")

import typer

from mountcalc.console.speech import say
from mountcalc.version import __version__

_EPILOG = """\b
Exit codes:
  0  done
  1  mountcalc check: a judgement failed; mountcalc place: no layout will do;
     mountcalc fit --strum: no tone to be sure of
  2  the input cannot be used, or something cannot be read or written
  3  a fault in mountcalc itself

The files of the examples: mountcalc example cider-mill puts them here.

Belts and motors hurt: unplug and lock out before hands go in, block the plate
before slackening, guard the drive as local codes ask.
"""

app = typer.Typer(
    name="mountcalc",
    help="Lay out and set a hinged motor mount: how much belt tension, shaft load, bearing load "
    "and adjuster force each turn of the adjuster gives.",
    epilog=_EPILOG,
    invoke_without_command=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["-h", "--help"]},
)


def _version(wanted: bool) -> None:  # noqa: FBT001  # typer calls it so
    if wanted:
        say(f"mountcalc {__version__}")
        raise typer.Exit


@app.callback()
def _common(
    context: typer.Context,
    *,
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Show the version.")
    ] = False,
) -> None:
    """Take the options that belong to no command; the callback of each has acted already."""
    del version
    if context.invoked_subcommand is None:
        say(context.get_help())
