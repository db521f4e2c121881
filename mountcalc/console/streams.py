"""Standard streams that lose nothing: whole writes, and an error where one cannot be made."""

from __future__ import annotations

import io
import os
import sys
from collections.abc import Iterator
from contextlib import contextmanager, suppress

from mountcalc.errors import OutputError

__all__ = ["as_our_error", "give_up_output", "prepare_streams"]


class _Told(io.TextIOWrapper):
    """A text stream whose failures are errors of ours, wherever it is written from."""

    def write(self, text: str) -> int:
        with as_our_error():
            return super().write(text)

    def flush(self) -> None:
        with as_our_error():
            super().flush()


@contextmanager
def as_our_error() -> Iterator[None]:
    """Turn a write that fails into an OutputError, which libraries let pass."""
    try:
        yield
    except OSError as error:
        raise OutputError(f"the output cannot be written: {error.strerror or error}") from None


def prepare_streams() -> None:
    """Make standard output and error such that nothing is lost silently."""
    closed = sys.stdout is None
    for number in range(3):  # else the next file that is opened would take the number's place
        try:
            os.fstat(number)
        except OSError:
            os.open(os.devnull, os.O_RDWR)
    if sys.stderr is None:
        sys.stderr = open(os.devnull, "w", encoding="utf-8")  # noqa: PTH123, SIM115
    if closed:
        sys.stdout = open(os.devnull, "w", encoding="utf-8")  # noqa: PTH123, SIM115
        raise OutputError("the output cannot be written: standard output is closed")
    if sys.stdout is sys.__stdout__ and isinstance(sys.stdout, io.TextIOWrapper):
        encoding, errors = sys.stdout.encoding, sys.stdout.errors
        buffer = sys.stdout.detach()
        if isinstance(buffer, io.RawIOBase):  # it takes a part of a write for the whole
            buffer = io.BufferedWriter(buffer)
        sys.stdout = _Told(buffer, encoding, errors)


def give_up_output() -> None:
    """Let what cannot be written go nowhere, so that the interpreter does not try again."""
    if isinstance(sys.stdout, _Told):
        with suppress(OSError):
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
