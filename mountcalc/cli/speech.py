"""What the command line says: to standard output, beside it, and as exit codes."""

from __future__ import annotations

import sys

import typer

__all__ = ["EXIT_BAD_INPUT", "EXIT_OUR_FAULT", "EXIT_UNMET", "say", "talk"]

EXIT_UNMET = 1
EXIT_BAD_INPUT = 2
EXIT_OUR_FAULT = 3

# Signs that a terminal without UTF-8 cannot show, and what stands for them there.
_PLAIN_SIGNS = str.maketrans(
    {"–": "-", "—": "-", "×": "x", "÷": "/", "°": " deg", "²": "^2", "³": "^3", "µ": "u", "μ": "u"}
    | {"½": " 1/2", "¼": " 1/4", "¾": " 3/4", "≥": ">=", "≤": "<=", "±": "+/-", "…": "..."}
    | {"“": '"', "”": '"', "‘": "'", "’": "'"}
)


def say(text: str) -> None:
    """Print a result."""
    typer.echo(_for_terminal(text, sys.stdout.encoding))


def talk(text: str) -> None:
    """Tell the person something that is no part of the result."""
    typer.echo(_for_terminal(text, sys.stderr.encoding), err=True)


def _for_terminal(text: str, encoding: str | None) -> str:
    """The text as the terminal's encoding can show it."""
    encoding = encoding or "ascii"
    try:
        text.encode(encoding)
    except UnicodeEncodeError:
        return text.translate(_PLAIN_SIGNS).encode(encoding, "replace").decode(encoding)
    return text
