"""A setting and what is said beside it as JSON."""

from __future__ import annotations

from mountcalc.pages.data import as_plain, json_text
from mountcalc.requirements.results import Advice

__all__ = ["advice_as_json"]


def advice_as_json(advice: Advice) -> str:
    """A setting's keys with what is said beside it, as one JSON object."""
    beside = as_plain(advice)
    assert isinstance(beside, dict)
    plain = {**beside.pop("setting"), **beside}
    return json_text(plain)
