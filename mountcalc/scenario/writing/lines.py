"""A line of a scenario file that is written."""

from __future__ import annotations

from typing import NamedTuple

__all__ = ["Line"]

_COMMENT_COLUMN = 44


class Line(NamedTuple):
    """A key with its value as written; or a header or a whole comment with none."""

    key: str
    value: str = ""
    comment: str = ""

    def __str__(self) -> str:
        text = f"{self.key} = {self.value}" if self.value else self.key
        if not self.comment:
            return text
        return f"{text.ljust(_COMMENT_COLUMN - 1)} # {self.comment}"
