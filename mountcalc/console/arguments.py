"""Arguments that several commands take, and how they are read."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from mountcalc.errors import InputError

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mountcalc.scenario.model import Scenario
    from mountcalc.scenario.search import Search
    from mountcalc.scenario.text.quantities import ValueKind

STANDARD = Path("-")
_INPUT = "standard input"
_STEM = "mount"  # of files made of standard input

# Whether files can be read and written is told by those who do it, in a line: ``readable=False``
# keeps the application from telling it with its usage.
ScenarioFile = Annotated[
    Path,
    typer.Argument(
        metavar="FILE",
        readable=False,
        help="Scenario file (TOML); - reads standard input.",
        show_default=False,
    ),
]
AsJson = Annotated[bool, typer.Option("--json", help="Print JSON instead of the text.")]
More = Annotated[
    bool, typer.Option("--more", help="Also print notes, sources and all cautions (JSON has them).")
]

# What was read, by its name in messages: standard input cannot be read again for an error's line.
_texts: dict[str, str] = {}


def scenario_of(file: Path) -> Scenario:
    """Read the scenario of a command."""
    from mountcalc.scenario.reader import parse_scenario  # noqa: PLC0415

    return parse_scenario(*_read(file))


def search_of(file: Path) -> Search:
    """Read the search of a command."""
    from mountcalc.scenario.reader import parse_search  # noqa: PLC0415

    return parse_search(*_read(file))


def _read(file: Path) -> tuple[str, str]:
    from mountcalc.scenario.reader import read_text  # noqa: PLC0415

    if file != STANDARD:
        text, source = read_text(file)
    elif sys.stdin is None:
        raise InputError(f"{_INPUT} is closed: there is nothing to read")
    else:
        text, source = read_text(_INPUT, sys.stdin.buffer)
    _texts[source] = text
    return text, source


def text_of(source: str) -> str:
    """What a command has read by that name; nothing if it was nothing."""
    return _texts.get(source, "")


def stem_of(file: Path) -> str:
    """What names of files made of a scenario begin with."""
    return _STEM if file == STANDARD else file.stem


def source_of(file: Path) -> Path | int:
    """What no result may be written over."""
    return 0 if file == STANDARD else file


def asked_turns(text: str | None) -> NDArray[np.float64] | None:
    """Read the turns of an option; None where it was not given."""
    if text is None:
        return None
    from mountcalc.pages.amounts import parse_turns  # noqa: PLC0415

    return parse_turns(text)


def one_setting(text: str | None) -> float | None:
    """Read the one number of turns of an option; None where it was not given."""
    try:
        asked = asked_turns(text)
    except InputError:
        asked = None
    else:
        if asked is None:
            return None
    if asked is None or asked.size != 1:
        raise InputError(f"turns: one number is wanted here, such as 2 or 1 1/2, got {text!r}")
    return float(asked[0])


def asked_quantity(name: str, text: str | None, kind: ValueKind) -> float | None:
    """Read the quantity of an option [SI]; None where it was not given."""
    if text is None:
        return None
    from mountcalc.scenario.text.quantities import ValueTextError, read_quantity  # noqa: PLC0415

    try:
        return read_quantity(text, kind)
    except ValueTextError as error:
        raise InputError(f"{name}: {error}") from None


def whole_number(name: str, text: str, low: int, high: int) -> int:
    """Read a whole number of an option."""
    plain = text.strip().replace(",", "").replace("_", "")
    if plain.isascii() and plain.isdigit() and len(plain) <= len(str(high)):
        value = int(plain)
        if low <= value <= high:
            return value
    raise InputError(f"{name}: a whole number from {low:,} to {high:,} wanted, got {text!r}")
