"""Asking a person at a terminal."""

from __future__ import annotations

import sys
from contextlib import suppress

from mountcalc.console.speech import say
from mountcalc.errors import InputError


def is_asked() -> bool:
    """Whether a person can be asked: both ways lead to a terminal."""
    return all(stream is not None and stream.isatty() for stream in (sys.stdin, sys.stdout))


def ask(prompt: str) -> str:
    """Return what was typed; an InputError where nothing more can be."""
    with suppress(ImportError):
        import readline  # noqa: F401, PLC0415  # lines can be edited, and called back
    try:
        sys.stdout.flush()
        typed = input(prompt)
    except EOFError:
        say("")
        raise InputError("stopped before the last answer: nothing is written") from None
    except UnicodeDecodeError:
        return "\ufffd"  # nothing that is asked for
    return typed.encode(errors="replace").decode()
