"""Sizes and places that are unlikely beside one another: a caution each, and none too many."""

from pathlib import Path

import pytest
from made_mounts import made

from mountcalc.scenario.drawn_plate import DrawnPlate
from mountcalc.scenario.odd_sizes import odd_sizes
from mountcalc.scenario.reader import read_scenario

SHIPPED = sorted((Path(__file__).parents[2] / "scenarios").glob("*.toml"))


@pytest.mark.parametrize(
    ("tables", "key", "words"),
    [
        (
            {"motor": {"pulley_position": "9 m"}},
            "motor.pulley_position",
            "the belt would run askew",
        ),
        ({"motor": {"face_position": "2 m"}}, "motor.face_position", "no such motor's shaft"),
        ({"hinge": {"screws_per_leaf": 12}}, "hinge.screws_per_leaf", "the wood splits"),
        (
            {"hinge": {"into_plate": "through", "screw": "M5x40"}},
            "hinge.screw",
            "too short to take a nut behind the plate",
        ),
        (
            {"hinge": {"into_base": "through", "base_screw": "M5x30"}},
            "hinge.base_screw",
            "too short to take a nut behind the base",
        ),
        ({"plate": {"weight": "60 kg"}}, "plate.weight", "times what"),
        ({"plate": {"weight": "100 g"}}, "plate.weight", "times what"),
        ({"feet": {"bolt": "#8-32"}}, "feet.bolt", "the motor creeps under it"),
    ],
)
def test_what_is_unlikely_is_a_caution(tables, key, words):
    scenario = made(**tables)
    found = [text for one, text in odd_sizes(DrawnPlate(scenario)) if one == key]
    assert len(found) == 1
    assert words in found[0]
    assert any(words in note for note in scenario.notes)


@pytest.mark.parametrize("path", SHIPPED, ids=lambda path: path.stem)
def test_what_ships_is_likely(path):
    assert [*odd_sizes(DrawnPlate(read_scenario(path)))] == []
