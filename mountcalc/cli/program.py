"""The program: all commands, and one line of text and an exit code for every error."""

from __future__ import annotations

import gc
import sys

from mountcalc.cli import belt_commands, drawing_commands, layout_commands, mount_commands
from mountcalc.cli.application import app
from mountcalc.cli.speech import EXIT_BAD_INPUT, EXIT_OUR_FAULT, talk
from mountcalc.errors import MountcalcError, MountError, ScenarioError

__all__ = ["main"]

# Importing a module of commands adds them; they are listed so in the help.
COMMANDS = (mount_commands, belt_commands, layout_commands, drawing_commands)


def _located(error: MountError) -> list[str]:
    """The error with file and line in front, like the mistakes of a file, and what may cause it."""
    from mountcalc.scenario.reader import doubts, key_line  # noqa: PLC0415

    line = key_line(error.source, error.key)
    where = error.source if line is None else f"{error.source}:{line}"
    return [f"{where}: {error}", *ScenarioError(error.source, doubts(error.source)).lines()]


def main() -> None:
    """Run the command line; every error becomes a line of text and an exit code."""
    gc.disable()  # one short run makes little garbage; looking for it takes a twentieth of the time
    try:
        app()
    except ScenarioError as error:
        for line in error.lines():
            talk(line)
        sys.exit(error.exit_code)
    except MountError as error:
        for line in _located(error):
            talk(line)
        sys.exit(error.exit_code)
    except MountcalcError as error:
        talk(f"mountcalc: {error}")
        sys.exit(error.exit_code)
    except OSError as error:
        talk(f"mountcalc: the output cannot be written: {error.strerror or error}")
        sys.exit(EXIT_BAD_INPUT)
    except Exception as error:  # noqa: BLE001 (the last line of defence: no traceback for users)
        talk(
            f"mountcalc: a fault in mountcalc itself, not in your file ({type(error).__name__}: "
            f"{error}). Please report it with the scenario file."
        )
        sys.exit(EXIT_OUR_FAULT)
    finally:
        gc.enable()
