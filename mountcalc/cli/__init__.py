"""The command line: the only part that prints, and the one place that ends with an exit code."""

from __future__ import annotations

from mountcalc.cli.application import app
from mountcalc.cli.program import main

__all__ = ["app", "main"]
