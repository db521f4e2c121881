"""Spoilt scenario files: a Scenario of finite numbers, or problems in plain lines; nothing else."""

from __future__ import annotations

import dataclasses
import math
import random
from collections import Counter
from collections.abc import Iterator

import pytest
from invented_scenarios import BASES
from mutations import MUTATIONS, mutated
from sizes import size

from mountcalc.errors import ScenarioError
from mountcalc.scenario.model import Scenario
from mountcalc.scenario.reader import parse_scenario, read_scenario

PER_LEVEL_AND_BASE = size(125, 50)
LEVELS_AND_BASES = [(level, base) for level in MUTATIONS for base in BASES]
SOURCE = "spoilt.toml"


def floats(value: object) -> Iterator[float]:
    """Every float in a scenario."""
    if isinstance(value, float):
        yield value
    elif isinstance(value, tuple):
        for part in value:
            yield from floats(part)
    elif dataclasses.is_dataclass(value):
        for field in dataclasses.fields(value):
            yield from floats(getattr(value, field.name))


def outcome(text: str) -> Scenario | ScenarioError:
    """Read a text; whatever is raised beside the one error we mean is a failure of the test."""
    try:
        return parse_scenario(text, SOURCE)
    except ScenarioError as error:
        return error


def check(result: Scenario | ScenarioError) -> str:
    """Assert what holds of every outcome, and name it."""
    if isinstance(result, Scenario):
        numbers = list(floats(result))
        assert len(numbers) > 30
        assert all(math.isfinite(number) for number in numbers)
        assert all(note.isprintable() for note in result.notes)
        assert result.title.isprintable()
        return "scenario"
    assert result.exit_code == 2
    assert result.problems
    for problem, line in zip(result.problems, result.lines(), strict=True):
        assert problem.text
        assert line.startswith(SOURCE)
        assert line.isprintable()
        assert len(line) < 1000
    return "not TOML" if "not valid TOML" in str(result) else "problems"


def test_there_are_enough_of_them():
    assert PER_LEVEL_AND_BASE * len(LEVELS_AND_BASES) >= size(2000, 800)


@pytest.mark.parametrize(("level", "base"), LEVELS_AND_BASES)
def test_spoilt_texts(level, base):
    seen: Counter[str] = Counter()
    for number in range(PER_LEVEL_AND_BASE):
        seed = f"{level} {base} {number}"
        text = mutated(random.Random(seed), BASES[base], level)  # noqa: S311  # to be repeatable
        try:
            seen[check(outcome(text))] += 1
        except Exception as error:
            error.add_note(f"seed {seed!r}, text:\n{text}")
            raise
    # A fuzz whose texts all stop at the TOML reader would test nothing of ours.
    assert seen["problems"] > 10 or level in {"byte", "token"}
    assert seen["scenario"] < PER_LEVEL_AND_BASE


def test_some_spoilt_texts_are_still_scenarios():
    read = 0
    for number in range(100):
        rng = random.Random(f"still {number}")  # noqa: S311  # to be repeatable
        result = outcome(mutated(rng, BASES["link"], "value"))
        read += check(result) == "scenario"
    assert read > 3


@pytest.mark.parametrize("base", BASES)
def test_files_of_spoilt_bytes(base, tmp_path):
    path = tmp_path / SOURCE
    for number in range(25):
        rng = random.Random(f"{base} {number}")  # noqa: S311  # to be repeatable
        data = bytearray(BASES[base].encode())
        for _ in range(rng.choice((1, 3))):
            data[rng.randrange(len(data))] = rng.randrange(256)
        path.write_bytes(data)
        lines = []
        try:
            read_scenario(path)
        except ScenarioError as error:
            lines = error.lines()
        assert all(line.startswith(str(path)) and line.isprintable() for line in lines)


def test_the_check_can_fail():
    good = parse_scenario(BASES["link"], SOURCE)
    spoilt = dataclasses.replace(good, belt=dataclasses.replace(good.belt, mass=math.nan))
    with pytest.raises(AssertionError):
        check(spoilt)
