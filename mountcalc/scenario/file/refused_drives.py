"""Drives that are not computed, refused by name wherever a scenario speaks of one."""

from __future__ import annotations

import re

__all__ = ["refused_drive"]

_REFUSED = (
    (re.compile(r"\bcrossed|cross[\s_-]*belt|twisted[\s_-]*belt", re.IGNORECASE), "crossed belts"),
    (re.compile(r"quarter[\s_-]*(?:turn|twist)", re.IGNORECASE), "quarter-turn belts"),
    (
        re.compile(r"idler|jockey|tension(?:er|ing)[\s_-]*(?:pulley|wheel|roller)", re.IGNORECASE),
        "drives with an idler (a jockey or tensioner pulley)",
    ),
)
_DEEPEST = 6
_LONGEST = 1000


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
        return [value[:_LONGEST]]
    if depth == 0:
        return []
    if isinstance(value, dict):
        return [word for pair in value.items() for part in pair for word in _words(part, depth - 1)]
    if isinstance(value, list):
        return [word for part in value for word in _words(part, depth - 1)]
    return []
