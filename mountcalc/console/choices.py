"""Values to choose from: listed in the help, completed by the shell, refused in our words."""

from __future__ import annotations

from collections.abc import Callable
from enum import StrEnum
from typing import TypeVar

from mountcalc.errors import InputError

Names = TypeVar("Names", bound=StrEnum)


class Sheet(StrEnum):
    """Paper."""

    A4 = "a4"
    A3 = "a3"
    LETTER = "letter"
    TABLOID = "tabloid"


class FileFormat(StrEnum):
    """Formats of drawings."""

    PDF = "pdf"
    DXF = "dxf"
    SVG = "svg"
    PNG = "png"


class ReportForm(StrEnum):
    """Forms of a report."""

    HTML = "html"
    PDF = "pdf"


class DrawingName(StrEnum):
    """Drawings of a mount."""

    PLATE = "plate"
    BASE = "base"
    GUARD = "guard"
    ASSEMBLY = "assembly"
    ALONG_SHAFTS = "along-shafts"


class Prefer(StrEnum):
    """By what layouts are ranked."""

    FINE = "fine"
    COMPACT = "compact"
    LIGHT_BOLT = "light-bolt"


def listed(known: type[StrEnum]) -> str:
    """All names, for a help text."""
    return ", ".join(known)


def completion(known: type[StrEnum]) -> Callable[[str], list[str]]:
    """What the shell offers for the last name of a list with commas."""

    def offered(incomplete: str) -> list[str]:
        before, comma, last = incomplete.rpartition(",")
        taken = {one.strip().lower() for one in before.split(",")}
        left = [one for one in known if one not in taken]
        return [f"{before}{comma}{one}" for one in left if one.startswith(last.strip().lower())]

    return offered


def some_of(option: str, text: str, known: type[Names]) -> list[Names]:
    """The names in a list with commas."""
    return [one_of(option, part, known) for part in text.split(",")]


def one_of(option: str, text: str, known: type[Names]) -> Names:
    """The name that an option was given, in capitals or not."""
    from mountcalc.scenario.text.wording import near_spelling, shown  # noqa: PLC0415

    name = text.strip().lower()
    if name in list(known):
        return known(name)
    near = near_spelling(name, known)
    hint = f"; did you mean {near}?" if near else ""
    raise InputError(f"{option}: one of {listed(known)} is wanted, got {shown(text.strip())}{hint}")
