"""Cautions that go with every guard and every view, from the data file."""

from __future__ import annotations

from mountcalc.belts.data import load

__all__ = ["closing", "reminders", "view_caution"]


def reminders(*topics: str) -> tuple[str, ...]:
    """Reminders with their sources.

    Parameters
    ----------
    *topics : str
        Those wanted; all of them where none is named.

    Returns
    -------
    tuple of str
        In the order of the data file.
    """
    return tuple(
        f"{row['text']} ({row['source']}"
        + (")." if row["sure"] == "published" else f", {row['sure']}).")
        for row in load("guarding")["reminder"]
        if not topics or row["topic"] in topics
    )


def closing() -> str:
    """Who decides.

    Returns
    -------
    str
        One sentence.
    """
    text: str = load("guarding")["closing"]["text"]
    return text


def view_caution() -> str:
    """What a view is not for.

    Returns
    -------
    str
        One sentence.
    """
    text: str = load("guarding")["view"]["text"]
    return text
