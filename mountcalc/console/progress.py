"""How far a long command has come: one line on a terminal, nothing where nobody looks at one."""

from __future__ import annotations

import shutil
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager

__all__ = ["Told", "part", "progress"]

Told = Callable[[float, str], None]


@contextmanager
def progress() -> Iterator[Told]:
    """A line that is told the share done so far and of what; it never goes back."""
    shown = -1

    def told(share: float, what: str) -> None:
        nonlocal shown
        percent = min(int(100 * share), 100)
        if percent > shown and sys.stderr.isatty():
            shown = percent
            room = shutil.get_terminal_size().columns - 1
            sys.stderr.write(f"\r{f'{percent:3d}% {what}':<{room}.{room}}")
            sys.stderr.flush()

    try:
        yield told
        if shown >= 0:
            told(1.0, "done")
    finally:
        if shown >= 0:
            sys.stderr.write("\n")


def part(told: Told, start: float, end: float) -> Told:
    """Tell of a part of a command as if it were the whole."""
    return lambda share, what: told(start + (end - start) * share, what)
