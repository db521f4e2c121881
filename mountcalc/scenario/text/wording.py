"""Words for messages: what a user wrote, on one line and not too long; what is refused by name."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable

from mountcalc.units import ANGLE, FORCE, LENGTH, MASS, TIME, Dimension, si_factor

_LONGEST = 40
_HUGE_BITS = 128
_DIMENSION_NAMES = {
    Dimension(): "a plain ratio",
    LENGTH: "a length",
    MASS: "a mass",
    TIME: "a time",
    ANGLE: "an angle",
    FORCE: "a force",
    Dimension(length=2): "an area",
    Dimension(length=3): "a volume",
    Dimension(length=1, time=-1): "a speed",
    Dimension(length=1, time=-2): "an acceleration",
    Dimension(time=-1): "a frequency",
    Dimension(angle=1, time=-1): "a speed of rotation",
    Dimension(mass=1, length=-1): "a mass per length",
    Dimension(mass=1, length=-3): "a density",
    Dimension(mass=1, time=-2): "a force per length",
    Dimension(mass=1, length=-1, time=-2): "a pressure",
    Dimension(mass=1, length=2, time=-2): "a torque or energy",
    Dimension(mass=1, length=2, time=-3): "a power",
}


def one_line(text: str, longest: int | None = None) -> str:
    """Return the text with what does not print escaped, cut to ``longest`` characters."""
    if longest is not None and len(text) > longest:
        text = text[: longest - 1] + "…"
    return "".join(char if char.isprintable() else ascii(char)[1:-1] for char in text)


def shown(value: object) -> str:
    """Show a value of the file the way a scenario writes it."""
    if isinstance(value, bool):
        return str(value).lower()
    if isinstance(value, str):
        text = one_line(value, _LONGEST)
        return f'"{text}"' if '"' not in text or "'" in text else f"'{text}'"
    if isinstance(value, int) and value.bit_length() > _HUGE_BITS:
        return "a huge number"
    if isinstance(value, int | float):
        return repr(value)
    if isinstance(value, list):
        return f"a list of {len(value)}" if value else "an empty list"
    # Beyond tables, dates and times are all that TOML has.
    return "a table" if isinstance(value, dict) else "a date or time"


def shown_key(key: str) -> str:
    """Show a key between quotes."""
    return f"'{one_line(key, _LONGEST)}'"


def near_spelling(word: str, known: Iterable[str], cutoff: float = 0.7) -> str | None:
    """Return the known word that is spelt most nearly like ``word``, if one is near enough."""
    import difflib  # noqa: PLC0415  # seldom needed

    folded = {one.casefold().replace("-", "_"): one for one in known}
    wanted = word[: 2 * _LONGEST].casefold().replace("-", "_").replace(" ", "_")
    near = difflib.get_close_matches(wanted, list(folded), n=1, cutoff=cutoff)
    return folded[near[0]] if near else None


def both(length: float) -> str:
    """Show a length [m] in inches and in millimetres."""
    return f"{length / si_factor('in'):.4g} in ({length / si_factor('mm'):.4g} mm)"


_COMPASS = (
    "to the right", "up and to the right", "up", "up and to the left", "to the left",
    "down and to the left", "down", "down and to the right",
)  # fmt: skip


def compass(direction: float) -> str:
    """A direction [rad] in words."""
    return _COMPASS[round(direction / (math.tau / len(_COMPASS))) % len(_COMPASS)]


def section_words(section: str | None) -> str:
    """What a belt is, by its section; a flat one by its material."""
    if section is None:
        return "section not named"
    return section if section.startswith("flat") else f"section {section}"


def listed(words: Iterable[str], last: str = "or") -> str:
    """Join words with commas and a last "or"."""
    every = list(words)
    if len(every) < 2:  # noqa: PLR2004
        return "".join(every)
    return f"{', '.join(every[:-1])} {last} {every[-1]}"


def dimension_name(dimension: Dimension) -> str:
    """Name a dimension in words, with its article: ``"a force"``."""
    if any(name == "[temperature]" for name, _ in dimension.other):
        return "a temperature"
    return _DIMENSION_NAMES.get(dimension, "a quantity of another kind")


_REFUSED = (
    (re.compile(r"\bcrossed|cross[\s_-]*belt|twisted[\s_-]*belt", re.IGNORECASE), "crossed belts"),
    (re.compile(r"quarter[\s_-]*(?:turn|twist)", re.IGNORECASE), "quarter-turn belts"),
    (
        re.compile(r"idler|jockey|tension(?:er|ing)[\s_-]*(?:pulley|wheel|roller)", re.IGNORECASE),
        "drives with an idler (a jockey or tensioner pulley)",
    ),
)
_DEEPEST = 6
_LONGEST_SEARCHED = 1000


def refused_drive(*values: object) -> str | None:
    """Return the refusal for a key or value that speaks of such a drive, or None."""
    words = " ".join(word for value in values for word in _words(value, _DEEPEST)).replace("_", " ")
    for pattern, name in _REFUSED:
        if pattern.search(words):
            return f"{name} are not computed: mountcalc computes open belts on two pulleys only"
    return None


def _words(value: object, depth: int) -> list[str]:
    """Return the keys and texts in a value, down to a depth."""
    if isinstance(value, str):
        return [value[:_LONGEST_SEARCHED]]
    if depth == 0:
        return []
    if isinstance(value, dict):
        return [word for pair in value.items() for part in pair for word in _words(part, depth - 1)]
    if isinstance(value, list):
        return [word for part in value for word in _words(part, depth - 1)]
    return []
