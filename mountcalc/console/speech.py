"""What the command line says: to standard output, beside it, and as exit codes."""

from __future__ import annotations

import sys
import unicodedata
from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress
from pathlib import Path
from typing import TYPE_CHECKING

from mountcalc.console.streams import as_our_error

if TYPE_CHECKING:
    from mountcalc.pages.as_json import Result

__all__ = [
    "EXIT_BAD_INPUT",
    "EXIT_OUR_FAULT",
    "EXIT_UNMET",
    "say",
    "say_bytes",
    "say_result",
    "say_written",
    "talk",
    "write_beside",
]

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
    with as_our_error():
        sys.stdout.flush()
        sys.stdout.buffer.write(content)
        sys.stdout.flush()


def say_written(paths: Iterable[Path]) -> None:
    """Print the names of files that are the result."""
    say("\n".join(_printable(str(path)) for path in paths))


def write_beside(contents: Mapping[Path, bytes], source: Path | int) -> None:
    """Write files beside a result, all or none and not over its source, and tell their names."""
    from mountcalc.pages.files import write_files  # noqa: PLC0415

    write_files(contents, [source])
    talk(*(f"written: {path}" for path in contents))


def talk(*lines: str) -> None:
    """Tell the person something that is no part of the result, if there is a way to."""
    with suppress(OSError):
        for line in lines:
            sys.stderr.write(_for_terminal(f"{_printable(line)}\n", sys.stderr.encoding))
        sys.stderr.flush()


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
