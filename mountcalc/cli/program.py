"""The program: all commands, and one line of text and an exit code for every error."""

from __future__ import annotations

import gc
import sys
from pathlib import Path
from typing import Any, NoReturn

import typer

from mountcalc.belts.command import belts
from mountcalc.card.command import card
from mountcalc.check.command import check
from mountcalc.console.application import app
from mountcalc.console.arguments import text_of
from mountcalc.console.speech import (
    EXIT_BAD_INPUT,
    EXIT_OUR_FAULT,
    give_up_output,
    prepare_streams,
    talk,
)
from mountcalc.draw.command import draw
from mountcalc.errors import MountcalcError, MountError, ScenarioError
from mountcalc.example.command import example
from mountcalc.explain.command import explain
from mountcalc.fit.command import fit
from mountcalc.layout.command import plot
from mountcalc.measure.command import measure
from mountcalc.new.command import new
from mountcalc.parts.command import parts
from mountcalc.place.command import place
from mountcalc.report.command import report
from mountcalc.setting.command import setting
from mountcalc.table.command import table
from mountcalc.tolerance.command import tolerance

# A room's command adds itself as it is imported; the help lists them in this order.
_COMMANDS = (
    *(new, example, table, setting, check, plot, belts, card, fit, place, tolerance, draw, parts),
    *(report, measure, explain),
)
app.registered_commands.sort(
    key=lambda command: next(i for i, one in enumerate(_COMMANDS) if one is command.callback)
)
# A call that cannot be understood; the library names only one of its kinds.
_UsageError: Any = typer.BadParameter.__bases__[0]


def run() -> NoReturn:
    """Run the command line; every error becomes a line of text and an exit code."""
    gc.disable()  # one short run makes little garbage; looking for it takes a twentieth of the time
    try:
        prepare_streams()
        code = _program()(standalone_mode=False, prog_name="mountcalc") or 0
        sys.stdout.flush()
    except Exception as error:  # noqa: BLE001 (the last line of defence: no traceback for users)
        code = _explained(error)
        give_up_output()
    finally:
        gc.enable()
    sys.exit(code)


class _AsTyped:
    """How an argument becomes a value: a path or a text as it was typed, what else as ever."""

    def coerce(self, value: Any, param: Any, ctx: Any) -> Any:  # noqa: ANN401  # as it is called
        """The value for the command."""
        if value is None or isinstance(value, Path):
            return value
        if param.type_descriptor.annotation in (str, Path):
            return param.type_descriptor.annotation(value)
        param._runtime_param = None  # noqa: SLF001
        return param.get_runtime_param().coerce(value, param=param, ctx=ctx)


def _program() -> Any:  # noqa: ANN401  # a kind that the library does not name
    """The application as the library makes it, but for how arguments become values.

    Its own way loads a library of data models at the first argument, which takes half as long as
    starting does. Where it has no such place, this changes nothing.
    """
    program: Any = typer.main.get_command(app)
    for command in (program, *program.commands.values()):
        for param in (*command.params, command.get_help_option(typer.Context(command))):
            param._runtime_param = _AsTyped()  # noqa: SLF001
    return program


def _explained(error: Exception) -> int:
    """Say what is wrong, and return the exit code that goes with it."""
    match error:
        case ScenarioError():
            lines = error.lines()
        case MountError():
            lines = _located(error)
        case MountcalcError():
            lines = [f"mountcalc: {error}"]
        case OSError():
            lines = [f"mountcalc: the output cannot be written: {error.strerror or error}"]
        case _UsageError():
            lines = [f"mountcalc: {_usage(error)}"]
        case _:
            lines = [
                f"mountcalc: a fault in mountcalc itself, not in your file "
                f"({type(error).__name__}: {error}). Please report it with the scenario file."
            ]
            talk(*lines)
            return EXIT_OUR_FAULT
    talk(*lines)
    return error.exit_code if isinstance(error, MountcalcError) else EXIT_BAD_INPUT


def _located(error: MountError) -> list[str]:
    """The error with file and line in front, like the mistakes of a file, and what may cause it."""
    from mountcalc.scenario.reader import doubts, key_line  # noqa: PLC0415

    text = text_of(error.source)
    line = key_line(text, error.key)
    where = error.source if line is None else f"{error.source}:{line}"
    return [f"{where}: {error}", *ScenarioError(error.source, doubts(text, error.source)).lines()]


def _usage(error: Any) -> str:  # noqa: ANN401  # a kind that the library does not name
    """What cannot be understood, in a line, and where the call is explained."""
    said = error.format_message().rstrip(".")
    command = error.ctx.command_path if error.ctx else "mountcalc"
    return f"{said[:1].lower()}{said[1:]} ({command} --help lists what is known)"
