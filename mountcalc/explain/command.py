"""The command ``explain``."""

from __future__ import annotations

from typing import Annotated

import typer

from mountcalc.console.application import app
from mountcalc.console.arguments import AsJson
from mountcalc.console.speech import say, say_result
from mountcalc.errors import InputError


def _terms(incomplete: str) -> list[str]:
    from mountcalc.explain.terms import meanings  # noqa: PLC0415

    return sorted({one.term for one in meanings() if one.term.startswith(incomplete)})


@app.command(
    epilog="""\b
Examples:
  mountcalc explain
  mountcalc explain grip
  mountcalc explain spring balance
  mountcalc explain belt.stiffness --json
  mountcalc explain --keys
"""
)
def explain(
    term: Annotated[
        list[str] | None,
        typer.Argument(
            metavar="TERM",
            help="A word of the pages, a key of a scenario or of JSON, a judgement.",
            autocompletion=_terms,
            show_default=False,
        ),
    ] = None,
    *,
    keys: Annotated[
        bool, typer.Option("--keys", help="All keys of a scenario file, by table.")
    ] = False,
    json: AsJson = False,
) -> None:
    """What a word means: formula, source and an example from a scenario that ships."""
    from mountcalc.explain.page import explanation_text, keys_text, terms_text  # noqa: PLC0415
    from mountcalc.explain.terms import explanation, glossary  # noqa: PLC0415

    words = " ".join(term or ())
    if keys and words:
        raise InputError("term: --keys lists all keys; ask for one term without it")
    if words:
        found = explanation(words)
        say_result(found, lambda: explanation_text(found), json=json)
    elif json:
        say_result(glossary(keys=keys), str, json=True)
    else:
        say(keys_text() if keys else terms_text())
