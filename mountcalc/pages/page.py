"""How text is laid out on a page of 80 columns."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable

__all__ = ["WIDTH", "bullets", "heading", "paragraph", "wrap"]

WIDTH = 80
_NAME = 10


def wrap(text: str, first: str = "", later: str = "") -> str:
    """The text in lines of at most the page's width."""
    return textwrap.fill(
        text, WIDTH, initial_indent=first, subsequent_indent=later, break_on_hyphens=False
    )


def heading(text: str) -> str:
    """A title with a line below it."""
    return f"{wrap(text)}\n{'=' * min(WIDTH, max(len(text), 1))}"


def paragraph(name: str, text: str) -> str:
    """A named paragraph, its name in the margin."""
    return wrap(text, f"{name + ':':{_NAME}}", " " * _NAME)


def bullets(sentences: Iterable[str]) -> str:
    """A list of sentences."""
    return "\n".join(wrap(sentence, "  - ", "    ") for sentence in sentences)
