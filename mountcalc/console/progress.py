"""How far a long command has come: one line on a terminal, nothing where nobody looks at one."""

from __future__ import annotations

import shutil
import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager

Report = Callable[[float, str], None]


@contextmanager
def progress() -> Iterator[Report]:
    """Show the share that is done so far and of what, as it is reported; it never goes back."""
    shown = -1

    def report(share: float, what: str) -> None:
        nonlocal shown
        percent = min(int(100 * share), 100)
        if percent > shown and sys.stderr.isatty():
            shown = percent
            room = shutil.get_terminal_size().columns - 1
            sys.stderr.write(f"\r{f'{percent:3d}% {what}':<{room}.{room}}")
            sys.stderr.flush()

    try:
        yield report
        if shown >= 0:
            report(1.0, "done")
    finally:
        if shown >= 0:
            sys.stderr.write("\n")
