"""The command line: the only part that prints, and the one place that ends with an exit code."""

from __future__ import annotations

from mountcalc.console.stopping import ends_when_asked

__all__ = ["main"]


def main() -> None:
    """Run the command line."""
    with ends_when_asked():  # before the rest loads, which takes a while
        from mountcalc.cli.program import run  # noqa: PLC0415

        run()
