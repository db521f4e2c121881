"""What a user is told of a text that is no scenario, for tests."""

from __future__ import annotations

import re

import pytest

from mountcalc.errors import ScenarioError
from mountcalc.scenario.reader import parse_scenario


def told_with_lines(text: str) -> list[str]:
    """The problems of a text, each on one line that prints."""
    with pytest.raises(ScenarioError) as caught:
        parse_scenario(text, "f.toml")
    lines = caught.value.lines()
    assert str(caught.value) == "\n".join(lines)
    assert all(line.isprintable() and line.startswith("f.toml") for line in lines)
    return lines


def told(text: str) -> list[str]:
    """The problems of a text, without the name of the file and the number of the line."""
    return [re.sub(r"^f\.toml(:\d+)?: ", "", line) for line in told_with_lines(text)]
