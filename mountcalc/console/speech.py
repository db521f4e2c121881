"""What the command line says, to standard output and beside it, losing nothing; its exit codes."""

from __future__ import annotations

import io
import os
import sys
import unicodedata
from collections.abc import Callable, Iterable, Iterator, Mapping
from contextlib import contextmanager, suppress
from pathlib import Path
from typing import TYPE_CHECKING

from mountcalc.errors import OutputError

if TYPE_CHECKING:
    from mountcalc.pages.as_json import Result

EXIT_UNMET = 1
EXIT_BAD_INPUT = 2
EXIT_OUR_FAULT = 3

# Signs that a terminal without UTF-8 cannot show, and what stands for them there.
_PLAIN_SIGNS = str.maketrans(
    {"–": "-", "—": "-", "×": "x", "÷": "/", "°": " deg", "²": "^2", "³": "^3", "µ": "u", "μ": "u"}
    | {"½": " 1/2", "¼": " 1/4", "¾": " 3/4", "≥": ">=", "≤": "<=", "±": "+/-", "…": "..."}
    | {"“": '"', "”": '"', "‘": "'", "’": "'", "«": '"', "»": '"', "ß": "ss", "ø": "o", "Ø": "O"}
)


def say(text: str) -> None:
    """Print a result."""
    lines = "\n".join(map(_printable, text.split("\n")))
    sys.stdout.write(_for_terminal(f"{lines}\n", sys.stdout.encoding))
    sys.stdout.flush()


def say_result(result: Result, page: Callable[[], str], *, json: bool) -> None:
    """Print a result as JSON, or else its page, which is made only then."""
    if json:
        from mountcalc.pages.as_json import as_json  # noqa: PLC0415

        say(as_json(result))
    else:
        say(page())


def say_bytes(content: bytes) -> None:
    """Print the content of a file."""
    with _as_our_error():
        sys.stdout.flush()
        sys.stdout.buffer.write(content)
        sys.stdout.flush()


def say_written(paths: Iterable[Path]) -> None:
    """Print the names of files that are the result."""
    say("\n".join(_printable(str(path)) for path in paths))


def write_beside(contents: Mapping[Path, bytes], *sources: Path | int) -> None:
    """Write files beside a result, all or none and not over its sources, and tell their names."""
    from mountcalc.pages.files import write_files  # noqa: PLC0415

    write_files(contents, sources)
    talk(*(f"written: {path}" for path in contents))


def talk(*lines: str) -> None:
    """Tell the person something that is no part of the result, if there is a way to."""
    try:
        for line in lines:
            sys.stderr.write(_for_terminal(f"{_printable(line)}\n", sys.stderr.encoding))
        sys.stderr.flush()
    except OSError:
        with suppress(OSError):  # what is kept back must not fail again as the program ends
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stderr.fileno())


def _printable(text: str) -> str:
    """The text without what would steer a terminal."""
    if text.isprintable():
        return text
    return "".join(
        char if char.isprintable() or unicodedata.category(char) == "Zs" else ascii(char)[1:-1]
        for char in text
    )


def _for_terminal(text: str, encoding: str | None) -> str:
    """The text as the terminal's encoding can show it, with nothing left out."""
    encoding = encoding or "ascii"
    try:
        text.encode(encoding)
    except UnicodeEncodeError:
        return "".join(_kept(char, encoding) for char in text.translate(_PLAIN_SIGNS))
    return text


def _kept(char: str, encoding: str) -> str:
    """A sign, else its letter without accents, else its number."""
    letters = unicodedata.normalize("NFKD", char)
    for way in (char, "".join(one for one in letters if not unicodedata.combining(one))):
        try:
            way.encode(encoding)
        except UnicodeEncodeError:
            continue
        return way
    return char.encode("ascii", "backslashreplace").decode("ascii")


class _Whole(io.TextIOWrapper):
    """A text stream whose failures are errors of ours, wherever it is written from."""

    def write(self, text: str) -> int:
        with _as_our_error():
            return super().write(text)

    def flush(self) -> None:
        with _as_our_error():
            super().flush()


@contextmanager
def _as_our_error() -> Iterator[None]:
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
        sys.stdout = _Whole(buffer, encoding, errors)


def give_up_output() -> None:
    """Let what cannot be written go nowhere, so that the interpreter does not try again."""
    if isinstance(sys.stdout, _Whole):
        with suppress(OSError):
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
