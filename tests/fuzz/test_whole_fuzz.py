"""Odd but readable mounts through the solver and out again: numbers, or one plain error."""

from __future__ import annotations

import json
import random
import re
from collections import Counter

import pytest
from invented_scenarios import BASES
from mutations import mutated
from sizes import size

from mountcalc.errors import MountError, ScenarioError
from mountcalc.pages.as_json import as_json
from mountcalc.scenario.reader import parse_scenario
from mountcalc.table.page import table_text
from mountcalc.table.results import as_csv
from mountcalc.table.table import tension_table

PER_BASE = size(250, 40)
MOST_ROWS = 13  # of a table whose turns nobody chose
_QUANTITY = re.compile(r'"(-?)(\d+(?: \d+/\d+|\.\d+|/\d+)?) ([a-zA-Z/]+)"')
# Most values stay near their own, some go far, a few become nothing or change sign.
FACTORS = (1.0, 1.0, 0.99, 1.01, 0.9, 1.1, 0.5, 2.0, 0.1, 10.0, 1e-3, 1e3, 0.0, -1.0)
WORDS = (
    ('"ccw"', '"cw"'), ('"cw"', '"ccw"'), ('"push"', '"pull"'), ('"push"', '"both"'),
    ('"up"', '"left"'), ('"left"', '"right"'), ('"3/8-16"', '"M10x1.5 LH"'),
    ('"both"', '"cw"'), ('"135 deg"', '"up"'),
)  # fmt: skip


def strange(rng: random.Random, text: str) -> str:
    """The text with a few of its quantities stretched and perhaps a word changed."""
    chance = rng.choice((0.02, 0.1, 0.3))

    def stretched(match: re.Match[str]) -> str:
        if rng.random() > chance:
            return match[0]
        factor = rng.choice(FACTORS) * (1 + rng.uniform(-0.01, 0.01))
        sign, number, unit = match.groups()
        parts = [float(part) for part in re.split(r"[ /]", number)]
        value = parts[0]
        if "/" in number:
            value = parts[-2] / parts[-1] + (parts[0] if len(parts) > 2 else 0.0)
        return f'"{(-value if sign else value) * factor:.9g} {unit}"'

    text = _QUANTITY.sub(stretched, text)
    if rng.random() < 0.3:
        text = text.replace(*rng.choice(WORDS))
    return text


def outcome(text: str) -> str:
    """Run the main job on a text as the command line would; name what came of it."""
    try:
        scenario = parse_scenario(text, "strange.toml")
        table = tension_table(scenario)
    except ScenarioError:
        return "problems"
    except MountError as error:
        assert "\n" not in str(error)
        assert not re.search(r"\bnan\b|\binf\b", str(error))
        return "mount error"
    plain = json.loads(as_json(table), parse_constant=pytest.fail)
    assert 1 <= len(plain["rows"]) <= MOST_ROWS
    page = table_text(scenario, table, more=True)
    for text_out in (page, as_csv(table)):
        assert not re.search(r"\b(nan|inf|None)\b", text_out)
    assert max(map(len, page.splitlines())) <= 80
    return "table"


@pytest.mark.parametrize("base", BASES)
def test_strange_mounts(base):
    seen: Counter[str] = Counter()
    for number in range(PER_BASE):
        seed = f"{base} {number}"
        rng = random.Random(seed)  # noqa: S311  # to be repeatable
        text = strange(rng, BASES[base]) if number % 5 else mutated(rng, BASES[base], "value")
        try:
            seen[outcome(text)] += 1
        except Exception as error:
            error.add_note(f"seed {seed!r}, text:\n{text}")
            raise
    assert seen["table"] > PER_BASE / 5
    assert seen["mount error"] > size(5, 0)
    assert seen["problems"] > size(5, 0)
