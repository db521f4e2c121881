"""The command line: the only module that prints, and the one place that ends with an exit code.

Heavy modules are imported inside the command that needs them.
"""

from __future__ import annotations

import gc
import os
import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

# The validation library would look through all installed packages for plug-ins, at every start.
os.environ.setdefault("PYDANTIC_DISABLE_PLUGINS", "__all__")

import typer

from mountcalc import __version__
from mountcalc.errors import (
    InputError,
    MountcalcError,
    MountError,
    ScenarioError,
)

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

__all__ = ["app", "main"]

EXIT_UNMET = 1
EXIT_BAD_INPUT = 2
EXIT_OUR_FAULT = 3

_EPILOG = """\b
Exit codes:
  0  done
  1  mountcalc check: a judgement failed
  2  the input cannot be used, or a file cannot be read or written
  3  a fault in mountcalc itself

Belts and motors hurt: unplug and lock out before hands go in, block the plate
before slackening, guard the drive as local codes ask.
"""

# Signs that a terminal without UTF-8 cannot show, and what stands for them there.
_PLAIN_SIGNS = str.maketrans(
    {"–": "-", "—": "-", "×": "x", "÷": "/", "°": " deg", "²": "^2", "³": "^3", "µ": "u", "μ": "u"}
    | {"½": " 1/2", "¼": " 1/4", "¾": " 3/4", "≥": ">=", "≤": "<=", "±": "+/-", "…": "..."}
    | {"“": '"', "”": '"', "‘": "'", "’": "'"}
)

app = typer.Typer(
    name="mountcalc",
    help="Lay out and set a hinged motor mount: how much belt tension, shaft load, bearing load "
    "and adjuster force each turn of the adjuster gives.",
    epilog=_EPILOG,
    no_args_is_help=True,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["-h", "--help"]},
)

ScenarioFile = Annotated[
    Path, typer.Argument(metavar="FILE", help="Scenario file (TOML).", show_default=False)
]


def _version(wanted: bool) -> None:  # noqa: FBT001  # typer calls it so
    if wanted:
        _say(f"mountcalc {__version__}")
        raise typer.Exit


@app.callback()
def _common(
    *,
    version: Annotated[
        bool, typer.Option("--version", callback=_version, is_eager=True, help="Show the version.")
    ] = False,
) -> None:
    """Take the options that belong to no command; the callback of each has acted already."""
    del version


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
        typer.Option(metavar="PATH", help="Also write the rows to this file as CSV."),
    ] = None,
) -> None:
    """Tension, shaft load, bearing loads and adjuster force against turns of the adjuster."""
    from mountcalc.scenario.reader import read_scenario  # noqa: PLC0415
    from mountcalc.tasks.table import tension_table  # noqa: PLC0415

    asked = _asked_turns(turns)
    scenario = read_scenario(file)
    result = tension_table(scenario, asked)
    if asked is not None and result.tighten_by is None:
        _talk("there is no adjuster: --turns is left aside")
    if csv is not None:
        from mountcalc.show.data import as_csv  # noqa: PLC0415
        from mountcalc.show.files import write_files  # noqa: PLC0415

        write_files({csv: as_csv(result).encode()})
        _talk(f"written: {csv}")
    if json:
        from mountcalc.show.data import as_json  # noqa: PLC0415

        _say(as_json(result))
    else:
        from mountcalc.show.text import table_text  # noqa: PLC0415

        _say(table_text(scenario, result))


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
    json: Annotated[bool, typer.Option("--json", help="Print JSON instead of the text.")] = False,
    plot: Annotated[
        Path | None, typer.Option(metavar="FILE.png", help="Also draw the range as a picture.")
    ] = None,
    remedies: Annotated[
        bool,
        typer.Option("--remedies", help="Solve what would widen the range although it is open."),
    ] = False,
) -> None:
    """The gentlest setting: between slip and the bearings' limits, and what would widen it."""
    from mountcalc.scenario.reader import read_scenario  # noqa: PLC0415
    from mountcalc.tasks.advice import advise  # noqa: PLC0415

    scenario = read_scenario(file)
    advice = advise(scenario, always_remedies=remedies)
    if plot is not None:
        from mountcalc.show.files import write_files  # noqa: PLC0415
        from mountcalc.show.pictures import setting_picture  # noqa: PLC0415

        write_files({plot: setting_picture(scenario, advice.setting)})
        _talk(f"written: {plot}")
    if json:
        from mountcalc.show.data import advice_as_json  # noqa: PLC0415

        _say(advice_as_json(advice))
    else:
        from mountcalc.show.setting_text import setting_text  # noqa: PLC0415

        _say(setting_text(scenario, advice))


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
    json: Annotated[bool, typer.Option("--json", help="Print JSON instead of the text.")] = False,
) -> None:
    """Every judgement we have, one line each; exit code 1 if any fails."""
    from mountcalc.scenario.reader import read_scenario  # noqa: PLC0415
    from mountcalc.tasks.check import check as run_check  # noqa: PLC0415

    asked = _asked_turns(turns)
    scenario = read_scenario(file)
    result = run_check(scenario, _one_setting(asked))
    if json:
        from mountcalc.show.data import as_json  # noqa: PLC0415

        _say(as_json(result))
    else:
        from mountcalc.show.check_text import check_text  # noqa: PLC0415

        _say(check_text(scenario, result))
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
    out: Annotated[Path, typer.Option(metavar="DIR", help="Folder for the PNG files.")] = Path(),
    turns: Annotated[
        str | None,
        typer.Option(metavar="TURNS", help="The other setting that the layout shows."),
    ] = None,
) -> None:
    """Two pictures: loads against turns, and the layout to scale."""
    import logging  # noqa: PLC0415

    # Without a home to write to, matplotlib would tell users of its cache.
    logging.getLogger("matplotlib").setLevel(logging.ERROR)
    from mountcalc.scenario.reader import read_scenario  # noqa: PLC0415
    from mountcalc.show.pictures import pictures  # noqa: PLC0415

    asked = _asked_turns(turns)
    scenario = read_scenario(file)
    drawn = pictures(scenario, _one_setting(asked))

    from mountcalc.show.files import write_files  # noqa: PLC0415

    paths = {out / f"{file.stem}-{name}.png": png for name, png in drawn.items()}
    write_files(paths)
    for path in paths:
        _say(str(path))


def _asked_turns(text: str | None) -> NDArray[np.float64] | None:
    if text is None:
        return None
    from mountcalc.tasks.turns import parse_turns  # noqa: PLC0415

    return parse_turns(text)


def _one_setting(asked: NDArray[np.float64] | None) -> float | None:
    if asked is None:
        return None
    if asked.size != 1:
        raise InputError("turns: one number is wanted here, such as 2 or 1 1/2")
    return float(asked[0])


def _say(text: str) -> None:
    typer.echo(_for_terminal(text, sys.stdout.encoding))


def _talk(text: str) -> None:
    typer.echo(_for_terminal(text, sys.stderr.encoding), err=True)


def _for_terminal(text: str, encoding: str | None) -> str:
    """The text as the terminal's encoding can show it."""
    encoding = encoding or "ascii"
    try:
        text.encode(encoding)
    except UnicodeEncodeError:
        return text.translate(_PLAIN_SIGNS).encode(encoding, "replace").decode(encoding)
    return text


def _located(error: MountError) -> str:
    """The error with file and line in front, like the mistakes of a scenario file."""
    from mountcalc.scenario.reader import key_line  # noqa: PLC0415

    line = key_line(error.source, error.key)
    where = error.source if line is None else f"{error.source}:{line}"
    return f"{where}: {error}"


def main() -> None:
    """Run the command line; every error becomes a line of text and an exit code."""
    gc.disable()  # one short run makes little garbage; looking for it takes a twentieth of the time
    try:
        app()
    except ScenarioError as error:
        for line in error.lines():
            _talk(line)
        sys.exit(error.exit_code)
    except MountError as error:
        _talk(_located(error))
        sys.exit(error.exit_code)
    except MountcalcError as error:
        _talk(f"mountcalc: {error}")
        sys.exit(error.exit_code)
    except OSError as error:
        _talk(f"mountcalc: the output cannot be written: {error.strerror or error}")
        sys.exit(EXIT_BAD_INPUT)
    except Exception as error:  # noqa: BLE001 (the last line of defence: no traceback for users)
        _talk(
            f"mountcalc: a fault in mountcalc itself, not in your file ({type(error).__name__}: "
            f"{error}). Please report it with the scenario file."
        )
        sys.exit(EXIT_OUR_FAULT)
    finally:
        gc.enable()
