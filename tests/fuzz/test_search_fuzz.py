"""Spoilt searches and keep-outs: a search of finite numbers, or problems in plain lines."""

import dataclasses
import math
import random
from enum import Enum

import pytest
from invented_scenarios import JACK_IN_BASE
from mutations import MUTATIONS, mutated
from sizes import size

from mountcalc.errors import ScenarioError
from mountcalc.scenario.reader import parse_search
from mountcalc.scenario.text.outlines import area, crossing_edges

PER_LEVEL = size(250, 100)
SEARCH = """
[search]
hinge_x = ["-30 in", "-20 in"]
hinge_y = ["-400 mm", "-12 in"]
reach = ["6 in", "18 in"]
motor_height = "4 in"
plate_length = "24 in"
motor_side = "above"
motor_direction = ["170 deg", "200 deg"]
belts = ["A54", "A60"]
kinds = ["jack-in-plate", "link"]
acts = ["push", "hold-back"]
threads = ["3/8-16", "M10x1"]
samples = 5000
seed = 7
leverage = 0.3
clearance = "0 in"
wrench_space = "3 in"
bolt_beside_motor = true
[[keep_out]]
name = "floor"
box = [["60 in", "-20 in"], ["-60 in", "-30 in"]]
[[keep_out]]
polygon = [["3 in", "3 in"], ["5 in", "3 in"], ["5 in", "9 in"]]
parts = ["plate", "motor"]
"""


def numbers(value):
    if isinstance(value, float):
        yield value
    elif isinstance(value, tuple):
        for part in value:
            yield from numbers(part)
    elif dataclasses.is_dataclass(value) and not isinstance(value, Enum):
        for field in dataclasses.fields(value):
            yield from numbers(getattr(value, field.name))


def spoilt(rng, level):
    """The search alone is spoilt; the mount before it stays good."""
    return JACK_IN_BASE + mutated(rng, SEARCH, level)


@pytest.mark.parametrize("level", MUTATIONS)
def test_spoilt_searches(level):
    rng = random.Random(f"search {level}")  # noqa: S311 (tests want repeatable numbers)
    good = 0
    for _ in range(PER_LEVEL):
        try:
            search = parse_search(spoilt(rng, level), "spoilt.toml")
        except ScenarioError as error:
            assert error.problems
            assert all(
                line.isprintable() and line.startswith("spoilt.toml") for line in error.lines()
            )
            continue
        good += 1
        space = search.space
        assert all(math.isfinite(number) for number in numbers(space))
        assert len(list(numbers(space))) > 15
        ranges = (space.hinge_x, space.hinge_y, space.reach, space.motor_height)
        assert all(low <= high for low, high in ranges)
        assert space.kinds
        assert space.acts
        assert space.threads
        for keep_out in space.keep_outs:
            assert area(keep_out.corners) != 0
            assert crossing_edges(keep_out.corners) is None
    assert good < PER_LEVEL
