"""Arguments that several commands take, and how their text is read."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from mountcalc.errors import InputError

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

    from mountcalc.scenario.quantity_text import Kind

__all__ = ["AsJson", "ScenarioFile", "asked_quantity", "asked_turns", "one_setting"]

# Whether files can be read and written is told by those who do it, in a line: ``readable=False``
# keeps the application from telling it with its usage.
ScenarioFile = Annotated[
    Path,
    typer.Argument(
        metavar="FILE", readable=False, help="Scenario file (TOML).", show_default=False
    ),
]
AsJson = Annotated[bool, typer.Option("--json", help="Print JSON instead of the text.")]


def asked_turns(text: str | None) -> NDArray[np.float64] | None:
    """Read the turns of an option; None where it was not given."""
    if text is None:
        return None
    from mountcalc.tasks.turns import parse_turns  # noqa: PLC0415

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


def asked_quantity(name: str, text: str | None, kind: Kind) -> float | None:
    """Read the quantity of an option [SI]; None where it was not given."""
    if text is None:
        return None
    from mountcalc.scenario.quantity_text import ValueTextError, read_quantity  # noqa: PLC0415

    try:
        return read_quantity(text, kind)
    except ValueTextError as error:
        raise InputError(f"{name}: {error}") from None
